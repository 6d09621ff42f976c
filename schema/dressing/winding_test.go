package dressing

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

func mainBouts(f *Figures) []Bout { return f.Bouts(&f.Warps()[0]) }

func TestBouts(t *testing.T) {
	type ft [2]int
	for _, row := range []struct {
		name       string
		ends, bout int
		want       []ft
	}{
		{"even", 8, 2, []ft{{1, 2}, {3, 4}, {5, 6}, {7, 8}}},
		{"each half divided evenly", 132, 60, []ft{{1, 33}, {34, 66}, {67, 99}, {100, 132}}},
		{"the odd end in the second half", 7, 3, []ft{{1, 3}, {4, 5}, {6, 7}}},
		{"larger than a half", 8, 60, []ft{{1, 4}, {5, 8}}},
		{"unstated", 8, 0, []ft{{1, 4}, {5, 8}}},
		{"one end", 1, 5, []ft{{1, 1}}},
		{"no ends", 0, 5, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := straight(row.ends, 4), &schema.Setup{Project: schema.Project{Bout: row.bout}}
			var got []ft
			for _, b := range mainBouts(Of(d, s)) {
				got = append(got, ft{b.From, b.To})
			}
			if !slices.Equal(got, row.want) {
				t.Errorf("%v, want %v", got, row.want)
			}
		})
	}
}

// Stripes of 24 ends in bouts of about 50: an edge moves by at most a tenth of a bout.
func TestBoutsEndAtStripes(t *testing.T) {
	for _, row := range []struct {
		stripe, ends, bout int
		want               []int // the last end of each bout
	}{
		{24, 192, 50, []int{48, 96, 144, 192}},
		{26, 208, 60, []int{52, 104, 156, 208}},
		{23, 184, 50, []int{46, 92, 138, 184}},
		{25, 200, 40, []int{33, 66, 100, 133, 166, 200}}, // 33 is 8 ends from the edge of a stripe
		{28, 240, 60, []int{56, 120, 180, 240}},          // 60 moves by 4; 120 is 8 from 112, and 180 is 12 from 168
		{1, 200, 50, []int{50, 100, 150, 200}},
	} {
		d := straight(row.ends, 4)
		for end := range row.ends {
			d.Warp.Colors = append(d.Warp.Colors, int32(end/row.stripe%2+1))
		}
		var got []int
		for _, b := range mainBouts(Of(d, &schema.Setup{Project: schema.Project{Bout: row.bout}})) {
			got = append(got, b.To)
		}
		if !slices.Equal(got, row.want) {
			t.Errorf("stripes of %d: bouts end at %v, want %v", row.stripe, got, row.want)
		}
	}
}

func TestBoutsPartitionTheWarp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := anyDraft(t), anySetup(t)
		w := warpOf(t, d, s)
		next := 1
		bouts := mainBouts(Of(d, s))
		for _, b := range bouts {
			if b.From != next || b.Ends != b.To-b.From+1 || b.Ends < 1 {
				t.Fatalf("bout %+v where end %d is next", b, next)
			}
			if s.Project.Bout > 0 && 5*b.Ends > 6*s.Project.Bout {
				t.Fatalf("bout of %d ends", b.Ends)
			}
			for _, other := range bouts {
				if (other.To <= w.All/2) == (b.To <= w.All/2) && 2*b.Ends < other.Ends {
					t.Fatalf("bouts of %d and %d ends in one half", b.Ends, other.Ends)
				}
			}
			if b.From <= w.All/2 && b.To > w.All/2 {
				t.Fatalf("bout %+v runs across the centre of %d", b, w.All)
			}
			checkRuns(t, d, w, b)
			next = b.To + 1
		}
		if next != w.All+1 {
			t.Fatalf("bouts end before end %d of %d", next, w.All)
		}
	})
}

// checkRuns checks that a bout's colors, written out, are those of the ends.
func checkRuns(t *rapid.T, d *schema.Draft, w Warp, b Bout) {
	end, before := b.From, -1
	for _, run := range b.Colors {
		if run.Color == before || run.Ends < 1 {
			t.Fatalf("runs are not folded: %v", b.Colors)
		}
		before = run.Color
		for range run.Ends {
			if d.Warp.ColorOf(w.DraftEnd(end)) != run.Color {
				t.Fatalf("end %d is not of color %d", end, run.Color)
			}
			end++
		}
	}
	if end != b.To+1 {
		t.Fatalf("colors of %+v end at %d", b, end)
	}
}

func TestHex(t *testing.T) {
	d := &schema.Draft{Palette: []schema.Color{schema.RGB(242, 234, 216), {}}}
	for color, want := range map[int]string{-1: "", 0: "", 1: "#f2ead8", 2: "", 3: ""} {
		if got := Of(d, &schema.Setup{}).Hex(color); got != want {
			t.Errorf("color %d is %q, want %q", color, got, want)
		}
	}
}
