// Package draftjson reads and writes fettle's own JSON draft, described by
// schema/jsonschema/draft.schema.json.
package draftjson

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json/jsontext"

	"fettle/schema"
	"fettle/schema/wording"
)

// Format is the short name of the JSON draft.
const Format = "json"

// Read reads a draft. The document has no draft if the text isn't valid JSON or isn't
// a draft. All other mistakes are findings, and the draft leaves out their values.
func Read(src *schema.Source) *schema.Document {
	d := &schema.Draft{}
	doc := &schema.Document{Source: src, Format: Format, Locator: &locator{text: src.Text, draft: d}}
	root, err := parse(src.Text)
	if err != nil {
		doc.Findings = []schema.Finding{syntaxFinding(src.Text, err)}
		return doc
	}
	r := &reader{cursor: cursor{text: src.Text[:root.End], at: root.Start}, draft: d}
	if r.peek() == '{' {
		r.object(table, d)
	}
	if reason := r.contents.notDraft(); reason != "" {
		doc.Findings = []schema.Finding{schema.NoDraft(schema.Span{Start: root.Start, End: root.Start + 1}, reason)}
		return doc
	}
	doc.Draft = d
	missing := r.contents.missing(root)
	doc.Partial = len(missing) > 0
	doc.Findings = slices.Concat(trailingText(src.Text, root.End), r.schemaFindings(root), r.duplicates.findings(), r.notes, missing)
	r.dropImpossible(doc)
	for i := range doc.Findings {
		f := &doc.Findings[i]
		top, _, _ := strings.Cut(strings.TrimPrefix(f.Pointer, "/"), "/")
		if slices.Contains(tables, top) && !slices.Contains(doc.Unclear, f.Rule) {
			doc.Unclear = append(doc.Unclear, f.Rule)
		}
		f.Unread = f.Rule != schema.FileVersion && !r.misspelt[f.Pointer] // the draft carries nothing
	}
	return doc
}

// reader reads a draft in one pass, following the table.
type reader struct {
	cursor
	draft *schema.Draft

	contents   contents
	skeleton   skeleton
	path       []string    // names and indexes of the current value
	name       schema.Span // name of the current property
	row        []int32     // the current row
	duplicates duplicates
	notes      []schema.Finding
	misspelt   map[string]bool // pointers of misspelt properties that were read
}

// read reads the value at the cursor into the model and copies it into the skeleton.
// It reports whether the table accepts the value.
func (r *reader) read(v *value, holder any) (right bool) {
	to := holder
	if v.target != nil {
		to = v.target(holder)
	}
	first := r.peek()
	switch {
	case v.nullable && first == 'n':
	case v.kind == kindSetting:
		return r.setting(v.key, to.(*[]schema.Setting))
	case (v.kind == kindObject || v.kind == kindNamed) && first == '{':
		return r.object(v, to)
	case v.kind == kindList && first == '[':
		return r.list(v, to)
	case v.kind != kindObject && v.kind != kindNamed && v.kind != kindList:
		return r.scalar(v, to)
	}
	r.skeleton.write(r.raw())
	return v.nullable && first == 'n'
}

// object reads the properties of an object. The first of duplicates wins.
func (r *reader) object(v *value, to any) (right bool) {
	s, names := &r.skeleton, names{of: v}
	s.open('{')
	r.at++
	right = true
	for wrong, left := 0, 0; r.next(); {
		key := r.key()
		name, p, first := names.find(r.text[key.Start:key.End])
		if len(r.path) == 0 {
			r.contents.add(name, r.text[r.at])
		}
		if !first {
			r.value()
			r.duplicates.add(r.path, name, key)
			continue
		}
		mark := s.property(r.text[key.Start:key.End], left > 0)
		r.path, r.name = append(r.path, name), key
		known := p != nil && (p.name == name || v.kind == kindNamed)
		fits := known && r.read(p, to)
		if !known {
			r.unknown(p, to)
		}
		r.path = r.path[:len(r.path)-1]
		right = right && fits
		if !fits && (!known || v.kind == kindNamed) {
			wrong++
		}
		switch {
		case wrong > maxKept && !fits:
			s.dropWrong(mark)
		case fits && (p.kind == kindList && !p.required || v.kind == kindNamed):
			s.undo(mark)
		default:
			left++
		}
	}
	s.close('}')
	return right && names.complete()
}

