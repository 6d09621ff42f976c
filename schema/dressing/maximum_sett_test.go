package dressing

import (
	"fmt"
	"math"
	"testing"

	"fettle/schema"
	"fettle/schema/measure"
)

// weaveValue is R/(R+I).
func weaveValue(r, i float64) float64 { return r / (r + i) }

// Maximum setts by Ashenhurst's rule at k = 0.9, computed.
func TestMaximumSettTable(t *testing.T) {
	weaves := []struct {
		name string
		r, i float64
	}{{"plain", 2, 2}, {"2-1", 3, 2}, {"2-2 and 3-1", 4, 2}, {"3-3", 6, 2}, {"5-satin", 5, 2}, {"8-satin", 8, 2}}
	for _, row := range []struct {
		yardsPound, diameters float64
		setts                 []float64
	}{
		{1260, 31.947, []float64{15.97, 19.17, 21.30, 23.96, 22.82, 25.56}},
		{2100, 41.243, []float64{20.62, 24.75, 27.50, 30.93, 29.46, 32.99}},
		{3360, 52.169, []float64{26.08, 31.30, 34.78, 39.13, 37.26, 41.74}},
		{4200, 58.327, []float64{29.16, 35.00, 38.88, 43.74, 41.66, 46.66}},
		{8400, 82.486, []float64{41.24, 49.49, 54.99, 61.86, 58.92, 65.99}},
	} {
		g := grist(t, fmt.Sprint(row.yardsPound, " yd/lb"))
		if got := sideBySide(g, 0).PerInch(); math.Abs(got-row.diameters) > 0.0005 {
			t.Errorf("%v yd/lb: %v diameters, want %v", row.yardsPound, got, row.diameters)
		}
		for n, weave := range weaves {
			t.Run(fmt.Sprintf("computed/%v yd per lb/%s", row.yardsPound, weave.name), func(t *testing.T) {
				if got := maximumSett(g, UsualK, weaveValue(weave.r, weave.i)).PerInch(); math.Abs(got-row.setts[n]) > 0.00501 {
					t.Errorf("%v/in, want %v", got, row.setts[n])
				}
			})
		}
	}
}

func TestMaximumSettInPrint(t *testing.T) {
	const (
		page   = "published/Ashenhurst's rule, teaching page, 1999/"
		taylor = "published/J. T. Taylor, Cotton Weaving and Designing, 6th ed., "
	)
	for _, row := range []struct {
		name         string
		grist        string
		k            float64
		value        float64
		want, within float64 // an inch
	}{
		{page + "8/2 cotton, 52 diameters", "8/2 cotton", 0.9, 1, 52, 0.5},
		{page + "8/2 cotton, plain 26", "8/2 cotton", 0.9, weaveValue(2, 2), 26, 0.5},
		{page + "8/2 cotton, 2/2 twill; print 34 is cut off from 34.78", "8/2 cotton", 0.9, weaveValue(4, 2), 34.78, 0.005},
		// Taylor's diameters fit a k from 0.949 to 0.952, so 0.95 comes within
		// a quarter of a percent of each.
		{taylor + "15s, 106 1/2", "15 cotton", 0.95, 1, 106.5, 0.0025 * 106.5},
		{taylor + "26s, 140 1/2", "26 cotton", 0.95, 1, 140.5, 0.0025 * 140.5},
		{taylor + "32s, 156", "32 cotton", 0.95, 1, 156, 0.0025 * 156},
		{taylor + "60s, 213", "60 cotton", 0.95, 1, 213, 0.0025 * 213},
		{taylor + "78s, 243", "78 cotton", 0.95, 1, 243, 0.0025 * 243},
		{taylor + "200s, 390", "200 cotton", 0.95, 1, 390, 0.0025 * 390},
		{taylor + "p. 436, 32s, plain 78", "32 cotton", 0.95, weaveValue(2, 2), 78, 0.0025 * 78},
		{taylor + "p. 436, 32s, 2/2 twill; print 'about 102', the rule gives 104", "32 cotton", 0.95, weaveValue(4, 2), 104, 0.0025 * 104},
		{"from memory/k 0.92 for cotton, silk and linen", "3360 yd/lb", 0.92, 1, 53.33, 0.005},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := maximumSett(grist(t, row.grist), row.k, row.value).PerInch(); math.Abs(got-row.want) > row.within {
				t.Errorf("%v/in, want %v", got, row.want)
			}
		})
	}
}

