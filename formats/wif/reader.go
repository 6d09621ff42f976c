// Package wif reads and writes WIF (Weaving Information File), versions 1.0 and 1.1.
// The reader accepts any text and reports each mistake with its place. The writer
// writes one canonical form.
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

// Format is the short name of WIF.
const Format = "wif"

// maxNumber is the highest shaft, treadle or palette number that fettle believes.
const maxNumber = schema.MostExtraRows

// usualSections is more sections than most drafts have.
const usualSections = 20

// Is reports whether a text has at least one section that WIF knows.
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

// Read reads a draft. It never fails: it returns as much of the draft as it can read,
// and findings. Its time and memory grow linearly with the text. It allocates nothing
// for a line without mistakes.
func Read(src *schema.Source) *schema.Document {
	r := &reader{src: src, text: src.Text, draft: &schema.Draft{}, parts: make([]part, 1, usualSections), numbers: make([]int32, 0, 8), counts: make([]count, 0, 8)}
	r.cutEndMark()
	for at := 0; at < len(r.text); {
		if at = r.plainRows(at); at < len(r.text) {
			l := lex(r.text, at)
			r.line(l, at)
			at = l.next
		}
	}
	r.leave(len(r.text))
	r.finish()
	r.reportAfterEnd()
	return &schema.Document{
		Unclear: r.unclear,
		Source:  src, Format: Format, Draft: r.draft, Findings: r.found,
		Locator: &locator{text: r.text, parts: r.parts[1:], inOrder: r.inOrder},
		Partial: !r.weaveComplete(),
	}
}

// part is a section in the file. The first part is the text before the first section.
type part struct {
	kind     kind
	header   schema.Span // its [NAME] line
	body     int         // where its first line begins
	end      int         // where the next section begins
	name     string      // of the first private or unknown section with it, in upper case
	misspelt bool
}

type reader struct {
	src   *schema.Source
	text  []byte
	draft *schema.Draft
	found []schema.Finding

	parts      []part
	kind       kind           // of the section being read
	first      [kinds]int     // the first section of each kind, in parts; 0 for none
	seen       [kinds]uint16  // keys that sections of a kind have had so far, a bit each
	exact      uint16         // keys that this section spells correctly, a bit each
	exactNames uint64         // kinds of section that the file spells correctly; 0 if not yet known
	inOrder    uint64         // kinds of section that occur once, with their rows in order
	names      map[string]int // private and unknown sections, in parts

	tables   [kinds]table
	decimals [kinds][]entry[float64]
	colors   []entry[channels]
	notes    []entry[string]
	palette  palette
	counts   []count
	contents []listing
	listed   [kinds]int // the line of CONTENTS for each kind, in contents, plus one
	numbers  []int32    // buffer for the numbers of one row

	restarted   bool   // the row numbers of this section have restarted; fettle skips the rest
	restartedIn uint64 // kinds of section in which they have
	headers     uint64 // kinds of section that have a header, misspelt or not; 0 if not yet known
	firstRow    int    // the first row of this section, -1 if not yet known

	oddRows []oddRow
	unclear []string // rules that found a row of the weave unclear

	unmeasured []*schema.System // those with an unreadable unit

	attached          int      // comments with a known place; later ones belong to the next key
	lines             []string // of the section, if it is carried
	groups            map[similar]*group
	duplicateSections []duplicateSection
	zeros             [kinds]*zeroRows       // rows numbered 0
	zeroInList        [kinds]bool            // whether a list has 0 among other numbers
	second            schema.Span            // where a second draft begins
	lookedAhead       bool                   // whether fettle has looked for one
	endMark           int                    // the offset after the end-of-file mark, 0 for none
	values            map[string]schema.Span // the first value of each duplicate key
	truncated         string                 // what shows that the file is truncated, "" if it isn't
}

// carries reports whether the lines of this section are carried unread.
func (r *reader) carries() bool {
	return sections[r.kind].form == formVerbatim || r.kind == kindUnknown && len(r.parts) > 1
}

// plainRows reads rows of whole numbers for as long as they are in their plain form,
// and returns where the first other line begins.
func (r *reader) plainRows(at int) int {
	if sections[r.kind].form != formNumbers || r.attached < len(r.draft.Carried.Comments) {
		return at
	}
	t := &r.tables[r.kind]
	for at < len(r.text) {
		if index, number, next := shortRow(r.text, at); next > at && index > 1 && t.next(index) && number <= maxNumber && !r.restarted {
			t.listed++
			t.rows.AppendOne(number)
			at = next
			continue
		}
		index, first, list, next, ok := row(r.text, at, r.numbers[:0])
		if cap(list) > cap(r.numbers) {
			r.numbers = list
		}
		if !ok || index == 0 || first > maxNumber || index == 1 && at > r.parts[len(r.parts)-1].body || r.restarted {
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
			if v > maxNumber || v == 0 || i > 0 && v <= list[i-1] {
				return at
			}
		}
		here := schema.Span{Start: at, End: next}
		r.add(r.kind, index, list, here)
		at = next
	}
	return at
}

// line reads a line of any form.
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
	case l.sort == sortKey && (r.restarted || r.rowsRestart(l)):
	case l.sort == sortComment:
		r.ignore(l.span())
		r.makeRoomForComments(at)
		r.comment(r.str(l.span()))
	case l.sort == sortStray && (r.rowWithoutEquals(l) || r.keyWithoutEquals(l)):
	case l.sort == sortStray, l.sort == sortKey && len(r.parts) == 1:
		r.strayLine(l)
		r.comment("; " + r.str(l.span()))
	case l.sort == sortKey:
		r.key(l)
	}
	if l.sort != sortComment && len(r.parts) > 1 && !r.carries() {
		r.checkSpaces(l, at)
	}
}

