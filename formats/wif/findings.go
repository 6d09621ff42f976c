package wif

import (
	"slices"
	"sort"

	"fettle/schema"
	"fettle/schema/wording"
)

// Each finding stands at the bytes it is about, and carries the edits that fix it. A
// fix is certain only where the draft then reads the same and nothing else can have
// been meant; otherwise it is risky. Rows of a table that are wrong in the same way
// make one finding, and so do findings of one kind after the first hundred, so that
// findings never take many times the size of the file.

func (r *reader) report(rule string, at schema.Span, message string, data schema.Data, fixes ...schema.Fix) {
	r.found = append(r.found, schema.Finding{Rule: rule, Span: at, Message: message, Data: data, Fixes: fixes})
}

// unread marks the finding reported last as one whose text is in no part of the
// draft; kept takes that back, where the text is carried or read all the same.
func (r *reader) unread() { r.found[len(r.found)-1].Unread = true }
func (r *reader) kept()   { r.found[len(r.found)-1].Unread = false }

// doubt says that a row of the weave could not be read for certain, as a finding
// of a rule reports.
func (r *reader) doubt(rule string) {
	if !slices.Contains(r.unclear, rule) {
		r.unclear = append(r.unclear, rule)
	}
}

// mend is a certain fix of one edit.
func mend(title string, at schema.Span, with string) schema.Fix {
	return schema.Fix{Title: title, Edits: []schema.Edit{{Span: at, New: with}}}
}

// atRisk is a fix that is made at the weaver's word only, since something else may
// have been meant.
func atRisk(f schema.Fix) schema.Fix {
	f.Risky = true
	return f
}

// commentOut is a certain fix that keeps a line as a comment.
func commentOut(at int) schema.Fix {
	return mend("make it a comment", schema.Span{Start: at, End: at}, "; ")
}

// commentOutKey is commentOut for a line with a key. It replaces the key, so that
// a comment can be moved from the end of the line to a line before it at once.
func (r *reader) commentOutKey(l line) schema.Fix {
	return mend("make it a comment", l.name, "; "+string(r.text[l.name.Start:l.name.End]))
}

// lineBreak is how a line ends.
func (r *reader) lineBreak(l line) string { return breakOf(r.text, l) }

// kindAt is the section that an offset lies in.
func (r *reader) kindAt(at int) kind {
	i := sort.Search(len(r.parts), func(i int) bool { return r.parts[i].header.Start > at })
	return r.parts[max(i-1, 0)].kind
}

// mostAlike is how many findings of one kind in sections of one name are told
// one by one.
const mostAlike = 100

// alike is what findings have in common that can be told as one.
type alike struct {
	rule    string
	section kind
	what    string // what is wrong, where a rule tells of several things
}

// group is what has been found so far of one kind.
type group struct {
	told    int      // findings, one by one
	finding int      // the last of them, in found
	end     int      // where the first run of lines that it is about ends
	apart   bool     // a line stands apart from that run
	starts  []uint32 // where the lines begin that it is about, its own first
}

// extend adds a line to the last finding of its kind, with the edits that fix it,
// and says whether it could: where rows is set, so that all lines of a kind make
// one finding, or where there are enough findings of the kind already. Where it
// could not, the finding reported next begins one.
func (r *reader) extend(a alike, at schema.Span, rows bool, edits ...schema.Edit) bool {
	g := r.groups[a]
	if g == nil {
		if r.groups == nil {
			r.groups = map[alike]*group{}
		}
		g = &group{}
		r.groups[a] = g
	}
	if (!rows || g.told == 0) && g.told < mostAlike {
		r.flush(g)
		g.told, g.finding, g.end, g.apart, g.starts = g.told+1, len(r.found), at.End, false, []uint32{uint32(at.Start)}
		return false
	}
	f := &r.found[g.finding]
	if g.apart = g.apart || !rows || !r.nothingBetween(g.end, at.Start); !g.apart {
		f.Span.End, g.end = at.End, at.End
	}
	if len(f.Fixes) > 0 {
		f.Fixes[0].AddPart(edits...)
	}
	g.starts = append(g.starts, uint32(at.Start))
	return true
}

// flush gives the last finding of a kind the lines that it stands for, and names
// the first of them in its message.
func (r *reader) flush(g *group) {
	if len(g.starts) > 1 {
		r.setLines(&r.found[g.finding], g.starts)
	}
}

// setLines gives a finding the lines that it stands for, its own among them.
func (r *reader) setLines(f *schema.Finding, starts []uint32) {
	lines := make([]int, len(starts))
	for i, at := range starts {
		lines[i] = r.src.Position(schema.Span{Start: int(at), End: int(at)}).Line
	}
	slices.Sort(lines)
	if lines = slices.Compact(lines); len(lines) > 1 {
		f.Lines = lines
		f.Message += "; this concerns " + wording.Numbered("line", lines)
	}
}

// flushAll says it in all of them.
func (r *reader) flushAll() {
	for _, g := range r.groups {
		r.flush(g)
	}
}

// inTable says whether the lines of the section being read are rows, alike but
// for their number.
func (r *reader) inTable(k kind) bool { return sections[k].form != fields || k == kindContents }

// nothingBetween says whether there is only white space between two offsets.
func (r *reader) nothingBetween(from, to int) bool {
	for from < to && (blank(r.text[from]) || r.text[from] == '\n' || r.text[from] == '\r') {
		from++
	}
	return from == to
}
