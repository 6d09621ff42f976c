package diagram

import (
	"strconv"

	"fettle/schema"
)

// marker draws marks. Their numbers are in two lanes outside the numbers of threads. A number
// without room is left out.
type marker struct {
	*layout
	s     surface
	view  rect
	taken map[spot]bool
}

// spot is a cell of a lane above the ends or beside the picks.
type spot struct {
	system schema.SystemName
	lane   int
	at     int
}

// drawMarks outlines the marked threads in the threading or the lifts and in the cloth.
func (l *layout) drawMarks(s surface, view rect) {
	m := marker{layout: l, s: s, view: view, taken: map[spot]bool{}}
	for _, mark := range l.options.Marks {
		first, last := l.firstEnd, l.lastEnd()
		if mark.System == schema.Weft {
			first, last = l.firstPick, l.firstPick+l.picks-1
		}
		for i := 0; i < len(mark.Threads); {
			from := mark.Threads[i]
			to := from
			for i++; i < len(mark.Threads) && mark.Threads[i] == to+1; i++ {
				to++
			}
			if from <= last && to >= first {
				m.markThreads(mark, max(from, first), min(to, last))
			}
		}
	}
}

// markThreads marks consecutive threads in each block that shows them.
func (m *marker) markThreads(mark Mark, from, to int) {
	blocks, cells := []block{m.threading, m.grid}, m.endCells
	if mark.System == schema.Weft {
		blocks, cells = []block{m.lifts, m.grid}, m.pickCells
	}
	numbered := false
	for _, b := range blocks {
		if b.empty() {
			continue
		}
		strip := cells(b, from, to)
		seen := strip.intersect(m.view)
		if !seen.empty() {
			m.s.lines(frame(seen), outline())
		}
		if !seen.empty() && !numbered {
			m.writeMarkNumber(mark, strip)
		}
		numbered = true
	}
}

// writeMarkNumber writes the number of a mark beside the middle of its strip.
func (m *marker) writeMarkNumber(mark Mark, strip rect) {
	words, size := strconv.Itoa(mark.Number), m.numberType()/m.mm
	wide := m.cells(m.textMM(words, m.numberType())*slack + 0.8)
	x, y := float64(strip.x)+float64(strip.w)/2, m.topNumbers()-1.4/m.mm
	if mark.System == schema.Weft {
		x, y = float64(m.picksRight())+m.numberRoom()/m.mm, float64(strip.y)+float64(strip.h)/2+0.36*size
	}
	at := label{x: x, y: y, size: size, anchor: atMiddle, bold: true, color: signal(), words: words}
	lane, ok := m.findLane(mark.System, int(x), int(y), wide, m.cells(m.numberType()*1.15))
	switch {
	case !ok:
		return
	case mark.System == schema.Weft:
		at.anchor = atStart
		at.x += float64(lane) * (m.numberType() + 0.8) / m.mm
	default:
		at.y -= float64(lane) * (m.numberType() + 0.8) / m.mm
	}
	m.s.text(at)
}

// topNumbers returns the top of the numbers of the ends.
func (m *marker) topNumbers() float64 {
	top := m.warpBar.y
	if !m.sley.empty() {
		top = m.sley.y
	}
	if !m.threading.empty() {
		top = m.threading.y
	}
	return float64(top) - m.numberMM(m.warpOwner())/m.mm
}

// findLane finds a lane with room at a place, and reserves it.
func (m *marker) findLane(system schema.SystemName, x, y, wide, high int) (lane int, ok bool) {
	at, need := x, wide
	if system == schema.Weft {
		at, need = y, high
	}
	for lane := range 2 {
		if m.laneIsFree(system, lane, at-need/2, need) {
			for i := range need {
				m.taken[spot{system, lane, at - need/2 + i}] = true
			}
			return lane, true
		}
	}
	return 0, false
}

func (m *marker) laneIsFree(system schema.SystemName, lane, from, need int) bool {
	for i := range need {
		if m.taken[spot{system, lane, from + i}] {
			return false
		}
	}
	return true
}
