package diagram

import (
	"image/color"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
	"fettle/schema/measure"
)

// anyDraft generates a draft of up to 60 ends and picks, with treadles or a lift plan.
func anyDraft(t *rapid.T) *schema.Draft {
	shafts := rapid.IntRange(1, 12).Draw(t, "shafts")
	row := rapid.SliceOfN(rapid.Int32Range(1, int32(shafts)), 0, 3)
	rows := func(name string, most int) (list schema.Rows) {
		for _, r := range rapid.SliceOfN(row, 1, most).Draw(t, name) {
			list.Append(r...)
		}
		return list
	}
	d := &schema.Draft{Shafts: shafts, Threading: rows("threading", 60)}
	d.Texts.Title = rapid.StringN(0, 120, -1).Draw(t, "title")
	d.Warp.Color, d.Weft.Color = 1, 2
	d.Palette = []schema.Color{schema.RGB(200, 30, 30), {}}
	if rapid.Bool().Draw(t, "planned") {
		d.LiftPlan = rows("lift plan", 60)
	} else {
		d.Tieup, d.Treadling = rows("tie-up", 12), rows("treadling", 60)
	}
	return d
}

func anyOptions(t *rapid.T) Options {
	return Options{
		Show: Show(rapid.IntRange(0, 1).Draw(t, "show")), Back: rapid.Bool().Draw(t, "back"),
		End1: Side(rapid.IntRange(0, 1).Draw(t, "end 1")), Pick1: Edge(rapid.IntRange(0, 1).Draw(t, "pick 1")),
		Repeat: rapid.Bool().Draw(t, "repeat"), Every: rapid.IntRange(0, 9).Draw(t, "every"),
		Floats: rapid.IntRange(0, 5).Draw(t, "floats"), Sley: rapid.SliceOfN(rapid.IntRange(0, 3), 0, 4).Draw(t, "sley"),
		Cell:  measure.Length(rapid.Float64Range(minCellMM, 8).Draw(t, "cell")),
		Marks: []Mark{{schema.Warp, []int{1, 2, 9, 70}, 1}, {schema.Weft, []int{0, 3}, 27}},
		Bare:  rapid.Bool().Draw(t, "bare"), Large: rapid.Bool().Draw(t, "large"),
		Parts: Parts(rapid.SampledFrom([]int{0, 0, 0, 1, 2, 4, 7, 8, 9, 11, 12, 13, 14, 15}).Draw(t, "parts")),
		Scales: Scales{rapid.IntRange(0, 3).Draw(t, "threading"), rapid.IntRange(0, 4).Draw(t, "tie-up"),
			rapid.IntRange(0, 3).Draw(t, "treadling")},
		FirstEnd: rapid.IntRange(0, 3).Draw(t, "first end"), FirstPick: rapid.IntRange(0, 3).Draw(t, "first pick"),
	}
}

// layoutOf lays out a draft, or skips one that lacks a part.
func layoutOf(t *rapid.T, d *schema.Draft, o Options) *layout {
	l, err := newLayout(d, o, 0)
	if err != nil {
		t.Skip(err)
	}
	return l
}

// TestNothingOverlaps checks that blocks and texts don't overlap and are within the
// drawing.
func TestNothingOverlaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := layoutOf(t, anyDraft(t), anyOptions(t))
		var blocks []rect
		for _, b := range []block{l.threading, l.sley, l.warpBar, l.grid, l.weftBar, l.lifts, l.tieup} {
			blocks = append(blocks, b.rect)
		}
		for _, s := range l.swatches {
			blocks = append(blocks, s.at)
		}
		for i, a := range blocks {
			if a.intersect(l.bounds()) != a && !a.empty() {
				t.Fatalf("block %d, %v, isn't within %v", i, a, l.bounds())
			}
			for j, b := range blocks[:i] {
				if !a.empty() && !b.empty() && !a.intersect(b).empty() {
					t.Fatalf("blocks %d and %d overlap: %v, %v", j, i, b, a)
				}
			}
		}
		s := &recorded{faces: l.faces}
		l.draw(s, l.bounds())
		for i, a := range s.texts {
			if a.x < 0 || a.y < 0 || a.x+a.w > float64(l.width) || a.y+a.h > float64(l.height) {
				t.Fatalf("the text %q is truncated: %+v of %d by %d", a.words, a, l.width, l.height)
			}
			for _, b := range s.texts[:i] {
				if a.x < b.x+b.w && b.x < a.x+a.w && a.y < b.y+b.h && b.y < a.y+a.h {
					t.Fatalf("the texts %q and %q overlap: %+v %+v, cells of %v mm", b.words, a.words, b, a, l.mm)
				}
			}
		}
		for _, r := range s.cells {
			if r.intersect(l.bounds()) != r {
				t.Fatalf("cells %v are outside %v", r, l.bounds())
			}
		}
	})
}

