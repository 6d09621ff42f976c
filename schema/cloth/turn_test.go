package cloth_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
	"fettle/schema/cloth"
)

// grid returns the cloth of a draft, one row a pick.
func grid(d *schema.Draft) [][]bool {
	c := cloth.Of(d)
	rows := make([][]bool, c.Picks())
	for p := range rows {
		rows[p] = make([]bool, c.Ends())
		for e := range rows[p] {
			rows[p][e] = c.Up(e+1, p+1)
		}
	}
	return rows
}

// anyDraft generates a draft of any kind: ends on no or several shafts, either shed,
// tie-up or lift plan, several treadles at once.
func anyDraft(t *rapid.T) *schema.Draft {
	shafts, treadles := rapid.IntRange(1, 6).Draw(t, "shafts"), rapid.IntRange(1, 5).Draw(t, "treadles")
	rows := func(name string, n, most, highest int) (out schema.Rows) {
		for range n {
			out.Append(rapid.SliceOfN(rapid.Int32Range(0, int32(highest)), 0, most).Draw(t, name)...)
		}
		return out
	}
	ends, picks := rapid.IntRange(1, 12).Draw(t, "ends"), rapid.IntRange(1, 10).Draw(t, "picks")
	d := &schema.Draft{Shafts: shafts, Shed: rapid.SampledFrom([]schema.Shed{schema.ShedUnstated, schema.Rising, schema.Sinking}).Draw(t, "shed")}
	d.Threading = rows("threading", ends, rapid.IntRange(1, 2).Draw(t, "most shafts"), shafts)
	if rapid.Bool().Draw(t, "planned") {
		d.LiftPlan = rows("lift plan", picks, shafts, shafts)
	} else {
		d.Tieup = rows("tie-up", treadles, shafts, shafts)
		d.Treadling = rows("treadling", picks, rapid.IntRange(1, 3).Draw(t, "at once"), treadles)
		d.Treadles = treadles
	}
	d.Warp.Threads, d.Weft.Threads = ends, picks
	d.Warp.Colors = rapid.SliceOfN(rapid.Int32Range(0, 3), 0, ends).Draw(t, "colors")
	d.Weft.Spacings = rapid.SliceOfN(rapid.Float64Range(0, 3), 0, picks).Draw(t, "spacings")
	d.Warp.Color, d.Weft.Spacing = 1, 2
	return d
}

// TestTurned checks the quarter turn crossing by crossing and thread by thread, and that
// two are half a turn.
func TestTurned(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDraft(t)
		turned, _, err := cloth.Turned(d)
		if err != nil {
			t.Fatal(err)
		}
		ends, picks := d.Ends(), d.Picks()
		if turned.Ends() != picks || turned.Picks() != ends {
			t.Fatalf("%d × %d turned is %d × %d", ends, picks, turned.Ends(), turned.Picks())
		}
		was, is := cloth.Of(d), cloth.Of(turned)
		for e := 1; e <= ends; e++ {
			for p := 1; p <= picks; p++ {
				if was.Up(e, p) == is.Up(picks+1-p, e) {
					t.Fatalf("end %d, pick %d: warp up %v in both", e, p, was.Up(e, p))
				}
				if d.Warp.ColorOf(e) != turned.Weft.ColorOf(e) || d.Weft.SpacingOf(p) != turned.Warp.SpacingOf(picks+1-p) {
					t.Fatal("colors or spacings weren't exchanged")
				}
			}
		}
		again, _, err := cloth.Turned(turned)
		if err != nil {
			t.Fatal(err)
		}
		half := grid(d)
		slices.Reverse(half)
		for _, row := range half {
			slices.Reverse(row)
		}
		if !slices.EqualFunc(half, grid(again), slices.Equal) {
			t.Fatal("two turns aren't half a turn")
		}
	})
}

func TestFaceDown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDraft(t)
		down, _, err := cloth.FaceDown(d)
		if err != nil {
			t.Fatal(err)
		}
		want := grid(d)
		for _, row := range want {
			slices.Reverse(row)
			for i := range row {
				row[i] = !row[i]
			}
		}
		if !slices.EqualFunc(want, grid(down), slices.Equal) {
			t.Fatal("this isn't the other side of the cloth")
		}
		if cloth.Of(d).Keys()[cloth.TurnedOver] != cloth.Of(down).Keys()[0] {
			t.Fatal("the key of the cloth turned over differs")
		}
		for e := 1; e <= d.Ends(); e++ {
			if d.Warp.ColorOf(e) != down.Warp.ColorOf(d.Ends()+1-e) {
				t.Fatal("the colors weren't reversed")
			}
		}
	})
}

func TestLiftRest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDraft(t)
		rest, err := cloth.LiftRest(d)
		several := false
		for end := 1; end <= d.Ends(); end++ {
			several = several || len(d.Threading.Row(end)) > 1
		}
		if (err != nil) != several {
			t.Fatalf("ends on several shafts %v, error %v", several, err)
		}
		if err != nil {
			return
		}
		if !rest.Threading.Equal(d.Threading) || rest.Shed != d.Shed {
			t.Fatal("the threading or the shed changed")
		}
		was, is := grid(d), grid(rest)
		for p := range was {
			for e := range was[p] {
				if len(d.Threading.Row(e+1)) > 0 && was[p][e] == is[p][e] {
					t.Fatalf("end %d, pick %d didn't change", e+1, p+1)
				}
			}
		}
	})
}

// TestTurnedCarries checks what a turn keeps and what it lists as lost.
func TestTurnedCarries(t *testing.T) {
	d := &schema.Draft{Notes: []string{"a note"}, Threading: schema.Singles(1, 2), Tieup: schema.RowsOf([]int32{1}, []int32{2}), Treadling: schema.Singles(1, 2)}
	d.Settings = []schema.Setting{{Section: "project", Key: "sett", Value: "8/cm"}, {Section: "project", Key: "hem", Value: "3 cm"}}
	d.Carried.Sections = []schema.TextSection{{Name: "WARP SYMBOLS"}, {Name: "PRIVATE a"}, {Name: schema.WholeWork}}
	d.Carried.Values = []schema.Setting{{Section: "WEFT", Key: "Symbol", Value: "x"}, {Section: "TEXT", Key: "More", Value: "y"}}
	turned, lost, err := cloth.Turned(d)
	if err != nil {
		t.Fatal(err)
	}
	if len(lost) != 4 || len(turned.Carried.Sections) != 1 || len(turned.Carried.Values) != 1 || len(turned.Notes) != 1 {
		t.Errorf("lost %q, carried %v", lost, turned.Carried)
	}
	if !slices.Equal(turned.Settings, []schema.Setting{{Section: "project", Key: "picks", Value: "8/cm"}}) {
		t.Errorf("settings %v", turned.Settings)
	}
	if len(d.Carried.Sections) != 3 || len(d.Settings) != 2 {
		t.Error("the draft itself changed")
	}
}