// unknown reads a property that the table doesn't have. A setting whose name differs
// only in hyphens, underscores, spaces and capitals counts all the same.
func (r *reader) unknown(meant *value, to any) {
	raw := r.raw()
	r.skeleton.write([]byte("0")) // only its name matters
	if meant == nil {
		return
	}
	if text, ok := settingText(raw); ok {
		r.addSetting(meant.key, text, to.(*[]schema.Setting))
		if r.misspelt == nil {
			r.misspelt = map[string]bool{}
		}
		r.misspelt[pointerTo(r.path)] = true
	}
}

// names holds the property names of one object that have been read.
type names struct {
	of     *value
	seen   uint64          // properties of the table, by index
	others map[string]bool // names that the table does not have
}

// find returns the property with a name. A name like a setting's means that setting,
// unless it has been read. first reports whether the name is new.
func (n *names) find(raw []byte) (name string, p *value, first bool) {
	name = unquoted(raw)
	if i, p := n.of.property(name); p != nil {
		return name, p, n.mark(i)
	}
	if n.others[name] {
		return name, nil, false
	}
	if n.others == nil {
		n.others = map[string]bool{}
	}
	n.others[name] = true
	if n.of.kind == kindNamed {
		return name, n.of.each, true
	}
	if i, p := n.of.settingLike(name); p != nil && n.mark(i) {
		return name, p, true
	}
	return name, nil, true
}

// mark marks a property as read, and reports whether it wasn't.
func (n *names) mark(i int) bool {
	before := n.seen
	n.seen |= 1 << i
	return n.seen != before
}

// complete reports whether all required properties have been read.
func (n *names) complete() bool {
	for i, p := range n.of.properties {
		if p.required && n.seen&(1<<i) == 0 {
			return false
		}
	}
	return true
}

func (r *reader) list(v *value, to any) (right bool) {
	switch to := to.(type) {
	case *schema.Rows:
		m := matrix{possible: v.asLists}
		right = r.elements(func(int) bool {
			right := r.readRow(to)
			m.add(r.row, right)
			return right
		})
		if m.possible && m.width > 0 {
			r.notes = append(r.notes, m.finding(v.name, r.name))
		}
		return right
	case *[]int32:
		return r.elements(func(int) bool { return appendTo(to)(r.number()) })
	case *[]float64:
		return r.elements(func(int) bool { return appendTo(to)(r.measure()) })
	case *[]string:
		return r.elements(func(int) bool { return appendTo(to)(asText(r.raw())) })
	case *[]schema.Color:
		return r.elements(func(int) bool { return appendTo(to)(asColor(r.raw())) })
	}
	entries := to.(anyEntryList)
	return r.elements(func(i int) bool { return r.entry(v, entries, i) })
}

// appendTo returns a function that appends a value to a list.
func appendTo[T any](list *[]T) func(T, bool) bool {
	return func(v T, right bool) bool {
		*list = append(*list, v)
		return right
	}
}

// elements reads the elements of the list at the cursor. The skeleton leaves out those
// that are right.
func (r *reader) elements(one func(i int) (right bool)) bool {
	s := &r.skeleton
	s.open('[')
	r.at++
	var left []int
	right := true
	for i := 0; r.next(); i++ {
		start, mark := r.at, s.element(len(left) > 0)
		copied := len(s.out)
		switch {
		case one(i):
			s.undo(mark)
			continue
		case len(left) == maxKept:
			s.dropWrong(mark)
		default:
			if len(s.out) == copied {
				s.write(r.text[start:r.at])
			}
			left = append(left, i)
		}
		right = false
	}
	s.close(']')
	s.keepElements(r.path, left)
	return right
}

