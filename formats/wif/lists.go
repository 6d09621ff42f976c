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

// This file reads rows of threading, tie-up, treadling and lift plan that are
// typed in another way than the format has it: a list parted by something other
// than commas, as in 1=1;2, or something other than = after the row's number, as
// in 3: 3. Whether that is certain only the whole file shows.

// typedRow is a row typed in another way.
type typedRow struct {
	line    line
	kind    kind
	index   int32
	value   schema.Span // its numbers
	numbers []int32
	parted  rune // what stands between the numbers; 0 for commas or a single number, severalMarks for several
	equals  rune // what stands for =; 0 for =
	comment bool // the numbers after a semicolon may be a comment
	words   bool // words follow the numbers
	inOrder bool // the row comes right after the one numbered before it
}

// severalMarks stands for numbers that are parted in more ways than one.
const severalMarks = '?'

// isWeave says whether the rows of a section are what the weave is made of.
func (k kind) isWeave() bool {
	return k == kindThreading || k == kindTieup || k == kindTreadling || k == kindLiftPlan
}

// rowNumbers reads the numbers of a row.
func (r *reader) rowNumbers(index int32, l line) []int32 {
	if !r.kind.isWeave() {
		numbers := r.wholeNumbers(r.plain(l), l)
		if len(numbers) > 1 {
			r.badValue(l, "the number of one color, like 3")
			numbers = numbers[:1]
		}
		return numbers
	}
	p := partedNumbers(r.text, l.value, r.numbers[:0])
	r.numbers = p.numbers[:0]
	if p.mark == 0 || p.mark == ',' {
		numbers := r.wholeNumbers(r.plain(l), l)
		r.repeatedNumbers(numbers, l)
		return numbers
	}
	t := typedRow{line: l, kind: r.kind, index: index, value: l.value, numbers: slices.Clone(p.numbers), parted: p.mark, comment: p.apart, words: p.words}
	if p.comment {
		t.value.End = p.end
		r.leftOver(l, t.value)
	}
	if (t.comment || t.words) && r.beyondCount(t.kind, t.numbers) {
		t.numbers = t.numbers[:1]
	}
	r.typed = append(r.typed, t)
	return t.numbers
}

// parts is numbers with marks between them.
type parts struct {
	numbers []int32
	mark    rune // between them: ',', ';', ' ', '+', ...; 0 where there is one number or what stands there is something else
	end     int  // where the last number ends
	apart   bool // white space stands before a semicolon
	words   bool // words follow a number after a semicolon: 1;2 ends
	comment bool // a comment follows
}

// partedNumbers takes whole numbers apart that stand at a span. What follows
// them is a comment, or marks without a number; with anything else there are
// none.
func partedNumbers(text []byte, at schema.Span, room []int32) (p parts) {
	p.numbers = room
	for i := at.Start; ; {
		v, next := digits(text[:at.End], i)
		if next == i || v > highestNumber {
			return p.broken(text, at)
		}
		p.numbers, p.end = append(p.numbers, v), next
		mark, apart, from := markAt(text, next, at.End)
		switch {
		case from == at.End:
			return p
		case mark == 0:
			return p.broken(text, at)
		case text[from] < '0' || text[from] > '9':
			if mark != ';' {
				return p.broken(text, at)
			}
			p.comment = true
			return p
		case p.mark == 0:
			p.mark = mark
		case p.mark != mark:
			p.mark = severalMarks
		}
		p.apart = p.apart || apart && mark == ';'
		i = from
	}
}

