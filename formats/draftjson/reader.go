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

// Format is the short name of the format.
const Format = "json"

// Read reads a draft. A text that is not sound JSON, or is JSON of something
// else, gives no draft. Anything else that is not as the schema wants it is a
// finding, and is left out of the draft.
func Read(src *schema.Source) *schema.Document {
	d := &schema.Draft{}
	doc := &schema.Document{Source: src, Format: Format, Locator: &locator{text: src.Text, draft: d}}
	root, err := sound(src.Text)
	if err != nil {
		doc.Findings = []schema.Finding{broken(src.Text, err)}
		return doc
	}
	r := &reader{cursor: cursor{text: src.Text[:root.End], at: root.Start}, draft: d}
	if r.peek() == '{' {
		r.object(table, d)
	}
	if reason := r.contents.foreign(); reason != "" {
		doc.Findings = []schema.Finding{schema.NoDraft(schema.Span{Start: root.Start, End: root.Start + 1}, reason)}
		return doc
	}
	doc.Draft = d
	missing := r.contents.missing(root)
	doc.Partial = len(missing) > 0
	doc.Findings = slices.Concat(stray(src.Text, root.End), r.complaints(root), r.duplicates.findings(), r.noted, missing)
	r.settle(doc)
	for i := range doc.Findings {
		f := &doc.Findings[i]
		top, _, _ := strings.Cut(strings.TrimPrefix(f.Pointer, "/"), "/")
		if slices.Contains(tables, top) && !slices.Contains(doc.Unclear, f.Rule) {
			doc.Unclear = append(doc.Unclear, f.Rule)
		}
		f.Unread = f.Rule != schema.FileVersion && !r.misspelt[f.Pointer] // nothing is carried beside the draft
	}
	return doc
}

// reader reads a draft in one pass over its text, as the table says.
type reader struct {
	cursor
	draft *schema.Draft

	contents   contents
	skeleton   skeleton
	path       []string    // the names and indexes that lead to the value being read
	name       schema.Span // where the name of the property being read is
	row        []int32     // the row being read
	duplicates duplicates
	noted      []schema.Finding
	misspelt   map[string]bool // properties, by pointer, that are read although misspelt
}

// read reads the value at the cursor, puts it where it goes in the model, and
// copies it into the skeleton. It reports whether the value is as the table wants
// it.
func (r *reader) read(v *value, holder any) (right bool) {
	to := holder
	if v.in != nil {
		to = v.in(holder)
	}
	first := r.peek()
	switch {
	case v.null && first == 'n':
	case v.kind == setting:
		return r.setting(v.key, to.(*[]schema.Setting))
	case (v.kind == object || v.kind == named) && first == '{':
		return r.object(v, to)
	case v.kind == list && first == '[':
		return r.list(v, to)
	case v.kind != object && v.kind != named && v.kind != list:
		return r.scalar(v, to)
	}
	r.skeleton.write(r.raw())
	return v.null && first == 'n'
}

// object reads the properties of an object. Where a name appears twice, the first
// counts.
func (r *reader) object(v *value, to any) (right bool) {
	s, names := &r.skeleton, names{of: v}
	s.open('{')
	r.at++
	right = true
	for wrong, left := 0, 0; r.more(); {
		key := r.key()
		name, p, first := names.take(r.text[key.Start:key.End])
		if len(r.path) == 0 {
			r.contents.note(name, r.text[r.at])
		}
		if !first {
			r.value()
			r.duplicates.add(r.path, name, key)
			continue
		}
		mark := s.property(r.text[key.Start:key.End], left > 0)
		r.path, r.name = append(r.path, name), key
		known := p != nil && (p.name == name || v.kind == named)
		fits := known && r.read(p, to)
		if !known {
			r.unknown(p, to)
		}
		r.path = r.path[:len(r.path)-1]
		right = right && fits
		if !fits && (!known || v.kind == named) {
			wrong++
		}
		switch {
		case wrong > mostLeft && !fits:
			s.drop(mark)
		case fits && (p.kind == list && !p.must || v.kind == named):
			s.forget(mark)
		default:
			left++
		}
	}
	s.close('}')
	return right && names.complete()
}

