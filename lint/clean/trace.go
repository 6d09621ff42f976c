package clean

import (
	"slices"
	"sort"
	"strings"

	"fettle/schema"
)

// change is an edit of a file's text, and the rules that asked for it.
type change struct {
	schema.Edit
	Rules []string // in order, each once
}

// step is an edit of one round, and the rule that asks for it.
type step struct {
	schema.Edit
	rule string
}

// piece is a stretch of the text as it is after some rounds: one of the first
// text, or one written in place of that. Pieces stand in the order of the first
// text, and between them they are the whole of it.
type piece struct {
	at      schema.Span // in the first text
	written bool
	text    string // of a piece written
	rules   []string
}

func (p *piece) size() int {
	if p.written {
		return len(p.text)
	}
	return p.at.End - p.at.Start
}

// split cuts a piece in two. What a written piece stands for goes to the first.
func (p *piece) split(at int) (first, second piece) {
	first, second = *p, *p
	if p.written {
		first.text, second.text = p.text[:at], p.text[at:]
		second.at.Start = p.at.End
	} else {
		first.at.End = p.at.Start + at
		second.at.Start = first.at.End
	}
	return first, second
}

// trace follows the edits of several rounds back to the text they began with.
type trace struct {
	pieces []piece
	end    int                 // of the first text
	begins []int               // where each piece begins; nil until asked for
	alone  map[string][]string // each rule as the only one of a piece, shared by the many
}

func newTrace(size int) *trace {
	return &trace{pieces: []piece{{at: schema.Span{End: size}}}, end: size, alone: map[string][]string{}}
}

// apply makes the edits of a round, which are in order and do not overlap.
func (t *trace) apply(steps []step) {
	rest := t.pieces
	out := make([]piece, 0, len(rest)+2*len(steps))
	at := 0
	take := func(size int) (taken []piece) {
		at += size
		from := len(out)
		for ; size > 0; rest = rest[1:] {
			if n := rest[0].size(); n > size {
				first, second := rest[0].split(size)
				out = append(out, first)
				rest[0] = second
				break
			} else {
				out = append(out, rest[0])
				size -= n
			}
		}
		return out[from:]
	}
	for _, s := range steps {
		take(s.Span.Start - at)
		gone := take(s.Span.End - s.Span.Start)
		p := t.written(s, gone, rest)
		out = append(out[:len(out)-len(gone)], p)
	}
	t.pieces, t.begins = append(out, rest...), nil
}

// written is the piece of an edit that takes the place of others.
func (t *trace) written(s step, gone, rest []piece) piece {
	if t.alone[s.rule] == nil {
		t.alone[s.rule] = slices.Clip([]string{s.rule})
	}
	p := piece{written: true, text: s.New, rules: t.alone[s.rule]}
	switch {
	case len(gone) > 0:
		p.at = schema.Span{Start: gone[0].at.Start, End: gone[len(gone)-1].at.End}
	case len(rest) > 0:
		p.at = schema.Span{Start: rest[0].at.Start, End: rest[0].at.Start}
	default:
		p.at = schema.Span{Start: t.end, End: t.end}
	}
	for _, g := range gone {
		p.rules = append(p.rules, g.rules...)
	}
	return p
}

// origin is where in the first text an offset of the last comes from.
func (t *trace) origin(offset int) int {
	if t.begins == nil {
		at := 0
		for i := range t.pieces {
			t.begins = append(t.begins, at)
			at += t.pieces[i].size()
		}
	}
	i := sort.Search(len(t.pieces), func(i int) bool { return t.begins[i]+t.pieces[i].size() > offset })
	switch {
	case i == len(t.pieces):
		return t.end
	case t.pieces[i].written:
		return t.pieces[i].at.Start
	}
	return t.pieces[i].at.Start + offset - t.begins[i]
}

// changes are the edits that lead from the first text to the last. Edits that
// touch make one, and what was changed back is left out.
func (t *trace) changes(first []byte) []change {
	var list []change
	for i := 0; i < len(t.pieces); i++ {
		if !t.pieces[i].written {
			continue
		}
		from := i
		for i+1 < len(t.pieces) && t.pieces[i+1].written && t.pieces[i+1].at.Start == t.pieces[i].at.End {
			i++
		}
		if c := joined(t.pieces[from : i+1]); c.New != string(first[c.Span.Start:c.Span.End]) {
			list = append(list, c)
		}
	}
	return list
}

// joined is the change that pieces make which follow each other.
func joined(pieces []piece) change {
	c := change{Edit: schema.Edit{Span: schema.Span{Start: pieces[0].at.Start, End: pieces[len(pieces)-1].at.End}}}
	var text strings.Builder
	for i := range pieces {
		text.WriteString(pieces[i].text)
		c.Rules = append(c.Rules, pieces[i].rules...)
	}
	c.New = text.String()
	slices.Sort(c.Rules)
	c.Rules = slices.Compact(c.Rules)
	return c
}