// broken is what there is of numbers that something else follows: a list and
// words where the list goes on right after a semicolon, as in 1;2 ends, since a
// comment rarely does.
func (p parts) broken(text []byte, at schema.Span) parts {
	i := at.Start
	for i < at.End && text[i] != ';' {
		i++
	}
	glued := i > at.Start && i+1 < at.End && isDigit(text[i-1]) && isDigit(text[i+1])
	if p.mark != ';' || !glued || p.apart {
		return parts{numbers: p.numbers[:0]}
	}
	p.words = true
	return p
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// markAt is the mark between two numbers, a blank for white space alone, 0 for
// anything else; whether white space stands before it; and where the text after it begins.
func markAt(text []byte, at, end int) (mark rune, apart bool, from int) {
	i, _ := edges(text, at, end)
	if i == end {
		return ' ', false, end
	}
	size := 1
	switch c := text[i]; {
	case strings.IndexByte(",;+./&|-", c) >= 0:
		mark = rune(c)
	case hasAt(text, i, "\u2013"), hasAt(text, i, "\u2212"):
		mark, size = '-', 3
	case isDigit(c) && i > at:
		return ' ', false, i
	default:
		return 0, false, i
	}
	from, _ = edges(text, i+size, end)
	return mark, i > at, from
}

func hasAt(text []byte, at int, s string) bool {
	return at+len(s) <= len(text) && string(text[at:at+len(s)]) == s
}

// strayRow takes a line that is a row but for its =, and says whether it is one.
func (r *reader) strayRow(l line) bool {
	if !r.kind.isWeave() {
		return false
	}
	index, i := digits(r.text, l.start)
	if i == l.start || index == 0 {
		return false
	}
	from, _ := edges(r.text, i, l.end)
	equals := ' '
	switch {
	case from == l.end:
		return false
	case r.text[from] == ':':
		equals, from = ':', from+1
	case hasAt(r.text, from, "\uff1d"):
		equals, from = '\uff1d', from+3
	case from == i:
		return false
	case bytes.IndexByte(r.text[i:from], '\t') >= 0:
		equals = '\t'
	}
	t := typedRow{line: l, kind: r.kind, index: index, equals: equals}
	t.value.Start, t.value.End = edges(r.text, from, l.end)
	p := partedNumbers(r.text, t.value, nil)
	if len(p.numbers) == 0 || p.words || p.comment {
		return false
	}
	if t.numbers = p.numbers; p.mark != ',' {
		t.parted, t.comment = p.mark, p.apart
	}
	before := r.lineBefore(l.start)
	row := rowOf(r.text, before)
	if n := len(r.typed); row == 0 && n > 0 && r.typed[n-1].line.start == before.start {
		row = int(r.typed[n-1].index)
	}
	t.inOrder = row == int(index)-1
	t.line.name = schema.Span{Start: l.start, End: i}
	r.typed = append(r.typed, t)
	return true
}

// lineBefore is the line before the one that holds an offset, blank lines passed over.
func (r *reader) lineBefore(at int) line {
	end := lineStart(r.text, at)
	for end > 0 && (r.text[end-1] == '\n' || r.text[end-1] == '\r' || blank(r.text[end-1])) {
		end--
	}
	if end == 0 {
		return line{}
	}
	return lex(r.text, lineStart(r.text, end))
}

// numberLimit is how many shafts or treadles the numbers of a section can name, 0
// where the file does not say.
func (r *reader) numberLimit(k kind) int {
	target := &r.draft.Shafts
	if k == kindTreadling {
		target = &r.draft.Treadles
	}
	for _, c := range r.counts {
		if c.target == target {
			return c.value
		}
	}
	return 0
}

// rowLimit is how many rows a section can have, 0 where the file does not say.
func (r *reader) rowLimit(k kind) int {
	target := &r.draft.Weft.Threads
	switch k {
	case kindThreading:
		target = &r.draft.Warp.Threads
	case kindTieup:
		target = &r.draft.Treadles
	}
	for _, c := range r.counts {
		if c.target == target {
			return c.value
		}
	}
	return 0
}

// beyondCount says whether numbers are more than the file declares.
func (r *reader) beyondCount(k kind, numbers []int32) bool {
	limit := r.numberLimit(k)
	return limit > 0 && int(slices.Max(numbers)) > limit
}

// finishTyped settles the rows typed in another way: it puts those in place that
// have no = and are not there otherwise, and reports them all.
func (r *reader) finishTyped() {
	r.finishCommas()
	if len(r.typed) == 0 {
		return
	}
	var sure [kinds]bool
	for _, k := range []kind{kindThreading, kindTieup, kindTreadling, kindLiftPlan} {
		sure[k] = r.agree(k)
	}
	there := map[kind]map[int32]bool{}
	for i := range r.typed {
		t := &r.typed[i]
		certain := r.meansList(t) && (t.parted == 0 || sure[t.kind]) && !r.mayBeOneNumber(t)
		if t.equals != 0 {
			if there[t.kind] == nil {
				there[t.kind] = r.tables[t.kind].lateRows()
			}
			placed := r.place(t, there[t.kind])
			limit := r.rowLimit(t.kind)
			certain = certain && placed && (limit == 0 || int(t.index) <= limit) && (t.equals != ' ' || t.inOrder)
		}
		r.typedFinding(t, certain)
	}
}

// mayBeOneNumber says whether a row may name one number with a space in it, as in
// 1 2 for 12: in a table of lists only where no other row is parted so.
func (r *reader) mayBeOneNumber(t *typedRow) bool {
	if t.parted != ' ' {
		return false
	}
	joined := ""
	for _, n := range t.numbers {
		joined += strconv.Itoa(int(n))
	}
	if n, err := strconv.Atoi(joined); err != nil || n > r.numberLimit(t.kind) {
		return false
	}
	if t.kind == kindThreading || t.kind == kindTreadling {
		return true
	}
	for i := range r.typed {
		if o := &r.typed[i]; o != t && o.kind == t.kind && o.parted == ' ' {
			return false
		}
	}
	return true
}

// finishCommas leaves a comma at the end of a row of tie-up or lift plan to the
// weaver, unless all rows have one: a number may be lost after it.
func (r *reader) finishCommas() {
	for _, k := range []kind{kindTieup, kindLiftPlan} {
		g := r.groups[alike{schema.FileStrayLine, k, leftComma}]
		if g != nil && len(g.starts) < r.tables[k].listed {
			r.found[g.finding].Fixes[0].Risky = true
		}
	}
}

// place puts a row without = in place, unless it is there otherwise.
func (r *reader) place(t *typedRow, late map[int32]bool) bool {
	table := &r.tables[t.kind]
	if late[t.index] || int(t.index) <= table.rows.Len() {
		return false
	}
	late[t.index] = true
	return table.add(t.index, t.numbers, t.line.span())
}

// meansList says whether the numbers of a row can all be meant as they stand.
func (r *reader) meansList(t *typedRow) bool {
	limit := r.numberLimit(t.kind)
	if t.equals != 0 && len(t.numbers) == 1 && t.numbers[0] == 0 {
		return true
	}
	seen := map[int32]bool{}
	for _, n := range t.numbers {
		if n == 0 || int(n) > limit || seen[n] {
			return false
		}
		seen[n] = true
	}
	return !t.comment
}

// agree says whether all rows of a section part their numbers in the same way,
// one that can only be meant as a list.
func (r *reader) agree(k kind) bool {
	mark := rune(0)
	for i := range r.typed {
		t := &r.typed[i]
		switch {
		case t.kind != k || t.parted == 0:
		case t.parted == severalMarks, t.parted == '-', mark != 0 && t.parted != mark, !r.meansList(t):
			return false
		default:
			mark = t.parted
		}
	}
	if mark == 0 {
		return true
	}
	for l := range r.locator().keys(k) {
		if at := plainPart(r.text, l.value); bytes.IndexByte(r.text[at.Start:at.End], ',') >= 0 {
			return false
		}
	}
	return true
}

// typedFinding reports a row typed in another way.
func (r *reader) typedFinding(t *typedRow, certain bool) {
	l, row := t.line, fmt.Sprintf("%d=%s", t.index, joined(t.numbers))
	edit := schema.Edit{Span: t.value, New: joined(t.numbers)}
	what := "parted " + string(t.parted)
	if t.equals != 0 {
		edit, what = schema.Edit{Span: schema.Span{Start: l.start, End: t.value.End}, New: row}, "equals"
	}
	if !certain {
		what += " unclear"
		r.doubt(schema.FileBadValue)
	}
	if t.words {
		what += " words"
	}
	if r.extend(alike{schema.FileBadValue, t.kind, what}, l.span(), true, edit) {
		return
	}
	said := wording.Quote(string(r.text[l.start:t.value.End]))
	message := said + " in " + sections[t.kind].name
	fixes := []schema.Fix{{Title: "write " + row, Edits: []schema.Edit{edit}, Risky: !certain, Changes: !certain}}
	if t.words {
		fixes = nil
	}
	switch {
	case t.equals != 0 && certain:
		message += " lacks an = sign, and other programs skip the row; write " + row
	case t.equals != 0:
		message += " may be a row without its = sign, or a note; write " + row + ", or begin the line with a semicolon"
	case t.parted == '-':
		fixes = nil
		message += " may be a range or a list; write all its numbers with commas between them"
	case certain:
		message += " parts its numbers with " + markName(t.parted) + ", and other programs read only the first; write " + row
	case t.parted == ';':
		message += " may be a list, or one number and a comment; write " + row + ", or move the comment to its own line"
	default:
		message += " may be a list, but not surely; write " + row + " if it is, or correct it"
	}
	name, value, expected := string(r.text[t.line.name.Start:t.line.name.End]), string(r.text[t.value.Start:t.value.End]), joined(t.numbers)
	if t.equals != 0 {
		value, expected = string(r.text[l.start:t.value.End]), row
	}
	r.report(schema.FileBadValue, l.span(), message, schema.Data{{Key: "section", Value: sections[t.kind].name}, {Key: "key", Value: wording.Plain(name, 60)},
		{Key: "value", Value: wording.Plain(value, 60)}, {Key: "expected", Value: wording.Plain(expected, 60)}}, fixes...)
	if !certain {
		r.unread()
	}
}

// markName is a mark between numbers in words.
func markName(mark rune) string {
	switch mark {
	case ' ':
		return "spaces"
	case ';':
		return "semicolons"
	case '.':
		return "points"
	}
	return wording.Quote(string(mark))
}
