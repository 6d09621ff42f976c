// Package wif reads and writes the open interchange text format for weaving
// drafts, versions 1.0 and 1.1. The reader takes drafts as they are and says of
// each oddity where it stands; the writer writes one canonical form.
package wif

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"fettle/schema"
	"fettle/schema/spelling"
	"fettle/schema/wording"
)

// Format is the short name of the format.
const Format = "wif"

// highestNumber is the largest shaft, treadle or palette number that is
// believed.
const highestNumber = schema.Belief

// usualSections is how many sections most drafts have no more of.
const usualSections = 20

// Is says whether a text holds at least one section of the format, so that
// reading it makes sense.
func Is(text []byte) bool {
	for at := 0; at < len(text); {
		l := lex(text, at)
		if l.sort == sortSection && kindOf(text[l.name.Start:l.name.End]) != kindUnknown {
			return true
		}
		at = l.next
	}
	return false
}

// Read reads a draft. It always gives one, however little the text holds, and
// takes time and memory in proportion to the text. It allocates nothing for a
// line that is as it should be.
func Read(src *schema.Source) *schema.Document {
	r := &reader{src: src, text: src.Text, draft: &schema.Draft{}, parts: make([]part, 1, usualSections), numbers: make([]int32, 0, 8), counts: make([]count, 0, 8)}
	r.cutMark()
	for at := 0; at < len(r.text); {
		if at = r.plainRows(at); at < len(r.text) {
			l := lex(r.text, at)
			r.line(l, at)
			at = l.next
		}
	}
	r.leave(len(r.text))
	r.finish()
	r.reportRest()
	return &schema.Document{
		Unclear: r.unclear,
		Source:  src, Format: Format, Draft: r.draft, Findings: r.found,
		Locator: &locator{text: r.text, parts: r.parts[1:], inOrder: r.inOrder},
		Partial: !r.weaveWhole(),
	}
}

// part is a section as it stands in the file. The first is what comes before
// the first section.
type part struct {
	kind     kind
	header   schema.Span // its [NAME] line
	body     int         // where its first line begins
	end      int         // where the next section begins
	misspelt bool
}

type reader struct {
	src   *schema.Source
	text  []byte
	draft *schema.Draft
	found []schema.Finding

	parts   []part
	kind    kind           // of the section being read
	first   [kinds]int     // where the first section of a kind is in parts; 0 none
	seen    [kinds]uint16  // keys met in sections of a kind, by number
	exact   uint16         // keys that this section spells as they should be
	spelt   uint64         // kinds of section that the file names as they should be; 0 not looked for yet
	inOrder uint64         // kinds of section whose rows stand in order, each once
	names   map[string]int // sections without a kind of their own, in parts

	tables   [kinds]table
	decimals [kinds][]entry[float64]
	colors   []entry[channels]
	notes    []entry[string]
	palette  palette
	counts   []count
	contents []listing
	listed   [kinds]int // the line of CONTENTS for a kind, in contents, plus one
	numbers  []int32    // room for the numbers of one row

	anew     bool   // the rows of this section have begun anew, and are skipped
	anewIn   uint64 // kinds of section in which rows begin anew
	headers  uint64 // kinds of section that have a header, misspelt or not; 0 not looked for yet
	firstRow int    // the first row of this section, -1 not looked for yet

	typed   []typedRow // rows typed in another way
	unclear []string   // rules that say a row of the weave could not be read for certain

	unmeasured []*schema.System // those whose unit could not be read

	attached         int      // comments whose place is known; those after it belong to the next key
	lines            []string // of the section being carried as it stands
	groups           map[alike]*group
	repeatedSections []repeatedSection
	zeros            [kinds]*zeroRow        // rows numbered 0
	zeroInList       [kinds]bool            // whether a row names 0 beside other numbers
	second           schema.Span            // where a second draft begins
	ahead            bool                   // it was looked whether one does
	marked           int                    // where the mark of the end stands, plus one
	values           map[string]schema.Span // the first values of keys that appear twice
	broken           string                 // what shows that the file breaks off in its last line; "" that it does not
}

// carries says whether the lines of the section being read are carried as they
// stand.
func (r *reader) carries() bool {
	return sections[r.kind].form == verbatim || r.kind == kindUnknown && len(r.parts) > 1
}

