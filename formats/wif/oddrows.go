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

// This file reads rows of threading, tie-up, treadling and lift plan that don't
// follow the format: numbers with other separators than commas (1=1;2), and rows
// with something other than an equals sign (3: 3). Only the whole file shows whether
// the meaning is certain.

type oddRow struct {
	line         line
	kind         kind
	index        int32
	value        schema.Span // of the numbers
	numbers      []int32
	separator    rune // between the numbers; 0 for commas or a single number
	equals       rune // in place of the equals sign; 0 if it is there
	maybeComment bool // the numbers after a semicolon may be a comment
	hasWords     bool // words follow the numbers
	inOrder      bool // the row before it has the number before
}

// mixedSeparators stands for more than one kind of separator.
const mixedSeparators = '?'

// isWeave reports whether the rows of a section define the weave.
func (k kind) isWeave() bool {
	return k == kindThreading || k == kindTieup || k == kindTreadling || k == kindLiftPlan
}

func (r *reader) rowNumbers(index int32, l line) []int32 {
	if !r.kind.isWeave() {
		numbers := r.wholeNumbers(r.plain(l), l)
		if len(numbers) > 1 {
			r.badValue(l, "the number of one color, like 3")
			numbers = numbers[:1]
		}
		return numbers
	}
	p := listedNumbers(r.text, l.value, r.numbers[:0])
	r.numbers = p.numbers[:0]
	if p.separator == 0 || p.separator == ',' {
		numbers := r.wholeNumbers(r.plain(l), l)
		r.duplicateNumbers(numbers, l)
		return numbers
	}
	t := oddRow{line: l, kind: r.kind, index: index, value: l.value, numbers: slices.Clone(p.numbers), separator: p.separator, maybeComment: p.spaced, hasWords: p.hasWords}
	if p.hasComment {
		t.value.End = p.end
		r.reportTrailing(l, t.value)
	}
	if (t.maybeComment || t.hasWords) && r.beyondCount(t.kind, t.numbers) {
		t.numbers = t.numbers[:1]
	}
	r.oddRows = append(r.oddRows, t)
	return t.numbers
}

type numberList struct {
	numbers    []int32
	separator  rune // ',', ';', ' ', '+' and so on; 0 for a single number or an unknown separator
	end        int  // where the last number ends
	spaced     bool // white space before a semicolon
	hasWords   bool // words after a number after a semicolon: 1;2 ends
	hasComment bool
}

// listedNumbers reads a list of whole numbers. A comment, or separators without a
// number, may follow them; if anything else does, it returns none.
func listedNumbers(text []byte, at schema.Span, room []int32) (p numberList) {
	p.numbers = room
	for i := at.Start; ; {
		v, next := digits(text[:at.End], i)
		if next == i || v > maxNumber {
			return p.withWords(text, at)
		}
		p.numbers, p.end = append(p.numbers, v), next
		mark, apart, from := separatorAt(text, next, at.End)
		switch {
		case from == at.End:
			return p
		case mark == 0:
			return p.withWords(text, at)
		case text[from] < '0' || text[from] > '9':
			if mark != ';' {
				return p.withWords(text, at)
			}
			p.hasComment = true
			return p
		case p.separator == 0:
			p.separator = mark
		case p.separator != mark:
			p.separator = mixedSeparators
		}
		p.spaced = p.spaced || apart && mark == ';'
		i = from
	}
}