// TestTilesMakeUpTheDrawing checks that every cell of the drawing is on a sheet, and looks
// the same on each.
func TestTilesMakeUpTheDrawing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := anyOptions(t)
		o.Cell = measure.Length(rapid.Float64Range(3, 9).Draw(t, "large cell"))
		l := layoutOf(t, anyDraft(t), o)
		s := l.tiles(rapid.Float64Range(60, 200).Draw(t, "paper, wide"), rapid.Float64Range(60, 200).Draw(t, "paper, high"))
		all := &recorded{faces: l.faces}
		l.draw(all, l.bounds())
		want := all.filled()
		got := map[[2]int]run{}
		covered := map[[2]int]bool{}
		for _, view := range s.views {
			if w, h := float64(view.w)*l.mm, float64(view.h)*l.mm; w > s.width-2*pageMargin+1e-9 || h > s.height-2*pageMargin-headingRoom+1e-9 {
				t.Fatalf("a part of %v by %v mm is on a page of %v by %v", w, h, s.width, s.height)
			}
			part := &recorded{faces: l.faces}
			l.draw(part, view)
			for at, r := range part.filled() {
				if at[0] < view.x || at[0] >= view.right() || at[1] < view.y || at[1] >= view.bottom() {
					t.Fatalf("a cell at %v is drawn outside %v", at, view)
				}
				got[at] = r
			}
			for x := view.x; x < view.right(); x++ {
				for y := view.y; y < view.bottom(); y++ {
					covered[[2]int{x, y}] = true
				}
			}
		}
		if len(covered) != l.width*l.height {
			t.Fatalf("%d of %d cells are on a sheet", len(covered), l.width*l.height)
		}
		for at, r := range want {
			if got[at].color != r.color {
				t.Fatalf("cell %v is %v on its sheet, %v in the drawing", at, got[at].color, r.color)
			}
		}
		if len(got) != len(want) {
			t.Fatalf("%d cells are filled on the sheets, %d in the drawing", len(got), len(want))
		}
	})
}

// recorded is a surface that records what is drawn.
type recorded struct {
	faces faces
	cells []rect
	runs  []run
	texts []box

	outlines int
}

// box is the area of a text, up to the height of its capitals.
type box struct {
	x, y, w, h float64
	words      string
}

func (r *recorded) row(y, high int, runs []run) {
	for _, x := range runs {
		r.cells, r.runs = append(r.cells, rect{x.from, y, x.to - x.from, high}), append(r.runs, x)
	}
}

func (r *recorded) strokes([]stroke, pen) {}

func (r *recorded) fill(f rect, c color.RGBA) {
	r.cells, r.runs = append(r.cells, f), append(r.runs, run{f.x, f.right(), c})
}

func (r *recorded) lines(_ []line, p pen) {
	if p == outline() {
		r.outlines++
	}
}

func (r *recorded) text(t label) {
	w := r.faces.width(t.words, t.bold) * t.size
	x := t.x
	switch t.anchor {
	case atMiddle:
		x -= w / 2
	case atEnd:
		x -= w
	}
	r.texts = append(r.texts, box{x, t.y - 0.72*t.size, w, 0.72 * t.size, t.words})
}

// filled returns the final color of each cell.
func (r *recorded) filled() map[[2]int]run {
	m := map[[2]int]run{}
	for i, c := range r.cells {
		for x := c.x; x < c.right(); x++ {
			for y := c.y; y < c.bottom(); y++ {
				m[[2]int{x, y}] = run{color: r.runs[i].color}
			}
		}
	}
	return m
}

func TestDents(t *testing.T) {
	for _, row := range []struct {
		name  string
		ends  int
		order []int
		want  [][2]int
	}{
		{"two a dent, from the centre", 6, []int{2}, [][2]int{{1, 1}, {2, 3}, {4, 5}, {6, 6}}},
		{"2-2-3 continues across the centre", 14, []int{2, 2, 3}, [][2]int{{1, 2}, {3, 4}, {5, 7}, {8, 9}, {10, 11}, {12, 14}}},
		{"an odd warp", 5, []int{1, 2}, [][2]int{{1, 2}, {3, 3}, {4, 5}}},
		{"empty dents", 4, []int{0, 1}, [][2]int{{1, 1}, {2, 2}, {3, 3}, {4, 4}}},
		{"no order", 4, []int{0}, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			d := &schema.Draft{Threading: schema.RowsOf(make([][]int32, row.ends)...), LiftPlan: schema.Singles(1)}
			l, err := newLayout(d, Options{Sley: row.order}, 0)
			if err != nil {
				t.Fatal(err)
			}
			if got := l.dents(); !slices.Equal(got, row.want) {
				t.Errorf("got %v, want %v", got, row.want)
			}
		})
	}
}

