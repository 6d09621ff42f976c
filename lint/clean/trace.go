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
	Rules []string // sorted, without duplicates
}

// step is an edit of one round, and the rule that asks for it.
type step struct {
	*schema.Edit
	rule string
}

// piece replaces a part of the first text. It is small, because a file may need one for
// every few bytes.
type piece struct {
	start, end uint32 // in the first text
	rules      uint32 // the index in trace.rules of the rules that asked for it
	text       string
}

// trace maps the edits of all rounds to the first text. The last text is the first one
// with all pieces inserted.
type trace struct {
	pieces []piece           // by place; neighbours may touch each other
	size   int               // of the first text
	begins []uint32          // where each piece begins in the last text; nil until needed
	rules  [][]string        // sets of rules, each sorted
	known  map[string]uint32 // the index of each set in rules
}

func newTrace(size int) *trace {
	return &trace{size: size, known: map[string]uint32{}}
}

// apply adds the edits of a round. They are sorted and don't overlap.
func (t *trace) apply(steps []step) {
	w := walk{rest: t.pieces, size: t.size}
	pieces := make([]piece, 0, len(t.pieces)+len(steps))
	var rules []string
	for _, s := range steps {
		w.to(s.Span.Start, func(p piece) { pieces = append(pieces, p) })
		p := piece{start: uint32(w.origin), text: s.New}
		rules = append(rules[:0], s.rule)
		w.to(s.Span.End, func(p piece) { rules = append(rules, t.rules[p.rules]...) })
		p.end, p.rules = uint32(w.origin), t.set(rules)
		pieces = append(pieces, p)
	}
	t.pieces, t.begins = append(pieces, w.rest...), nil
}

// walk goes through the last text and the first one in parallel.
type walk struct {
	rest             []piece // still ahead
	size, at, origin int     // size of the first text; offsets in the last and in the first
}

// to advances to an offset in the last text, and calls pass for each piece on the way.
// If it stops within a piece, it passes the part before; that part takes over the whole
// range that the piece replaces.
func (w *walk) to(offset int, pass func(piece)) {
	for w.at < offset {
		next := w.size
		if len(w.rest) > 0 {
			next = int(w.rest[0].start)
		}
		if n := min(next-w.origin, offset-w.at); n > 0 {
			w.at, w.origin = w.at+n, w.origin+n
			continue
		}
		p := w.rest[0]
		if n := offset - w.at; n < len(p.text) {
			w.rest[0] = piece{p.end, p.end, p.rules, p.text[n:]}
			p.text = p.text[:n]
		} else {
			w.rest = w.rest[1:]
		}
		w.at, w.origin = w.at+len(p.text), int(p.end)
		pass(p)
	}
}

// set returns the index of a set of rules in t.rules.
func (t *trace) set(rules []string) uint32 {
	slices.Sort(rules)
	rules = slices.Compact(rules)
	name := strings.Join(rules, ", ")
	place, found := t.known[name]
	if !found {
		place = uint32(len(t.rules))
		t.rules, t.known[name] = append(t.rules, slices.Clone(rules)), place
	}
	return place
}

// origin returns the offset in the first text that an offset in the last comes from.
func (t *trace) origin(offset int) int {
	if t.begins == nil {
		t.begins = make([]uint32, len(t.pieces))
		moved := 0
		for i, p := range t.pieces {
			t.begins[i] = uint32(int(p.start) + moved)
			moved += len(p.text) - int(p.end-p.start)
		}
	}
	ends := func(i int) int { return int(t.begins[i]) + len(t.pieces[i].text) }
	i := sort.Search(len(t.pieces), func(i int) bool { return ends(i) > offset })
	switch {
	case i < len(t.pieces) && int(t.begins[i]) <= offset:
		return int(t.pieces[i].start)
	case i == 0:
		return min(offset, t.size)
	}
	return min(int(t.pieces[i-1].end)+offset-ends(i-1), t.size)
}

// changes returns the edits that turn the first text into the last. It merges edits that
// touch, and leaves out those that have no effect.
func (t *trace) changes(first []byte) []change {
	var list []change
	for i := 0; i < len(t.pieces); i++ {
		from := i
		for i+1 < len(t.pieces) && t.pieces[i+1].start == t.pieces[i].end {
			i++
		}
		if c := t.joined(t.pieces[from : i+1]); c.New != string(first[c.Span.Start:c.Span.End]) {
			list = append(list, c)
		}
	}
	return list
}

// joined returns the change that adjacent pieces make together.
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
