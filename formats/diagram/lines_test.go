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

// TestThreadingInLines reads a threading in lines back from its cells. Each end is in one
// line, no text overlaps another, all is on the paper, and no line is on two pages.
func TestThreadingInLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyThreading(t)
		o := Options{Parts: PartThreading, Whole: true, Large: rapid.Bool().Draw(t, "large"), FitPage: rapid.Bool().Draw(t, "fit page"),
			End1: Side(rapid.IntRange(0, 1).Draw(t, "end 1")), Back: rapid.Bool().Draw(t, "back"), Every: rapid.IntRange(0, 7).Draw(t, "every"),
			Sley: rapid.SliceOfN(rapid.IntRange(0, 3), 0, 3).Draw(t, "sley"), Page: rapid.SampledFrom([]Page{A4, Letter, A3}).Draw(t, "page")}
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
			if float64(view.w)*l.mm > s.width+1e-9 || float64(view.h)*l.mm > s.height-s.top+1e-9 {
				t.Fatalf("%v is larger than the page", view)
			}
			l.draw(r, view)
			first, last := l.threadsOn(view)
			if first != next || last < first {
				t.Fatalf("ends %d to %d after %d", first, last, next-1)
			}
			next = last + 1
		}
		if next != d.Ends()+1 {
			t.Fatalf("the pages have ends up to %d", next-1)
		}
		filled := map[[2]int]bool{}
		for at, c := range r.filled() {
			filled[at] = c.color == ink()
		}
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
