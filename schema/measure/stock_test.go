package measure

import (
	"math"
	"strings"
	"testing"

	"fettle/corpus/golden"
)

func TestParseStock(t *testing.T) {
	for _, row := range []struct {
		in   string
		want Stock
	}{
		{"2 x 250 g", Stock{Packages: 2, Grams: 250}},
		{"2×250g", Stock{Packages: 2, Grams: 250}},
		{"500 g", Stock{Packages: 1, Grams: 500}},
		{"1.2 kg", Stock{Packages: 1, Grams: 1200}},
		{"3 x 1000 m", Stock{Packages: 3, Metres: 1000}},
		{"1000 yd", Stock{Packages: 1, Metres: 914.4}},
		{"1 lb 4 oz", Stock{Packages: 1, Grams: 453.59237 * 1.25, InPounds: true}},
		{"2 x 1 lb 4 oz", Stock{Packages: 2, Grams: 453.59237 * 1.25, InPounds: true}},
		{"1½ lb", Stock{Packages: 1, Grams: 453.59237 * 1.5, InPounds: true}},
		{"3 x 1 1/2 kg", Stock{Packages: 3, Grams: 1500}},
		{"400 metres", Stock{Packages: 1, Metres: 400}},
		{"16 oz", Stock{Packages: 1, Grams: 453.59237, InPounds: true}},
		{"1 LB", Stock{Packages: 1, Grams: 453.59237, InPounds: true}},
	} {
		t.Run(row.in, func(t *testing.T) {
			got, err := ParseStock(row.in)
			if err != nil || got.Text != row.in || got.Packages != row.want.Packages || got.InPounds != row.want.InPounds ||
				math.Abs(got.Grams-row.want.Grams) > 1e-9 || math.Abs(got.Metres-row.want.Metres) > 1e-9 {
				t.Errorf("%v (%v), want %v", got, err, row.want)
			}
		})
	}
}

func TestParseStockErrors(t *testing.T) {
	for _, in := range []string{
		"",
		"500",
		"4 oz 1 lb",
		"1 lb 4 m",
		"2 x 3 x 250 g",
		"0 x 250 g",
		"1,500 g",
		"0 g",
		"2 x g",
		"500 g left",
		"500 cones",
		"1.5 x 250 g",
		"9999999 x 250 g",
		strings.Repeat("9", 100) + " kg",
		"0.00000001 m",
	} {
		t.Run(in, func(t *testing.T) {
			got, err := ParseStock(in)
			if err == nil {
				t.Fatal("read without an error")
			}
			golden.Words(t, err.Error())
			if got.Known() {
				t.Errorf("%v beside an error", got)
			}
		})
	}
}

func TestPackageMetres(t *testing.T) {
	grist := Grist{Tex: 250}
	for _, row := range []struct {
		name  string
		stock Stock
		grist Grist
		want  float64
		known bool
	}{
		{"weighed", Stock{Packages: 2, Grams: 100}, grist, 400, true},
		{"weighed, grist unknown", Stock{Packages: 2, Grams: 100}, Grist{}, 0, false},
		{"measured", Stock{Packages: 2, Metres: 900}, Grist{}, 900, true},
		{"unstated", Stock{}, grist, 0, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, known := row.stock.PackageMetres(row.grist)
			if got != row.want || known != row.known {
				t.Errorf("%v, %v", got, known)
			}
		})
	}
}

func FuzzParseStock(f *testing.F) {
	for _, s := range []string{"2 x 250 g", "1.2 kg", "3 × 1000 m", "900 yd", "8 oz", "x", "2 x", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := ParseStock(s)
		if err != nil {
			return
		}
		size := got.Grams + got.Metres
		if got.Packages < 1 || !(size > 0) || math.IsInf(size, 0) || got.Grams > 0 && got.Metres > 0 {
			t.Errorf("%q is %v", s, got)
		}
	})
}
