package wif

import (
	"fmt"
	"strconv"
	"strings"

	"fettle/schema"
)

// This file tells of sections, keys and rows that stand twice.

// twice is a section that stands twice: the finding that says so, and both
// parts.
type twice struct{ finding, first, part int }

// finishTwice offers to put sections that stand twice together, now that their
// ends are known. Those that are carried as they stand stay apart, and so does
// one in which the file breaks off.
func (r *reader) finishTwice() {
	var ends [kinds]int // where the text of the first section of a kind ends; 0 not looked for yet
	for _, t := range r.twice {
		p := &r.parts[t.part]
		if p.kind == kindUnknown || sections[p.kind].form == verbatim || r.broken != "" && p.end == len(r.text) {
			continue
		}
		if ends[p.kind] == 0 {
			ends[p.kind] = r.textEnd(&r.parts[t.first])
		}
		fix := r.join(t, ends[p.kind])
		if f := &r.found[t.finding]; len(f.Fixes) > 0 {
			f.Fixes[0].AddPart(fix.Edits...)
		} else {
			f.Fixes = []schema.Fix{fix}
		}
	}
}

// join brings the lines of a section to the end of the first of its name; right
// behind it, only the name goes.
func (r *reader) join(t twice, end int) schema.Fix {
	p := &r.parts[t.part]
	from := lineStart(r.text, p.header.Start)
	fix := schema.Fix{Title: "put both together"}
	head := lex(r.text, from)
	comment := r.headerComment(head)
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
		key := folded(name)
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
	if !r.fold(a, l.span(), false) {
		r.reportAgain(l, name, k)
	}
	r.twice = append(r.twice, twice{finding: r.groups[a].finding, first: first, part: len(r.parts)})
}

func (r *reader) reportAgain(l line, name []byte, k kind) {
	what := "the second adds to the first, and where both have a key the first stands: put them together"
	if k == kindUnknown || sections[k].form == verbatim {
		what = "both are kept, and not read: put them together"
	}
	r.report(schema.FileDuplicateSection, l.span(), fmt.Sprintf("section %s stands twice; %s", schema.Quote(string(name)), what),
		schema.Data{{Key: "name", Value: schema.Plain(string(name), 60)}, {Key: "suggestion", Value: ""}})
}

func (r *reader) duplicateKey(l line, name string) {
	if !r.fold(alike{schema.FileDuplicateKey, r.kind, name}, l.span(), true, commentOut(l.start).Edits...) {
		r.report(schema.FileDuplicateKey, l.span(),
			fmt.Sprintf("%s stands twice in section %s; the first stands: take the other away", name, sections[r.kind].name),
			schema.Data{{Key: "name", Value: name}, {Key: "suggestion", Value: ""}}, commentOut(l.start))
	}
	r.pending = append(r.pending, "; "+string(r.text[l.start:l.end]))
}

// repeated reports a row whose number was there already. Rows that follow each
// other make one finding.
func (r *reader) repeated(k kind, index int32, at schema.Span) {
	l := lex(r.text, at.Start)
	if r.between(l, index) {
		r.mistyped(k, l, index)
		return
	}
	if r.fold(alike{schema.FileDuplicateKey, k, "row"}, l.span(), true, r.commentOutKey(l).Edits...) {
		return
	}
	r.report(schema.FileDuplicateKey, l.span(),
		fmt.Sprintf("row %d stands twice in section %s; the first stands: take the other away", index, sections[k].name),
		schema.Data{{Key: "name", Value: strconv.Itoa(int(index))}, {Key: "suggestion", Value: ""}}, r.commentOutKey(l))
	r.unread()
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
// is missing. No fix goes with it: what it weaves would be another cloth.
func (r *reader) mistyped(k kind, l line, index int32) {
	own := strconv.Itoa(int(index) + 1)
	r.report(schema.FileDuplicateKey, l.span(),
		fmt.Sprintf("row %d stands twice in section %s and row %s is missing, so this may be row %s; the first row %d stands: number this one %s, or take it away",
			index, sections[k].name, own, own, index, own),
		schema.Data{{Key: "name", Value: strconv.Itoa(int(index))}, {Key: "suggestion", Value: own}})
	r.unread()
}
