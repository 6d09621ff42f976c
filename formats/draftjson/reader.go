// Package draftjson reads and writes fettle's own JSON draft, described by
// schema/draft.schema.json.
package draftjson

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json/jsontext"

	"fettle/schema"
)

// Format is the short name of the format.
const Format = "json"

// Is says whether a text is meant as a JSON draft: whether it begins as an
// object does.
func Is(text []byte) bool {
	start := bytes.TrimLeft(text, " \t\r\n")
	return len(start) > 0 && start[0] == '{'
}

// Read reads a draft. A text that is no sound JSON, or JSON of something else,
// holds none; anything else that is not as the schema wants it is a finding, and
// left out of the draft.
func Read(src *schema.Source) *schema.Document {
	r := &reader{text: src.Text, draft: &schema.Draft{}, read: map[string]bool{}}
	doc := &schema.Document{Source: src, Format: Format, Locator: &locator{text: src.Text, draft: r.draft}}
	root, broken := r.root()
	if broken != nil {
		doc.Findings = []schema.Finding{*broken}
		return doc
	}
	top := members(r.text, root)
	if reason := foreign(top, r.text); reason != "" {
		doc.Findings = []schema.Finding{schema.NoDraft(schema.Span{Start: root.Start, End: root.Start + 1}, reason)}
		return doc
	}
	r.complain(root)
	r.object("", root, r.property)
	doc.Partial = r.missing(root, top)
	r.settle()
	if more := r.twice - mostComplaints; more > 0 {
		r.found[r.lastTwice].Message += fmt.Sprintf("; so do %d more properties behind it", more)
	}
	for i := range r.found {
		f := &r.found[i]
		top, _, _ := strings.Cut(strings.TrimPrefix(f.Pointer, "/"), "/")
		if slices.Contains(tables, top) && !slices.Contains(doc.Unclear, f.Rule) {
			doc.Unclear = append(doc.Unclear, f.Rule)
		}
		f.Unread = f.Rule != schema.FileVersion && !r.read[f.Pointer] // nothing is carried beside the draft
	}
	doc.Draft, doc.Findings = r.draft, r.found
	return doc
}

type reader struct {
	text  []byte
	draft *schema.Draft
	found []schema.Finding

	read map[string]bool // properties, by pointer, that are read although misspelt

	twice     int // properties that stand twice
	lastTwice int // the last finding that tells of one, in found
}

// root finds the one value of the text. Where there is none it gives the
// finding that says why.
func (r *reader) root() (schema.Span, *schema.Finding) {
	d := jsontext.NewDecoder(bytes.NewBuffer(r.text), lenient...)
	at, err := value(d, 0)
	if err != nil {
		return at, r.broken(err)
	}
	from := int(d.InputOffset())
	rest := bytes.TrimSpace(r.text[from:])
	if len(rest) > 0 {
		from += bytes.Index(r.text[from:], rest)
		r.found = append(r.found, schema.Finding{
			Rule: schema.FileStrayLine, Span: schema.Span{Start: from, End: from + len(rest)},
			Message: schema.Quote(string(rest)) + " stands behind the end of the draft and is left out; take it away",
			Data:    schema.Data{{Key: "name", Value: schema.Plain(string(rest), 60)}, {Key: "suggestion", Value: ""}},
		})
	}
	return at, nil
}

// broken is the finding for a text that is no sound JSON.
func (r *reader) broken(err error) *schema.Finding {
	at, why := len(r.text), "it ends before the draft does; it may have been cut off on the way"
	var syntax *jsontext.SyntacticError
	if errors.As(err, &syntax) && !errors.Is(err, io.ErrUnexpectedEOF) {
		at = min(int(syntax.ByteOffset), len(r.text))
		why = "what stands here does not belong there: a comma, a bracket or a quotation mark may be missing before it or be one too many"
		if strings.Contains(syntax.Error(), "depth") {
			why = "its brackets are nested far deeper than a draft's are"
		}
	}
	f := schema.NoDraft(schema.Span{Start: at, End: min(at+1, len(r.text))}, "it begins as JSON does, but is not sound: "+why)
	return &f
}

