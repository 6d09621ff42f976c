package diagram

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
	"fettle/schema/measure"
)

// anyThreading generates a draft with more ends than fit on a line.
func anyThreading(t *rapid.T) *schema.Draft {
	d := &schema.Draft{LiftPlan: schema.Singles(1)}
	d.Palette = []schema.Color{schema.RGB(200, 30, 30), schema.RGB(20, 30, 30)}
	shafts := rapid.Int32Range(1, 24).Draw(t, "shafts")
	for range rapid.IntRange(60, 400).Draw(t, "ends") {
		d.Threading.Append(rapid.Int32Range(1, shafts).Draw(t, "shaft"))
		d.Warp.Colors = append(d.Warp.Colors, rapid.Int32Range(1, 2).Draw(t, "color"))
	}
	return d
}

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

// stripsOnPages lays out a drawing on pages. Each of its threads is in one line or column, no
// text overlaps another, all is on the paper, and no line or column is on two pages. It returns
// the cells that are filled.
func stripsOnPages(t *rapid.T, d *schema.Draft, o Options, threads int) (*layout, map[[2]int]bool) {
	o.Whole, o.Large, o.FitPage = true, rapid.Bool().Draw(t, "large"), rapid.Bool().Draw(t, "fit page")
	o.Every, o.Page = rapid.IntRange(0, 7).Draw(t, "every"), rapid.SampledFrom([]Page{A4, Letter, A3}).Draw(t, "page")
	if !o.FitPage && rapid.Bool().Draw(t, "cell given") {
		o.Cell = measure.Length(rapid.IntRange(2, 9).Draw(t, "cell"))
	}
	l := layoutOf(t, d, o)
	l, s, err := paginate(l)
	if err != nil || len(l.stacked) == 0 {
		t.Skip("no strips: the drawing fits in one, or in none with cells of that size: ", err)
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
			t.Fatalf("threads %d to %d after %d", first, last, next-1)
		}
		next = last + 1
	}
	if next != threads+1 {
		t.Fatalf("the pages have threads up to %d", next-1)
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
	filled := map[[2]int]bool{}
	for at, c := range r.filled() {
		filled[at] = c.color == ink()
	}
	return l, filled
}

// TestThreadingInLines reads a threading in lines back from its cells.
func TestThreadingInLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyThreading(t)
		l, filled := stripsOnPages(t, d, Options{Parts: PartThreading, End1: Side(rapid.IntRange(0, 1).Draw(t, "end 1")), Back: rapid.Bool().Draw(t, "back"),
			Sley: rapid.SliceOfN(rapid.IntRange(0, 3), 0, 3).Draw(t, "sley")}, d.Ends())
		for _, line := range l.stacked {
			for end := line.firstEnd; end <= line.lastEnd(); end++ {
				for shaft := 1; shaft <= line.shafts; shaft++ {
					x, y := line.x+line.endX(line.threading, end), line.y+line.threading.shaftY(shaft)
					if want := slices.Contains(d.Threading.Row(end), int32(shaft)); filled[[2]int{x, y}] != want {
						t.Fatalf("end %d on shaft %d: %v", end, shaft, !want)
					}
				}
			}
		}
	})
}

// TestTreadlingInColumns reads a treadling in columns back from its cells.
func TestTreadlingInColumns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, lifts := anyLifts(t)
		l, filled := stripsOnPages(t, d, Options{Parts: PartTreadling, Pick1: Edge(rapid.IntRange(0, 1).Draw(t, "pick 1"))}, d.Picks())
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
	})
}

// A threading has several lines on a page only if one line would have small cells.
func TestWhenThreadingHasLines(t *testing.T) {
	for _, c := range []struct {
		name    string
		threads int
		o       Options
		lines   int
		pages   int
	}{
		{"short", 60, Options{}, 0, 1},
		{"wide", 200, Options{}, 6, 1},
		{"very wide", 700, Options{}, 7, 1},
		{"with the cloth", 200, Options{Parts: PartThreading | PartCloth}, 0, 4},
		{"large type", 200, Options{Large: true}, 10, 3},
		{"given cells", 200, Options{Cell: 10}, 13, 4},
		{"scaled to the page", 700, Options{FitPage: true}, 7, 1},
	} {
		c.o.Parts |= PartThreading
		c.o.Whole = true
		l, err := newLayout(twillOf(c.threads), c.o, 0)
		if err != nil {
			t.Fatal(err)
		}
		l, s, err := paginate(l)
		if err != nil || len(l.stacked) != c.lines || len(s.views) != c.pages {
			t.Errorf("%s: %d lines on %d pages, want %d on %d: %v", c.name, len(l.stacked), len(s.views), c.lines, c.pages, err)
		}
	}
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
