package corpus

import (
	"slices"
	"testing"

	"fettle/formats/wif"
	"fettle/schema"

	"pgregory.net/rapid"
)

func drawOptions(t *rapid.T) GenOptions {
	return GenOptions{
		Ends:     rapid.IntRange(0, 90).Draw(t, "ends"),
		Picks:    rapid.IntRange(0, 90).Draw(t, "picks"),
		Shafts:   rapid.IntRange(0, 24).Draw(t, "shafts"),
		Treadles: rapid.IntRange(0, 12).Draw(t, "treadles"),
		Colors:   rapid.IntRange(0, 6).Draw(t, "colors"),
		LiftPlan: rapid.Bool().Draw(t, "lift plan"),
		Sinking:  rapid.Bool().Draw(t, "sinking"),
	}
}

func written(d *schema.Draft) string {
	text, _ := wif.Write(d, wif.Options{LF: true})
	return string(text)
}

func TestGenerateFollowsOptions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed, o := rapid.Uint64().Draw(t, "seed"), drawOptions(t)
		d, full := Generate(seed, o), o.filled()
		if written(d) != written(Generate(seed, o)) {
			t.Fatal("the same seed gives two drafts")
		}
		if d.Ends() != full.Ends || d.Picks() != full.Picks {
			t.Fatalf("%d ends, %d picks, want %d, %d", d.Ends(), d.Picks(), full.Ends, full.Picks)
		}
		if d.HighestShaft() > full.Shafts || d.HighestTreadle() > full.Treadles {
			t.Fatalf("shaft %d, treadle %d, want up to %d, %d", d.HighestShaft(), d.HighestTreadle(), full.Shafts, full.Treadles)
		}
		if (d.LiftPlan.Len() > 0) != o.LiftPlan || (d.Shed == schema.Sinking) != o.Sinking {
			t.Fatal("the wrong kind of draft")
		}
	})
}

func TestGenerateWeaves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawOptions(t)
		full := o.filled()
		o.Picks = max(full.Picks, full.Treadles)
		if o.Ends = full.Ends; o.Ends < full.Shafts {
			o.Ends = full.Shafts
		}
		w := woven(Generate(rapid.Uint64().Draw(t, "seed"), o))
		if ends, picks := w.turned().loose(), w.loose(); len(ends)+len(picks) > 0 {
			t.Fatalf("loose ends %d, loose picks %d", ends, picks)
		}
	})
}

func TestGenerateVaries(t *testing.T) {
	seen := map[string]bool{}
	for seed := range uint64(50) {
		seen[written(Generate(seed, GenOptions{}))] = true
	}
	if len(seen) != 50 {
		t.Errorf("50 seeds give %d drafts", len(seen))
	}
}

// The first picks press every treadle, so each shed appears early.
func TestGenerateBeginsStraight(t *testing.T) {
	d := Generate(1, GenOptions{Shafts: 4, Treadles: 6})
	if got := slices.Concat(allRows(&d.Treadling)[:6]...); !slices.Equal(got, []int32{1, 2, 3, 4, 5, 6}) {
		t.Errorf("the first treadles are %d", got)
	}
}

func BenchmarkGenerate(b *testing.B) {
	for b.Loop() {
		Generate(1, GenOptions{Ends: 2000, Picks: 4000, Shafts: 24, LiftPlan: true})
	}
}
