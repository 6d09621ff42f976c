package wif

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// missing reports required sections that the file lacks. In a truncated file,
// sections that CONTENTS lists are part of that finding.
func (r *reader) missing() {
	has := func(k kind) bool { return r.filled(k) || r.truncated != "" && r.lists(k) }
	if !has(kindWIF) {
		r.missingSection(kindWIF, "other programs can't read the file without it; write it first",
			r.writeHeader())
	}
	if !has(kindThreading) {
		r.missingSection(kindThreading, "without it the draft can't be woven; get a complete copy, or write it")
	}
	if !has(kindTreadling) && !has(kindLiftPlan) {
		r.missingSection(kindTreadling, "without it or LIFTPLAN the draft can't be woven; get a complete copy, or write one of them")
	}
	if has(kindTreadling) && !has(kindTieup) && !has(kindLiftPlan) {
		r.missingSection(kindTieup, "without it the treadles lift nothing; get a complete copy, or write it or LIFTPLAN")
	}
	if has(kindColorTable) && !has(kindColorPalette) {
		r.missingSection(kindColorPalette, "it gives the range of the numbers in COLOR TABLE, so fettle assumes 0 to 255 unless they are higher; write it",
			r.writePalette())
	}
}

// reportsMissing reports whether missing reports a section of the weave.
func (r *reader) reportsMissing(k kind) bool {
	lifted := r.filled(kindTreadling) || r.filled(kindLiftPlan)
	switch k {
	case kindThreading:
		return !r.filled(k)
	case kindTreadling, kindLiftPlan:
		return !lifted
	case kindTieup:
		return !r.filled(k) && r.filled(kindTreadling) && !r.filled(kindLiftPlan)
	}
	return false
}

// filled reports whether the file has a section and, for one of the weave, whether it
// has more than blank lines and comments.
func (r *reader) filled(k kind) bool {
	if !k.isWeave() || r.tables[k].listed > 0 {
		return r.first[k] != 0
	}
	for i := range r.parts {
		p := &r.parts[i]
		for at := p.body; p.kind == k && at < p.end; {
			l := lex(r.text, at)
			if l.sort != sortBlank && l.sort != sortComment {
				return true
			}
			at = l.next
		}
	}
	return false
}

func (r *reader) missingSection(k kind, why string, fixes ...schema.Fix) {
	at, lacks := r.headOfFile(), "the file lacks section "+sections[k].name
	if r.first[k] != 0 {
		at, lacks = r.parts[r.first[k]].header, "section "+sections[k].name+" has no rows"
	}
	r.report(schema.FileMissingSection, at, fmt.Sprintf("%s: %s", lacks, why),
		schema.Data{{Key: "section", Value: sections[k].name}}, fixes...)
}

// writeHeader returns the fix that adds section WIF before the first section.
func (r *reader) writeHeader() schema.Fix {
	at := r.headOfFile().Start
	text := strings.ReplaceAll(wifSection()+"\n", "\n", r.lineBreak(lex(r.text, at)))
	return replacement("write it", schema.Span{Start: at, End: at}, text)
}

// headOfFile returns the first section line.
func (r *reader) headOfFile() schema.Span {
	if len(r.parts) > 1 {
		return r.parts[1].header
	}
	return schema.Span{}
}

// writePalette returns the fix that adds COLOR PALETTE before COLOR TABLE, and to
// CONTENTS.
func (r *reader) writePalette() schema.Fix {
	at := r.parts[r.first[kindColorTable]].header
	eol := r.lineBreak(lex(r.text, at.Start))
	text := "[" + sections[kindColorPalette].name + "]" + eol + "Entries=" + strconv.Itoa(len(r.draft.Palette)) + eol +
		"Form=RGB" + eol + "Range=0," + strconv.Itoa(int(r.palette.high)) + eol + eol
	fix := replacement("write it", schema.Span{Start: at.Start, End: at.Start}, text)
	fix.Risky = r.palette.high > 255 // a guess
	listed := slices.ContainsFunc(r.contents, func(c listing) bool { return c.kind == kindColorPalette })
	if r.first[kindContents] != 0 && !listed {
		fix.Edits = append(r.enlist(sections[kindColorPalette].name).Edits, fix.Edits...)
	}
	return fix
}

