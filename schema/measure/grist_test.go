package measure

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/corpus/golden"
	"fettle/schema/wording"
)

// within reports whether two numbers agree within a fraction of the second.
func within(got, want, fraction float64) bool {
	return math.Abs(got-want) <= fraction*math.Abs(want)
}

// TestGristProducts checks the products of a count and tex: from the definitions (yards in
// a pound of count 1) and as ASTM D2260-03(2013) prints them.
func TestGristProducts(t *testing.T) {
	for _, row := range []struct {
		name, grist string
		product     float64
		fraction    float64
	}{
		{"published/ASTM D2260-03(2013)/cotton", "1/1 cotton", 590.54, 1e-5},
		{"published/ASTM D2260-03(2013)/worsted", "1/1 worsted", 885.812, 1e-6},
		{"published/ASTM D2260-03(2013)/linen lea", "1 lea", 1653.51549, 1e-8},
		{"published/ASTM D2260-03(2013)/woollen cut", "1 woollen cut", 1653.51549, 1e-8},
		{"published/ASTM D2260-03(2013)/woollen run", "1 run", 310.034, 1e-6},
		{"published/ASTM D2260-03(2013)/yards a pound", "1 yd/lb", 496054.648, 1e-8},
		{"computed from the definition/cotton", "1 cotton", 590.54125, 1e-8},
		{"computed from the definition/worsted", "1 worsted", 885.81187, 1e-8},
		{"computed from the definition/run", "1 run", 310.03415, 1e-7},
		{"computed from the definition/Yorkshire skein", "1 skein", 1937.71347, 1e-8},
		{"published/ASTM D861-07(2018)/Nm", "Nm 1", 1000, 1e-12},
	} {
		t.Run(row.name, func(t *testing.T) {
			g, err := ParseGrist(row.grist)
			if err != nil || !within(g.Tex, row.product, row.fraction) {
				t.Errorf("%s is %v tex (%v), want %v", row.grist, g.Tex, err, row.product)
			}
		})
	}
}

// TestGristFactors checks factors between counts, ASTM D2260-03(2013): both counts are the
// same yarn.
func TestGristFactors(t *testing.T) {
	for _, row := range []struct {
		name, a, b string
		fraction   float64
	}{
		{"published/ASTM D2260-03(2013)/worsted is 1.5 cotton", "Ne 1", "1.5 worsted", 1e-12},
		{"published/ASTM D2260-03(2013)/cotton 10 is worsted 15", "10 cotton", "15 worsted", 1e-12},
		{"a decimal comma", "2.5 run", "2,5 run", 1e-12},
		{"published/ASTM D2260-03(2013)/run is 0.525 cotton", "Ne 1", "0.525 run", 1e-12},
		{"published/ASTM D2260-03(2013)/run is 0.35 worsted", "1 worsted", "0.35 run", 1e-12},
		{"published/ASTM D2260-03(2013)/run is 0.1875 lea", "1 lea", "0.1875 run", 1e-12},
		{"published/ASTM D2260-03(2013)/lea is 2.8 cotton", "Ne 1", "2.8 lea", 1e-12},
		{"published/ASTM D2260-03(2013)/lea is 1.86667 worsted", "1 worsted", "1.86667 lea", 2e-6},
		{"published/ASTM D2260-03(2013)/lea is 1.65352 Nm", "Nm 1", "1.65352 lea", 3e-6},
		{"published/ASTM D2260-03(2013)/30 tex is cotton 19.7", "30 tex", "19.7 cotton", 0.003},
		{"published/ASTM D861-07(2018)/denier is nine a tex", "30 tex", "270 denier", 1e-12},
		{"published/ASTM D861-07(2018)/dtex is ten a tex", "30 tex", "300 dtex", 1e-12},
		{"computed/cotton count times denier is 5314.87123", "Ne 1", "5314.87123 den", 1e-8},
		{"published/J. T. Taylor, Cotton Weaving and Designing, 6th ed., p. 429/120 yd of 20 grains is 50s", "42000 yd/lb", "50 cotton", 1e-12},
		{"published/J. T. Taylor, Cotton Weaving and Designing, 6th ed., p. 430/120 yd of 40s weigh 25 grains", "33600 yd/lb", "40s cotton", 1e-12},
		{"spun silk by the English count", "Ne 20/2 silk", "20/2 cotton", 0},
		{"silk by the metric count", "20/2 Nm silk", "Nm 20/2", 0},
		{"silk by denier", "40 denier silk", "40 denier", 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			a, err := ParseGrist(row.a)
			b, errB := ParseGrist(row.b)
			if err != nil || errB != nil || !within(a.Tex, b.Tex, row.fraction) {
				t.Errorf("%s is %v tex (%v), %s is %v tex (%v)", row.a, a.Tex, err, row.b, b.Tex, errB)
			}
		})
	}
}

