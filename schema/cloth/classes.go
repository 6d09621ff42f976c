package cloth

import (
	"math/bits"
	"slices"

	"fettle/schema"
)

// usualClasses is more classes than most drafts have.
const usualClasses = 16

// strands groups the threads of one system in classes. Classes and threads count from 0
// here; classes are in the order of their first threads.
type strands struct {
	class []int32 // of each thread
	first []int32 // the first thread of each class
	count []int32 // the number of threads in each class
}

// classify puts threads with equal rows in one class. A row after the table is empty.
func classify(rows *schema.Rows, threads int, seed uint64) strands {
	s := strands{class: make([]int32, threads), first: make([]int32, 0, usualClasses), count: make([]int32, 0, usualClasses)}
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

// find returns the class of a thread, a new one for a new row.
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

// merged returns the strands with the classes of each part merged.
func (s strands) merged(p *partition) strands {
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

// partition splits things into parts by one word after another. Parts are numbered in
// the order of their first things.
type partition struct {
	part  []int32
	parts int
	seed  uint64
	seen  index
	words []uint64 // of each part, its last word
	from  []int32  // of each part, the part it was split from
}

func newPartition(things int, seed uint64) *partition {
	return &partition{
		part: make([]int32, things), parts: min(1, things), seed: seed, seen: newIndex(things),
		words: make([]uint64, 0, min(things, usualClasses)), from: make([]int32, 0, min(things, usualClasses)),
	}
}

// done reports whether each thing is its own part.
func (p *partition) done() bool { return p.parts == len(p.part) }

// refine splits parts with different words.
func (p *partition) refine(words []uint64) {
	p.seen.reset()
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

// index numbers different things from 0, in the order in which they are looked up. It is
// an open hash table; its user knows the things.
type index struct {
	slots  []int32 // number + 1, 0 for free
	hashes []uint64
}

// newIndex returns an index for at most so many things. It starts small and grows.
func newIndex(things int) index {
	return index{slots: make([]int32, 2<<bits.Len(uint(min(things, usualClasses)))), hashes: make([]uint64, 0, min(things, usualClasses))}
}

func (x *index) reset() {
	clear(x.slots)
	x.hashes = x.hashes[:0]
}

// find returns the number of the thing with a hash for which same returns true, or a new
// number.
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

// grow doubles the table, so that it is at most half full.
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

// mix hashes a number with a key: the two halves of their product. The key is random for
// each cloth, so that no draft can be made to collide.
func mix(n, key uint64) uint64 {
	high, low := bits.Mul64(n^0x9e3779b97f4a7c15, key|1)
	return high ^ low
}

// Alike numbers the threads of a system from 0 by how they weave: threads that weave
// alike have the same number. first is the first thread of each number, from 1. If the
// cloth is TooLarge, threads that weave alike may have different numbers. The lists
// belong to the cloth.
func (c *Cloth) Alike(name schema.SystemName) (number []int32, first []int) {
	s := c.systemOf(name)
	first = make([]int, len(s.first))
	for i, thread := range s.first {
		first[i] = int(thread) + 1
	}
	return s.class, first
}

// DifferentEnds returns how many of the ends on a shaft weave differently. The cloth
// needs this many shafts with one shaft an end.
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
