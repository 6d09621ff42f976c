package cloth

import "fettle/schema"

// table is a list of numbers for each row, counted from 0.
type table struct {
	ends []uint32 // where each row ends in list
	list []int32
}

func (t *table) row(n int32) []int32 {
	var from uint32
	if n > 0 {
		from = t.ends[n-1]
	}
	return t.list[from:t.ends[n]]
}

// tableOf returns the ranks of the numbers in some rows, counted from 0. It leaves out
// numbers without a rank.
func tableOf(rows *schema.Rows, which []int32, rank func(int32) (int32, bool)) table {
	t := table{ends: make([]uint32, len(which)), list: make([]int32, 0, len(which))}
	for i, row := range which {
		for _, n := range rows.Row(int(row) + 1) {
			if r, ok := rank(n); ok {
				t.list = append(t.list, r)
			}
		}
		t.ends[i] = uint32(len(t.list))
	}
	return t
}

// inverse returns the rows for each number.
func (t *table) inverse(numbers int) table {
	u := table{ends: make([]uint32, numbers), list: make([]int32, len(t.list))}
	for _, n := range t.list {
		u.ends[n]++
	}
	var sum uint32
	for n, count := range u.ends {
		u.ends[n] = sum // where the row begins; filling it moves this to its end
		sum += count
	}
	for row := range t.ends {
		for _, n := range t.row(int32(row)) {
			u.list[u.ends[n]] = int32(row)
			u.ends[n]++
		}
	}
	return u
}

// ranks numbers the shafts in use from 0. A draft may have shaft 2,000,000,000, so the
// plain table isn't much larger than the draft, and a map holds the rest.
type ranks struct {
	plain []int32 // by shaft, rank + 1
	large map[int32]int32
	count int
}

// ranksOf ranks the numbers in some rows, counted from 0.
func ranksOf(rows *schema.Rows, which []int32) *ranks {
	r := newRanks(rows.Highest(), rows.Count())
	r.take(rows, which)
	return r
}

// newRanks returns ranks for so many numbers up to the highest.
func newRanks(highest, count int) *ranks {
	return &ranks{plain: make([]int32, min(highest, 4*count+1024)+1), large: map[int32]int32{}}
}

// take ranks the new numbers in some rows, counted from 0.
func (r *ranks) take(rows *schema.Rows, which []int32) {
	for _, row := range which {
		for _, n := range rows.Row(int(row) + 1) {
			r.add(n)
		}
	}
}

func (r *ranks) add(n int32) {
	if _, known := r.rank(n); known {
		return
	}
	r.count++
	if n >= 0 && int(n) < len(r.plain) {
		r.plain[n] = int32(r.count)
	} else {
		r.large[n] = int32(r.count)
	}
}

func (r *ranks) rank(n int32) (rank int32, known bool) {
	if n >= 0 && int(n) < len(r.plain) {
		rank = r.plain[n]
	} else {
		rank = r.large[n]
	}
	return rank - 1, rank > 0
}

// rankBelow ranks the numbers from 1 to most.
func rankBelow(most int) func(int32) (int32, bool) {
	return func(n int32) (int32, bool) { return n - 1, n >= 1 && int(n) <= most }
}

// paths lead from the classes of one system to those of the other, one table a step.
type paths struct {
	steps  []table
	levels []level // between the steps
}

// level holds a word for each number, and lists the words that aren't zero.
type level struct {
	words   []uint64
	nonzero []int32
}

func (l *level) add(n int32, word uint64) {
	if l.words[n] == 0 {
		l.nonzero = append(l.nonzero, n)
	}
	l.words[n] |= word
}

func pathsOf(steps ...table) paths {
	p := paths{steps: steps, levels: make([]level, len(steps)-1)}
	for i, step := range steps[1:] {
		n := len(step.ends)
		p.levels[i] = level{make([]uint64, n), make([]int32, 0, n)}
	}
	return p
}

// walk sets bit i of out[n] if a path leads from lanes[i] to n. It visits only what is
// reached, so that a long table costs nothing if few of its rows are.
func (p *paths) walk(lanes []int32, out []uint64) {
	clear(out)
	if len(p.levels) == 0 {
		for i, lane := range lanes {
			p.steps[0].spread(lane, 1<<i, out)
		}
		return
	}
	for i, lane := range lanes {
		for _, n := range p.steps[0].row(lane) {
			p.levels[0].add(n, 1<<i)
		}
	}
	for k := range p.levels {
		from := &p.levels[k]
		for _, n := range from.nonzero {
			if k+1 < len(p.levels) {
				for _, m := range p.steps[k+1].row(n) {
					p.levels[k+1].add(m, from.words[n])
				}
			} else {
				p.steps[k+1].spread(n, from.words[n], out)
			}
			from.words[n] = 0
		}
		from.nonzero = from.nonzero[:0]
	}
}

// spread adds a word to all numbers in a row.
func (t *table) spread(row int32, word uint64, out []uint64) {
	for _, n := range t.row(row) {
		out[n] |= word
	}
}

// countTo returns 0 to n-1.
func countTo(n int) []int32 {
	list := make([]int32, n)
	for i := range list {
		list[i] = int32(i)
	}
	return list
}