func TestNumberStep(t *testing.T) {
	for _, row := range []struct{ need, every, want int }{
		{1, 4, 1}, {2, 4, 4}, {4, 4, 4}, {5, 4, 8}, {9, 4, 20}, {21, 4, 40}, {41, 4, 80}, {3, 5, 5}, {26, 5, 50}, {2, 1, 2}, {3, 1, 5},
	} {
		if got := numberStep(row.need, row.every); got != row.want {
			t.Errorf("numbers %d cells wide, lines every %d: %d, want %d", row.need, row.every, got, row.want)
		}
	}
}

// twillOf returns a 2/2 twill with so many ends and picks and a lift plan.
func twillOf(threads int) *schema.Draft {
	d := &schema.Draft{}
	for i := range int32(threads) {
		d.Threading.Append(i%4 + 1)
		d.LiftPlan.Append(i%4+1, (i+1)%4+1)
	}
	return d
}

func TestLimits(t *testing.T) {
	cloth := func(ends, picks int) *schema.Draft {
		d := &schema.Draft{Threading: schema.Singles(1), LiftPlan: schema.Singles(1)}
		d.Warp.Threads, d.Weft.Threads = ends, picks
		return d
	}
	for _, row := range []struct {
		name  string
		draft *schema.Draft
		o     Options
		says  string
	}{
		{"no picks", &schema.Draft{Threading: schema.Singles(1)}, Options{}, "1 end and 0 picks"},
		{"too many cells", cloth(10_000, 10_000), Options{}, "--repeat"},
		{"too many pixels", cloth(400, 400), Options{Cell: 40}, "--cell"},
		{"too many pages", cloth(4000, 4000), Options{Cell: 4}, "--page"},
		{"too large a page", cloth(300, 10), Options{Cell: 20, Page: OnePage}, "--cell"},
		{"too many floats", twillOf(800), Options{Floats: 1}, "--floats"},
		{"no cell", cloth(2, 2), Options{Cell: 0.01}, "0.1 to 50 mm"},
		{"a cell of NaN", cloth(2, 2), Options{Cell: measure.Length(math.NaN())}, "0.1 to 50 mm"},
		{"no resolution", cloth(2, 2), Options{DPI: 1}, "18 to 2400"},
		{"a count below 0", cloth(2, 2), Options{Floats: -3}, "not -3"},
	} {
		t.Run(row.name, func(t *testing.T) {
			var w strings.Builder
			errs := []string{}
			for _, err := range []error{PNG(&w, row.draft, row.o), PDF(&w, row.draft, row.o)} {
				if err != nil {
					errs = append(errs, err.Error())
				}
			}
			if got := strings.Join(errs, "\n"); !strings.Contains(got, row.says) {
				t.Errorf("%q lacks %q", got, row.says)
			}
		})
	}
}

// TestOutlines counts the floats of a 2/2 twill on eight threads. Each end and each pick has
// two over more than one thread, or one and two halves.
func TestOutlines(t *testing.T) {
	for _, row := range []struct {
		name  string
		draft *schema.Draft
		o     Options
		want  int
	}{
		{"face", twillOf(8), Options{Floats: 1}, 28},
		{"back", twillOf(8), Options{Floats: 1, Back: true}, 28},
		{"no float is so long", twillOf(8), Options{Floats: 2}, 0},
		{"one repeat", twillOf(8), Options{Floats: 1, Repeat: true}, 6},
		{"no outlines", twillOf(8), Options{}, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			l, err := newLayout(row.draft, row.o, 0)
			if err != nil {
				t.Fatal(err)
			}
			s := &recorded{faces: l.faces}
			l.draw(s, l.bounds())
			if s.outlines != row.want {
				t.Errorf("%d outlines, want %d", s.outlines, row.want)
			}
		})
	}
}

func TestSharedEdges(t *testing.T) {
	for _, row := range []struct {
		name     string
		from, to int
		want     []int
	}{
		{"the only sheet", 0, 100, nil},
		{"the first", 0, 40, []int{36}},
		{"one between", 36, 76, []int{40, 72}},
		{"the last", 72, 100, []int{76}},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := sharedEdges(row.from, row.to, 100, 4); !slices.Equal(got, row.want) {
				t.Errorf("got %v, want %v", got, row.want)
			}
		})
	}
}
