package cloth

import "fettle/schema"

// table is a list of numbers for each row, all counted from 0.
type table struct {
	ends []uint32 // where each row's list ends in values
	list []int32
}

func (t *table) row(n int32) []int32 {
	var from uint32
	if n > 0 {
		from = t.ends[n-1]
	}
	return t.list[from:t.ends[n]]
}

// tableOf lists what the rows given (counted from 0) name, by the numbers that
// rank gives them. What has no rank is left out.
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

// turned is the table read the other way: for each of so many numbers, the
// rows that name it.
func (t *table) turned(numbers int) table {
	u := table{ends: make([]uint32, numbers), list: make([]int32, len(t.list))}
	for _, n := range t.list {
		u.ends[n]++
	}
	var sum uint32
	for n, count := range u.ends {
		u.ends[n] = sum // where the list begins; filling it moves this to its end
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

// ranks numbers the shafts in use from 0. A draft may name shaft two thousand
// million, so a plain table serves only as far as it is not much larger than
// the draft.
type ranks struct {
	plain []int32 // by shaft, rank + 1
	far   map[int32]int32
	count int
}

// ranksOf numbers what the rows given (counted from 0) name.
func ranksOf(rows *schema.Rows, which []int32) *ranks {
	r := newRanks(rows.Highest(), rows.Count())
	r.take(rows, which)
	return r
}

// newRanks makes ready for numbers up to the highest, so many of them.
func newRanks(highest, count int) *ranks {
	return &ranks{plain: make([]int32, min(highest, 4*count+1024)+1), far: map[int32]int32{}}
}

// take numbers what the rows given (counted from 0) name and is new.
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
		r.far[n] = int32(r.count)
	}
}

func (r *ranks) rank(n int32) (rank int32, known bool) {
	if n >= 0 && int(n) < len(r.plain) {
		rank = r.plain[n]
	} else {
		rank = r.far[n]
	}
	return rank - 1, rank > 0
}

// upTo ranks the numbers 1 to most.
func upTo(most int) func(int32) (int32, bool) {
	return func(n int32) (int32, bool) { return n - 1, n >= 1 && int(n) <= most }
}

// paths lead from the classes of one system to those of the other, a table a step.
type paths struct {
	steps  []table
	levels []level // what lies between the steps
}

// level holds words by number, and which of them are not nought.
type level struct {
	words []uint64
	live  []int32
}

func (l *level) add(n int32, word uint64) {
	if l.words[n] == 0 {
		l.live = append(l.live, n)
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

// walk sets bit i of out[n] where a path leads from lanes[i] to n. Only what
// is reached is visited, so that a step with many rows costs nothing where few
// of them are met.
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
		for _, n := range from.live {
			if k+1 < len(p.levels) {
				for _, m := range p.steps[k+1].row(n) {
					p.levels[k+1].add(m, from.words[n])
				}
			} else {
				p.steps[k+1].spread(n, from.words[n], out)
			}
			from.words[n] = 0
		}
		from.live = from.live[:0]
	}
}

// spread adds a word to all that a row lists.
func (t *table) spread(row int32, word uint64, out []uint64) {
	for _, n := range t.row(row) {
		out[n] |= word
	}
}

// numbers are 0 to n-1.
func numbers(n int) []int32 {
	list := make([]int32, n)
	for i := range list {
		list[i] = int32(i)
	}
	return list
}
