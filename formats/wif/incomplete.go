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

// missing reports the sections without which a draft is none. What CONTENTS
// lists of a file that breaks off is told with its end.
func (r *reader) missing() {
	has := func(k kind) bool { return r.filled(k) || r.broken != "" && r.lists(k) }
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

// reportedMissing says whether missing reports that a section of the weave is not there.
func (r *reader) reportedMissing(k kind) bool {
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

// filled says whether the file has a section, and one of the weave more than blank
// lines and comments in it.
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
	at, lacks := r.headOfFile(), "the file has no section "+sections[k].name
	if r.first[k] != 0 {
		at, lacks = r.parts[r.first[k]].header, "section "+sections[k].name+" has no rows"
	}
	r.report(schema.FileMissingSection, at, fmt.Sprintf("%s: %s", lacks, why),
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
	fix.Risky = r.palette.high > 255 // a guess
	listed := slices.ContainsFunc(r.contents, func(c listing) bool { return c.kind == kindColorPalette })
	if r.first[kindContents] != 0 && !listed {
		fix.Edits = append(r.enlist(sections[kindColorPalette].name).Edits, fix.Edits...)
	}
	return fix
}

// weaveWhole says whether the file has all that the weave is made of, and goes
// on behind it or comes to its end.
func (r *reader) weaveWhole() bool {
	has := r.filled
	if !has(kindThreading) || !has(kindLiftPlan) && !(has(kindTreadling) && has(kindTieup)) {
		return false
	}
	if r.broken == "" {
		return true
	}
	switch r.kind {
	case kindWeaving, kindWarp, kindWeft, kindTieup, kindThreading, kindTreadling, kindLiftPlan:
		return false
	}
	return true
}

// endOfText is the mark that old systems put behind the last line.
const endOfText = 0x1a

// A file breaks off, as a download does, where something is missing that was to come,
// and its last line has no end or its last table falls short as well. One finding
// reports that; what follows from it is not reported.

// breaksOff says what shows that the file breaks off in its last line; "" where
// nothing does. A last line without an end is no sign by itself.
func (r *reader) breaksOff() string {
	if len(r.parts) == 1 || len(r.text) == 0 {
		return ""
	}
	last, short, names := r.lastLine(), r.shortTable(), r.toFollow()
	if r.lastLineEnds() {
		if r.marked > 0 || len(names) == 0 || r.anewIn != 0 {
			return ""
		}
		if short == "" && r.weaveToFollow() {
			return "it ends before " + wording.Listed(names) + ", which CONTENTS lists"
		}
		if short == "" {
			return "" // one of the two may be so in a whole file
		}
		return short + ", and it ends before " + wording.Listed(names) + ", which CONTENTS lists"
	}
	if last.sort == sortBlank {
		return ""
	}
	if short != "" {
		return short + ", and the last line has no end"
	}
	if len(names) > 0 {
		return "it ends " + r.within() + "before " + wording.Listed(names) + ", which CONTENTS lists, and the last line has no end"
	}
	if r.brokenLine(last) {
		return "its last line stops in the middle"
	}
	return ""
}

// within is in which table the file ends, and at which of its rows; "" where it
// ends in none.
func (r *reader) within() string {
	last := r.lastLine()
	if row, next := digits(r.text, last.start); next > last.start && r.inTable(r.kind) {
		return fmt.Sprintf("in %s, at row %d, ", sections[r.kind].name, row)
	}
	return ""
}

// cutMark leaves out the mark of the end of a file, and the marks, zeros and blanks
// that old systems fill it up with.
func (r *reader) cutMark() {
	tail := len(bytes.TrimRight(r.text, "\x1a\x00 \t\r\n"))
	if i := bytes.IndexByte(r.text[tail:], endOfText); i >= 0 {
		r.marked = tail + i + 1
		r.text = r.text[:tail+i]
	}
}

// secondDraft says whether a second draft begins with a section: WIF again, and
// after it a table that was there before.
func (r *reader) secondDraft(l line) bool {
	if r.ahead || kindOf(r.text[l.name.Start:l.name.End]) != kindWIF || r.first[kindWIF] == 0 {
		return false
	}
	r.ahead = true
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

// reportRest reports what stands after the end of the draft.
func (r *reader) reportRest() {
	if r.second.End > 0 {
		r.report(schema.FileDuplicateSection, r.second,
			"a second draft begins here, and fettle reads only the first; save the second as a file of its own",
			schema.Data{{Key: "name", Value: sections[kindWIF].name}, {Key: "suggestion", Value: ""}})
		r.unread()
	}
	if r.marked > 0 {
		at, more := schema.Span{Start: r.marked - 1, End: len(r.src.Text)}, ""
		if at.Start > 0 && r.src.Text[at.Start-1] != '\n' && r.src.Text[at.Start-1] != '\r' {
			more = breakOf(r.src.Text, lex(r.src.Text, 0))
		}
		r.report(schema.FileStrayLine, schema.Span{Start: at.Start, End: r.marked},
			"an end-of-file mark (Ctrl-Z) of an old system ends the file, and other programs may stumble over it; delete it",
			schema.Data{{Key: "name", Value: "Ctrl-Z"}, {Key: "suggestion", Value: ""}}, mend("delete it", at, more))
	}
}

// lastLineEnds says whether the last line ends as lines do, so that it is whole.
func (r *reader) lastLineEnds() bool {
	return r.marked > 0 || r.second.End > 0 || strings.IndexByte("\n\r", r.text[len(r.text)-1]) >= 0
}

// lastLine is the last line, of those that say something where it ends as lines
// do.
func (r *reader) lastLine() line {
	end := len(r.text)
	if r.lastLineEnds() {
		end = r.textEnd(&r.parts[len(r.parts)-1])
	}
	return lex(r.text, lineStart(r.text, end))
}

// shortTable says how the table that the file ends in falls short of what is
// declared; "" where it does not, or may well do so.
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

// mostNamed is how many sections that do not follow are named.
const mostNamed = 6

// toFollow are the first of the sections that CONTENTS lists and the file does not
// have, where they were to come behind the last: where CONTENTS lists them behind
// it, or a draft cannot be without them.
func (r *reader) toFollow() []string {
	last := r.listed[r.kind]
	needed, follow := false, false
	var names []string
	for i := range r.contents {
		if c := &r.contents[i]; c.present && !r.has(c) {
			if len(names) < mostNamed {
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

// weaveToFollow says whether tables without which nothing can be woven were to come
// after the last section: CONTENTS lists them after it, with all else that is missing.
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

// brokenLine says whether a line was broken off in its middle: a row of a table
// without its value, or even without its =, or a section's name without its
// bracket.
func (r *reader) brokenLine(l line) bool {
	table := sections[r.kind].form != fields && sections[r.kind].form != lines
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

// hasEmptyRow says whether the section that the file ends in has a row without
// a value before its last line, so that one more is nothing odd.
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

// reportEnd reports that the file breaks off, in the place of all that was found
// of its last line where that is not whole. What did not come could not be read,
// and what is written of the draft does not show it.
func (r *reader) reportEnd() {
	last := r.lastLine()
	if !r.lastLineEnds() {
		r.unclear = nil // what is unclear is its last line
		r.found = slices.DeleteFunc(r.found, func(f schema.Finding) bool { return f.Span.Start >= last.start })
	}
	r.report(schema.FileMissingSection, last.span(),
		"the file seems to break off here: "+r.broken+"; get it again, and see that it comes whole",
		schema.Data{{Key: "section", Value: wording.Plain(r.nameOf(&r.parts[len(r.parts)-1]), 60)}})
	r.unread()
}