// From one weave to another of equal firmness, in the same yarn.
func TestEqualFirmnessInPrint(t *testing.T) {
	const taylor = "J. T. Taylor, Cotton Weaving and Designing, 6th ed., p. 464"
	for _, row := range []struct {
		name             string
		from, fromValue  float64
		toValue, to, off float64
	}{
		{"published/" + taylor + "/plain 103 to 2/2 twill 137 1/3", 103, weaveValue(2, 2), weaveValue(4, 2), 137 + 1.0/3, 1e-9},
		{"computed/2/2 twill 137 to 5/2/1/2 ten-end twill", 137, weaveValue(4, 2), weaveValue(10, 4), 146.79, 0.005},
		// Half the wraps in plain weave; a weave of value 0.7 for every 1 of it.
		{"published/P. Osterkamp, weaving tips/10 wraps to 5 in plain weave", 10, 1, weaveValue(2, 2), 5, 1e-9},
		{"published/P. Osterkamp, weaving tips/5 over 0.7, print 7 rounded", 5, 0.7, 1, 7.14, 0.005},
	} {
		t.Run(row.name, func(t *testing.T) {
			// The yarn whose maximum in the first weave is the first sett.
			unit := maximumSett(measure.Grist{Tex: 100}, 1, row.fromValue).PerInch()
			yarn := measure.Grist{Tex: 100 * (unit / row.from) * (unit / row.from)}
			if got := maximumSett(yarn, 1, row.toValue).PerInch(); math.Abs(got-row.to) > row.off {
				t.Errorf("%v/in, want %v", got, row.to)
			}
		})
	}
}

func TestWorkingSetts(t *testing.T) {
	list := workingSetts(perInch(26))
	for i, row := range []struct {
		name    string
		percent int
		perInch float64
	}{
		{"published/Ashenhurst's rule, teaching page, 1999/about 75 %", 75, 19.5},
		{"published/P. Osterkamp, weaving tips, 2023/80 % for ordinary cloth", 80, 20.8},
		{"all of it", 100, 26},
	} {
		t.Run(row.name, func(t *testing.T) {
			if list[i].Percent != row.percent || !near(list[i].Sett.Value*2.54, row.perInch, 1e-12) {
				t.Errorf("%+v", list[i])
			}
		})
	}
}

func TestNoSettOfAnUnknownYarn(t *testing.T) {
	if sideBySide(measure.Grist{}, 0) != 0 || maximumSett(measure.Grist{}, 0, 1) != 0 {
		t.Error("an unknown yarn has a sett")
	}
}

// TestContractionInPrint holds Taylor's rule to the figures in J. T. Taylor,
// Cotton Weaving and Designing, 6th ed., pp. 427–429.
func TestContractionInPrint(t *testing.T) {
	for _, test := range []struct {
		name          string
		intersections float64
		count         string
		factor        float64
		percent       float64
		within        float64
	}{
		{"published/Taylor 427/plain, 120 picks of 70s", 120, "Ne 70", heavyCloth, 6 + 6.0/7, 1e-9},
		{"published/Taylor 428/plain, 60 picks of 40s", 60, "Ne 40", mediumCloth, 4.5, 1e-9},
		{"published/Taylor 429/5-end satin, 180 picks of 70s, printed as a whole number", 180 * 0.4, "Ne 70", heavyCloth, 4, 0.5},
		{"computed/the same, exact", 72, "Ne 70", heavyCloth, 288.0 / 70, 1e-9},
	} {
		t.Run(test.name, func(t *testing.T) {
			g, err := measure.ParseGrist(test.count)
			if err != nil {
				t.Fatal(err)
			}
			got := 100 * contraction(test.intersections, g, test.factor)
			if math.Abs(got-test.percent) > test.within {
				t.Errorf("%v %%, want %v %%", got, test.percent)
			}
		})
	}
	if got := contraction(60, measure.Grist{}, mediumCloth); got != 0 {
		t.Errorf("of an unknown weft it is %v", got)
	}
}

func TestTakeUpByRule(t *testing.T) {
	d := &schema.Draft{Threading: schema.Singles(1, 2), LiftPlan: schema.Singles(1, 2), Palette: []schema.Color{schema.RGB(1, 2, 3)}}
	d.Weft.Color = 1
	s := &schema.Setup{Project: schema.Project{Picks: measure.Density(60 / 2.54)},
		Yarns: []schema.Yarn{{Grist: measure.Grist{Tex: 590.54125 / 40, Text: "40/1 Cotton"}, ForWarp: true, ForWeft: true}}}
	takeUp := func(d *schema.Draft) UnstatedLoss {
		for _, c := range Of(d, s).cautions() {
			if loss, is := c.Kind.(UnstatedLoss); is && loss.Loss == "take-up" {
				return loss
			}
		}
		return UnstatedLoss{}
	}
	if got := takeUp(d); !near(got.Medium.Value, 0.045, 1e-6) || !near(got.Heavy.Value, 0.06, 1e-6) {
		t.Errorf("got %+v", got)
	}
	if got := takeUp(&schema.Draft{LiftPlan: d.LiftPlan}); got.Medium.Known {
		t.Errorf("without a cloth: %+v", got)
	}
	s.Yarns[0].Grist.Text = "40/1 silk"
	if got := takeUp(d); got.Medium.Known {
		t.Errorf("for silk: %+v", got)
	}
}