// weaveComplete reports whether the file has all sections of the weave and isn't
// truncated within one.
func (r *reader) weaveComplete() bool {
	has := r.filled
	if !has(kindThreading) || !has(kindLiftPlan) && !(has(kindTreadling) && has(kindTieup)) {
		return false
	}
	if r.truncated == "" {
		return true
	}
	switch r.kind {
	case kindWeaving, kindWarp, kindWeft, kindTieup, kindThreading, kindTreadling, kindLiftPlan:
		return false
	}
	return true
}

// endOfText is the byte that old systems put after the last line.
const endOfText = 0x1a

// A file counts as truncated if something is missing at its end and either its last
// line has no line ending or its last table is short. One finding says so, and
// fettle leaves out its consequences.

// truncation says what shows that the file is truncated, "" if nothing does. A last
// line without a line ending proves nothing by itself.
func (r *reader) truncation() string {
	if len(r.parts) == 1 || len(r.text) == 0 {
		return ""
	}
	last, short, names := r.lastLine(), r.shortTable(), r.sectionsToFollow()
	if r.lastLineEnds() {
		if r.endMark > 0 || len(names) == 0 || r.restartedIn != 0 {
			return ""
		}
		if short == "" && r.weaveToFollow() {
			return "it ends before " + wording.Listed(names) + ", which CONTENTS lists"
		}
		if short == "" {
			return "" // a complete file may have one of the two
		}
		return short + ", and it ends before " + wording.Listed(names) + ", which CONTENTS lists"
	}
	if last.sort == sortBlank {
		return ""
	}
	if short != "" {
		return short + ", and the last line has no line ending"
	}
	if len(names) > 0 {
		return "it ends " + r.lastRow() + "before " + wording.Listed(names) + ", which CONTENTS lists, and the last line has no line ending"
	}
	if r.truncatedLine(last) {
		return "its last line stops in the middle"
	}
	return ""
}

// lastRow says in which row of which table the file ends; "" if not in a table.
func (r *reader) lastRow() string {
	last := r.lastLine()
	if row, next := digits(r.text, last.start); next > last.start && r.inTable(r.kind) {
		return fmt.Sprintf("in %s, at row %d, ", sections[r.kind].name, row)
	}
	return ""
}

// cutEndMark drops the end-of-file mark and the marks, zeros and blanks with which
// old systems fill up the file after it.
func (r *reader) cutEndMark() {
	tail := len(bytes.TrimRight(r.text, "\x1a\x00 \t\r\n"))
	if i := bytes.IndexByte(r.text[tail:], endOfText); i >= 0 {
		r.endMark = tail + i + 1
		r.text = r.text[:tail+i]
	}
}

// secondDraft reports whether a second draft begins with this section: WIF again, and
// after it a table that the file already has.
func (r *reader) secondDraft(l line) bool {
	if r.lookedAhead || kindOf(r.text[l.name.Start:l.name.End]) != kindWIF || r.first[kindWIF] == 0 {
		return false
	}
	r.lookedAhead = true
	for at := l.next; at < len(r.text); {
		next := lex(r.text, at)
		if next.sort == sortSection {
			switch k := kindOf(r.text[next.name.Start:next.name.End]); k {
			case kindContents, kindThreading, kindTieup, kindTreadling, kindLiftPlan:
				if r.first[k] != 0 {
					return true
				}
			}
		}
		at = next.next
	}
	return false
}

func (r *reader) reportAfterEnd() {
	if r.second.End > 0 {
		r.report(schema.FileDuplicateSection, r.second,
			"a second draft begins here, but fettle reads only the first; save the second in its own file",
			nameData(sections[kindWIF].name, ""))
		r.markUnread()
	}
	if r.endMark > 0 {
		at, more := schema.Span{Start: r.endMark - 1, End: len(r.src.Text)}, ""
		if at.Start > 0 && r.src.Text[at.Start-1] != '\n' && r.src.Text[at.Start-1] != '\r' {
			more = breakOf(r.src.Text, lex(r.src.Text, 0))
		}
		r.report(schema.FileStrayLine, schema.Span{Start: at.Start, End: r.endMark},
			"other programs may fail on the end-of-file mark (Ctrl-Z) here; delete it",
			nameData("Ctrl-Z", ""), replacement("delete it", at, more))
	}
}

