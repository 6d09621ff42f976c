package dressing

import (
	"testing"

	"fettle/schema"
	"fettle/schema/measure"
)

// The manual of settings defines the rules of the choice; they are not published
// elsewhere.
func TestReed(t *testing.T) {
	reed := func(name string, dents, width float64) schema.Reed {
		return schema.Reed{Name: name, Dents: perInch(dents), Width: measure.Length(25.4 * width)}
	}
	ten, twelve, eight := reed("ten", 10, 40), reed("twelve", 12, 40), reed("eight", 8, 40)
	for _, row := range []struct {
		name  string
		reeds []schema.Reed
		named bool
		ends  int
		sett  float64
		want  string
		why   ReedReason
	}{
		{"none", nil, false, 480, 24, "", OnlyReed},
		{"one", []schema.Reed{ten}, false, 480, 24, "ten", OnlyReed},
		{"named", []schema.Reed{ten, twelve}, true, 480, 24, "ten", NamedReed},
		{"2 in the 12, not 3-2-3-2-2 in the 10", []schema.Reed{ten, twelve}, false, 480, 24, "twelve", ExactReed},
		{"2 in the 12 before 3 in the 8", []schema.Reed{eight, twelve}, false, 480, 24, "twelve", ExactReed},
		{"3 in the 8 before 1 in the 24", []schema.Reed{reed("twenty-four", 24, 40), eight}, false, 480, 24, "twenty-four", ExactReed},
		{"too narrow", []schema.Reed{reed("narrow", 12, 10), ten}, false, 480, 24, "ten", ExactReed},
		{"just as wide", []schema.Reed{ten, reed("narrow", 12, 20)}, false, 480, 24, "narrow", ExactReed},
		{"of unknown width", []schema.Reed{ten, reed("unknown", 12, 0)}, false, 480, 24, "unknown", ExactReed},
		{"five in a dent", []schema.Reed{reed("five", 5, 40), ten}, false, 480, 25, "ten", ExactReed},
		{"skipped dents", []schema.Reed{reed("sixteen", 16, 80), reed("seven", 7, 80)}, false, 480, 8, "seven", ExactReed},
		{"none exact", []schema.Reed{ten, twelve}, false, 100, 11.05, "ten", NearestReed},
		{"all too narrow", []schema.Reed{reed("a", 10, 5), reed("b", 12, 5)}, false, 480, 24, "a", TooShortReed},
		{"all crowded", []schema.Reed{reed("a", 4, 50), reed("b", 5, 50)}, false, 480, 40, "a", CrowdedReed},
		{"sett unknown", []schema.Reed{ten, twelve}, false, 480, 0, "ten", FirstReed},
		{"dents unknown", []schema.Reed{{Name: "blank"}, twelve}, false, 480, 24, "twelve", ExactReed},
		{"two alike", []schema.Reed{reed("a", 12, 40), reed("b", 12, 40)}, false, 480, 24, "a", ExactReed},
	} {
		t.Run(row.name, func(t *testing.T) {
			f := Of(straight(row.ends, 4), &schema.Setup{Reeds: row.reeds, ReedNamed: row.named, Project: schema.Project{Sett: perInch(row.sett)}})
			got := f.Reed()
			if got.Reed.Name != row.want || got.Why != row.why || got.Owned != len(row.reeds) {
				t.Errorf("%q, %d, of %d", got.Reed.Name, got.Why, got.Owned)
			}
			if order, ok := f.Sleying(); ok && order.Sett() != f.Sleyed() {
				t.Errorf("sleyed %v, the warp has %v", order.Sett(), f.Sleyed())
			}
		})
	}
}

// The number of ends follows from the finished width at the sett of the reed, which must
// be wide enough: 50 cm at 4 dents and 8 ends per cm take 200 dents.
func TestReedForFinishedWidth(t *testing.T) {
	reeds := []schema.Reed{{Name: "narrow", Dents: 4, Width: 490}, {Name: "wide", Dents: 8, Width: 500}}
	f := Of(straight(4, 4), &schema.Setup{Reeds: reeds, Project: schema.Project{Sett: 8, FinishedWidth: 500}})
	if got := f.Reed(); got.Reed.Name != "wide" || got.Why != ExactReed || f.Warp().All != 400 {
		t.Errorf("%q, %d, %d ends", got.Reed.Name, got.Why, f.Warp().All)
	}
}

// Counted by hand: the ends of each half, two in a dent or in the order 1-2 from the
// centre, in reeds of 50 and 51 dents.
func TestEmptyDents(t *testing.T) {
	for _, row := range []struct {
		name        string
		ends        int
		sett, dents float64
		width       float64 // millimetres
		right, left float64
		doesNotFit  bool
	}{
		{"even", 60, 8, 4, 125, 10, 10, false},
		{"an odd end", 61, 8, 4, 125, 10, 9, false},
		{"an odd dent", 60, 8, 4, 127.5, 10, 11, false},
		// Half of 10 ends outward: 2, 1, 2 to end 1, and 1, 2, 1, 1 on the other side.
		{"an uneven order", 10, 6, 4, 125, 22, 21, false},
		{"just fits", 100, 8, 4, 125, 0, 0, false},
		{"too wide", 102, 8, 4, 125, 0, 0, true},
		{"width unknown", 60, 8, 4, 0, 0, 0, true},
	} {
		t.Run(row.name, func(t *testing.T) {
			reed := schema.Reed{Dents: measure.Density(row.dents), Width: measure.Length(row.width)}
			right, left := Of(straight(row.ends, 4), &schema.Setup{Reeds: []schema.Reed{reed}, Project: schema.Project{Sett: measure.Density(row.sett)}}).emptyDents()
			if right.Known == row.doesNotFit || right.Value != row.right || left.Value != row.left {
				t.Errorf("%v and %v", right, left)
			}
		})
	}
}

func TestReedDents(t *testing.T) {
	// A stamp "125/10, 104" means 125 dents in 10 cm and a length of 104 cm.
	dents := func(reeds ...schema.Reed) Figure { return Of(&schema.Draft{}, &schema.Setup{Reeds: reeds}).reedDents() }
	if got := dents(schema.Reed{Dents: 12.5, Width: 1040}); got != (Figure{1300, true}) {
		t.Errorf("%v", got)
	}
	if dents(schema.Reed{Dents: 12.5}).Known || dents(schema.Reed{Width: 1040}).Known || dents().Known {
		t.Error("dents of an unknown reed")
	}
}
