package measure

import (
	"math"
	"os"
	"strings"
	"testing"

	"fettle/corpus/golden"
	"fettle/schema/wording"
)

func TestParseLength(t *testing.T) {
	for _, row := range []struct {
		in   string
		want Length
	}{
		{"110 cm", 1100}, {"2.4 m", 2400}, {"12 mm", 12}, {"43 in", 1092.2}, {"3 yd", 2743.2},
		{"1ft", 304.8}, {"0", 0}, {"0 cm", 0}, {" 5 CM ", 50}, {"36 inches", 914.4}, {"1 km", 1e6},
		{`43"`, 1092.2}, {"43 ″", 1092.2}, {"2,4 m", 2400}, {"0,125 in", 3.175}, {"12,25 cm", 122.5}, {"1,2345 m", 1234.5},
		{"1 1/2 yd", 1371.6}, {"1½ yd", 1371.6}, {"1 ½yd", 1371.6}, {"½ m", 500}, {"3/4 in", 19.05}, {"1-1/2 in", 38.1}, {"1 1⁄2 in", 38.1},
		{"5 ft 2 in", 1574.8}, {"5ft2in", 1574.8}, {"5'", 1524}, {`5' 2"`, 1574.8}, {`5'2 1/2"`, 1587.5}, {"5′ 2″", 1574.8}, {"5’ 0”", 1524},
		{"1 yd 9 in", 1143}, {"2 m 40 cm", 2400}, {"0 ft 2,5 in", 63.5},
		{"2.4 meters", 2400}, {"2.4 metres", 2400}, {"1 metre", 1000}, {"3 feet", 914.4}, {"1 foot", 304.8}, {"2 yards", 1828.8}, {"30 centimetres", 300},
	} {
		t.Run(row.in, func(t *testing.T) {
			got, err := ParseLength(row.in)
			if err != nil || math.Abs(float64(got-row.want)) > 1e-9 {
				t.Errorf("%v (%v), want %v", got, err, row.want)
			}
		})
	}
	for _, in := range []string{"", "cm", "5", "-1 cm", "5 hands", "1,500 m", "1,5,0 m", "1.5,2 m", "1,5.2 m", ",5 m", "5, m", "1e3 cm", "1001 km", strings.Repeat("9", 300) + " km", "1.2.3 m",
		"-", "0 0", "- 1 cm", "5-2 cm", "2 in 5 ft", "5 in 2 in", "5 ft 2", "5 ft 1,500 in", "1/0 m", "3/2 m", "1 2 m", "1.5½ m", "1 1/2", "½", "1/2/3 m", "5 ft in", "5 ft and 2 in"} {
		t.Run("refused/"+in, func(t *testing.T) {
			if got, err := ParseLength(in); err == nil || got != 0 {
				t.Errorf("%v, %v", got, err)
			}
		})
	}
}