// lastLineEnds reports whether the last line is whole because it has a line ending.
func (r *reader) lastLineEnds() bool {
	return r.endMark > 0 || r.second.End > 0 || strings.IndexByte("\n\r", r.text[len(r.text)-1]) >= 0
}

// lastLine returns the last line; if it is whole, the last one that isn't blank.
func (r *reader) lastLine() line {
	end := len(r.text)
	if r.lastLineEnds() {
		end = r.textEnd(&r.parts[len(r.parts)-1])
	}
	return lex(r.text, lineStart(r.text, end))
}

// shortTable says how many rows the last table lacks, "" if none.
func (r *reader) shortTable() string {
	d, k := r.draft, r.kind
	rows, declared, what := 0, 0, ""
	switch k {
	case kindTieup:
		rows, declared, what = d.Tieup.Len(), d.Treadles, "treadle"
	case kindThreading:
		rows, declared, what = d.Threading.Len(), d.Warp.Threads, "end"
	case kindTreadling:
		rows, declared, what = d.Treadling.Len(), d.Weft.Threads, "pick"
	case kindLiftPlan:
		rows, declared, what = d.LiftPlan.Len(), d.Weft.Threads, "pick"
	case kindColorTable:
		rows, declared, what = len(r.colors), r.palette.entries, "color"
	}
	if rows >= declared {
		return ""
	}
	return fmt.Sprintf("%s lists %d of %s", sections[k].name, rows, wording.Counted(declared, what))
}

// maxNamed is how many missing sections a message names.
const maxNamed = 6

// sectionsToFollow returns the first sections that CONTENTS lists and the file lacks.
// It returns none unless a draft needs one of them or CONTENTS lists one after the
// last section of the file.
func (r *reader) sectionsToFollow() []string {
	last := r.listed[r.kind]
	needed, follow := false, false
	var names []string
	for i := range r.contents {
		if c := &r.contents[i]; c.present && !r.has(c) {
			if len(names) < maxNamed {
				names = append(names, wording.Plain(c.name, 30))
			}
			needed = needed || c.kind == kindThreading || c.kind == kindTreadling || c.kind == kindTieup
			follow = follow || last > 0 && i >= last
		}
	}
	if !needed && !follow {
		return nil
	}
	return names
}

// weaveToFollow reports whether CONTENTS lists all missing sections after the last
// section of the file, and a draft needs one of them.
func (r *reader) weaveToFollow() bool {
	last, needed := r.listed[r.kind], false
	for i := range r.contents {
		c := &r.contents[i]
		if !c.present || r.has(c) {
			continue
		}
		if last == 0 || i < last {
			return false
		}
		needed = needed || c.kind == kindThreading || c.kind == kindTreadling || c.kind == kindLiftPlan
	}
	return needed
}

// truncatedLine reports whether a line stops in the middle: a row without a value or
// an equals sign, or a section name without its closing bracket.
func (r *reader) truncatedLine(l line) bool {
	table := sections[r.kind].form != formFields && sections[r.kind].form != formText
	switch l.sort {
	case sortSection:
		return l.unclosed
	case sortStray:
		_, next := digits(r.text, l.start)
		return table && next == l.end
	case sortKey:
		return table && l.value.Start == l.value.End && !r.hasEmptyRow(l)
	}
	return false
}

// hasEmptyRow reports whether the last section has a row without a value before its
// last line. Then another one is nothing unusual.
func (r *reader) hasEmptyRow(last line) bool {
	for at := r.parts[len(r.parts)-1].body; at < last.start; {
		l := lex(r.text, at)
		if l.sort == sortKey && l.value.Start == l.value.End && l.start < last.start {
			return true
		}
		at = l.next
	}
	return false
}

// reportTruncation reports that the file is truncated. If the last line isn't whole,
// this replaces the findings about it.
func (r *reader) reportTruncation() {
	last := r.lastLine()
	if !r.lastLineEnds() {
		r.unclear = nil // only the last line was unclear
		r.found = slices.DeleteFunc(r.found, func(f schema.Finding) bool { return f.Span.Start >= last.start })
	}
	r.report(schema.FileMissingSection, last.span(),
		"the file seems to be truncated here: "+r.truncated+"; get a complete copy",
		schema.Data{{Key: "section", Value: wording.Plain(r.nameOf(&r.parts[len(r.parts)-1]), 60)}})
	r.markUnread()
}
