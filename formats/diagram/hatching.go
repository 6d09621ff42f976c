package diagram

// stroke is a line from (x1, y1) to (x2, y2), in cells from the top left of the drawing.
type stroke struct{ x1, y1, x2, y2 float64 }

// hatchings is how many different patterns there are, with plain color as the first.
const hatchings = 7

// hatching returns the strokes of a pattern within a rectangle. kind counts from 0, for plain
// color; a kind beyond the last pattern repeats the patterns with closer strokes. gap is the
// distance of the strokes.
func hatching(r rect, kind int, gap float64) []stroke {
	if kind >= hatchings {
		kind, gap = 1+(kind-hatchings)%(hatchings-1), gap*0.6
	}
	left, top, right, bottom := float64(r.x), float64(r.y), float64(r.right()), float64(r.bottom())
	var list []stroke
	rising := func() {
		for c := left + top + gap/2; c < right+bottom; c += gap * 1.414 {
			x1, x2 := max(left, c-bottom), min(right, c-top)
			list = append(list, stroke{x1, c - x1, x2, c - x2})
		}
	}
	falling := func() {
		for c := left - bottom + gap/2; c < right-top; c += gap * 1.414 {
			x1, x2 := max(left, c+top), min(right, c+bottom)
			list = append(list, stroke{x1, x1 - c, x2, x2 - c})
		}
	}
	level := func() {
		for y := top + gap/2; y < bottom; y += gap {
			list = append(list, stroke{left, y, right, y})
		}
	}
	upright := func() {
		for x := left + gap/2; x < right; x += gap {
			list = append(list, stroke{x, top, x, bottom})
		}
	}
	switch kind {
	case 1:
		rising()
	case 2:
		falling()
	case 3:
		level()
	case 4:
		upright()
	case 5:
		rising()
		falling()
	case 6:
		level()
		upright()
	}
	return list
}
