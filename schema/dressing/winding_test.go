package dressing

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

func TestBouts(t *testing.T) {
	type ft [2]int
	for _, row := range []struct {
		name       string
		ends, bout int
		want       []ft
	}{
		{"even", 8, 2, []ft{{1, 2}, {3, 4}, {5, 6}, {7, 8}}},
		{"smaller ones at the edges", 10, 3, []ft{{1, 2}, {3, 5}, {6, 8}, {9, 10}}},
		{"the odd end in the second half", 7, 3, []ft{{1, 3}, {4, 6}, {7, 7}}},
		{"larger than a half", 8, 60, []ft{{1, 4}, {5, 8}}},
		{"unstated", 8, 0, []ft{{1, 4}, {5, 8}}},
		{"one end", 1, 5, []ft{{1, 1}}},
		{"no ends", 0, 5, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := straight(row.ends, 4), &schema.Setup{Project: schema.Project{Bout: row.bout}}
			var got []ft
			for _, b := range Of(d, s).Bouts() {
				got = append(got, ft{b.From, b.To})
			}
			if !slices.Equal(got, row.want) {
				t.Errorf("%v, want %v", got, row.want)
			}
		})
	}
}

func TestBoutsPartitionTheWarp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := anyDraft(t), anySetup(t)
		w := warpOf(t, d, s)
		next := 1
		for _, b := range Of(d, s).Bouts() {
			if b.From != next || b.Ends != b.To-b.From+1 || b.Ends < 1 {
				t.Fatalf("bout %+v where end %d is next", b, next)
			}
			if s.Project.Bout > 0 && b.Ends > s.Project.Bout {
				t.Fatalf("bout of %d ends", b.Ends)
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

// checkRuns unfolds a bout's colors again.
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
