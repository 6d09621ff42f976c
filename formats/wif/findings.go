package wif

import (
	"slices"
	"sort"

	"fettle/schema"
	"fettle/schema/wording"
)

// Each finding has the span it is about and the edits that fix it. A fix is certain
// only if the draft then reads the same and no other meaning is possible; otherwise
// it is risky. Similar rows of a table share one finding. So do all findings of a
// kind after the first hundred: findings must not outgrow the file.

func (r *reader) report(rule string, at schema.Span, message string, data schema.Data, fixes ...schema.Fix) {
	r.found = append(r.found, schema.Finding{Rule: rule, Span: at, Message: message, Data: data, Fixes: fixes})
}

// nameData returns the data of findings about a line, a section or a key.
func nameData(name, suggestion string) schema.Data {
	return schema.Data{{Key: "name", Value: wording.Plain(name, 60)}, {Key: "suggestion", Value: suggestion}}
}

// valueData returns the data of findings about a value.
func valueData(k kind, key, value, expected string) schema.Data {
	return schema.Data{{Key: "section", Value: sections[k].name}, {Key: "key", Value: wording.Plain(key, 60)},
		{Key: "value", Value: wording.Plain(value, 60)}, {Key: "expected", Value: expected}}
}

func (r *reader) str(at schema.Span) string { return string(r.text[at.Start:at.End]) }

// markUnread marks the last finding: the draft doesn't hold the text it is about.
func (r *reader) markUnread()  { r.found[len(r.found)-1].Unread = true }
func (r *reader) clearUnread() { r.found[len(r.found)-1].Unread = false }

// markUnclear notes that a row of the weave can't be read for certain, as a finding
// of the rule reports.
func (r *reader) markUnclear(rule string) {
	if !slices.Contains(r.unclear, rule) {
		r.unclear = append(r.unclear, rule)
	}
}

// replacement returns a certain fix with one edit.
func replacement(title string, at schema.Span, with string) schema.Fix {
	return schema.Fix{Title: title, Edits: []schema.Edit{{Span: at, New: with}}}
}

func risky(f schema.Fix) schema.Fix {
	f.Risky = true
	return f
}

// commentOut returns a certain fix that turns a line into a comment.
func commentOut(at int) schema.Fix {
	return replacement("make it a comment", schema.Span{Start: at, End: at}, "; ")
}

// commentOutKey is commentOut for a line with a key. It replaces the key, so that
// the same pass can move a comment from the end of the line to a line before it.
func (r *reader) commentOutKey(l line) schema.Fix {
	return replacement("make it a comment", l.name, "; "+r.str(l.name))
}

func (r *reader) lineBreak(l line) string { return breakOf(r.text, l) }

// kindAt returns the section that an offset is in.
func (r *reader) kindAt(at int) kind {
	i := sort.Search(len(r.parts), func(i int) bool { return r.parts[i].header.Start > at })
	return r.parts[max(i-1, 0)].kind
}

// maxReported is how many similar findings are reported singly.
const maxReported = 100

// similar identifies findings that can be merged.
type similar struct {
	rule    string
	section kind
	problem string // tells apart the problems that a rule reports
}

// group holds the findings so far that can be merged.
type group struct {
	reported  int      // findings reported singly
	finding   int      // index of the last of them in found
	end       int      // where its first run of lines ends
	scattered bool     // it has a line outside that run
	starts    []uint32 // where its lines begin, its own first
}

// merge adds a line and its edits to the last similar finding, and reports whether
// it did. It does if rows is set, because then all similar lines share one finding,
// or if there are maxReported findings already. If it doesn't, the caller reports a
// finding, to which later lines are added.
func (r *reader) merge(a similar, at schema.Span, rows bool, edits ...schema.Edit) bool {
	g := r.groups[a]
	if g == nil {
		if r.groups == nil {
			r.groups = map[similar]*group{}
		}
		g = &group{}
		r.groups[a] = g
	}
	if (!rows || g.reported == 0) && g.reported < maxReported {
		r.setLines(g)
		*g = group{reported: g.reported + 1, finding: len(r.found), end: at.End, starts: []uint32{uint32(at.Start)}}
		return false
	}
	f := &r.found[g.finding]
	if g.scattered = g.scattered || !rows || !r.onlySpaceBetween(g.end, at.Start); !g.scattered {
		f.Span.End, g.end = at.End, at.End
	}
	if len(f.Fixes) > 0 {
		f.Fixes[0].AddPart(edits...)
	}
	g.starts = append(g.starts, uint32(at.Start))
	return true
}

// setLines gives the last finding of a group its lines, and lists them in its
// message.
func (r *reader) setLines(g *group) {
	if len(g.starts) < 2 {
		return
	}
	lines := make([]int, len(g.starts))
	for i, at := range g.starts {
		lines[i] = r.src.Position(schema.Span{Start: int(at), End: int(at)}).Line
	}
	slices.Sort(lines)
	if lines = slices.Compact(lines); len(lines) > 1 {
		f := &r.found[g.finding]
		f.Lines = lines
		f.Message += " (" + wording.Numbered("line", lines) + ")"
	}
}

func (r *reader) setAllLines() {
	for _, g := range r.groups {
		r.setLines(g)
	}
}

// inTable reports whether the lines of a section are rows that differ only in their
// numbers.
func (r *reader) inTable(k kind) bool { return sections[k].form != formFields || k == kindContents }

// onlySpaceBetween reports whether there is only white space between two offsets.
func (r *reader) onlySpaceBetween(from, to int) bool {
	for from < to && (blank(r.text[from]) || r.text[from] == '\n' || r.text[from] == '\r') {
		from++
	}
	return from == to
}
