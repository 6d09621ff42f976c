package wif

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// duplicateSection is a section with the name of an earlier one: its finding and both
// parts.
type duplicateSection struct{ finding, first, part int }

// joinDuplicateSections adds the fixes that join duplicate sections. It leaves out
// carried sections, and one in which the file is truncated.
func (r *reader) joinDuplicateSections() {
	var ends [kinds]int // where the text of the first section of a kind ends; 0 if not yet known
	for _, t := range r.duplicateSections {
		p := &r.parts[t.part]
		if p.kind == kindUnknown || sections[p.kind].form == formVerbatim || r.truncated != "" && p.end == len(r.text) {
			continue
		}
		if ends[p.kind] == 0 {
			ends[p.kind] = r.textEnd(&r.parts[t.first])
		}
		fix := r.join(t, ends[p.kind])
		fix.Risky = r.lacksCounterpart(p.kind) && !r.continuesRows(t)
		if f := &r.found[t.finding]; len(f.Fixes) > 0 {
			f.Fixes[0].AddPart(fix.Edits...)
		} else {
			f.Fixes = []schema.Fix{fix}
		}
	}
}

// lacksCounterpart reports whether the file lacks the weft section for a warp
// section, or the reverse. One of the two duplicates may then be the missing one.
func (r *reader) lacksCounterpart(k kind) bool {
	name := sections[k].name
	for _, pair := range [][2]string{{"WARP", "WEFT"}, {"WEFT", "WARP"}, {"THREADING", "TREADLING"}, {"TREADLING", "THREADING"}} {
		if rest, ok := strings.CutPrefix(name, pair[0]); ok {
			planned := r.first[kindLiftPlan] != 0 && k == kindThreading
			return r.first[byName[pair[1]+rest]] == 0 && !planned
		}
	}
	return false
}

// continuesRows reports whether the row numbers of a duplicate section continue those
// of the one before it.
func (r *reader) continuesRows(t duplicateSection) bool {
	before := t.part - 1
	for before > t.first && r.parts[before].kind != r.parts[t.part].kind {
		before--
	}
	last := r.lineBefore(r.parts[before].end)
	next, first := r.locator().nextRow(r.parts[t.part].body, r.parts[t.part].end)
	return next.sort == sortKey && rowOf(r.text, last) > 0 && first > rowOf(r.text, last)
}

