package wif

import (
	"fmt"

	"fettle/schema"
)

// This file keeps the findings of a file in proportion: one that is wrong on
// every line would else take many times its own size to tell. Rows of a table
// that are wrong in the same way and follow each other make one finding, and so
// does all that is alike beyond the first hundred.

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
	told    int // findings, one by one
	finding int // the last of them, in found
	end     int // where the last line that it is about ends
	more    int // lines that it is about beside its own
}

// fold adds a line to the last finding of its kind, with the edits that mend it,
// and says whether it could: where rows is set and nothing stands between the
// two, or where there are enough findings of the kind already. Where it could
// not, the finding reported next begins one.
func (r *reader) fold(a alike, at schema.Span, rows bool, edits ...schema.Edit) bool {
	g := r.groups[a]
	if g == nil {
		if r.groups == nil {
			r.groups = map[alike]*group{}
		}
		g = &group{}
		r.groups[a] = g
	}
	next := rows && g.told > 0 && r.nothingBetween(g.end, at.Start)
	if !next && g.told < mostAlike {
		r.flush(g)
		g.told, g.finding, g.end = g.told+1, len(r.found), at.End
		return false
	}
	f := &r.found[g.finding]
	if next {
		f.Span.End, g.end = at.End, at.End
	}
	if len(f.Fixes) > 0 {
		f.Fixes[0].AddPart(edits...)
	}
	g.more++
	return true
}

// flush says in the last finding of a kind how many lines it stands for.
func (r *reader) flush(g *group) {
	if g.more > 0 {
		f := &r.found[g.finding]
		f.Message += fmt.Sprintf("; %s like it %s", schema.Counted(g.more, "more line"), schema.Plural(g.more, "follows", "follow"))
		g.more = 0
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
