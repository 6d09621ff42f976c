package diagram_test

import (
	"testing"

	"pgregory.net/rapid"

	"fettle/formats/diagram"
	"fettle/schema"
)

// TestFit lays out drafts of any size in spaces of any size. A picture never needs more room
// than there is, and shows all that its part says.
func TestFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := &schema.Draft{}
		shafts := rapid.IntRange(1, 40).Draw(t, "shafts")
		ends, picks := rapid.IntRange(1, 400).Draw(t, "ends"), rapid.IntRange(1, 400).Draw(t, "picks")
		for i := range ends {
			d.Threading.Append(int32(i*i%shafts) + 1)
		}
		for i := range picks {
			d.LiftPlan.Append(int32(i*i%shafts) + 1)
		}
		wide, high := rapid.Float64Range(40, 300).Draw(t, "wide"), rapid.Float64Range(40, 400).Draw(t, "high")
		p, err := diagram.Fit(d, diagram.Options{Bare: true}, wide, high)
		if err != nil {
			return // the shafts alone are too wide or too high
		}
		if w, h := p.Size(); w > wide+1e-6 || h > high+1e-6 {
			t.Fatalf("%v x %v mm in a space of %v x %v", w, h, wide, high)
		}
		if whole := p.Ends == ends && p.Picks == picks; p.Ends < 1 || p.Picks < 1 || p.Of == diagram.WholeDraft && !whole {
			t.Fatalf("%d ends and %d picks of %d and %d, part %d", p.Ends, p.Picks, ends, picks, p.Of)
		}
	})
}