// plainRows takes rows of a section of whole numbers for as long as they are in
// their plain form, and says where the first line that is not begins.
func (r *reader) plainRows(at int) int {
	if sections[r.kind].form != numbers || r.attached < len(r.draft.Carried.Comments) {
		return at
	}
	t := &r.tables[r.kind]
	for at < len(r.text) {
		if index, number, next := shortRow(r.text, at); next > at && index > 1 && t.next(index) && number <= highestNumber && !r.anew {
			t.listed++
			t.rows.AppendOne(number)
			at = next
			continue
		}
		index, first, list, next, ok := row(r.text, at, r.numbers[:0])
		if cap(list) > cap(r.numbers) {
			r.numbers = list
		}
		if !ok || index == 0 || first > highestNumber || index == 1 && at > r.parts[len(r.parts)-1].body || r.anew {
			return at
		}
		if len(list) == 0 {
			if t.next(index) {
				t.listed++
				t.rows.AppendOne(first)
				at = next
				continue
			}
			list = append(list, first)
		}
		if len(list) > 1 && !r.kind.isWeave() {
			return at
		}
		for i, v := range list {
			if v > highestNumber || v == 0 || i > 0 && v <= list[i-1] {
				return at
			}
		}
		here := schema.Span{Start: at, End: next}
		r.add(r.kind, index, list, here)
		at = next
	}
	return at
}

// line takes one line by the general path.
func (r *reader) line(l line, at int) {
	switch {
	case l.sort == sortSection && r.secondDraft(l):
		r.second, r.text = l.span(), r.text[:at]
		return
	case l.sort == sortSection:
		r.section(l, at)
	case l.sort == sortStray && r.bareHeader(&l):
		r.section(l, at)
	case r.carries():
		r.keepLine(l, at)
	case l.sort == sortKey && (r.anew || r.beginsAnew(l)):
	case l.sort == sortComment:
		r.ignore(l.span())
		r.makeRoomForComments(at)
		r.comment(string(r.text[l.start:l.end]))
	case l.sort == sortStray && (r.strayRow(l) || r.strayKey(l)):
	case l.sort == sortStray, l.sort == sortKey && len(r.parts) == 1:
		r.strayLine(l)
		r.comment("; " + string(r.text[l.start:l.end]))
	case l.sort == sortKey:
		r.key(l)
	}
	if l.sort != sortComment && len(r.parts) > 1 && !r.carries() {
		r.wideSpaces(l, at)
	}
}

// keepLine keeps a line as it stands.
func (r *reader) keepLine(l line, at int) {
	if l.sort == sortComment {
		r.ignore(l.span())
	}
	end := l.end
	if l.sort == sortBlank {
		end = at
	}
	r.lines = append(r.lines, string(r.text[at:end]))
}

// section begins a section.
func (r *reader) section(l line, at int) {
	r.leave(at)
	name := r.text[l.name.Start:l.name.End]
	p := part{kind: kindOf(name), header: l.span(), body: l.next}
	if p.kind == kindUnknown {
		p.kind = r.unknownSection(l, name)
		p.misspelt = p.kind != kindUnknown
	}
	r.again(l, name, p.kind)
	r.parts = append(r.parts, p)
	r.kind, r.exact, r.anew, r.firstRow = p.kind, 0, false, -1
	if r.first[p.kind] == 0 {
		r.first[p.kind] = len(r.parts) - 1
	}
	if p.kind > kindUnknown && p.kind < kindPrivate && sections[p.kind].keys != nil {
		r.exact = 1 << 15 // not looked through yet
	}
	more := r.header(l, name)
	r.makeRoom(l.next)
	if more {
		r.line(lex(r.text, l.rest.Start), l.rest.Start)
	}
}

// makeRoom makes room for the rows of the section that begins at an offset, at
// most one for each = that it has.
func (r *reader) makeRoom(at int) {
	body := r.text[at:]
	if next := bytes.IndexByte(body, '['); next >= 0 {
		body = body[:next]
	}
	switch sections[r.kind].form {
	case numbers:
		r.tables[r.kind].rows.Grow(bytes.Count(body, []byte{'='}))
	case colors:
		r.colors = slices.Grow(r.colors, bytes.Count(body, []byte{'='}))
	case decimals:
		r.decimals[r.kind] = slices.Grow(r.decimals[r.kind], bytes.Count(body, []byte{'='}))
	}
}

