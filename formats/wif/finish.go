package wif

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
)

// finish does what needs the whole file: puts rows in place, decides which
// counts to believe, and compares CONTENTS with what is there.
func (r *reader) finish() {
	r.finishCounts()
	r.finishTables()
	r.finishPalette()
	r.finishIgnores()
	r.broken = r.breaksOff()
	r.finishTwice()
	r.finishContents()
	r.missing()
	r.flushAll()
	if r.broken != "" {
		r.tellEnd()
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
		r.indexFinding(sections[c.kind].name, c.value, c.line.span(), limit,
			fmt.Sprintf("%s=%d cannot be meant and is left out: so few rows are listed that %d is the most that is believed; put it right",
				schema.Plain(name, 30), c.value, limit), commentOut(c.line.start))
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
	for _, t := range r.twice {
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

// checkLength reports the first row of a section that lies beyond the threads.
func (r *reader) checkLength(k kind, rows, threads int) {
	if rows <= threads {
		return
	}
	l := &locator{text: r.text, parts: r.parts[1:]}
	leave := schema.Fix{Title: "make comments of the rows beyond", Risky: true} // the threads may be too few instead
	first, at := 0, schema.Span{}
	for index := threads + 1; index <= rows; index++ {
		if row, ok := l.row(k, index); ok {
			leave.Edits = append(leave.Edits, commentOut(row.Start).Edits...)
			if first == 0 {
				first, at = index, row
			}
		}
	}
	if first > 0 {
		r.outside(k, first, at, threads, leave)
	}
}

// checkCarried looks through the numbered sections that are carried as they
// stand for rows beyond the threads.
func (r *reader) checkCarried(ends, picks int) {
	for _, c := range []struct {
		kind    kind
		threads int
	}{
		{kindWarpSymbols, ends}, {kindWarpSpacingZoom, ends}, {kindWarpThicknessZoom, ends},
		{kindWeftSymbols, picks}, {kindWeftSpacingZoom, picks}, {kindWeftThicknessZoom, picks},
		{kindWarpSymbolTable, r.entries(kindWarpSymbolPalette)}, {kindWeftSymbolTable, r.entries(kindWeftSymbolPalette)},
	} {
		if r.first[c.kind] != 0 && c.threads >= 0 {
			r.checkRows(c.kind, c.threads)
		}
	}
}

// entries is what a symbol palette declares, -1 where it does not.
func (r *reader) entries(k kind) int {
	l := &locator{text: r.text, parts: r.parts[1:]}
	if at, ok := l.key(k, "Entries"); ok {
		line := lex(r.text, at.Start)
		if v, next := digits(r.text, line.value.Start); next == line.value.End {
			return int(v)
		}
	}
	return -1
}

// checkRows reports the first row of a carried section whose number is beyond a
// limit.
func (r *reader) checkRows(k kind, limit int) {
	for _, p := range r.parts[1:] {
		if p.kind != k {
			continue
		}
		for at := p.body; at < p.end; {
			l := lex(r.text, at)
			if l.sort == sortKey {
				v, next := digits(r.text, l.name.Start)
				if next == l.name.End && int(v) > limit {
					r.outside(k, int(v), l.span(), limit)
					return
				}
			}
			at = l.next
		}
	}
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

// listing is a line of CONTENTS.
type listing struct {
	name    string
	kind    kind
	present bool
	line    line
}

// contentsKey takes a line of CONTENTS.
func (r *reader) contentsKey(l line) {
	name := r.text[l.name.Start:l.name.End]
	k := kindOf(name)
	c := listing{name: sections[k].name, kind: k, line: l}
	if !k.named() {
		c.name = folded(name)
	}
	if k == kindUnknown {
		c.kind = nearSection(name)
	}
	r.attach(c.name)
	answer := r.answer(l)
	c.present = answer == schema.Yes
	for _, has := range r.contents[:min(len(r.contents), int(kinds))] {
		if has.name == c.name {
			r.duplicateKey(l, c.name)
			return
		}
	}
	if answer == schema.Unsaid {
		return
	}
	if r.contents == nil {
		r.contents = make([]listing, 0, usualSections)
	}
	r.contents = append(r.contents, c)
	if k.named() && r.listed[k] == 0 {
		r.listed[k] = len(r.contents)
	}
}

// finishContents compares CONTENTS with the sections that are there.
func (r *reader) finishContents() {
	if r.first[kindContents] == 0 {
		r.noContents()
		return
	}
	for i := range r.contents {
		c := &r.contents[i]
		if c.present && !r.has(c) && r.broken == "" {
			r.contentsFinding(c.line.span(), c.name, true, false,
				fmt.Sprintf("CONTENTS lists %s, which the file does not have; write false there", schema.Quote(c.name)),
				r.relist(c.line, "false"))
		}
	}
	others := r.otherListings()
	for i := range r.parts {
		name, ok := r.listedName(i)
		if !ok || r.parts[i].kind == kindContents {
			continue
		}
		p, c := &r.parts[i], others[name]
		if p.kind.named() && r.listed[p.kind] > 0 {
			c = &r.contents[r.listed[p.kind]-1]
		}
		switch {
		case c == nil:
			r.contentsFinding(p.header, name, false, true,
				fmt.Sprintf("CONTENTS does not list section %s, so that other programs may pass over it; list it", schema.Quote(name)), r.enlist(name))
		case !c.present:
			r.contentsFinding(p.header, name, false, true,
				fmt.Sprintf("CONTENTS says that section %s is not there, but it is; write true there", schema.Quote(name)), r.relist(c.line, "true"))
		}
	}
}

// otherListings are the lines of CONTENTS for sections without a kind of their
// own, by name.
func (r *reader) otherListings() map[string]*listing {
	if r.names == nil {
		return nil
	}
	listed := make(map[string]*listing, len(r.contents))
	for i := range r.contents {
		listed[r.contents[i].name] = &r.contents[i]
	}
	return listed
}

// listedName is the name that CONTENTS has to list a part by; none for WIF, for
// a section of the same name as one before, and for a name that no line can have.
func (r *reader) listedName(i int) (name string, ok bool) {
	p := &r.parts[i]
	switch {
	case i == 0 || p.kind == kindWIF:
		return "", false
	case p.kind.named():
		return sections[p.kind].name, r.first[p.kind] == i
	}
	name = folded([]byte(r.nameOf(p)))
	return name, r.names[name] == i && listable(name)
}

// has says whether the file has the section that a line of CONTENTS lists.
func (r *reader) has(c *listing) bool {
	if c.kind.named() {
		return r.first[c.kind] != 0
	}
	return r.names[c.name] != 0
}

func (r *reader) contentsFinding(at schema.Span, section string, listed, present bool, message string, fixes ...schema.Fix) {
	if len(fixes) == 1 && r.fold(alike{schema.FileContents, kindContents, fmt.Sprint(listed, present)}, at, false, fixes[0].Edits...) {
		return
	}
	r.report(schema.FileContents, at, message, schema.Data{
		{Key: "section", Value: schema.Plain(section, 60)}, {Key: "listed", Value: listed}, {Key: "present", Value: present}}, fixes...)
}

// relist changes what CONTENTS says of a section.
func (r *reader) relist(l line, answer string) schema.Fix {
	return mend("write "+answer, l.value, answer)
}

// enlist adds a section to CONTENTS, behind its last line.
func (r *reader) enlist(name string) schema.Fix {
	at := r.parts[r.first[kindContents]].header
	if len(r.contents) > 0 {
		at = r.contents[len(r.contents)-1].line.span()
	}
	l := lex(r.text, at.Start)
	return mend("list it", schema.Span{Start: l.end, End: l.end}, r.lineBreak(l)+name+"=true")
}

// noContents reports a file without CONTENTS, and offers to write it; not yet
// where WIF has to be written first, which it stands behind.
func (r *reader) noContents() {
	if len(r.parts) == 1 {
		return
	}
	var fixes []schema.Fix
	if r.first[kindWIF] != 0 {
		fixes = append(fixes, r.writeContents())
	}
	r.contentsFinding(r.headOfFile(), sections[kindContents].name, false, false,
		"the file has no section CONTENTS, which lists the sections that follow; other programs may refuse it: write it", fixes...)
}

// writeContents is the section CONTENTS that a file lacks, behind WIF.
func (r *reader) writeContents() schema.Fix {
	wif := &r.parts[r.first[kindWIF]]
	eol := r.lineBreak(lex(r.text, wif.header.Start))
	var b strings.Builder
	if wif.end == len(r.text) {
		b.WriteString(eol)
	}
	b.WriteString("[CONTENTS]" + eol)
	for i := range r.parts {
		if name, ok := r.listedName(i); ok {
			b.WriteString(name + "=true" + eol)
		}
	}
	b.WriteString(eol)
	return mend("write CONTENTS", schema.Span{Start: wif.end, End: wif.end}, b.String())
}

// missing reports the sections without which a draft is none. What CONTENTS
// lists of a file that breaks off is told with its end.
func (r *reader) missing() {
	has := func(k kind) bool { return r.first[k] != 0 || r.broken != "" && r.lists(k) }
	if !has(kindWIF) {
		r.missingSection(kindWIF, "it names the format and stands first, and other programs will not read the file without it; write it",
			r.writeHeader())
	}
	if !has(kindThreading) {
		r.missingSection(kindThreading, "it says which shaft each end is threaded on, so nothing can be woven; get the draft again, or write it in")
	}
	if !has(kindTreadling) && !has(kindLiftPlan) {
		r.missingSection(kindTreadling, "neither it nor LIFTPLAN is there to say what each pick lifts, so nothing can be woven; get the draft again, or write one of them in")
	}
	if has(kindTreadling) && !has(kindTieup) && !has(kindLiftPlan) {
		r.missingSection(kindTieup, "without it the treadles lift nothing; get the draft again, or write it or a LIFTPLAN in")
	}
	if has(kindColorTable) && !has(kindColorPalette) {
		r.missingSection(kindColorPalette, "it says which range the numbers of COLOR TABLE have; 0 to 255 is taken unless they go beyond; write it",
			r.writePalette())
	}
}

func (r *reader) missingSection(k kind, why string, fixes ...schema.Fix) {
	r.report(schema.FileMissingSection, r.headOfFile(), fmt.Sprintf("the file has no section %s: %s", sections[k].name, why),
		schema.Data{{Key: "section", Value: sections[k].name}}, fixes...)
}

// writeHeader is the section WIF that a file lacks, before its first section:
// what stands before that is the whole file's and stays before it.
func (r *reader) writeHeader() schema.Fix {
	at := r.headOfFile().Start
	text := strings.ReplaceAll(headerText()+"\n", "\n", r.lineBreak(lex(r.text, at)))
	return mend("write it", schema.Span{Start: at, End: at}, text)
}

// headOfFile is the first section line.
func (r *reader) headOfFile() schema.Span {
	if len(r.parts) > 1 {
		return r.parts[1].header
	}
	return schema.Span{}
}

// writePalette is the section COLOR PALETTE that a color table lacks, and its
// line of CONTENTS.
func (r *reader) writePalette() schema.Fix {
	at := r.parts[r.first[kindColorTable]].header
	eol := r.lineBreak(lex(r.text, at.Start))
	text := "[" + sections[kindColorPalette].name + "]" + eol + "Entries=" + strconv.Itoa(len(r.draft.Palette)) + eol +
		"Form=RGB" + eol + "Range=0," + strconv.Itoa(int(r.palette.high)) + eol + eol
	fix := mend("write it", schema.Span{Start: at.Start, End: at.Start}, text)
	listed := slices.ContainsFunc(r.contents, func(c listing) bool { return c.kind == kindColorPalette })
	if r.first[kindContents] != 0 && !listed {
		fix.Edits = append(r.enlist(sections[kindColorPalette].name).Edits, fix.Edits...)
	}
	return fix
}
