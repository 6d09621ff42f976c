package wif

import (
	"strings"

	"fettle/schema"
)

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
			f.Fixes[0].Edits = append(f.Fixes[0].Edits, fix.Edits...)
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
	if r.parts[t.part-1].kind == p.kind {
		fix.Edits = []schema.Edit{cut(from, p.body)}
		return fix
	}
	body := strings.TrimRight(string(r.text[p.body:p.end]), " \t\r\n")
	if body != "" {
		last := lex(r.text, lineStart(r.text, end))
		fix.Edits = append(fix.Edits, schema.Edit{Span: schema.Span{Start: end, End: end}, New: breakOf(r.text, last) + body})
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