// keepLine carries a line.
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

func (r *reader) section(l line, at int) {
	r.leave(at)
	name := r.text[l.name.Start:l.name.End]
	p := part{kind: kindOf(name), header: l.span(), body: l.next}
	if p.kind == kindUnknown {
		p.kind = r.unknownSection(l, name)
		p.misspelt = p.kind != kindUnknown
	}
	r.checkDuplicate(l, name, &p)
	r.parts = append(r.parts, p)
	r.kind, r.exact, r.restarted, r.firstRow = p.kind, 0, false, -1
	if r.first[p.kind] == 0 {
		r.first[p.kind] = len(r.parts) - 1
	}
	if p.kind > kindUnknown && p.kind < kindPrivate && sections[p.kind].keys != nil {
		r.exact = 1 << 15 // not yet known
	}
	more := r.header(l, name)
	r.makeRoom(l.next)
	if more {
		r.line(lex(r.text, l.rest.Start), l.rest.Start)
	}
}

// makeRoom allocates memory for the rows of the section at an offset, one for each
// equals sign in it.
func (r *reader) makeRoom(at int) {
	body := r.text[at:]
	if next := bytes.IndexByte(body, '['); next >= 0 {
		body = body[:next]
	}
	switch sections[r.kind].form {
	case formNumbers:
		r.tables[r.kind].rows.Grow(bytes.Count(body, []byte{'='}))
	case formColors:
		r.colors = slices.Grow(r.colors, bytes.Count(body, []byte{'='}))
	case formDecimals:
		r.decimals[r.kind] = slices.Grow(r.decimals[r.kind], bytes.Count(body, []byte{'='}))
	}
}

// leave ends the section.
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

// makeRoomForComments allocates memory for all comments after an offset, from the
// second comment on.
func (r *reader) makeRoomForComments(at int) {
	if list := r.draft.Carried.Comments; len(list) == cap(list) && len(list) > 0 {
		r.draft.Carried.Comments = slices.Grow(list, 1+bytes.Count(r.text[at:], []byte("\n;")))
	}
}

// comment adds a comment that belongs to the next key.
func (r *reader) comment(text string) {
	r.draft.Carried.Comments = append(r.draft.Carried.Comments, schema.Comment{Text: text})
}

// attach places the comments since the last key before a key of this section.
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

// nameOf returns the canonical name of a section, or its own if WIF has none.
func (r *reader) nameOf(p *part) string {
	if p.kind != kindUnknown && p.kind != kindPrivate {
		return sections[p.kind].name
	}
	l := lex(r.text, p.header.Start)
	return r.str(l.name)
}

// ignore reads a comment of the form "; fettle: ignore RULE - reason".
func (r *reader) ignore(comment schema.Span) {
	text := r.str(comment)
	rule, reason, ok := ignoreComment(text)
	if !ok {
		if meant := likelyIgnore(text); meant != "" {
			r.misspeltIgnore(comment, meant)
		}
		return
	}
	at := schema.Span{Start: -(len(r.parts) - 1)} // which section: its end isn't known yet
	r.draft.Ignores = append(r.draft.Ignores,
		schema.Ignore{Rule: rule, Reason: reason, Section: at, Span: comment})
}

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

// likelyIgnore returns the ignore comment that another comment was probably meant to
// be, "" for none. One of its two words may be misspelt, the colon may be missing, or
// the second word may be one that other checkers use.
func likelyIgnore(text string) string {
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

// finish does all that needs the whole file.
func (r *reader) finish() {
	r.finishCounts()
	r.finishOddRows()
	r.finishTables()
	r.finishMeasures()
	r.finishPalette()
	r.reportZeroRows()
	r.finishIgnores()
	r.truncated = r.truncation()
	r.joinDuplicateSections()
	r.finishContents()
	r.missing()
	r.setAllLines()
	if r.truncated != "" {
		r.reportTruncation()
	}
}

// rowsOf returns how many rows are listed for a declared count.
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

// finishCounts accepts the declared counts that fettle believes.
func (r *reader) finishCounts() {
	for _, c := range r.counts {
		limit := r.rowsOf(c.kind, c.target) + schema.MostExtraRows
		if c.value <= limit {
			*c.target = c.value
			continue
		}
		name := r.str(c.line.name)
		what := fmt.Sprintf("%s=%d", wording.Plain(name, 30), c.value)
		r.indexFinding(sections[c.kind].name, c.value, c.line.span(), limit,
			schema.TooLargeNumber(what, limit, "correct it"), risky(r.commentOutKey(c.line)))
	}
}

func (r *reader) finishTables() {
	d := r.draft
	for k := range r.tables {
		t := &r.tables[k]
		if t.listed > 0 && t.listed == t.rows.Len() {
			r.inOrder |= 1 << k
		}
		if len(t.unplaced) > 0 {
			t.placeRows(r.problems(kind(k)))
		}
	}
	r.inOrder &^= r.restartedIn
	for _, t := range r.duplicateSections {
		r.inOrder &^= 1 << r.parts[t.part].kind
	}
	d.Threading = r.tables[kindThreading].rows
	d.Tieup = r.tables[kindTieup].rows
	d.Treadling = r.tables[kindTreadling].rows
	d.LiftPlan = r.tables[kindLiftPlan].rows
	d.Notes = arranged(r.notes, r.problems(kindNotes))
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

// colorNumbers returns a table of palette numbers, at most one for each thread.
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
	list := arranged(r.decimals[k], r.problems(k))
	r.checkLength(k, len(list), threads)
	return list[:min(len(list), threads)]
}

// finishIgnores sets the sections of ignore comments to their spans.
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
