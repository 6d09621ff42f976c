package cloth

import (
	"math"
	"slices"

	"fettle/schema"
)

// FloatQuery is how to measure the floats of a cloth. The zero value measures in
// threads, from edge to edge, without a limit.
type FloatQuery struct {
	Warp, Weft Measure
	// Wrap counts floats across the edges, from one repeat into the next. A
	// thread that never changes then floats once round.
	Wrap bool
	// Ends and Picks are those of the whole cloth, if the draft is repeated in it.
	// Floats then go on into the next repeat as far as the cloth goes; from twice the
	// draft on this is as with Wrap. Fewer than the draft has change nothing.
	Ends, Picks int
	// Cuts holds the picks after which the cloth is cut, in ascending order. Warp floats
	// end there, and don't go on into the next repeat.
	Cuts []int
	// FloatingSelvedge skips outermost ends on no shaft: the weft goes round
	// them at every pick, so they don't float.
	FloatingSelvedge bool
}

// Measure is how to measure the floats of one system: warp floats by the picks
// they cross, weft floats by the ends.
type Measure struct {
	// Spacings holds millimetres by crossed thread. If it is nil, each thread
	// has Spacing; 0 is unknown. If the list is too short or has a spacing of 0
	// or less, all are unknown.
	Spacings []float64
	Spacing  float64
	// LimitThreads and LimitMM are the longest floats allowed; 0 is no limit.
	// A float is too long if it exceeds LimitMM by more than 0.01 mm and crosses
	// two threads at least. LimitThreads wins over LimitMM. LimitMM needs a
	// known spacing.
	LimitThreads int
	LimitMM      float64
}

// Spaced returns a Measure with the spacings of the crossed threads: those of the
// weft for warp floats.
func Spaced(crossed *schema.System, threads int) Measure {
	mean, even := crossed.MeanSpacing(threads)
	if even || mean == 0 {
		return Measure{Spacing: mean}
	}
	m := Measure{Spacings: make([]float64, threads)}
	for i := range m.Spacings {
		m.Spacings[i] = crossed.SpacingOf(i + 1)
	}
	return m
}

// Floats holds the longest floats of a cloth.
type Floats struct {
	Warp, Weft Sides
}

// Sides holds the longest floats of one system on the face and on the back.
type Sides struct {
	Face, Back Float
}

// Float is the longest float of a system on one side, and the number of floats that
// are too long. It is the longest in millimetres if threads are unevenly spaced and
// there is no limit in threads; otherwise the longest in threads. Of several equal
// floats it is the first of the first thread.
type Float struct {
	Threads int     // crossed; 0 if there is no float
	Length  float64 // in millimetres; 0 unknown
	Thread  int     // that floats
	From    int     // the first thread it crosses
	Over    int     // number of floats over the limit, in all threads
}

// Floats returns the longest floats and counts those over the limits. A warp float
// on the face is an end that is up over consecutive picks; a weft float on the face
// is a pick over consecutive ends that are down. A cloth without ends or picks has
// none.
func (c *Cloth) Floats(q FloatQuery) Floats {
	carried := int32(-1)
	if q.FloatingSelvedge && c.bareAtEdges() {
		carried = c.bareClass
	}
	if q.Wrap {
		q.Ends, q.Picks = 2*c.Ends(), 2*c.Picks()
	}
	warp := c.sides(&c.warp, q.Warp, q.Picks, q.Cuts, carried)
	weft := c.sides(&c.weft, q.Weft, q.Ends, nil, -1)
	return Floats{
		Warp: Sides{Face: warp[0], Back: warp[1]},
		Weft: Sides{Face: weft[1], Back: weft[0]},
	}
}

// bareAtEdges reports whether there are ends on no shaft, and all of them outermost.
func (c *Cloth) bareAtEdges() bool {
	if c.bareClass < 0 {
		return false
	}
	class, edges := c.warp.class, int32(0)
	if class[0] == c.bareClass {
		edges++
	}
	if last := len(class) - 1; last > 0 && class[last] == c.bareClass {
		edges++
	}
	return edges == c.warp.count[c.bareClass]
}