// readRow reads a number or a list of numbers.
func (r *reader) readRow(to *schema.Rows) (right bool) {
	r.row = r.row[:0]
	if r.text[r.at] != '[' {
		n, right := r.number()
		to.AppendOne(n)
		return right
	}
	r.at++
	right = true
	for r.next() {
		n, ok := r.number()
		r.row = append(r.row, n)
		right = right && ok
	}
	to.Append(r.row...)
	return right
}

// entry reads an object in a list.
func (r *reader) entry(v *value, to anyEntryList, i int) (right bool) {
	if r.text[r.at] != '{' {
		r.value()
		return false
	}
	start, holder := r.at, to.add()
	r.path = append(r.path, strconv.Itoa(i))
	right = r.object(v.each, holder)
	r.path = r.path[:len(r.path)-1]
	if g, ok := holder.(*schema.Ignore); ok {
		g.Span = schema.Span{Start: start, End: r.at}
	}
	return right
}

// scalar reads a single value.
func (r *reader) scalar(v *value, to any) (right bool) {
	start := r.at
	defer func() { r.skeleton.write(r.text[start:r.at]) }()
	switch v.kind {
	case kindMeasure:
		*to.(*float64), right = r.measure()
		return right
	case kindNumber:
		n, right := r.number()
		*to.(*int) = int(n)
		return right
	}
	raw := r.raw()
	switch v.kind {
	case kindVersion:
		return string(raw) == "1"
	case kindText:
		*to.(*string), right = asText(raw)
	case kindWord:
		s, isText := asText(raw)
		*to.(*string) = s
		return isText && s != "" && !strings.ContainsAny(s, " \t\n\f\r")
	case kindChoice:
		i := 1 + slices.Index(v.words, unquoted(raw))
		switch to := to.(type) {
		case *schema.Shed:
			*to = schema.Shed(i)
		case *schema.Unit:
			*to = schema.Unit(i)
		}
		return i > 0
	case kindBool:
		answers := map[string]schema.Answer{"true": schema.Yes, "false": schema.No}
		*to.(*schema.Answer), right = answers[string(raw)], answers[string(raw)] != schema.Unsaid
	case kindCount:
		n, whole := wholeNumber(raw)
		*to.(*int) = n
		return whole && n <= maxCount
	}
	return right
}

func asText(raw []byte) (s string, right bool) { return unquoted(raw), raw[0] == '"' }

func asColor(raw []byte) (c schema.Color, right bool) {
	if raw[0] == 'n' {
		return c, true
	}
	c, err := schema.ParseColor(unquoted(raw))
	return c, err == nil
}

func (r *reader) setting(key string, to *[]schema.Setting) (right bool) {
	raw := r.raw()
	r.skeleton.write(raw)
	text, right := settingText(raw)
	if right {
		r.addSetting(key, text, to)
	}
	return right
}

// addSetting adds a setting to [project] or to the yarn it is in.
func (r *reader) addSetting(key, text string, to *[]schema.Setting) {
	section := "project"
	if len(r.path) > 2 {
		section = "yarn " + r.path[2]
	}
	*to = append(*to, schema.Setting{Section: section, Key: key, Value: text})
}

// settingText returns a string, a whole number or a truth value as fettle.ini writes
// it.
func settingText(raw []byte) (text string, right bool) {
	switch raw[0] {
	case '"':
		return unquoted(raw), true
	case 't', 'f':
		return string(raw), true
	case '{', '[', 'n':
		return "", false
	}
	if _, err := strconv.Atoi(string(raw)); err == nil {
		return string(raw), true
	}
	v, err := strconv.ParseFloat(string(raw), 64)
	if err != nil || v != math.Trunc(v) || math.Abs(v) > 1<<53 {
		return "", false
	}
	return strconv.FormatFloat(v, 'f', -1, 64), true
}

// matrix detects a table that has 0 or 1 for each shaft, although it should list the
// numbers of the lifted shafts.
type matrix struct {
	possible bool
	width    int // the length of each row
}

func (m *matrix) add(row []int32, right bool) {
	if !m.possible {
		return
	}
	m.possible = right && len(row) >= 3 && (m.width == 0 || m.width == len(row)) &&
		!slices.ContainsFunc(row, func(n int32) bool { return n > 1 })
	m.width = len(row)
}