// object hands out the properties of the object at a span. Of a name that
// stands twice the first counts.
func (r *reader) object(pointer string, at schema.Span, each func(member)) {
	seen := map[string]bool{}
	for _, m := range members(r.text, at) {
		if seen[m.name] {
			r.duplicate(pointer, m)
			continue
		}
		seen[m.name] = true
		each(m)
	}
}

// duplicate reports a property that stands twice. Of very many the first are told
// one by one.
func (r *reader) duplicate(pointer string, m member) {
	if r.twice++; r.twice > mostComplaints {
		return
	}
	r.found = append(r.found, schema.Finding{
		Rule: schema.FileDuplicateKey, Span: m.key, Pointer: pointer + "/" + escaped(m.name),
		Message: fmt.Sprintf("%s stands twice; the first stands: take the other away", schema.Quote(m.name)),
		Data:    schema.Data{{Key: "name", Value: schema.Plain(m.name, 60)}, {Key: "suggestion", Value: ""}},
	})
	r.lastTwice = len(r.found) - 1
}

func escaped(name string) string {
	return strings.NewReplacer("~", "~0", "/", "~1").Replace(name)
}

// property takes one property of the draft.
func (r *reader) property(m member) {
	d := r.draft
	if t := textOf(&d.Texts, m.name); t != nil {
		*t = words(r.text, m.data)
		return
	}
	switch m.name {
	case "notes":
		d.Notes = r.strings(m.data)
	case "shafts":
		d.Shafts, _ = whole(r.text, m.data)
	case "treadles":
		d.Treadles, _ = whole(r.text, m.data)
	case "shed":
		d.Shed = map[string]schema.Shed{"rising": schema.Rising, "sinking": schema.Sinking}[words(r.text, m.data)]
	case "profile":
		d.Profile = map[string]schema.Answer{"true": schema.Yes, "false": schema.No}[string(r.text[m.data.Start:m.data.End])]
	case "palette":
		d.Palette = r.palette(m.data)
	case "threading":
		d.Threading = r.rows(m.data)
	case "tieup":
		d.Tieup = r.rows(m.data)
		r.checkMatrix(m)
	case "treadling":
		d.Treadling = r.rows(m.data)
	case "liftplan":
		d.LiftPlan = r.rows(m.data)
		r.checkMatrix(m)
	case "warp":
		r.object("/warp", m.data, func(m member) { r.system(&d.Warp, m) })
	case "weft":
		r.object("/weft", m.data, func(m member) { r.system(&d.Weft, m) })
	case "project":
		r.object("/project", m.data, r.setting)
	case "ignore":
		r.ignores(m.data)
	case "carried":
		r.object("/carried", m.data, func(m member) {
			if m.name == "wif" {
				r.object("/carried/wif", m.data, r.carried)
			}
		})
	}
}

// textOf is where the text of a property is kept, nil where it is none.
func textOf(t *schema.Texts, property string) *string {
	switch property {
	case "title":
		return &t.Title
	case "author":
		return &t.Author
	case "address":
		return &t.Address
	case "email":
		return &t.EMail
	case "telephone":
		return &t.Telephone
	case "fax":
		return &t.Fax
	}
	return nil
}

func (r *reader) strings(at schema.Span) []string {
	var list []string
	for e := range each(r.text, at) {
		list = append(list, words(r.text, e))
	}
	return list
}

func (r *reader) palette(at schema.Span) []schema.Color {
	var list []schema.Color
	for e := range each(r.text, at) {
		c, err := schema.ParseColor(words(r.text, e))
		if err != nil {
			c = schema.Color{}
		}
		list = append(list, c)
	}
	return list
}

func (r *reader) rows(at schema.Span) schema.Rows {
	var t schema.Rows
	var row []int32
	for e := range each(r.text, at) {
		row = row[:0]
		if r.text[e.Start] == '[' {
			for n := range each(r.text, e) {
				row = append(row, number(r.text, n))
			}
		} else {
			row = append(row, number(r.text, e))
		}
		t.Append(row...)
	}
	return t
}