// withWords returns the numbers of a text that isn't only a list. If the list goes on
// directly after a semicolon (1;2 ends), the numbers count: a comment rarely begins
// like that.
func (p numberList) withWords(text []byte, at schema.Span) numberList {
	i := at.Start
	for i < at.End && text[i] != ';' {
		i++
	}
	glued := i > at.Start && i+1 < at.End && isDigit(text[i-1]) && isDigit(text[i+1])
	if p.separator != ';' || !glued || p.spaced {
		return numberList{numbers: p.numbers[:0]}
	}
	p.hasWords = true
	return p
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// separatorAt returns the separator of two numbers, a space for white space alone and
// 0 for anything else; whether white space comes before it; and where the next text
// begins.
func separatorAt(text []byte, at, end int) (mark rune, spaced bool, from int) {
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

// rowWithoutEquals reads a row without an equals sign, and reports whether a line is
// one.
func (r *reader) rowWithoutEquals(l line) bool {
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
	t := oddRow{line: l, kind: r.kind, index: index, equals: equals}
	t.value.Start, t.value.End = edges(r.text, from, l.end)
	p := listedNumbers(r.text, t.value, nil)
	if len(p.numbers) == 0 || p.hasWords || p.hasComment {
		return false
	}
	if t.numbers = p.numbers; p.separator != ',' {
		t.separator, t.maybeComment = p.separator, p.spaced
	}
	before := r.lineBefore(l.start)
	row := rowOf(r.text, before)
	if n := len(r.oddRows); row == 0 && n > 0 && r.oddRows[n-1].line.start == before.start {
		row = int(r.oddRows[n-1].index)
	}
	t.inOrder = row == int(index)-1
	t.line.name = schema.Span{Start: l.start, End: i}
	r.oddRows = append(r.oddRows, t)
	return true
}

// lineBefore returns the line before the line at an offset, and skips blank lines.
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

// numberLimit returns the declared number of shafts or treadles that a section can
// name, 0 if the file doesn't declare it.
func (r *reader) numberLimit(k kind) int {
	if k == kindTreadling {
		return r.declared(&r.draft.Treadles)
	}
	return r.declared(&r.draft.Shafts)
}

// rowLimit returns how many rows a section can have, 0 if the file doesn't declare it.
func (r *reader) rowLimit(k kind) int {
	switch k {
	case kindThreading:
		return r.declared(&r.draft.Warp.Threads)
	case kindTieup:
		return r.declared(&r.draft.Treadles)
	}
	return r.declared(&r.draft.Weft.Threads)
}

func (r *reader) declared(target *int) int {
	for _, c := range r.counts {
		if c.target == target {
			return c.value
		}
	}
	return 0
}

// beyondCount reports whether a number is higher than the file declares.
func (r *reader) beyondCount(k kind, numbers []int32) bool {
	limit := r.numberLimit(k)
	return limit > 0 && int(slices.Max(numbers)) > limit
}

// finishOddRows places the rows without an equals sign, unless the file lists them
// elsewhere, and reports all odd rows.
func (r *reader) finishOddRows() {
	r.finishCommas()
	if len(r.oddRows) == 0 {
		return
	}
	var sure [kinds]bool
	for _, k := range []kind{kindThreading, kindTieup, kindTreadling, kindLiftPlan} {
		sure[k] = r.sameSeparator(k)
	}
	there := map[kind]map[int32]bool{}
	for i := range r.oddRows {
		t := &r.oddRows[i]
		certain := r.plausibleList(t) && (t.separator == 0 || sure[t.kind]) && !r.maybeOneNumber(t)
		if t.equals != 0 {
			if there[t.kind] == nil {
				there[t.kind] = r.tables[t.kind].unplacedRows()
			}
			placed := r.placeOddRow(t, there[t.kind])
			limit := r.rowLimit(t.kind)
			certain = certain && placed && (limit == 0 || int(t.index) <= limit) && (t.equals != ' ' || t.inOrder)
		}
		r.reportOddRow(t, certain)
	}
}

// maybeOneNumber reports whether a row such as "1 2" may mean 12. In a tie-up or a
// lift plan it may only if no other row has spaces between its numbers.
func (r *reader) maybeOneNumber(t *oddRow) bool {
	if t.separator != ' ' {
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
	for i := range r.oddRows {
		if o := &r.oddRows[i]; o != t && o.kind == t.kind && o.separator == ' ' {
			return false
		}
	}
	return true
}

// finishCommas makes the fix for a comma at the end of a tie-up or lift plan row
// risky unless all rows have one, because a number may be missing after it.
func (r *reader) finishCommas() {
	for _, k := range []kind{kindTieup, kindLiftPlan} {
		g := r.groups[similar{schema.FileStrayLine, k, trailingComma}]
		if g != nil && len(g.starts) < r.tables[k].listed {
			r.found[g.finding].Fixes[0].Risky = true
		}
	}
}

// placeOddRow places a row without an equals sign, unless the file lists it elsewhere.
func (r *reader) placeOddRow(t *oddRow, late map[int32]bool) bool {
	table := &r.tables[t.kind]
	if late[t.index] || int(t.index) <= table.rows.Len() {
		return false
	}
	late[t.index] = true
	return table.add(t.index, t.numbers, t.line.span())
}

// plausibleList reports whether the numbers of a row are a valid list.
func (r *reader) plausibleList(t *oddRow) bool {
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
	return !t.maybeComment
}

// sameSeparator reports whether all rows of a section separate their numbers in the
// same way, and only a list can be meant.
func (r *reader) sameSeparator(k kind) bool {
	mark := rune(0)
	for i := range r.oddRows {
		t := &r.oddRows[i]
		switch {
		case t.kind != k || t.separator == 0:
		case t.separator == mixedSeparators, t.separator == '-', mark != 0 && t.separator != mark, !r.plausibleList(t):
			return false
		default:
			mark = t.separator
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

func (r *reader) reportOddRow(t *oddRow, certain bool) {
	l, row := t.line, fmt.Sprintf("%d=%s", t.index, joined(t.numbers))
	edit := schema.Edit{Span: t.value, New: joined(t.numbers)}
	problem := "separated by " + string(t.separator)
	if t.equals != 0 {
		edit, problem = schema.Edit{Span: schema.Span{Start: l.start, End: t.value.End}, New: row}, "equals"
	}
	if !certain {
		problem += " unclear"
		r.markUnclear(schema.FileBadValue)
	}
	if t.hasWords {
		problem += " words"
	}
	if r.merge(similar{schema.FileBadValue, t.kind, problem}, l.span(), true, edit) {
		return
	}
	message := wording.Quote(string(r.text[l.start:t.value.End])) + " in " + sections[t.kind].name
	fixes := []schema.Fix{{Title: "write " + row, Edits: []schema.Edit{edit}, Risky: !certain, Changes: !certain}}
	if t.hasWords {
		fixes = nil
	}
	switch {
	case t.equals != 0 && certain:
		message += " lacks an equals sign, so other programs skip the row; write " + row
	case t.equals != 0:
		message += " may be a row without an equals sign, or a note; write " + row + ", or begin the line with a semicolon"
	case t.separator == '-':
		fixes = nil
		message += " may be a range or a list; write all numbers, with commas between them"
	case certain:
		message += " has " + separatorName(t.separator) + " between its numbers, so other programs read only the first; write " + row
	case t.separator == ';':
		message += " may be a list, or one number and a comment; write " + row + ", or move the comment to its own line"
	default:
		message += " may be a list; if it is, write " + row + "; otherwise correct it"
	}
	name, value, expected := r.str(t.line.name), r.str(t.value), joined(t.numbers)
	if t.equals != 0 {
		value, expected = string(r.text[l.start:t.value.End]), row
	}
	r.report(schema.FileBadValue, l.span(), message, valueData(t.kind, name, value, wording.Plain(expected, 60)), fixes...)
	if !certain {
		r.markUnread()
	}
}

func separatorName(mark rune) string {
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
