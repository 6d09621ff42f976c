package diagram

import (
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema/measure"
)

// TestEdgeNumbers checks the sheets of any drawing. The numbers that a sheet repeats are
// outside its part of the drawing, on the paper, and don't overlap. Each thread that has a
// number in the drawing, and whose cell is whole on the sheet, has one there too.
func TestEdgeNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := anyOptions(t)
		o.Cell = measure.Length(rapid.Float64Range(2, 9).Draw(t, "large cell"))
		l := layoutOf(t, anyDraft(t), o)
		s := l.tiles(rapid.Float64Range(100, 200).Draw(t, "paper, wide"), rapid.Float64Range(100, 200).Draw(t, "paper, high"))
		if len(s.views) == 1 {
			return
		}
		for _, view := range s.views {
			r := &recorded{faces: l.faces}
			edge := l.edgeNumbers(view)
			for _, n := range edge {
				r.text(n)
			}
			for i, a := range r.texts {
				if x, y := float64(view.x), float64(view.y); a.x+a.w > x && a.x < float64(view.right()) && a.y+a.h > y && a.y < float64(view.bottom()) {
					t.Fatalf("%q is inside its sheet %v: %+v", a.words, view, a)
				}
				if left, top := s.left+(a.x-float64(view.x))*l.mm, s.top+(a.y-float64(view.y))*l.mm; left < 1 || left+a.w*l.mm > s.width-1 || top < pageMargin || top+a.h*l.mm > s.height {
					t.Fatalf("%q is off the paper: %v by %v mm", a.words, left, top)
				}
				for _, b := range r.texts[:i] {
					if a.x < b.x+b.w && b.x < a.x+a.w && a.y < b.y+b.h && b.y < a.y+a.h {
						t.Fatalf("%q and %q overlap: %+v %+v, cells of %v mm", b.words, a.words, b, a, l.mm)
					}
				}
			}
			for _, n := range l.numberings() {
				if n.empty() || n.along.intersect(view).empty() {
					continue
				}
				l.eachNumbered(n, func(i int) {
					own := n.at(i, l.numberMM(n.block)/l.mm)
					own.size, own.words = l.numberMM(n.block)/l.mm, strconv.Itoa(i)
					shown := l.whole(own, n.across, view)
					for _, e := range edge {
						shown = shown || e.words == own.words && (n.across && e.x == own.x || !n.across && e.anchor == own.anchor)
					}
					seen := own.x > float64(view.x) && own.x < float64(view.right())
					if !n.across {
						at := n.at(i, l.numberType()/l.mm) // a smaller number is nearer to its row
						seen = at.y-0.72*l.numberType()/l.mm > float64(view.y) && at.y < float64(view.bottom())
					}
					if seen && !shown {
						t.Fatalf("number %d isn't on sheet %v", i, view)
					}
				})
			}
		}
	})
}

// A draft that is a little wider than its sheets has smaller cells, not a sheet with a sliver.
func TestNoSlivers(t *testing.T) {
	d := twillOf(125)
	l, err := newLayout(d, Options{Whole: true, Page: A4}, 0)
	if err != nil {
		t.Fatal(err)
	}
	l.scale(l.options.tiledCell())
	usual := min(len(l.tiles(210, 297).views), len(l.tiles(297, 210).views))
	if best := l.fewestTiles(); len(best.views) >= usual || l.mm < 0.8*l.options.tiledCell() {
		t.Errorf("%d sheets of cells of %v mm, %d with the usual ones", len(best.views), l.mm, usual)
	}
}