// join moves the lines of a section to the end of the first one with its name. If
// that comes just before it, join only deletes the header.
func (r *reader) join(t duplicateSection, end int) schema.Fix {
	p := &r.parts[t.part]
	from := lineStart(r.text, p.header.Start)
	fix := schema.Fix{Title: "join both"}
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

// textEnd returns where the last line of a section ends that isn't blank.
func (r *reader) textEnd(p *part) int {
	end := p.end
	for end > p.header.End && (blank(r.text[end-1]) || r.text[end-1] == '\n' || r.text[end-1] == '\r') {
		end--
	}
	return end
}

// checkDuplicate reports a section that the file already has.
func (r *reader) checkDuplicate(l line, name []byte, p *part) {
	k := p.kind
	first := r.first[k]
	if !k.named() {
		key := upperName(name)
		if first = r.names[key]; first == 0 {
			if r.names == nil {
				r.names = map[string]int{}
			}
			r.names[key] = len(r.parts)
			p.name = key
		}
	}
	if first == 0 {
		return
	}
	a := similar{schema.FileDuplicateSection, k, ""}
	if !r.merge(a, l.span(), false) {
		r.reportDuplicateSection(l, name, k)
	}
	r.duplicateSections = append(r.duplicateSections, duplicateSection{finding: r.groups[a].finding, first: first, part: len(r.parts)})
}

func (r *reader) reportDuplicateSection(l line, name []byte, k kind) {
	effect := "fettle reads both; of duplicate keys it uses the first"
	if k == kindUnknown || sections[k].form == formVerbatim {
		effect = "fettle keeps both unread"
	}
	r.report(schema.FileDuplicateSection, l.span(), fmt.Sprintf("section %s appears twice; %s. Join them", wording.Quote(string(name)), effect),
		nameData(string(name), ""))
}

// duplicateKey reports a key that its section already has. The fix is certain only if
// both have the same value.
func (r *reader) duplicateKey(l line, name string, same bool) {
	problem, fix := name, commentOut(l.start)
	if !same {
		problem, fix = name+" differs", risky(fix)
	}
	if !r.merge(similar{schema.FileDuplicateKey, r.kind, problem}, l.span(), true, fix.Edits...) {
		r.report(schema.FileDuplicateKey, l.span(),
			fmt.Sprintf("%s appears twice in section %s; fettle uses the first. %s", name, sections[r.kind].name, duplicateAdvice(same)),
			nameData(name, ""), fix)
	}
	r.comment("; " + r.str(l.span()))
}

// duplicateRow reports a row whose number the section already has. The fix is certain
// only if both have the same value.
func (r *reader) duplicateRow(k kind, index int32, at schema.Span, same bool) {
	l := lex(r.text, at.Start)
	if k.isWeave() && !same {
		r.markUnclear(schema.FileDuplicateKey)
	}
	if r.misnumbered(l, index) {
		r.reportMisnumbered(k, l, index)
		return
	}
	problem, fix := "row", r.commentOutKey(l)
	if !same {
		problem, fix = "row differs", risky(fix)
	}
	if r.merge(similar{schema.FileDuplicateKey, k, problem}, l.span(), true, fix.Edits...) {
		return
	}
	r.report(schema.FileDuplicateKey, l.span(),
		fmt.Sprintf("row %d appears twice in section %s; fettle uses the first. %s", index, sections[k].name, duplicateAdvice(same)),
		nameData(strconv.Itoa(int(index)), ""), fix)
	r.markUnread()
}

// rowsRestart reports whether the row numbers restart at 1 within a section, in a file
// that lacks a table. Then the header of that table is probably missing, and fettle
// skips the rows.
func (r *reader) rowsRestart(l line) bool {
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
	r.restarted, r.restartedIn = true, r.restartedIn|1<<r.kind
	r.markUnclear(schema.FileDuplicateKey)
	name := sections[r.kind].name
	r.report(schema.FileDuplicateKey, l.span(),
		fmt.Sprintf("the rows of section %s restart at 1 here, so the next header seems to be missing; write it, as in [TREADLING]", name),
		nameData("1", ""))
	r.markUnread()
	return true
}

// lacksTable reports whether the file has no header for a table of the weave.
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

// duplicateNumbers reports a row of the weave that has a number twice.
func (r *reader) duplicateNumbers(numbers []int32, l line) {
	if !r.kind.isWeave() || len(numbers) < 2 {
		return
	}
	sorted := slices.Sorted(slices.Values(numbers))
	for i := 1; i < len(sorted); i++ {
		if n := sorted[i]; n == sorted[i-1] && n > 0 {
			r.markUnclear(schema.FileStrayLine) // one may be a mistake for another number
			if !r.merge(similar{schema.FileStrayLine, r.kind, "number twice"}, l.span(), true) {
				r.report(schema.FileStrayLine, l.span(),
					fmt.Sprintf("%s in section %s has %d twice; delete one, or correct it", wording.Quote(r.str(l.span())), sections[r.kind].name, n),
					nameData(strconv.Itoa(int(n)), ""))
			}
			return
		}
	}
}

func duplicateAdvice(same bool) string {
	if same {
		return "Delete the other"
	}
	return "They differ; delete the wrong one"
}

// misnumbered reports whether a row has the number of the row before it, and the
// number after that is missing.
func (r *reader) misnumbered(l line, index int32) bool {
	return rowOf(r.text, r.lineBefore(l.start)) == int(index) && rowOf(r.text, lex(r.text, l.next)) == int(index)+2
}

func (r *reader) reportMisnumbered(k kind, l line, index int32) {
	own := strconv.Itoa(int(index) + 1)
	r.report(schema.FileDuplicateKey, l.span(),
		fmt.Sprintf("row %d appears twice in section %s and row %s is missing; fettle uses the first. Number this one %s, or delete it",
			index, sections[k].name, own, own),
		nameData(strconv.Itoa(int(index)), own),
		schema.Fix{Title: "number it " + own, Risky: true, Changes: true, Edits: []schema.Edit{{Span: l.name, New: own}}})
	r.markUnread()
}