func TestParseDensity(t *testing.T) {
	for _, row := range []struct {
		name, in string
		perInch  float64
	}{
		{"an inch", "20/in", 20},
		{"a centimetre", "8/cm", 20.32},
		{"spaces", " 8 / cm ", 20.32},
		{"ends an inch", "20 epi", 20},
		{"picks an inch", "18PPI", 18},
		{"dents an inch", "10 dpi", 10},
		{"in words", "10 dents per inch", 10},
		{"to the inch", "10 dents to the inch", 10},
		{"to an inch", "10 to an inch", 10},
		{"ends an inch in words", "10 ends an inch", 10},
		{"in words, with a slash", "10 dents/inch", 10},
		{"words without a noun", "20 per inch", 20},
		{"a sign for inches", `20/"`, 20},
		{"words for centimetres", "8 ends per cm", 20.32},
		{"words for ten", "50 dents per 10 cm", 12.7},
		{"a decimal comma", "7,5/cm", 19.05},
		// Metric reeds: dents in 10 cm times 0.254, computed.
		{"published/a reed stamp 125/10", "125/10cm", 31.75},
		{"metric 20", "20/10cm", 5.08},
		{"metric 25", "25/10 cm", 6.35},
		{"metric 30", "30/10cm", 7.62},
		{"metric 40", "40/10cm", 10.16},
		{"metric 45", "45/10cm", 11.43},
		{"metric 50", "50/10cm", 12.70},
		{"metric 60", "60/10cm", 15.24},
		{"metric 70", "70/10cm", 17.78},
		// Older counts, as dents in a length.
		{"published/J. T. Taylor, Cotton Weaving and Designing, 6th ed., p. 243/Stockport 60", "60/2in", 30},
		{"published/C. P. Brooks, Cotton Manufacturing, p. 92/Bolton 24 1/4 beers in 24 1/4 in is Stockport 40", "485/24.25in", 20},
		{"published/C. P. Brooks, Cotton Manufacturing/Bradford 50 beers of 40 ends in 36 in", "2000/36in", 55 + 20.0/36},
		{"published/C. P. Brooks, Cotton Manufacturing/Irish 10s", "1000/40in", 25},
		{"published/C. P. Brooks, Cotton Manufacturing/Scotch 2000 at two a dent", "4000/37in", 4000.0 / 37},
		{"computed/Leeds 9 by 19 dents in 9 in", "19/9in", 19.0 / 9},
		{"computed/Macclesfield 100 dents in 36 in", "100/36in", 100.0 / 36},
		{"computed/Blackburn 50 beers of 20 dents in 45 in", "1000/45in", 1000.0 / 45},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := ParseDensity(row.in)
			if err != nil || !within(got.PerInch(), row.perInch, 1e-12) {
				t.Errorf("%v per inch (%v), want %v", got.PerInch(), err, row.perInch)
			}
		})
	}
	for _, in := range []string{"", "20", "20/", "/in", "0/in", "-3/cm", "20/0cm", "20/0", "20 in", `20"`, "20 eps", "20 sheep per inch", "20 dents", "1,200/in", "20 epi/in", "99999/mm", "1/1000000 km", "0.0000001/m"} {
		t.Run("refused/"+in, func(t *testing.T) {
			if got, err := ParseDensity(in); err == nil || got != 0 {
				t.Errorf("%v, %v", got, err)
			}
		})
	}
}

func TestMain(m *testing.M) { os.Exit(golden.M{M: m}.Run()) }

// TestErrorsSuggestValues checks that an error suggests what the weaver probably meant.
func TestErrorsSuggestValues(t *testing.T) {
	length := func(s string) error { _, err := ParseLength(s); return err }
	density := func(s string) error { _, err := ParseDensity(s); return err }
	percent := func(s string) error { _, err := ParsePercent(s); return err }
	grist := func(s string) error { _, err := ParseGrist(s); return err }
	stock := func(s string) error { _, err := ParseStock(s); return err }
	for _, row := range []struct {
		parse func(string) error
		in    string
	}{
		{length, "1,500 m"},
		{density, "1,200/in"},
		{percent, "7,500 %"},
		{grist, "3,360 yd/lb"},
		{stock, "2 x 1,000 m"},
		{density, "20"},
		{density, "fast"},
	} {
		t.Run(row.in, func(t *testing.T) {
			err := row.parse(row.in)
			if err == nil {
				t.Fatal("read without an error")
			}
			golden.Words(t, err.Error())
		})
	}
}

func TestParsePercent(t *testing.T) {
	for _, row := range []struct {
		in   string
		want float64
	}{{"10 %", 0.1}, {"10%", 0.1}, {"0", 0}, {"0 %", 0}, {"7.5 %", 0.075}, {"7,5 %", 0.075}, {"99.9 %", 0.999},
		{"10 percent", 0.1}, {"10 Per Cent", 0.1}, {"7,5 percent", 0.075}} {
		t.Run(row.in, func(t *testing.T) {
			if got, err := ParsePercent(row.in); err != nil || math.Abs(got-row.want) > 1e-12 {
				t.Errorf("%v (%v), want %v", got, err, row.want)
			}
		})
	}
	for _, in := range []string{"", "10", "100 %", "-1 %", "ten %", "7,5", "99.99999999999999999999 %", "10 per", "10 cent", "10 parts per cent"} {
		t.Run("refused/"+in, func(t *testing.T) {
			if got, err := ParsePercent(in); err == nil {
				t.Errorf("read as %v", got)
			}
		})
	}
}