func TestCountOfGrist(t *testing.T) {
	for in, want := range map[string]Count{
		"8/2 cotton": CottonCount, "Ne 30/2": CottonCount, "16/2 linen": LinenCount, "12 lea": LinenCount, "2/24 worsted": WorstedCount,
		"4 run": WoollenCount, "12 cut": WoollenCount, "20 skein": WoollenCount,
		"Nm 28/2": AnyCount, "Nm 28/2 wool": AnyCount, "30 tex x 2": AnyCount, "R60 tex/2": AnyCount, "150 denier": AnyCount,
		"3360 yd/lb": AnyCount, "6773 m/kg": AnyCount, "Ne 20/2 silk": AnyCount,
	} {
		if g, err := ParseGrist(in); err != nil || g.Count != want {
			t.Errorf("%s: count %d, error %v, want %d", in, g.Count, err, want)
		}
	}
}

// The yards a pound of rows marked published are in print in Roth & Schulz, Handbook of
// Timesaving Tables, 1993, or a yarn-count teaching page of 2012; 8/2 cotton is in
// Ashenhurst's rule, teaching page, 1999. The other rows, and all tex and m/kg, are
// computed from the definitions.
func TestPliedGrist(t *testing.T) {
	for _, row := range []struct {
		source, grist            string
		yardsPound, tex, metreKg float64
	}{
		{"published/Roth & Schulz 1993 or teaching page 2012", "3/2 cotton", 1260, 393.694, 2540.0},
		{"computed", "5/2 cotton", 2100, 236.216, 4233.4},
		{"published/Ashenhurst's rule, teaching page, 1999", "8/2 cotton", 3360, 147.635, 6773.4},
		{"published/Roth & Schulz 1993 or teaching page 2012", "8/3 cotton", 2240, 221.453, 4515.6},
		{"computed", "8/4 cotton", 1680, 295.271, 3386.7},
		{"published/Roth & Schulz 1993 or teaching page 2012", "10/2 cotton", 4200, 118.108, 8466.8},
		{"published/Roth & Schulz 1993 or teaching page 2012", "16/2 cotton", 6720, 73.818, 13546.9},
		{"published/Roth & Schulz 1993 or teaching page 2012", "20/2 cotton", 8400, 59.054, 16933.6},
		{"computed", "16/2 linen", 2400, 206.689, 4838.2},
		{"published/Roth & Schulz 1993 or teaching page 2012", "20/2 linen", 3000, 165.352, 6047.7},
		{"computed", "40/2 linen", 6000, 82.676, 12095.4},
		{"published/Roth & Schulz 1993 or teaching page 2012", "2/10 worsted", 2800, 177.162, 5644.5},
		{"published/Roth & Schulz 1993 or teaching page 2012", "2/24 worsted", 6720, 73.818, 13546.9},
	} {
		t.Run(row.source+"/"+row.grist, func(t *testing.T) {
			g, err := ParseGrist(row.grist)
			if err != nil {
				t.Fatal(err)
			}
			if !within(g.YardsPerPound(), row.yardsPound, 1e-12) {
				t.Errorf("%v yd/lb, want %v", g.YardsPerPound(), row.yardsPound)
			}
			if math.Abs(g.Tex-row.tex) > 0.0005001 {
				t.Errorf("%v tex, want %v", g.Tex, row.tex)
			}
			if math.Abs(g.metresPerKilogram()-row.metreKg) > 0.05001 {
				t.Errorf("%v m/kg, want %v", g.metresPerKilogram(), row.metreKg)
			}
		})
	}
}

