package diagram

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
	"fettle/schema/measure"
)

// anyLifts generates a draft with more picks than fit in a column, by treadles or a lift plan.
func anyLifts(t *rapid.T) (d *schema.Draft, lifts *schema.Rows) {
	d = &schema.Draft{Threading: schema.Singles(1)}
	d.Palette = []schema.Color{schema.RGB(200, 30, 30), schema.RGB(20, 30, 30)}
	lifts = &d.Treadling
	if rapid.Bool().Draw(t, "lift plan") {
		lifts = &d.LiftPlan
	}
	columns := rapid.Int32Range(1, 24).Draw(t, "columns")
	for range rapid.IntRange(60, 400).Draw(t, "picks") {
		lifts.Append(rapid.Int32Range(1, columns).Draw(t, "column"))
		d.Weft.Colors = append(d.Weft.Colors, rapid.Int32Range(1, 2).Draw(t, "color"))
	}
	return d, lifts
}

// TestTreadlingInColumns reads a treadling in columns back from its cells. Each pick is in one
// column, no text overlaps another, all is on the paper, and no column is on two pages.
func TestTreadlingInColumns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, lifts := anyLifts(t)
		o := Options{Parts: PartTreadling, Whole: true, Large: rapid.Bool().Draw(t, "large"), FitPage: rapid.Bool().Draw(t, "fit page"),
			Pick1: Edge(rapid.IntRange(0, 1).Draw(t, "pick 1")), Every: rapid.IntRange(0, 7).Draw(t, "every"),
			Page: rapid.SampledFrom([]Page{A4, Letter, A3}).Draw(t, "page")}
		if !o.FitPage && rapid.Bool().Draw(t, "cell given") {
			o.Cell = measure.Length(rapid.IntRange(2, 9).Draw(t, "cell"))
		}
		l := layoutOf(t, d, o)
		l, s, err := paginate(l)
		if err != nil || len(l.stacked) == 0 {
			t.Skip(err)
		}
		next := 1
		r := &recorded{faces: l.faces}
		for _, view := range s.views {
			if float64(view.w)*l.mm > s.width+1e-9 || float64(view.h)*l.mm > s.height-s.top+1e-9 || s.left < 0 {
				t.Fatalf("%v is larger than the page", view)
			}
			l.draw(r, view)
			first, last := l.threadsOn(view)
			if first != next || last < first {
				t.Fatalf("picks %d to %d after %d", first, last, next-1)
			}
			next = last + 1
		}
		if next != d.Picks()+1 {
			t.Fatalf("the pages have picks up to %d", next-1)
		}
		filled := map[[2]int]bool{}
		for at, c := range r.filled() {
			filled[at] = c.color == ink()
		}
		for _, column := range l.stacked {
			for pick := column.firstPick; pick < column.firstPick+column.picks; pick++ {
				for n := 1; n <= column.treadles; n++ {
					x, y := column.x+column.lifts.columnX(n), column.y+column.pickY(column.lifts, pick)
					if want := slices.Contains(lifts.Row(pick), int32(n)); filled[[2]int{x, y}] != want {
						t.Fatalf("pick %d, column %d: %v", pick, n, !want)
					}
				}
			}
		}
		for i, a := range r.texts {
			if a.x < 0 || a.y < 0 || a.x+a.w > float64(l.width) || a.y+a.h > float64(l.height) {
				t.Fatalf("the text %q is truncated: %+v of %d by %d", a.words, a, l.width, l.height)
			}
			for _, b := range r.texts[:i] {
				if a.x < b.x+b.w && b.x < a.x+a.w && a.y < b.y+b.h && b.y < a.y+a.h {
					t.Fatalf("the texts %q and %q overlap: %+v %+v, cells of %v mm", b.words, a.words, b, a, l.mm)
				}
			}
		}
	})
}

// A treadling has several columns on a page only if one would have small cells.
func TestWhenTreadlingHasColumns(t *testing.T) {
	for _, c := range []struct {
		name    string
		picks   int
		o       Options
		columns int
		pages   int
	}{
		{"short", 60, Options{}, 0, 1},
		{"long", 240, Options{}, 5, 1},
		{"very long", 1500, Options{}, 27, 5},
		{"with the cloth", 240, Options{Parts: PartTreadling | PartCloth}, 0, 2},
		{"given cells", 240, Options{Cell: 10}, 12, 4},
	} {
		c.o.Parts |= PartTreadling
		c.o.Whole = true
		d := twillOf(4)
		d.Treadling = schema.Rows{}
		for i := range c.picks {
			d.Treadling.Append(int32(i%4 + 1))
		}
		l, err := newLayout(d, c.o, 0)
		if err != nil {
			t.Fatal(err)
		}
		l, s, err := paginate(l)
		if err != nil || len(l.stacked) != c.columns || len(s.views) != c.pages {
			t.Errorf("%s: %d columns on %d pages, want %d on %d: %v", c.name, len(l.stacked), len(s.views), c.columns, c.pages, err)
		}
	}
}