// unknown takes a property that the table does not have. A setting whose name
// differs in hyphens, underscores and capitals only is read all the same.
func (r *reader) unknown(meant *value, to any) {
	raw := r.raw()
	r.skeleton.write([]byte("0")) // its name is wrong, whatever its value
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

// names are the property names of one object that have been read.
type names struct {
	of     *value
	taken  uint64          // properties of the table, by index
	others map[string]bool // names that the table does not have
}

// take finds the property with this name. A name that stands for a setting but is
// spelt in another way gives that setting, if it has not been read. It reports
// whether the name is the first of its kind.
func (n *names) take(raw []byte) (name string, p *value, first bool) {
	name = unquoted(raw)
	if i, p := n.of.property(name); p != nil {
		return name, p, n.takeAt(i)
	}
	if n.others[name] {
		return name, nil, false
	}
	if n.others == nil {
		n.others = map[string]bool{}
	}
	n.others[name] = true
	if n.of.kind == named {
		return name, n.of.each, true
	}
	if i, p := n.of.alike(name); p != nil && n.takeAt(i) {
		return name, p, true
	}
	return name, nil, true
}

// takeAt takes the property at an index, and reports whether it was not taken
// before.
func (n *names) takeAt(i int) bool {
	before := n.taken
	n.taken |= 1 << i
	return n.taken != before
}

// complete reports whether no property is missing that must be there.
func (n *names) complete() bool {
	for i, p := range n.of.properties {
		if p.must && n.taken&(1<<i) == 0 {
			return false
		}
	}
	return true
}

// list reads the elements of a list.
func (r *reader) list(v *value, to any) (right bool) {
	switch to := to.(type) {
	case *schema.Rows:
		m := matrix{possible: v.lists}
		right = r.elements(func(int) bool {
			right := r.readRow(to)
			m.add(r.row, right)
			return right
		})
		if m.possible && m.wide > 0 {
			r.noted = append(r.noted, m.finding(v.name, r.name))
		}
		return right
	case *[]int32:
		return r.elements(func(int) bool { return appended(to)(r.number()) })
	case *[]float64:
		return r.elements(func(int) bool { return appended(to)(r.measure()) })
	case *[]string:
		return r.elements(func(int) bool { return appended(to)(asText(r.raw())) })
	case *[]schema.Color:
		return r.elements(func(int) bool { return appended(to)(asColor(r.raw())) })
	}
	entries := to.(objectList)
	return r.elements(func(i int) bool { return r.entry(v, entries, i) })
}

// appended appends a value to a list and passes on whether it is right.
func appended[T any](list *[]T) func(T, bool) bool {
	return func(v T, right bool) bool {
		*list = append(*list, v)
		return right
	}
}

// elements reads the elements of the list at the cursor one by one, and leaves
// those that are right out of the skeleton.
func (r *reader) elements(one func(i int) (right bool)) bool {
	s := &r.skeleton
	s.open('[')
	r.at++
	var left []int
	right := true
	for i := 0; r.more(); i++ {
		start, mark := r.at, s.element(len(left) > 0)
		copied := len(s.out)
		switch {
		case one(i):
			s.forget(mark)
			continue
		case len(left) == mostLeft:
			s.drop(mark)
		default:
			if len(s.out) == copied {
				s.write(r.text[start:r.at])
			}
			left = append(left, i)
		}
		right = false
	}
	s.close(']')
	s.keep(r.path, left)
	return right
}

// readRow reads a number, or a list of numbers.
func (r *reader) readRow(to *schema.Rows) (right bool) {
	r.row = r.row[:0]
	if r.text[r.at] != '[' {
		n, right := r.number()
		to.AppendOne(n)
		return right
	}
	r.at++
	right = true
	for r.more() {
		n, ok := r.number()
		r.row = append(r.row, n)
		right = right && ok
	}
	to.Append(r.row...)
	return right
}

// entry reads an object of a list of objects.
func (r *reader) entry(v *value, to objectList, i int) (right bool) {
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

// scalar reads a value without any others in it.
func (r *reader) scalar(v *value, to any) (right bool) {
	start := r.at
	defer func() { r.skeleton.write(r.text[start:r.at]) }()
	switch v.kind {
	case measure:
		*to.(*float64), right = r.measure()
		return right
	case number:
		n, right := r.number()
		*to.(*int) = int(n)
		return right
	}
	raw := r.raw()
	switch v.kind {
	case version:
		return string(raw) == "1"
	case text:
		*to.(*string), right = asText(raw)
	case word:
		s, isText := asText(raw)
		*to.(*string) = s
		return isText && s != "" && !strings.ContainsAny(s, " \t\n\f\r")
	case choice:
		i := 1 + slices.Index(v.words, unquoted(raw))
		switch to := to.(type) {
		case *schema.Shed:
			*to = schema.Shed(i)
		case *schema.Unit:
			*to = schema.Unit(i)
		}
		return i > 0
	case truth:
		answers := map[string]schema.Answer{"true": schema.Yes, "false": schema.No}
		*to.(*schema.Answer), right = answers[string(raw)], answers[string(raw)] != schema.Unsaid
	case count:
		n, whole := wholeNumber(raw)
		*to.(*int) = n
		return whole && n <= mostCounted
	}
	return right
}

// asText reads a string, "" where a value is something else.
func asText(raw []byte) (s string, right bool) { return unquoted(raw), raw[0] == '"' }

// asColor reads a color, or null for none.
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

// addSetting adds a setting to [project], or to the yarn whose object it is in.
func (r *reader) addSetting(key, text string, to *[]schema.Setting) {
	section := "project"
	if len(r.path) > 2 {
		section = "yarn " + r.path[2]
	}
	*to = append(*to, schema.Setting{Section: section, Key: key, Value: text})
}

// settingText gives a string, a whole number, or true or false as fettle.ini
// would have it.
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

// matrix notices a table that most likely says with 0 and 1 for each shaft
// whether it is lifted, where the numbers of those that are belong.
type matrix struct {
	possible bool
	wide     int // how many zeros and ones each row has
}

func (m *matrix) add(row []int32, right bool) {
	if !m.possible {
		return
	}
	m.possible = right && len(row) >= 3 && (m.wide == 0 || m.wide == len(row)) &&
		!slices.ContainsFunc(row, func(n int32) bool { return n > 1 })
	m.wide = len(row)
}

// settle leaves out what cannot be meant: ignores that name no rule, counts far
// beyond the rows listed, and values for threads that do not exist.
func (r *reader) settle(doc *schema.Document) {
	d := r.draft
	var ignores []schema.Ignore
	for _, g := range d.Ignores {
		if tidy, ok := schema.NewIgnore(g.Rule, g.Reason); ok {
			tidy.Span = g.Span
			ignores = append(ignores, tidy)
		}
	}
	d.Ignores = ignores
	r.believe(doc, []string{"warp", "threads"}, &d.Warp.Threads, d.Threading.Len())
	r.believe(doc, []string{"weft", "threads"}, &d.Weft.Threads, max(d.Treadling.Len(), d.LiftPlan.Len()))
	r.believe(doc, []string{"shafts"}, &d.Shafts, d.Threading.Len())
	r.believe(doc, []string{"treadles"}, &d.Treadles, d.Tieup.Len())
	r.cut(doc, "warp", &d.Warp, d.Ends(), "end")
	r.cut(doc, "weft", &d.Weft, d.Picks(), "pick")
}

// believe leaves out a count that is beyond belief.
func (r *reader) believe(doc *schema.Document, path []string, declared *int, listed int) {
	limit := listed + schema.Belief
	if *declared <= limit {
		return
	}
	what := fmt.Sprintf("%s: %d", strings.Join(path, " "), *declared)
	r.index(doc, path, *declared, limit, schema.Unbelieved(what, limit, "put it right"))
	*declared = 0
}

// cut leaves out values for threads that do not exist.
func (r *reader) cut(doc *schema.Document, system string, s *schema.System, threads int, thread string) {
	limited := func(list string, have int) int {
		if have > threads {
			r.index(doc, []string{system, list, strconv.Itoa(threads)}, threads+1, threads, fmt.Sprintf(
				"%s %s has %s for %s, and those beyond are left out; take them out, or declare more",
				system, list, wording.Counted(have, "value"), wording.Counted(threads, thread)))
		}
		return min(have, threads)
	}
	s.Colors = s.Colors[:limited("colors", len(s.Colors))]
	s.Spacings = s.Spacings[:limited("spacings", len(s.Spacings))]
	s.Thicknesses = s.Thicknesses[:limited("thicknesses", len(s.Thicknesses))]
	s.Trim()
}

func (r *reader) index(doc *schema.Document, path []string, index, limit int, message string) {
	at, pointer := (&locator{text: r.text}).find(path)
	doc.Findings = append(doc.Findings, schema.Finding{Rule: schema.FileIndex, Span: at, Pointer: pointer, Message: message,
		Data: schema.Data{{Key: "section", Value: path[0]}, {Key: "index", Value: index}, {Key: "limit", Value: limit}}})
}

// broken is the finding for a text that is not sound JSON.
func broken(text []byte, err error) schema.Finding {
	at, why := len(text), "it ends before the draft does; it may have been cut off on the way"
	var syntax *jsontext.SyntacticError
	if errors.As(err, &syntax) && !errors.Is(err, io.ErrUnexpectedEOF) {
		at = min(int(syntax.ByteOffset), len(text))
		why = "what stands here does not belong there: a comma, a bracket or a quotation mark may be missing before it or be one too many"
		if strings.Contains(syntax.Error(), "depth") {
			why = "its brackets are nested far deeper than a draft's are"
		}
	}
	return schema.NoDraft(schema.Span{Start: at, End: min(at+1, len(text))}, "it begins as JSON does, but is not sound: "+why)
}

// stray reports text after the end of the draft.
func stray(text []byte, end int) []schema.Finding {
	rest := bytes.TrimSpace(text[end:])
	if len(rest) == 0 {
		return nil
	}
	from := end + bytes.Index(text[end:], rest)
	return []schema.Finding{{
		Rule: schema.FileStrayLine, Span: schema.Span{Start: from, End: from + len(rest)},
		Message: wording.Quote(string(rest)) + " comes after the end of the draft and is ignored; delete it",
		Data:    schema.Data{{Key: "name", Value: wording.Plain(string(rest), 60)}, {Key: "suggestion", Value: ""}},
	}}
}