// TestMeasuredLosses compares measured losses with percentages.
func TestParseMeasuredLosses(t *testing.T) {
	for _, row := range []struct {
		text  string
		parse func(string) (float64, error)
		want  float64 // below 0: refused
	}{
		{"50 cm -> 46 cm", ParseLoss, 0.08},
		{"100 cm -> 90 cm", ParseLoss, 0.1},
		{"50cm→46cm", ParseLoss, 0.08},
		{"1 yd -> 34 1/5 in", ParseLoss, 0.05},
		{"0.5 m -> 460 mm", ParseLoss, 0.08},
		{"50 cm -> 50 cm", ParseLoss, 0},
		{"8 %", ParseLoss, 0.08},
		{"66 cm -> 60 cm", ParseGain, 0.1},
		{"10 %", ParseGain, 0.1},
		{"46 cm -> 50 cm", ParseLoss, -1},
		{"60 cm -> 66 cm", ParseGain, -1},
		{"120 cm -> 60 cm", ParseGain, -1},
		{"50 cm -> 0 cm", ParseLoss, -1},
		{"0 cm -> 0 cm", ParseLoss, -1},
		{"50 -> 46", ParseLoss, -1},
		{"50 cm ->", ParseLoss, -1},
		{"50 cm -> 46 cm -> 40 cm", ParseLoss, -1},
	} {
		got, err := row.parse(row.text)
		if (err == nil) != (row.want >= 0) || err == nil && math.Abs(got-row.want) > 1e-12 {
			t.Errorf("%q is %v, %v, want %v", row.text, got, err, row.want)
		}
	}
}

func TestUnitsWrite(t *testing.T) {
	for _, row := range []struct{ got, want string }{
		{Metric.Length(12.34), "12.3 mm"},
		{Metric.Length(487.7), "48.8 cm"},
		{Metric.Length(3780), "3.78 m"},
		{Imperial.Length(254), "10 in"},
		{Imperial.Length(3657.6), "4 yd (144 in)"},
		{Metric.Long(1134.4), "1134 m"},
		{Imperial.Long(914.4), "1000 yd"},
		{Metric.Density(Density(7.874)), "7.87/cm"},
		{Imperial.Density(Density(8)), "20.32/in"},
		{Metric.Dents(4), "40 dents to 10 cm"},
		{Imperial.Dents(ByInch(12)), "12 dents to the inch"},
		{wording.Decimal(-0.001, 2), "0"},
	} {
		if row.got != row.want {
			t.Errorf("%q, want %q", row.got, row.want)
		}
	}
}

func TestInInches(t *testing.T) {
	for in, want := range map[string]bool{"20/in": true, "20 epi": true, `43"`: true, "5'": true, "5’ 2”": true, "1½ yds": true, "2 meters": false, "10 dents per inch": true, "8 ends per cm": false, "3 yd": true, "8/cm": false, "2.4 m": false, "inside": false} {
		if InInches(in) != want {
			t.Errorf("%q in inches: %v", in, !want)
		}
	}
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"110 cm", "0", "2.4 m", "-1 in", "1e9 km", "\xff", "2,4 m", "1,500 m", `43"`, "1 1/2 yd", "5' 2\"", "1½ m", "1-1/2 in"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := ParseLength(s)
		if err == nil && !(got >= 0 && got <= longest) {
			t.Errorf("%q is %v mm", s, got)
		}
	})
}

func FuzzParseDensity(f *testing.F) {
	for _, s := range []string{"20/in", "50/10cm", "8 / cm", "1/0", "/", "20 epi", "10 dents per inch", "7,5/cm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := ParseDensity(s)
		if err == nil && !(got >= thinnest && got <= densest) {
			t.Errorf("%q is %v/cm", s, got)
		}
	})
}

func FuzzParsePercent(f *testing.F) {
	for _, s := range []string{"10 %", "0", "99.999%", "%"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := ParsePercent(s)
		if err == nil && !(got >= 0 && got < 1) {
			t.Errorf("%q is %v", s, got)
		}
	})
}
