package wif

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// repeatedSection is a section that stands twice: the finding that says so, and both
// parts.
type repeatedSection struct{ finding, first, part int }

// joinRepeatedSections offers to put sections that stand twice together, now that their
// ends are known. Those that are carried as they stand stay apart, and so does
// one in which the file breaks off.
func (r *reader) joinRepeatedSections() {
	var ends [kinds]int // where the text of the first section of a kind ends; 0 not looked for yet
	for _, t := range r.repeatedSections {
		p := &r.parts[t.part]
		if p.kind == kindUnknown || sections[p.kind].form == verbatim || r.broken != "" && p.end == len(r.text) {
			continue
		}
		if ends[p.kind] == 0 {
			ends[p.kind] = r.textEnd(&r.parts[t.first])
		}
		fix := r.join(t, ends[p.kind])
		fix.Risky = r.lacksTwin(p.kind) && !r.goesOn(t)
		if f := &r.found[t.finding]; len(f.Fixes) > 0 {
			f.Fixes[0].AddPart(fix.Edits...)
		} else {
			f.Fixes = []schema.Fix{fix}
		}
	}
}

// lacksTwin says whether the file lacks the section of the weft that goes with one
// of the warp, or the other way round: one of the two that are there may be it.
func (r *reader) lacksTwin(k kind) bool {
	name := sections[k].name
	for _, pair := range [][2]string{{"WARP", "WEFT"}, {"WEFT", "WARP"}, {"THREADING", "TREADLING"}, {"TREADLING", "THREADING"}} {
		if rest, ok := strings.CutPrefix(name, pair[0]); ok {
			planned := r.first[kindLiftPlan] != 0 && k == kindThreading
			return r.first[byName[pair[1]+rest]] == 0 && !planned
		}
	}
	return false
}

// goesOn says whether the rows of a section that appears twice go on from those
// of the one before it.
func (r *reader) goesOn(t repeatedSection) bool {
	before := t.part - 1
	for before > t.first && r.parts[before].kind != r.parts[t.part].kind {
		before--
	}
	last := r.lineBefore(r.parts[before].end)
	next, first := r.locator().nextRow(r.parts[t.part].body, r.parts[t.part].end)
	return next.sort == sortKey && rowOf(r.text, last) > 0 && first > rowOf(r.text, last)
}

// join brings the lines of a section to the end of the first of its name; right
// behind it, only the name goes.
func (r *reader) join(t repeatedSection, end int) schema.Fix {
	p := &r.parts[t.part]
	from := lineStart(r.text, p.header.Start)
	fix := schema.Fix{Title: "put both together"}
	head := lex(r.text, from)
	comment := r.headerComment(head, p.kind)
	if r.parts[t.part-1].kind == p.kind {
		if comment != "" {
			comment += r.lineBreak(head)
		}
		fix.Edits = []schema.Edit{{Span: schema.Span{Start: from, End: p.body}, New: comment}}
		return fix
	}
	lines := ""
	last := r.lineBreak(lex(r.text, lineStart(r.text, end)))
	for _, text := range []string{comment, strings.TrimRight(string(r.text[p.body:p.end]), " \t\r\n")} {
		if text != "" {
			lines += last + text
		}
	}
	if lines != "" {
		fix.Edits = append(fix.Edits, schema.Edit{Span: schema.Span{Start: end, End: end}, New: lines})
	}
	fix.Edits = append(fix.Edits, cut(from, p.end))
	return fix
}

// textEnd is where the last line of a section that is not blank ends.
func (r *reader) textEnd(p *part) int {
	end := p.end
	for end > p.header.End && (blank(r.text[end-1]) || r.text[end-1] == '\n' || r.text[end-1] == '\r') {
		end--
	}
	return end
}

// again reports a section that the file has already.
func (r *reader) again(l line, name []byte, k kind) {
	first := r.first[k]
	if !k.named() {
		key := foldedCase(name)
		if first = r.names[key]; first == 0 {
			if r.names == nil {
				r.names = map[string]int{}
			}
			r.names[key] = len(r.parts)
		}
	}
	if first == 0 {
		return
	}
	a := alike{schema.FileDuplicateSection, k, ""}
	if !r.extend(a, l.span(), false) {
		r.reportAgain(l, name, k)
	}
	r.repeatedSections = append(r.repeatedSections, repeatedSection{finding: r.groups[a].finding, first: first, part: len(r.parts)})
}

func (r *reader) reportAgain(l line, name []byte, k kind) {
	what := "the second adds to the first, and where both have a key the first stands: put them together"
	if k == kindUnknown || sections[k].form == verbatim {
		what = "both are kept, and not read: put them together"
	}
	r.report(schema.FileDuplicateSection, l.span(), fmt.Sprintf("section %s stands twice; %s", wording.Quote(string(name)), what),
		schema.Data{{Key: "name", Value: wording.Plain(string(name), 60)}, {Key: "suggestion", Value: ""}})
}

// duplicateKey reports a key that its section has already. The fix is certain only
// where both say the same: otherwise either may be meant.
func (r *reader) duplicateKey(l line, name string, same bool) {
	what, fix := name, commentOut(l.start)
	if !same {
		what, fix = name+" otherwise", atRisk(fix)
	}
	if !r.extend(alike{schema.FileDuplicateKey, r.kind, what}, l.span(), true, fix.Edits...) {
		r.report(schema.FileDuplicateKey, l.span(),
			fmt.Sprintf("%s appears twice in section %s; fettle uses the first. %s", name, sections[r.kind].name, duplicateAdvice(same)),
			schema.Data{{Key: "name", Value: name}, {Key: "suggestion", Value: ""}}, fix)
	}
	r.comment("; " + string(r.text[l.start:l.end]))
}

