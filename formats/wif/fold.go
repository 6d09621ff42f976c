package wif

import (
	"slices"

	"fettle/schema"
	"fettle/schema/wording"
)

// This file keeps the findings of a file in proportion: one that is wrong on
// every line would otherwise take many times its own size to report. Rows of a
// table that are wrong in the same way make one finding, and so does all that is
// alike beyond the first hundred.

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

// fold adds a line to the last finding of its kind, with the edits that fix it,
// and says whether it could: where rows is set, so that all lines of a kind make
// one finding, or where there are enough findings of the kind already. Where it
// could not, the finding reported next begins one.
func (r *reader) fold(a alike, at schema.Span, rows bool, edits ...schema.Edit) bool {
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
		r.tellLines(&r.found[g.finding], g.starts)
	}
}

// tellLines gives a finding the lines that it stands for, its own among them.
func (r *reader) tellLines(f *schema.Finding, starts []uint32) {
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