// sides finds the floats of a system where the warp is up, and where it is down, over so
// many threads in all, with cuts after some. It skips one class, -1 for none.
func (c *Cloth) sides(s *system, m Measure, over int, cuts []int, out int32) (sides [2]Float) {
	across := s.across.class
	if len(across) == 0 || len(s.class) == 0 {
		return sides
	}
	if len(cuts) > 0 {
		if len(m.Spacings) >= len(across) {
			m.Spacings = withGaps(m.Spacings, cuts)
		}
		across, over = withGaps(across, cuts), 0
	}
	threads := len(across)
	over = min(max(over, threads), 2*threads)
	if threads < over && over < 2*threads {
		across = slices.Concat(across, across[:over-threads])
	}
	finder := finders.Get().(*runFinder)
	defer finders.Put(finder)
	finder.begin(rulerOf(m, threads, over), len(across), cuts)
	var best [2]run
	for base, words := range c.blocks(s) {
		lanes := min(64, len(s.first)-base)
		finder.load(across, words, lanes)
		if lane := int(out) - base; lane >= 0 && lane < lanes {
			finder.skip(lane)
		}
		for side := range best {
			found := finder.longest()
			found.lane += base
			if found.length > best[side].length {
				best[side] = found
			}
			if found.length > finder.ruler.limit {
				sides[side].Over += finder.countOver(s.count[base : base+lanes])
			}
			finder.invert()
		}
	}
	for side, found := range best {
		if found.length > 0 {
			sides[side].set(s, found, finder)
		}
	}
	return sides
}

// withGaps puts a copy of the thread before it after each cut.
func withGaps[T any](threads []T, cuts []int) []T {
	out := make([]T, 0, len(threads)+len(cuts))
	from := 0
	for _, cut := range cuts {
		out = append(append(out, threads[from:cut]...), threads[cut-1])
		from = cut
	}
	return append(out, threads[from:]...)
}

// set fills in a float from a run.
func (f *Float) set(s *system, found run, finder *runFinder) {
	f.Threads = found.to - found.from
	f.Length = finder.ruler.millimetres(found.from, found.to)
	f.Thread = int(s.first[found.lane]) + 1
	before, _ := slices.BinarySearch(finder.gaps, found.from)
	f.From = (found.from-before)%len(s.across.class) + 1
}

// ruler measures stretches of threads, in threads or nanometres. These are whole
// numbers, so that equal lengths are equal.
type ruler struct {
	marks  []int64 // the edges of the threads in nanometres; nil to measure in threads
	length int     // threads
	limit  int64
	unit   float64 // millimetres a thread; 0 unknown
	uneven []int64 // the edges, if threads are unevenly spaced
}

const (
	nanometres = 1e6 // in a millimetre
	// grace is how far a float may exceed its limit, in nanometres. Rounding the
	// spacings in a file adds less.
	grace      = 10_000
	maxSpacing = 1e5 // millimetres; larger spacings count as this
)

// rulerOf returns a ruler of a length in threads, for so many threads that repeat.
func rulerOf(m Measure, threads, length int) ruler {
	r := ruler{length: length, limit: math.MaxInt64}
	spacing, even := m.spacing(threads)
	if !even {
		r.uneven = make([]int64, length+1)
		for i := range length {
			nm := max(1, math.Round(validSpacing(m.Spacings[i%threads])*nanometres))
			r.uneven[i+1] = r.uneven[i] + int64(nm)
		}
	}
	if !even && m.LimitThreads == 0 {
		r.marks = r.uneven
		if m.LimitMM > 0 {
			r.limit = int64(min(m.LimitMM*nanometres, math.MaxInt64/2)) + grace
		}
		return r
	}
	r.unit = spacing
	switch {
	case m.LimitThreads > 0:
		r.limit = int64(m.LimitThreads)
	case m.LimitMM > 0 && spacing > 0:
		r.limit = int64(max(1, min((m.LimitMM+grace/nanometres)/spacing*(1+1e-9), math.MaxInt64/2)))
	}
	return r
}

// spacing returns the spacing of all threads, 0 if it is unknown; even is false if the
// threads have different spacings.
func (m Measure) spacing(threads int) (mm float64, even bool) {
	if m.Spacings == nil {
		return validSpacing(m.Spacing), true
	}
	if len(m.Spacings) < threads {
		return 0, true
	}
	even = true
	for _, v := range m.Spacings[:threads] {
		if validSpacing(v) == 0 {
			return 0, true
		}
		even = even && v == m.Spacings[0]
	}
	return validSpacing(m.Spacings[0]), even
}

// validSpacing limits a spacing, and returns 0 for an invalid one.
func validSpacing(mm float64) float64 {
	if mm > 0 {
		return min(mm, maxSpacing)
	}
	return 0
}

// millimetres returns the length of a stretch, 0 if the spacing is unknown.
func (r *ruler) millimetres(from, to int) float64 {
	if r.uneven != nil {
		return float64(r.uneven[to]-r.uneven[from]) / nanometres
	}
	return float64(to-from) * r.unit
}
