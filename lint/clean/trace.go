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
	*schema.Edit
	rule string
}

// piece is a stretch of the text after some rounds: a part of the first text, or
// what replaces a part of it. The pieces are in the order of the first text and
// cover all of it. A file can need a piece for every few bytes, so pieces are small.
type piece struct {
	start, end uint32 // in the first text
	rules      uint32 // the rules that wrote it, in trace.rules; 0: a part of the first text
	text       string // what is written
}

func (p *piece) written() bool { return p.rules > 0 }

func (p *piece) size() int {
	if p.written() {
		return len(p.text)
	}
	return int(p.end - p.start)
}

// split cuts a piece in two. The first one replaces all that a written piece replaces.
func (p *piece) split(at int) (first, second piece) {
	first, second = *p, *p
	if p.written() {
		first.text, second.text = p.text[:at], p.text[at:]
		second.start = p.end
	} else {
		first.end = p.start + uint32(at)
		second.start = first.end
	}
	return first, second
}

// trace follows the edits of several rounds back to the text they began with.
type trace struct {
	pieces []piece
	end    int               // of the first text
	begins []uint32          // where each piece begins in the last text; nil until asked for
	rules  [][]string        // sets of rules, each in order; the first is empty
	known  map[string]uint32 // the place of each set in rules
}

func newTrace(size int) *trace {
	return &trace{pieces: []piece{{end: uint32(size)}}, end: size, rules: [][]string{nil}, known: map[string]uint32{}}
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
		p := t.replace(s, gone, rest)
		out = append(out[:len(out)-len(gone)], p)
	}
	t.pieces, t.begins = append(out, rest...), nil
}

// replace returns the piece of an edit that replaces others.
func (t *trace) replace(s step, gone, rest []piece) piece {
	p := piece{text: s.New}
	switch {
	case len(gone) > 0:
		p.start, p.end = gone[0].start, gone[len(gone)-1].end
	case len(rest) > 0:
		p.start, p.end = rest[0].start, rest[0].start
	default:
		p.start, p.end = uint32(t.end), uint32(t.end)
	}
	rules := []string{s.rule}
	for _, g := range gone {
		rules = append(rules, t.rules[g.rules]...)
	}
	p.rules = t.set(rules)
	return p
}

// set returns the place of a set of rules in t.rules.
func (t *trace) set(rules []string) uint32 {
	slices.Sort(rules)
	rules = slices.Compact(rules)
	name := strings.Join(rules, ", ")
	place, found := t.known[name]
	if !found {
		place = uint32(len(t.rules))
		t.rules, t.known[name] = append(t.rules, rules), place
	}
	return place
}

// origin is where in the first text an offset of the last comes from.
func (t *trace) origin(offset int) int {
	if t.begins == nil {
		at := 0
		t.begins = make([]uint32, 0, len(t.pieces))
		for i := range t.pieces {
			t.begins = append(t.begins, uint32(at))
			at += t.pieces[i].size()
		}
	}
	i := sort.Search(len(t.pieces), func(i int) bool { return int(t.begins[i])+t.pieces[i].size() > offset })
	switch {
	case i == len(t.pieces):
		return t.end
	case t.pieces[i].written():
		return int(t.pieces[i].start)
	}
	return int(t.pieces[i].start) + offset - int(t.begins[i])
}

// changes are the edits that lead from the first text to the last. Edits that
// touch make one, and what was changed back is left out.
func (t *trace) changes(first []byte) []change {
	var list []change
	for i := 0; i < len(t.pieces); i++ {
		if !t.pieces[i].written() {
			continue
		}
		from := i
		for i+1 < len(t.pieces) && t.pieces[i+1].written() && t.pieces[i+1].start == t.pieces[i].end {
			i++
		}
		if c := t.joined(t.pieces[from : i+1]); c.New != string(first[c.Span.Start:c.Span.End]) {
			list = append(list, c)
		}
	}
	return list
}

// joined is the change that pieces make which follow each other.
func (t *trace) joined(pieces []piece) change {
	c := change{Edit: schema.Edit{Span: schema.Span{Start: int(pieces[0].start), End: int(pieces[len(pieces)-1].end)}}}
	if len(pieces) == 1 {
		c.New, c.Rules = pieces[0].text, t.rules[pieces[0].rules]
		return c
	}
	var text strings.Builder
	for i := range pieces {
		text.WriteString(pieces[i].text)
		c.Rules = append(c.Rules, t.rules[pieces[i].rules]...)
	}
	c.New = text.String()
	slices.Sort(c.Rules)
	c.Rules = slices.Compact(c.Rules)
	return c
}