// dropImpossible drops ignores without a rule, counts that are far too high, and
// values for threads that don't exist.
func (r *reader) dropImpossible(doc *schema.Document) {
	d := r.draft
	var ignores []schema.Ignore
	for _, g := range d.Ignores {
		if tidy, ok := schema.NewIgnore(g.Rule, g.Reason); ok {
			tidy.Span = g.Span
			ignores = append(ignores, tidy)
		}
	}
	d.Ignores = ignores
	r.checkCount(doc, []string{"warp", "threads"}, &d.Warp.Threads, d.Threading.Len())
	r.checkCount(doc, []string{"weft", "threads"}, &d.Weft.Threads, max(d.Treadling.Len(), d.LiftPlan.Len()))
	r.checkCount(doc, []string{"shafts"}, &d.Shafts, d.Threading.Len())
	r.checkCount(doc, []string{"treadles"}, &d.Treadles, d.Tieup.Len())
	r.trimThreads(doc, "warp", &d.Warp, d.Ends(), "end")
	r.trimThreads(doc, "weft", &d.Weft, d.Picks(), "pick")
}

// checkCount drops a count that fettle doesn't believe.
func (r *reader) checkCount(doc *schema.Document, path []string, declared *int, listed int) {
	limit := listed + schema.MostExtraRows
	if *declared <= limit {
		return
	}
	what := fmt.Sprintf("%s: %d", strings.Join(path, " "), *declared)
	r.indexFinding(doc, path, *declared, limit, schema.TooLargeNumber(what, limit, "correct it"))
	*declared = 0
}

// trimThreads drops values for threads that don't exist.
func (r *reader) trimThreads(doc *schema.Document, system string, s *schema.System, threads int, thread string) {
	limited := func(list string, have int) int {
		if have > threads {
			r.indexFinding(doc, []string{system, list, strconv.Itoa(threads)}, threads+1, threads, fmt.Sprintf(
				"%s %s has %s for %s, so fettle ignores the rest; delete them, or declare more",
				system, list, wording.Counted(have, "value"), wording.Counted(threads, thread)))
		}
		return min(have, threads)
	}
	s.Colors = s.Colors[:limited("colors", len(s.Colors))]
	s.Spacings = s.Spacings[:limited("spacings", len(s.Spacings))]
	s.Thicknesses = s.Thicknesses[:limited("thicknesses", len(s.Thicknesses))]
	s.Trim()
}

func (r *reader) indexFinding(doc *schema.Document, path []string, index, limit int, message string) {
	at, pointer := (&locator{text: r.text}).find(path)
	doc.Findings = append(doc.Findings, schema.Finding{Rule: schema.FileIndex, Span: at, Pointer: pointer, Message: message,
		Data: schema.Data{{Key: "section", Value: path[0]}, {Key: "index", Value: index}, {Key: "limit", Value: limit}}})
}

// syntaxFinding returns the finding for invalid JSON.
func syntaxFinding(text []byte, err error) schema.Finding {
	at, why := len(text), "it ends too early, so it may be truncated"
	var syntax *jsontext.SyntacticError
	if errors.As(err, &syntax) && !errors.Is(err, io.ErrUnexpectedEOF) {
		at = min(int(syntax.ByteOffset), len(text))
		why = "a comma, a bracket or a quotation mark is missing or extra, here or before it"
		if strings.Contains(syntax.Error(), "depth") {
			why = "its brackets are nested far too deep"
		}
	}
	return schema.NoDraft(schema.Span{Start: at, End: min(at+1, len(text))}, "it begins like JSON, but "+why)
}

func trailingText(text []byte, end int) []schema.Finding {
	rest := bytes.TrimSpace(text[end:])
	if len(rest) == 0 {
		return nil
	}
	from := end + bytes.Index(text[end:], rest)
	return []schema.Finding{{
		Rule: schema.FileStrayLine, Span: schema.Span{Start: from, End: from + len(rest)},
		Message: wording.Quote(string(rest)) + " comes after the end of the draft, so fettle ignores it; delete it",
		Data:    nameData(string(rest), ""),
	}}
}