// checkMatrix reports a table that most likely says with 0 and 1 for each shaft
// whether it is lifted, where the numbers of those that are belong.
func (r *reader) checkMatrix(m member) {
	wide := 0
	for row := range each(r.text, m.data) {
		n := r.bits(row)
		if n < 3 || wide > 0 && n != wide {
			return
		}
		wide = n
	}
	if wide == 0 {
		return
	}
	r.found = append(r.found, schema.Finding{Rule: schema.FileBadValue, Span: m.key, Pointer: "/" + m.name,
		Message: fmt.Sprintf("every row of %s is %d times 0 or 1, which is read as shaft 1 and no other; where they say of each shaft whether it is lifted, write the numbers of those that are, as in [1, 3]",
			m.name, wide),
		Data: badValue([]string{m.name}, "", "numbers of shafts")})
}

// bits is how many zeros and ones a list is made of; 0 where it holds others too.
func (r *reader) bits(list schema.Span) int {
	n := 0
	for e := range each(r.text, list) {
		if digit := string(r.text[e.Start:e.End]); digit != "0" && digit != "1" {
			return 0
		}
		n++
	}
	return n
}

func (r *reader) system(s *schema.System, m member) {
	switch m.name {
	case "threads":
		s.Threads, _ = whole(r.text, m.data)
	case "color":
		s.Color = int(number(r.text, m.data))
	case "colors":
		for e := range each(r.text, m.data) {
			s.Colors = append(s.Colors, number(r.text, e))
		}
	case "unit":
		s.Unit = map[string]schema.Unit{"decipoint": schema.Decipoints, "in": schema.Inches, "cm": schema.Centimetres}[words(r.text, m.data)]
	case "spacing":
		s.Spacing = measure(r.text, m.data)
	case "spacings":
		s.Spacings = r.measures(m.data)
	case "thickness":
		s.Thickness = measure(r.text, m.data)
	case "thicknesses":
		s.Thicknesses = r.measures(m.data)
	}
}

func (r *reader) measures(at schema.Span) []float64 {
	var list []float64
	for e := range each(r.text, at) {
		list = append(list, measure(r.text, e))
	}
	return list
}

// setting takes a property of the project: a key of [project], or its yarns.
func (r *reader) setting(m member) {
	if m.name != "yarns" {
		r.addSetting("project", m)
		return
	}
	r.object("/project/yarns", m.data, func(yarn member) {
		r.object("/project/yarns/"+escaped(yarn.name), yarn.data, func(m member) { r.addSetting("yarn "+yarn.name, m) })
	})
}

// addSetting takes a key that the settings have, with a value that can be one;
// what else stands there the schema has been told of.
func (r *reader) addSetting(section string, m member) {
	path := []string{"project"}
	if section != "project" {
		path = append(path, "yarns", section)
	}
	known := schema.Properties("draft", path)
	i := slices.IndexFunc(known, func(name string) bool { return alike(name, m.name) })
	if i < 0 || !r.isSetting(m.data) || known[i] != m.name && r.hasSetting(section, known[i]) {
		return
	}
	r.draft.Settings = append(r.draft.Settings, schema.Setting{
		Section: section, Key: settingKey(known[i]), Value: asText(r.text, m.data)})
}

// alike says whether two names differ in hyphens, underscores and capitals at
// most, as the settings take keys for one.
func alike(name, other string) bool { return schema.FoldName(name) == schema.FoldName(other) }

// settingKey is the key of the settings that a property stands for.
func settingKey(property string) string { return strings.ReplaceAll(property, "_", " ") }

// hasSetting says whether a setting is there already.
func (r *reader) hasSetting(section, property string) bool {
	return slices.ContainsFunc(r.draft.Settings, func(s schema.Setting) bool {
		return s.Section == section && s.Key == settingKey(property)
	})
}