// leave ends the section being read.
func (r *reader) leave(at int) {
	p := &r.parts[len(r.parts)-1]
	p.end = at
	if r.carries() {
		for len(r.lines) > 0 && strings.TrimSpace(r.lines[len(r.lines)-1]) == "" {
			r.lines = r.lines[:len(r.lines)-1]
		}
		r.draft.Carried.Sections = append(r.draft.Carried.Sections,
			schema.TextSection{Name: r.nameOf(p), Lines: r.lines})
		r.lines = nil
		return
	}
	r.attach("")
}

// makeRoomForComments makes room for all comments from an offset on, at the second
// one and whenever that was too little.
func (r *reader) makeRoomForComments(at int) {
	if list := r.draft.Carried.Comments; len(list) == cap(list) && len(list) > 0 {
		r.draft.Carried.Comments = slices.Grow(list, 1+bytes.Count(r.text[at:], []byte("\n;")))
	}
}

// comment keeps a comment, which belongs to the next key.
func (r *reader) comment(text string) {
	r.draft.Carried.Comments = append(r.draft.Carried.Comments, schema.Comment{Text: text})
}

// attach puts the comments since the last key before a key of the section being read.
func (r *reader) attach(key string) {
	section := ""
	if len(r.parts) > 1 {
		section = sections[r.kind].name
	}
	comments := r.draft.Carried.Comments
	for i := r.attached; i < len(comments); i++ {
		comments[i].Section, comments[i].Before = section, key
	}
	r.attached = len(comments)
}

// nameOf is the canonical name of a section, or the name it goes by where the
// format has none.
func (r *reader) nameOf(p *part) string {
	if p.kind != kindUnknown && p.kind != kindPrivate {
		return sections[p.kind].name
	}
	l := lex(r.text, p.header.Start)
	return string(r.text[l.name.Start:l.name.End])
}

// ignore takes a comment that asks for findings to be left out:
// "; fettle: ignore RULE - reason".
func (r *reader) ignore(comment schema.Span) {
	text := string(r.text[comment.Start:comment.End])
	rule, reason, ok := ignoreComment(text)
	if !ok {
		if meant := meantIgnore(text); meant != "" {
			r.misspeltIgnore(comment, meant)
		}
		return
	}
	at := schema.Span{Start: -(len(r.parts) - 1)} // which section; its end is not known yet
	r.draft.Ignores = append(r.draft.Ignores,
		schema.Ignore{Rule: rule, Reason: reason, Section: at, Span: comment})
}

// ignoreComment takes an ignore comment apart.
func ignoreComment(text string) (rule, reason string, ok bool) {
	text = strings.TrimSpace(strings.TrimLeft(text, "; \t"))
	text, ok = strings.CutPrefix(text, "fettle:")
	if !ok {
		return "", "", false
	}
	text, ok = strings.CutPrefix(strings.TrimSpace(text), "ignore ")
	if !ok {
		return "", "", false
	}
	text = strings.TrimSpace(text)
	end := strings.IndexFunc(text, unicode.IsSpace)
	if end < 0 {
		end = len(text)
	}
	g, ok := schema.NewIgnore(text[:end], text[end:])
	return g.Rule, g.Reason, ok
}

// meantIgnore is the ignore comment that another comment was most likely meant to
// be, "" for none: its two words are there, one of them misspelt or without the
// colon, or a word stands there that other checkers have for it.
func meantIgnore(text string) string {
	text = strings.TrimLeft(text, "; \t")
	if text == "" || text[0] != 'f' && text[0] != 'F' {
		return ""
	}
	words := strings.Fields(strings.Replace(text, ":", ": ", 1))
	if len(words) < 2 {
		return ""
	}
	us, asked := strings.TrimSuffix(words[0], ":"), strings.TrimSuffix(words[1], ":")
	other := us != words[0] && slices.Contains([]string{"allow", "disable", "hide", "off", "silence", "skip", "suppress"}, strings.ToLower(asked))
	if spelling.Nearest(us, []string{"fettle"}) == "" || !other && spelling.Nearest(asked, []string{"ignore"}) == "" {
		return ""
	}
	rest := strings.Join(words[2:], " ")
	if rest == "" {
		rest = "RULE - and the reason"
	}
	return schema.IgnoreComment + rest
}

