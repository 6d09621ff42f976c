package cloth

import (
	"strings"
	"testing"

	"fettle/schema"
)

// TestFactsInWords checks words that only some drafts have.
func TestFactsInWords(t *testing.T) {
	bare := func() *schema.Draft { return straight(4, 8, 4, []int{0, 1}) }
	colored := bare()
	colored.Warp.Color, colored.Weft.Colors = 1, []int32{1, 1, 2}
	balanced := bare()
	balanced.Warp.Spacing, balanced.Warp.Unit = 0.1, schema.Centimetres
	balanced.Weft.Spacing, balanced.Weft.Unit = 0.1, schema.Centimetres
	profile := bare()
	profile.Profile, profile.Weft.Color = schema.Yes, 3
	for _, test := range []struct {
		name  string
		draft *schema.Draft
		is    []string
		not   string
	}{
		{"without colors", bare(), []string{"colors            none stated\n", "one shuttle misses 0 turns starting from the left, 3 from the right"}, "block profile"},
		{"several shuttles", colored, []string{"colors            1 in the warp, 2 in the weft\n",
			"selvedge          not counted: picks of several colors need several shuttles\n"}, "misses"},
		{"as many ends as picks", balanced, []string{"balance           1 end to a pick, for the same length\n"}, "1 ends"},
		{"a block profile", profile, []string{"block profile     each end and pick stands for a block", "none stated in the warp, 1 in the weft"}, "several"},
	} {
		t.Run(test.name, func(t *testing.T) {
			got := FactsOf(test.draft).String()
			for _, want := range test.is {
				if !strings.Contains(got, want) {
					t.Errorf("the text lacks %q:\n%s", want, got)
				}
			}
			if strings.Contains(got, test.not) {
				t.Errorf("the text has %q:\n%s", test.not, got)
			}
		})
	}
}

// TestFactsOfLargeCloth checks that a huge cloth has no hash, but a reason.
func TestFactsOfLargeCloth(t *testing.T) {
	const threads = 10_001
	f := FactsOf(straight(4, threads, threads, []int{0, 1}))
	if f.Cloth.SHA256 != nil || !strings.Contains(f.Cloth.SHA256LeftOut, "100020001 crossings") {
		t.Errorf("the hash of a cloth over the limit: %v, %q", f.Cloth.SHA256, f.Cloth.SHA256LeftOut)
	}
	if text := f.String(); !strings.Contains(text, f.Cloth.SHA256LeftOut) {
		t.Errorf("the text lacks the reason for the missing hash:\n%s", text)
	}
	if f := FactsOf(straight(4, 100, 100, []int{0, 1})); f.Cloth.SHA256 == nil || f.Cloth.SHA256LeftOut != "" {
		t.Errorf("the hash of a small cloth: %v, %q", f.Cloth.SHA256, f.Cloth.SHA256LeftOut)
	}
}

// TestFactsOfClothTooLarge checks a cloth in which all ends and all picks differ.
func TestFactsOfClothTooLarge(t *testing.T) {
	d := &schema.Draft{}
	const threads = 70_000
	for i := range int32(threads) {
		d.Threading.Append(i + 1)
		d.LiftPlan.Append(i + 1)
	}
	f := FactsOf(d)
	if f.Cloth != nil || f.Ends != threads || f.Shafts.Used != threads || !strings.Contains(f.LeftOut, "70000 ends") {
		t.Errorf("%+v", f)
	}
	if text := f.String(); !strings.Contains(text, f.LeftOut) {
		t.Errorf("%q lacks %q", text, f.LeftOut)
	}
}

func TestBalance(t *testing.T) {
	d := straight(4, 8, 8, nil)
	if f := FactsOf(d); f.Cloth.Balance != nil {
		t.Errorf("without spacings: %v", *f.Cloth.Balance)
	}
	d.Warp.Spacing, d.Warp.Unit = 0.1, schema.Centimetres
	d.Weft.Spacing, d.Weft.Unit = 0.125, schema.Centimetres
	if f := FactsOf(d); f.Cloth.Balance == nil || *f.Cloth.Balance != 1.25 {
		t.Errorf("10 ends and 8 picks to the centimetre: %v", f.Cloth.Balance)
	}
	d.Weft.Spacing = 12 // centimetres
	if f := FactsOf(d); f.Cloth.Balance != nil {
		t.Errorf("a spacing that no cloth has: %v", *f.Cloth.Balance)
	}
}