// isSetting says whether a value is a text, a whole number, or true or false.
func (r *reader) isSetting(at schema.Span) bool {
	switch c := r.text[at.Start]; c {
	case '"', 't', 'f':
		return true
	case '{', '[', 'n':
		return false
	}
	_, err := strconv.Atoi(string(r.text[at.Start:at.End]))
	return err == nil
}

func (r *reader) ignores(at schema.Span) {
	for e := range each(r.text, at) {
		var rule, reason string
		for _, m := range members(r.text, e) {
			switch m.name {
			case "rule":
				rule = words(r.text, m.data)
			case "reason":
				reason = words(r.text, m.data)
			}
		}
		if g, ok := schema.NewIgnore(rule, reason); ok {
			g.Span = e
			r.draft.Ignores = append(r.draft.Ignores, g)
		}
	}
}

// carried takes what a text file brought along.
func (r *reader) carried(m member) {
	c := &r.draft.Carried
	for e := range each(r.text, m.data) {
		v := map[string]string{}
		var lines []string
		for _, m := range members(r.text, e) {
			v[m.name] = words(r.text, m.data)
			if m.name == "lines" {
				lines = r.strings(m.data)
			}
		}
		switch m.name {
		case "comments":
			c.Comments = append(c.Comments, schema.Comment{Section: v["section"], Before: v["before"], Text: v["text"]})
		case "values":
			c.Values = append(c.Values, schema.Setting{Section: v["section"], Key: v["key"], Value: v["value"]})
		case "sections":
			c.Sections = append(c.Sections, schema.TextSection{Name: v["name"], Lines: lines})
		}
	}
}

// settle leaves out what cannot be meant: counts far beyond the rows listed,
// and what is said of threads that there are not.
func (r *reader) settle() {
	d := r.draft
	r.believe("/warp/threads", &d.Warp.Threads, d.Threading.Len())
	r.believe("/weft/threads", &d.Weft.Threads, max(d.Treadling.Len(), d.LiftPlan.Len()))
	r.believe("/shafts", &d.Shafts, d.Threading.Len())
	r.believe("/treadles", &d.Treadles, d.Tieup.Len())
	r.cut("/warp", &d.Warp, d.Ends(), "end")
	r.cut("/weft", &d.Weft, d.Picks(), "pick")
}

// believe leaves a count out that lies beyond belief.
func (r *reader) believe(pointer string, count *int, listed int) {
	limit := listed + schema.Belief
	if *count <= limit {
		return
	}
	what := fmt.Sprintf("%s: %d", strings.ReplaceAll(pointer[1:], "/", " "), *count)
	r.index(pointer, *count, limit, schema.Unbelieved(what, limit, "put it right"))
	*count = 0
}

// cut takes out what a system says of threads beyond those there are.
func (r *reader) cut(pointer string, s *schema.System, threads int, thread string) {
	long := func(list string, have int) int {
		if have > threads {
			r.index(fmt.Sprintf("%s/%s/%d", pointer, list, threads), threads+1, threads, fmt.Sprintf(
				"%s %s has %s for %s, and those beyond are left out; take them out, or declare more",
				pointer[1:], list, schema.Counted(have, "value"), schema.Counted(threads, thread)))
		}
		return min(have, threads)
	}
	s.Colors = s.Colors[:long("colors", len(s.Colors))]
	s.Spacings = s.Spacings[:long("spacings", len(s.Spacings))]
	s.Thicknesses = s.Thicknesses[:long("thicknesses", len(s.Thicknesses))]
	s.Trim()
}

func (r *reader) index(pointer string, index, limit int, message string) {
	l := &locator{text: r.text}
	at, pointer := l.find(strings.Split(pointer, "/")[1:])
	r.found = append(r.found, schema.Finding{Rule: schema.FileIndex, Span: at, Pointer: pointer, Message: message,
		Data: schema.Data{{Key: "section", Value: strings.Split(pointer, "/")[1]}, {Key: "index", Value: index}, {Key: "limit", Value: limit}}})
}
