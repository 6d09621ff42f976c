package cloth

import (
	"math/bits"
	"slices"

	"fettle/schema"
)

// few is how many classes most drafts have no more of.
const few = 16

// strands are the threads of one system in classes. Classes and threads count
// from 0 here; classes stand in the order in which their first threads do.
type strands struct {
	class []int32 // of each thread
	first []int32 // the first thread of each class
	count []int32 // how many threads each class has
}

// classify puts threads whose rows name the same numbers in one class. A row
// beyond the table is empty.
func classify(rows *schema.Rows, threads int, seed uint64) strands {
	s := strands{class: make([]int32, threads), first: make([]int32, 0, few), count: make([]int32, 0, few)}
	seen := newIndex(min(threads, rows.Len()+1))
	var single [64]int32 // class + 1 of the rows with just this number: most rows of most drafts
	for i := range s.class {
		row := rows.Row(i + 1)
		plain := len(row) == 1 && row[0] >= 0 && int(row[0]) < len(single)
		class := int32(-1)
		if plain {
			class = single[row[0]] - 1
		}
		if class < 0 {
			class = s.find(&seen, rows, i, seed)
		}
		if plain {
			single[row[0]] = class + 1
		}
		s.class[i] = class
		s.count[class]++
	}
	return s
}

// find is the class of a thread by its row, a new one where there is none.
func (s *strands) find(seen *index, rows *schema.Rows, thread int, seed uint64) int32 {
	row := rows.Row(thread + 1)
	hash := seed
	for _, n := range row {
		hash = mix(hash^uint64(n), seed)
	}
	class, fresh := seen.find(hash, func(class int32) bool {
		return slices.Equal(rows.Row(int(s.first[class])+1), row)
	})
	if fresh {
		s.first = append(s.first, int32(thread))
		s.count = append(s.count, 0)
	}
	return class
}

// joined is the strands with each part of a partition made one class.
func (s strands) joined(p *partition) strands {
	to := strands{class: s.class, first: make([]int32, 0, p.parts), count: make([]int32, p.parts)}
	for class, part := range p.part {
		if int(part) == len(to.first) {
			to.first = append(to.first, s.first[class])
		}
		to.count[part] += s.count[class]
	}
	for i, class := range s.class {
		to.class[i] = p.part[class]
	}
	return to
}

// partition sorts things into parts by one word after another that is known of
// them. Parts are numbered in the order of their first things.
type partition struct {
	part  []int32
	parts int
	seed  uint64
	seen  index
	words []uint64 // of each part, the word that set it apart
	from  []int32  // of each part, the part it came out of
}

func newPartition(things int, seed uint64) *partition {
	return &partition{
		part: make([]int32, things), parts: min(1, things), seed: seed, seen: newIndex(things),
		words: make([]uint64, 0, min(things, few)), from: make([]int32, 0, min(things, few)),
	}
}

// done reports whether every thing is a part of its own.
func (p *partition) done() bool { return p.parts == len(p.part) }

// refine parts things whose words differ.
func (p *partition) refine(words []uint64) {
	p.seen.empty()
	p.words, p.from = p.words[:0], p.from[:0]
	for i, word := range words {
		from := p.part[i]
		hash := mix(mix(p.seed^word, p.seed)^uint64(from), p.seed)
		part, fresh := p.seen.find(hash, func(part int32) bool {
			return p.words[part] == word && p.from[part] == from
		})
		if fresh {
			p.words = append(p.words, word)
			p.from = append(p.from, from)
		}
		p.part[i] = part
	}
	p.parts = len(p.words)
}

// index numbers different things from 0 in the order in which they are first
// asked for. It is an open table of hashes; what the things are, its user
// knows.
type index struct {
	slots  []int32 // number + 1, 0 for free
	hashes []uint64
}

// newIndex makes an index of at most that many things. It begins with room for
// few, and makes more as they come.
func newIndex(things int) index {
	return index{slots: make([]int32, 2<<bits.Len(uint(min(things, few)))), hashes: make([]uint64, 0, min(things, few))}
}

// empty forgets them all.
func (x *index) empty() {
	clear(x.slots)
	x.hashes = x.hashes[:0]
}

// find gives the number of the thing with this hash for which same says yes,
// or the next number.
func (x *index) find(hash uint64, same func(int32) bool) (number int32, fresh bool) {
	mask := uint64(len(x.slots) - 1)
	at := hash & mask
	for ; x.slots[at] != 0; at = (at + 1) & mask {
		n := x.slots[at] - 1
		if x.hashes[n] == hash && same(n) {
			return n, false
		}
	}
	x.hashes = append(x.hashes, hash)
	x.slots[at] = int32(len(x.hashes))
	if 2*len(x.hashes) > len(x.slots) {
		x.grow()
	}
	return int32(len(x.hashes)) - 1, true
}

// grow doubles the table, so that it is never more than half full.
func (x *index) grow() {
	x.slots = make([]int32, 2*len(x.slots))
	mask := uint64(len(x.slots) - 1)
	for n, hash := range x.hashes {
		at := hash & mask
		for x.slots[at] != 0 {
			at = (at + 1) & mask
		}
		x.slots[at] = int32(n) + 1
	}
}

// mix scatters a number by a key: the two halves of their product. The key is
// drawn afresh for each cloth, so no draft can be written to collide.
func mix(n, key uint64) uint64 {
	high, low := bits.Mul64(n^0x9e3779b97f4a7c15, key|1)
	return high ^ low
}

// Alike numbers the threads of a system from 0 by how they weave: threads with the
// same number weave alike throughout. first is the first thread, from 1, of each
// number. Where the cloth is TooLarge, threads that weave alike may differ. The
// lists belong to the cloth.
func (c *Cloth) Alike(name schema.SystemName) (number []int32, first []int) {
	s := c.systemOf(name)
	first = make([]int, len(s.first))
	for i, thread := range s.first {
		first[i] = int(thread) + 1
	}
	return s.class, first
}

// DifferentEnds returns how many of the ends on a shaft weave differently: the
// fewest shafts that weave the cloth with one shaft an end.
func (c *Cloth) DifferentEnds() int {
	seen := make([]bool, len(c.warp.first))
	n := 0
	for i, class := range c.warp.class {
		if !seen[class] && len(c.draft.Threading.Row(i+1)) > 0 {
			seen[class] = true
			n++
		}
	}
	return n
}