// finish does what needs the whole file: puts rows in place, decides which
// counts to believe, and compares CONTENTS with what is there.
func (r *reader) finish() {
	r.finishCounts()
	r.finishTyped()
	r.finishTables()
	r.finishMeasures()
	r.finishPalette()
	r.reportZero()
	r.finishIgnores()
	r.broken = r.breaksOff()
	r.joinRepeatedSections()
	r.finishContents()
	r.missing()
	r.flushAll()
	if r.broken != "" {
		r.reportEnd()
	}
}

// rowsOf is how many rows are listed of what a declared count counts.
func (r *reader) rowsOf(k kind, target *int) int {
	switch {
	case k == kindColorPalette:
		return len(r.colors)
	case k == kindWarp:
		return r.tables[kindThreading].listed
	case k == kindWeft:
		return max(r.tables[kindTreadling].listed, r.tables[kindLiftPlan].listed)
	case target == &r.draft.Treadles:
		return r.tables[kindTieup].listed
	}
	return r.tables[kindThreading].listed
}

// finishCounts takes over the declared counts that can be believed.
func (r *reader) finishCounts() {
	for _, c := range r.counts {
		limit := r.rowsOf(c.kind, c.target) + schema.Belief
		if c.value <= limit {
			*c.target = c.value
			continue
		}
		name := string(r.text[c.line.name.Start:c.line.name.End])
		what := fmt.Sprintf("%s=%d", wording.Plain(name, 30), c.value)
		r.indexFinding(sections[c.kind].name, c.value, c.line.span(), limit,
			schema.Unbelieved(what, limit, "put it right"), atRisk(r.commentOutKey(c.line)))
	}
}

func (r *reader) finishTables() {
	d := r.draft
	for k := range r.tables {
		t := &r.tables[k]
		if t.listed > 0 && t.listed == t.rows.Len() {
			r.inOrder |= 1 << k
		}
		if len(t.late) > 0 {
			t.settle(r.problems(kind(k)))
		}
	}
	r.inOrder &^= r.anewIn
	for _, t := range r.repeatedSections {
		r.inOrder &^= 1 << r.parts[t.part].kind
	}
	d.Threading = r.tables[kindThreading].rows
	d.Tieup = r.tables[kindTieup].rows
	d.Treadling = r.tables[kindTreadling].rows
	d.LiftPlan = r.tables[kindLiftPlan].rows
	d.Notes = settled(r.notes, r.problems(kindNotes))
	ends, picks := d.Ends(), d.Picks()
	d.Warp.Colors = r.colorNumbers(kindWarpColors, ends)
	d.Weft.Colors = r.colorNumbers(kindWeftColors, picks)
	d.Warp.Spacings = r.measures(kindWarpSpacing, ends)
	d.Weft.Spacings = r.measures(kindWeftSpacing, picks)
	d.Warp.Thicknesses = r.measures(kindWarpThickness, ends)
	d.Weft.Thicknesses = r.measures(kindWeftThickness, picks)
	d.Warp.Trim()
	d.Weft.Trim()
	r.checkCarried(ends, picks)
}

// colorNumbers is a table of palette numbers, one a thread, as far as there are
// threads.
func (r *reader) colorNumbers(k kind, threads int) []int32 {
	rows := &r.tables[k].rows
	if rows.Len() == 0 {
		return nil
	}
	r.checkLength(k, rows.Len(), threads)
	known := min(rows.Len(), threads)
	if list, ok := rows.Single(); ok {
		return list[:known:known]
	}
	list := make([]int32, known)
	for n := range list {
		if row := rows.Row(n + 1); len(row) > 0 {
			list[n] = row[0]
		}
	}
	return list
}

func (r *reader) measures(k kind, threads int) []float64 {
	list := settled(r.decimals[k], r.problems(k))
	r.checkLength(k, len(list), threads)
	return list[:min(len(list), threads)]
}

// finishIgnores turns the sections that ignore comments stand in into spans, now
// that their ends are known.
func (r *reader) finishIgnores() {
	for i := range r.draft.Ignores {
		g := &r.draft.Ignores[i]
		n := -g.Section.Start
		g.Section = schema.Span{}
		if n > 0 {
			g.Section = schema.Span{Start: r.parts[n].header.Start, End: r.parts[n].end}
		}
	}
}
