package schema

import (
	"encoding/json"
	"slices"
	"testing"
)

func TestThreads(t *testing.T) {
	d := &Draft{Threading: Singles(1, 2, 3), Treadling: Singles(1, 2), LiftPlan: RowsOf([]int32{9}),
		Tieup: RowsOf([]int32{1, 4}, nil, nil)}
	d.Warp.Threads, d.Weft.Threads = 2, 5
	for name, got := range map[string][2]int{
		"ends: the threading lists more": {d.Ends(), 3},
		"picks: more are declared":       {d.Picks(), 5},
		"highest shaft":                  {d.HighestShaft(), 9},
		"highest treadle":                {d.HighestTreadle(), 3},
	} {
		if got[0] != got[1] {
			t.Errorf("%s: %d, want %d", name, got[0], got[1])
		}
	}
}

func TestSpacing(t *testing.T) {
	for _, test := range []struct {
		name    string
		system  System
		threads int
		mm      float64
		even    bool
	}{
		{"unstated", System{}, 4, 0, true},
		{"in centimetres", System{Unit: Centimetres, Spacing: 0.25}, 4, 2.5, true},
		{"in inches", System{Unit: Inches, Spacing: 0.1}, 4, 2.54, true},
		{"a decipoint is 1/720 inch", System{Spacing: 72}, 4, 2.54, true},
		{"uneven", System{Unit: Centimetres, Spacing: 0.2, Spacings: []float64{0.1, 0, 0.3}}, 4, 2, false},
		{"even though listed", System{Unit: Centimetres, Spacings: []float64{0.2, 0.2}}, 2, 2, true},
		{"coarser than any cloth", System{Unit: Centimetres, Spacing: 8}, 4, 0, true},
		{"finer than any cloth", System{Spacing: 0.1}, 4, 0, true},
		{"with the unit in doubt, listed ones too", System{Unit: Centimetres, Spacing: 8, Spacings: []float64{0.1, 0.1}}, 2, 0, false},
		{"listed, and coarser than any cloth", System{Unit: Centimetres, Spacings: []float64{8, 8}}, 2, 0, true},
		{"a gap among listed ones", System{Unit: Centimetres, Spacings: []float64{0.2, 4}}, 2, 21, false},
		{"listed for some and no other known", System{Unit: Centimetres, Spacings: []float64{0.2}}, 2, 0, false},
	} {
		t.Run(test.name, func(t *testing.T) {
			mm, even := test.system.MeanSpacing(test.threads)
			if diff := mm - test.mm; diff > 1e-9 || diff < -1e-9 || even != test.even {
				t.Errorf("got %v %v, want %v %v", mm, even, test.mm, test.even)
			}
		})
	}
}

// TestBelievedSpacing checks the limits as written in a file, with four decimals.
func TestBelievedSpacing(t *testing.T) {
	for _, test := range []struct {
		unit    Unit
		spacing float64
		odd     bool
	}{
		{Inches, 1, false}, {Centimetres, 2.54, false}, {Decipoints, 720, false}, {Inches, 1.01, true}, {Centimetres, 8, true},
		{Inches, 0.005, false}, {Centimetres, 0.0127, false}, {Decipoints, 3.6, false}, {Inches, 0.0049, true}, {UnitUnstated, 0.1, true},
		{Inches, 0, false},
	} {
		s := System{Unit: test.unit, Spacing: test.spacing}
		if s.OddSpacing() != test.odd || (s.SpacingOf(1) > 0) != (!test.odd && test.spacing > 0) {
			t.Errorf("%v of unit %d: odd %v, spacing %v", test.spacing, test.unit, s.OddSpacing(), s.SpacingOf(1))
		}
	}
}

func TestColorOf(t *testing.T) {
	s := System{Color: 2, Colors: []int32{5, 0}}
	for n, want := range map[int]int{0: 2, 1: 5, 2: 2, 3: 2} {
		if got := s.ColorOf(n); got != want {
			t.Errorf("thread %d has color %d, want %d", n, got, want)
		}
	}
}

func TestColor(t *testing.T) {
	c, err := ParseColor("#F2ead8")
	if err != nil || c != RGB(0xf2, 0xea, 0xd8) || c.Hex() != "#f2ead8" {
		t.Errorf("got %v %v %s", c, err, c.Hex())
	}
	for _, wrong := range []string{"", "f2ead8", "#f2ead", "#f2ead8a", "#gggggg", "#-12345"} {
		if c, err := ParseColor(wrong); err == nil {
			t.Errorf("%q is read as %v", wrong, c)
		}
	}
	if (Color{}).Hex() != "" {
		t.Error("a color not set has a value")
	}
}

func TestSortFindings(t *testing.T) {
	list := SortFindings([]Finding{
		{Rule: "b/b", Message: "x", Span: Span{5, 6}},
		{Rule: "a/a", Message: "x", Span: Span{5, 6}},
		{Rule: "z/z", Message: "x", Span: Span{1, 9}},
		{Rule: "b/b", Message: "x", Span: Span{5, 6}},
		{Rule: "z/z", Message: "x", Span: Span{1, 2}},
	})
	var got string
	for _, f := range list {
		got += f.Rule + " "
	}
	if got != "z/z z/z a/a b/b " || list[0].Span.End != 2 {
		t.Errorf("got %s", got)
	}
}

func TestDataKeepsItsOrder(t *testing.T) {
	text, err := json.Marshal(Data{{"shaft", 3}, {"order", []int{1, 2}}, {"a", "<b>"}})
	if err != nil || string(text) != `{"shaft":3,"order":[1,2],"a":"\u003cb\u003e"}` {
		t.Errorf("got %s %v", text, err)
	}
}

func TestSeverityWords(t *testing.T) {
	for _, s := range []Severity{Off, Note, Warning, Error} {
		if got, err := ParseSeverity(s.String()); got != s || err != nil {
			t.Errorf("%s reads as %s, %v", s, got, err)
		}
	}
	if _, err := ParseSeverity("fatal"); err == nil {
		t.Error("fatal is a severity")
	}
}

func TestCuts(t *testing.T) {
	lines := []string{"; a comment", CutLine(4), "cut AFTER pick = 2 ", CutLine(4), CutLine(0), CutLine(10), "Cut after pick=x", "Cut=3"}
	d := &Draft{Weft: System{Threads: 10}, Carried: Carried{Sections: []TextSection{{Name: "private fettle whole work", Lines: lines}}}}
	if cuts := d.Cuts(); !slices.Equal(cuts, []int{2, 4}) {
		t.Errorf("%v", cuts)
	}
	d.Carried.Sections[0].Name = "PRIVATE other"
	if cuts := d.Cuts(); cuts != nil {
		t.Errorf("%v in a draft that isn't of the whole work", cuts)
	}
}