func TestParseGrist(t *testing.T) {
	for _, row := range []struct {
		in  string
		tex float64
	}{
		{"30 tex", 30},
		{"30TEX", 30},
		{"30 tex x 2", 60},
		{"30 tex × 2", 60},
		{"20 tex x 2 x 3", 120},
		{"R60 tex/2", 60},
		{"r 60 tex", 60},
		{"R 600 dtex / 2", 60},
		{"300 dtex", 30},
		{"150 denier", 150.0 / 9},
		{"150 den", 150.0 / 9},
		{"Nm 28/2", 1000.0 / 14},
		{"28/2 Nm", 1000.0 / 14},
		{"28/2 NM wool", 1000.0 / 14},
		{"Nm 0.5", 2000},
		{"Ne 30/2", 590.54125 / 15},
		{"NeL 16/2", 206.689436},
		{"6773 m/kg", 1e6 / 6773.0},
		{"400 m/100 g", 250},
		{"400 m per 100g", 250},
		{"3360 ypp", 147.635312},
		{"210 yd/oz", 147.635312},
		{"12/6 cotton", 590.54125 / 2},
		{"12/15 cotton", 590.54125 * 1.25},
		{"12/18 cotton", 590.54125 * 1.5},
		{"12/48 cotton", 590.54125 * 4},
		{"3/2 cotton", 590.54125 / 1.5},
		{"4/2 cotton", 590.54125 / 2},
		{"4/4 cotton", 590.54125},
		{"2/2 Nm", 1000},
		{"1.5/2 Nm", 1000 / 0.75},
		{"5/6 cotton", 590.54125 * 1.2},
		{"2/8 Woollen Run", 310.03415 * 4},
		{"30s cotton", 590.54125 / 30},
		{"  8/2  COTTON ", 147.635312},
	} {
		t.Run(row.in, func(t *testing.T) {
			g, err := ParseGrist(row.in)
			if err != nil || !within(g.Tex, row.tex, 1e-7) {
				t.Errorf("%v tex (%v), want %v", g.Tex, err, row.tex)
			}
			if g.Text != strings.TrimSpace(row.in) {
				t.Errorf("text %q", g.Text)
			}
		})
	}
}

func TestParseGristErrors(t *testing.T) {
	for _, in := range []string{
		"",
		"cotton",
		"8/2",
		"8",
		"8/2 wool",
		"20/2 silk",
		"60 silk",
		"spun silk 30/2",
		"8/2 cloud",
		"8/2 Cottolin",
		"30 texx",
		"bamboo 10/2",
		"60/2 tex",
		"30/2 tex",
		"150/48 den",
		"0/2 cotton",
		"8/0 cotton",
		"-8/2 cotton",
		"0 tex",
		"8/1.5 cotton",
		"8/2000000 cotton",
		"24/2 worsted",
		"2/16 cotton",
		"2/8 cotton",
		"2/8 nm",
		"Ne 2/3",
		"2/8 linen",
		"4/5 cotton",
		"12/49 cotton",
		"4/2 worsted",
		"30 tex x",
		"30 tex x 0.5",
		"30 tex x 100000",
		"0.0000001 tex",
		strings.Repeat("9", 150) + " tex",
		strings.Repeat("9", 150) + " m/kg",
		strings.Repeat("9", 400) + " tex",
		"3360 yd",
		"3360 yd/in",
		"3360 yd/lb of it",
		"R60 tex/",
		"R60 cotton",
		"8/2/2 cotton",
		"2,500 run",
		"1e3 tex",
	} {
		t.Run(in, func(t *testing.T) {
			g, err := ParseGrist(in)
			if err == nil {
				t.Fatalf("read as %v", g)
			}
			golden.Words(t, err.Error())
			if g != (Grist{}) {
				t.Errorf("%v beside an error", g)
			}
		})
	}
}

func TestUnknownGrist(t *testing.T) {
	var g Grist
	if g.Known() || g.metresPerKilogram() != 0 || g.YardsPerPound() != 0 || g.Grams(1000) != 0 {
		t.Errorf("an unknown grist gives figures")
	}
}

func TestGristRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.IntRange(1, 200).Draw(t, "size")
		plies := rapid.IntRange(1, size).Draw(t, "plies")
		a, err := ParseGrist(wording.Decimal(float64(size), 0) + "/" + wording.Decimal(float64(plies), 0) + " cotton")
		if err != nil {
			t.Fatal(err)
		}
		b, err := ParseGrist(wording.Decimal(a.YardsPerPound(), 9) + " yd/lb")
		if err != nil || !within(b.Tex, a.Tex, 1e-9) {
			t.Fatalf("%v, %v (%v)", a, b, err)
		}
		c, err := ParseGrist(wording.Decimal(a.metresPerKilogram(), 9) + " m/kg")
		if err != nil || !within(c.Tex, a.Tex, 1e-9) {
			t.Fatalf("%v, %v (%v)", a, c, err)
		}
		if kilo := a.Grams(a.metresPerKilogram()); !within(kilo, 1000, 1e-9) {
			t.Fatalf("a kilogram weighs %v g", kilo)
		}
	})
}

func FuzzParseGrist(f *testing.F) {
	for _, s := range []string{"8/2 cotton", "2/24 worsted", "3360 yd/lb", "400 m/100 g", "Nm 28/2", "R60 tex/2", "30 tex × 2", "8/2", "r", "x", "1/", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		g, err := ParseGrist(s)
		if err != nil {
			if g != (Grist{}) {
				t.Errorf("%v beside %v", g, err)
			}
			return
		}
		if !(g.Tex >= finestTex && g.Tex <= thickestTex) {
			t.Errorf("%q is %v tex", s, g.Tex)
		}
	})
}