// repeated reports a row whose number was there already. The fix is certain only
// where both have the same value.
func (r *reader) repeated(k kind, index int32, at schema.Span, same bool) {
	l := lex(r.text, at.Start)
	if k.isWeave() && !same {
		r.doubt(schema.FileDuplicateKey)
	}
	if r.between(l, index) {
		r.mistyped(k, l, index)
		return
	}
	what, fix := "row", r.commentOutKey(l)
	if !same {
		what, fix = "row otherwise", atRisk(fix)
	}
	if r.extend(alike{schema.FileDuplicateKey, k, what}, l.span(), true, fix.Edits...) {
		return
	}
	r.report(schema.FileDuplicateKey, l.span(),
		fmt.Sprintf("row %d appears twice in section %s; fettle uses the first. %s", index, sections[k].name, duplicateAdvice(same)),
		schema.Data{{Key: "name", Value: strconv.Itoa(int(index))}, {Key: "suggestion", Value: ""}}, fix)
	r.unread()
}

// beginsAnew takes the first of the rows that begin at 1 again within a section, in
// a file that lacks a table: the header of that table is lost most likely. These rows
// are skipped.
func (r *reader) beginsAnew(l line) bool {
	if rowOf(r.text, l) != 1 || len(r.parts) == 1 || !r.inTable(r.kind) {
		return false
	}
	body := r.parts[len(r.parts)-1].body
	before := r.lineBefore(l.start)
	if before.start < body || rowOf(r.text, before) == 0 || rowOf(r.text, lex(r.text, l.next)) != 2 || !r.lacksTable() {
		return false
	}
	if r.firstRow < 0 {
		_, r.firstRow = r.locator().nextRow(body, l.start)
	}
	if r.firstRow != 1 {
		return false
	}
	r.anew, r.anewIn = true, r.anewIn|1<<r.kind
	r.doubt(schema.FileDuplicateKey)
	name := sections[r.kind].name
	r.report(schema.FileDuplicateKey, l.span(),
		fmt.Sprintf("the rows of section %s begin at 1 again here, so the header of the next section seems to be lost; write its name, as in [TREADLING]", name),
		schema.Data{{Key: "name", Value: "1"}, {Key: "suggestion", Value: ""}})
	r.unread()
	return true
}

// lacksTable says whether the file has no header of a table without which nothing
// can be woven.
func (r *reader) lacksTable() bool {
	if r.headers == 0 {
		r.headers = 1
		for at := 0; at < len(r.text); {
			l := lex(r.text, at)
			if name := r.text[l.name.Start:l.name.End]; l.sort == sortSection {
				r.headers |= 1<<kindOf(name) | 1<<nearSection(name)
			}
			at = l.next
		}
	}
	has := func(k kind) bool { return r.headers&(1<<k) != 0 }
	return !has(kindThreading) || !has(kindLiftPlan) && !(has(kindTreadling) && has(kindTieup))
}

// repeatedNumbers reports a row of the weave that names a number more than once.
func (r *reader) repeatedNumbers(numbers []int32, l line) {
	if !r.kind.isWeave() || len(numbers) < 2 {
		return
	}
	sorted := slices.Sorted(slices.Values(numbers))
	for i := 1; i < len(sorted); i++ {
		if n := sorted[i]; n == sorted[i-1] && n > 0 {
			r.doubt(schema.FileStrayLine) // one of the two may be a slip for another number
			if !r.extend(alike{schema.FileStrayLine, r.kind, "number twice"}, l.span(), true) {
				r.report(schema.FileStrayLine, l.span(),
					fmt.Sprintf("%s in section %s names %d twice; delete one, or write the number that is meant", wording.Quote(string(r.text[l.start:l.end])), sections[r.kind].name, n),
					schema.Data{{Key: "name", Value: strconv.Itoa(int(n))}, {Key: "suggestion", Value: ""}})
			}
			return
		}
	}
}

// duplicateAdvice is what to do about a key or a row that appears twice.
func duplicateAdvice(same bool) string {
	if same {
		return "Delete the other"
	}
	return "They differ: delete the wrong one"
}

// between says whether a row stands between the one of its number and the next
// but one, so that it may well be the one that is missing.
func (r *reader) between(l line, index int32) bool {
	end := lineStart(r.text, l.start)
	for end > 0 && (r.text[end-1] == '\n' || r.text[end-1] == '\r') {
		end--
	}
	before := lex(r.text, lineStart(r.text, end))
	return rowOf(r.text, before) == int(index) && rowOf(r.text, lex(r.text, l.next)) == int(index)+2
}

// mistyped reports a row that has the number of the one before it where its own
// is missing.
func (r *reader) mistyped(k kind, l line, index int32) {
	own := strconv.Itoa(int(index) + 1)
	r.report(schema.FileDuplicateKey, l.span(),
		fmt.Sprintf("row %d stands twice in section %s and row %s is missing, so this may be row %s; the first row %d stands: number this one %s, or take it away",
			index, sections[k].name, own, own, index, own),
		schema.Data{{Key: "name", Value: strconv.Itoa(int(index))}, {Key: "suggestion", Value: own}},
		schema.Fix{Title: "number it " + own, Risky: true, Changes: true, Edits: []schema.Edit{{Span: l.name, New: own}}})
	r.unread()
}
