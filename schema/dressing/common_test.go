package dressing

import (
	"fmt"
	"math"

	"pgregory.net/rapid"

	"fettle/schema"
	"fettle/schema/measure"
)

const inch = 25.4

// near reports whether two numbers agree to a fraction of the second.
func near(got, want, fraction float64) bool {
	return math.Abs(got-want) <= fraction*math.Max(math.Abs(want), 1e-12)
}

// perInch returns a density per inch.
func perInch(n float64) measure.Density { return measure.Density(n / 2.54) }

func yards(n float64) measure.Length { return measure.Length(n * 914.4) }

func inches(n float64) measure.Length { return measure.Length(n * inch) }

// straight returns a draft with n ends in a straight draw.
func straight(ends, shafts int) *schema.Draft {
	d := &schema.Draft{}
	for i := range ends {
		d.Threading.Append(int32(i%shafts + 1))
	}
	return d
}

// threaded returns a draft with each end on the given shaft.
func threaded(shafts ...int32) *schema.Draft {
	return &schema.Draft{Threading: schema.Singles(shafts...)}
}

// grist reads a yarn size that must be valid.
func grist(t rapid.TB, s string) measure.Grist {
	t.Helper()
	g, err := measure.ParseGrist(s)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// warpOf returns the warp of figures that must have one.
func warpOf(t rapid.TB, d *schema.Draft, s *schema.Setup) Warp {
	t.Helper()
	f := Of(d, s)
	if many, refused := f.TooManyEnds(); refused {
		t.Fatal(many)
	}
	return f.Warp()
}

// kindNames stands in for the words of a plan: it gives the Go types of the problems.
func kindNames(kind any, _ measure.Units) string { return fmt.Sprintf("%T", kind) }

// anyDraft generates a small draft with ends on no, one or several shafts, and with
// colors.
func anyDraft(t *rapid.T) *schema.Draft {
	d := &schema.Draft{Palette: []schema.Color{schema.RGB(1, 2, 3), schema.RGB(4, 5, 6), {}}}
	for range rapid.IntRange(1, 30).Draw(t, "ends") {
		d.Threading.Append(rapid.SliceOfN(rapid.Int32Range(0, 6), 0, 3).Draw(t, "shafts")...)
	}
	for range rapid.IntRange(0, 20).Draw(t, "picks") {
		d.Treadling.Append(rapid.Int32Range(0, 3).Draw(t, "treadle"))
	}
	d.Warp.Threads = rapid.IntRange(0, 35).Draw(t, "declared")
	d.Warp.Colors = rapid.SliceOfN(rapid.Int32Range(0, 4), 0, 30).Draw(t, "warp colors")
	d.Weft.Colors = rapid.SliceOfN(rapid.Int32Range(0, 4), 0, 20).Draw(t, "weft colors")
	d.Weft.Color = rapid.IntRange(0, 2).Draw(t, "weft color")
	return d
}

// anySetup generates a setup for it.
func anySetup(t *rapid.T) *schema.Setup {
	fraction := rapid.Float64Range(0, 0.4)
	length := func(most float64, name string) measure.Length {
		return measure.Length(rapid.Float64Range(0, most).Draw(t, name))
	}
	return &schema.Setup{
		Reeds:   []schema.Reed{{Dents: measure.Density(rapid.Float64Range(1, 8).Draw(t, "dents"))}},
		Heddles: schema.Heddles{Known: true, Each: rapid.IntRange(1, 40).Draw(t, "heddles")},
		Project: schema.Project{
			Sett:           measure.Density(rapid.Float64Range(1, 20).Draw(t, "sett")),
			Picks:          measure.Density(rapid.Float64Range(1, 20).Draw(t, "density of picks")),
			FinishedLength: 100 + length(5000, "finished length"),
			Items:          rapid.IntRange(0, 5).Draw(t, "items"),
			Hem:            length(100, "hem"), Sample: length(300, "sample"),
			Fringe: length(200, "fringe"), LoomWaste: length(900, "loom waste"),
			TakeUp: fraction.Draw(t, "take-up"), ShrinkageWarp: fraction.Draw(t, "shrinkage warp"),
			ShrinkageWeft: fraction.Draw(t, "shrinkage weft"), WeftTakeUp: fraction.Draw(t, "weft take-up"),
			DrawIn:  fraction.Draw(t, "draw-in"),
			Repeats: rapid.IntRange(0, 5).Draw(t, "repeats"), Balance: rapid.IntRange(0, 40).Draw(t, "balance"),
			Bout: rapid.IntRange(0, 50).Draw(t, "bout"),
		},
	}
}
