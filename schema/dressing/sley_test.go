package dressing

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fettle/schema"
	"fettle/schema/measure"
)

// The substitution chart of sleying orders, computed with exact rationals: ends per inch
// = dents per inch × ends ÷ dents of the order, rounded to two places.
func TestSleyingChart(t *testing.T) {
	reeds := []float64{5, 6, 8, 9, 10, 12, 14, 15, 16, 18, 20, 24}
	for _, row := range []struct {
		order []int
		setts []float64
	}{
		{[]int{0, 0, 1}, []float64{1.67, 2, 2.67, 3, 3.33, 4, 4.67, 5, 5.33, 6, 6.67, 8}},
		{[]int{0, 1}, []float64{2.5, 3, 4, 4.5, 5, 6, 7, 7.5, 8, 9, 10, 12}},
		{[]int{0, 1, 1}, []float64{3.33, 4, 5.33, 6, 6.67, 8, 9.33, 10, 10.67, 12, 13.33, 16}},
		{[]int{0, 1, 1, 1}, []float64{3.75, 4.5, 6, 6.75, 7.5, 9, 10.5, 11.25, 12, 13.5, 15, 18}},
		{[]int{1}, []float64{5, 6, 8, 9, 10, 12, 14, 15, 16, 18, 20, 24}},
		{[]int{1, 1, 1, 2}, []float64{6.25, 7.5, 10, 11.25, 12.5, 15, 17.5, 18.75, 20, 22.5, 25, 30}},
		{[]int{1, 1, 2}, []float64{6.67, 8, 10.67, 12, 13.33, 16, 18.67, 20, 21.33, 24, 26.67, 32}},
		{[]int{1, 2}, []float64{7.5, 9, 12, 13.5, 15, 18, 21, 22.5, 24, 27, 30, 36}},
		{[]int{1, 2, 2}, []float64{8.33, 10, 13.33, 15, 16.67, 20, 23.33, 25, 26.67, 30, 33.33, 40}},
		{[]int{1, 2, 2, 2}, []float64{8.75, 10.5, 14, 15.75, 17.5, 21, 24.5, 26.25, 28, 31.5, 35, 42}},
		{[]int{2}, []float64{10, 12, 16, 18, 20, 24, 28, 30, 32, 36, 40, 48}},
		{[]int{2, 2, 3}, []float64{11.67, 14, 18.67, 21, 23.33, 28, 32.67, 35, 37.33, 42, 46.67, 56}},
		{[]int{2, 3}, []float64{12.5, 15, 20, 22.5, 25, 30, 35, 37.5, 40, 45, 50, 60}},
		{[]int{3}, []float64{15, 18, 24, 27, 30, 36, 42, 45, 48, 54, 60, 72}},
	} {
		for i, reed := range reeds {
			t.Run(fmt.Sprintf("computed/%v dents/%v", reed, row.order), func(t *testing.T) {
				sum := 0
				for _, n := range row.order {
					sum += n
				}
				exact := reed * float64(sum) / float64(len(row.order))
				for _, sett := range []float64{exact, row.setts[i]} {
					o := sleyFor(perInch(reed), perInch(sett))
					if !slices.Equal(o.Order(), row.order) {
						t.Errorf("%v/in gives %v", sett, o.Order())
					}
					if got := o.Sett().PerInch(); math.Abs(got-row.setts[i]) > 0.005+1e-9 {
						t.Errorf("gives %v/in, want %v", got, row.setts[i])
					}
				}
				if off := sleyFor(perInch(reed), perInch(exact)).OffPercent(); off != 0 {
					t.Errorf("off by %v %%", off)
				}
			})
		}
	}
}

// Published orders. They may begin at another dent, or spread the same ends over twice
// the dents. The setts must agree, and so must the order if the source begins it as this
// package does.
func TestSleyingInPrint(t *testing.T) {
	const charts = "published/weaving-school substitution chart/"
	for _, row := range []struct {
		source     string
		dents      float64
		print      []int
		sett       float64
		ends, over int // of the resulting order
	}{
		{"published/P. Osterkamp, weaving tips, 2023/", 10, []int{1, 1, 1, 2}, 12.5, 5, 4},
		{"published/P. Osterkamp, weaving tips, 2023/", 8, []int{1, 1, 1, 2}, 10, 5, 4},
		{charts, 6, []int{1, 2, 2}, 10, 5, 3},
		{charts, 6, []int{3, 3, 4}, 20, 10, 3},
		{charts, 8, []int{3, 2}, 20, 5, 2},
		{charts, 12, []int{2, 1, 1}, 16, 4, 3},
		{charts, 10, []int{2, 1, 2, 1, 2, 1, 2, 1, 2, 2}, 16, 8, 5},
		{charts, 12, []int{2, 2, 3}, 28, 7, 3},
		// One chart gives 24.5 for this; 10 × 7 ÷ 3 is 23.33, as tested here.
		{"published/weaving-school substitution chart, its 24.5 mended/", 10, []int{2, 2, 3}, 70.0 / 3, 7, 3},
		{"common practice, no source/", 12, []int{1, 2}, 18, 3, 2},
		{"published/J. T. Taylor, Cotton Weaving and Designing, 6th ed., p. 243, Stockport 60/", 30, []int{3}, 90, 3, 1},
	} {
		t.Run(fmt.Sprintf("%s%v dents %v", row.source, row.dents, row.print), func(t *testing.T) {
			sum := 0
			for _, n := range row.print {
				sum += n
			}
			if printed := row.dents * float64(sum) / float64(len(row.print)); !near(printed, row.sett, 1e-12) {
				t.Fatalf("the row itself gives %v", printed)
			}
			o := sleyFor(perInch(row.dents), perInch(row.sett))
			if o.Ends != row.ends || o.Dents != row.over || o.OffPercent() != 0 {
				t.Errorf("%d ends in %d dents, off %v %%", o.Ends, o.Dents, o.OffPercent())
			}
		})
	}
}

func TestSley(t *testing.T) {
	for _, row := range []struct {
		name       string
		reed, sett float64
		order      []int
		off        float64
		fullest    int
	}{
		{"exact", 10, 20, []int{2}, 0, 2},
		{"shortest within half a percent", 10, 20.1, []int{2}, -0.497512, 2},
		{"shortest within three percent", 10, 20.2, []int{2}, -0.990099, 2},
		{"longer but within half a percent", 10, 22.5, []int{2, 2, 2, 3}, 0, 3},
		{"not a longer and nearer one", 1, 20.1, []int{20}, -0.497512, 20},
		{"of two counts the nearer", 1, 150.55, []int{151}, 0.298904, 151},
		{"a tie takes the fuller", 1, 150.5, []int{151}, 0.332226, 151},
		{"sparser than any order", 10, 0.1, []int{0, 0, 0, 0, 0, 0, 0, 1}, 1150, 1},
		{"the nearest of all", 10, 11.05, []int{1, 1, 1, 1, 1, 1, 1, 2}, 1.809955, 2},
	} {
		t.Run(row.name, func(t *testing.T) {
			o := sleyFor(measure.Density(row.reed), measure.Density(row.sett))
			if !slices.Equal(o.Order(), row.order) || math.Abs(o.OffPercent()-row.off) > 1e-5 || o.Fullest() != row.fullest {
				t.Errorf("%v off %v, fullest %d", o.Order(), o.OffPercent(), o.Fullest())
			}
		})
	}
	for _, o := range []Sleying{sleyFor(0, 8), sleyFor(4, 0), sleyFor(measure.Density(math.NaN()), 8)} {
		if o.Dents != 0 || o.Sett() != 0 || o.OffPercent() != 0 || o.Fullest() != 0 || o.dentsFor(8) != 0 || o.widthError(8).Known || len(o.Order()) != 0 {
			t.Errorf("%+v from nothing", o)
		}
	}
}

// The rule of the order, computed independently with exact rationals and a search through
// all numbers of ends.
func TestSleyAgreesWithExactSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reed := big.NewRat(int64(rapid.IntRange(10, 400).Draw(t, "reed")), 10)
		sett := big.NewRat(int64(rapid.IntRange(1, 2000).Draw(t, "sett")), 10)
		ratio := new(big.Rat).Quo(sett, reed)
		r, _ := reed.Float64()
		want, _ := sett.Float64()
		got := sleyFor(measure.Density(r), measure.Density(want))
		ends, dents := searched(ratio)
		if got.Ends != ends || got.Dents != dents {
			t.Fatalf("ratio %v: %d in %d, want %d in %d", ratio, got.Ends, got.Dents, ends, dents)
		}
	})
}

// searched returns the order's ends and dents, found by an exact search.
func searched(ratio *big.Rat) (ends, dents int) {
	type order struct {
		ends, dents int
		off         *big.Rat
	}
	var all []order
	for d := 1; d <= 8; d++ {
		var best order
		top := int(new(big.Int).Div(new(big.Int).Mul(ratio.Num(), big.NewInt(int64(d))), ratio.Denom()).Int64()) + 1
		for n := max(top-2, 1); n <= top; n++ {
			off := new(big.Rat).Quo(big.NewRat(int64(n), int64(d)), ratio)
			off.Sub(off, big.NewRat(1, 1)).Abs(off)
			if best.off == nil || off.Cmp(best.off) <= 0 {
				best = order{n, d, off}
			}
		}
		all = append(all, best)
	}
	for _, limit := range []*big.Rat{big.NewRat(1, 200), big.NewRat(3, 100)} {
		for _, o := range all {
			if o.off.Cmp(limit) <= 0 {
				return o.ends, o.dents
			}
		}
	}
	best := all[0]
	for _, o := range all {
		if o.off.Cmp(best.off) < 0 {
			best = o
		}
	}
	return best.ends, best.dents
}

func TestOrderIsEven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := sleyFor(measure.Density(rapid.Float64Range(0.5, 20).Draw(t, "reed")), measure.Density(rapid.Float64Range(0.1, 80).Draw(t, "sett")))
		order := o.Order()
		sum := 0
		for _, n := range order {
			sum += n
		}
		if len(order) < 1 || len(order) > 8 || sum != o.Ends || sum < 1 {
			t.Fatalf("order %v of %+v", order, o)
		}
		if o.Fullest() != slices.Max(order) || slices.Max(order)-slices.Min(order) > 1 {
			t.Fatalf("fullest %d of %v", o.Fullest(), order)
		}
		off := math.Abs(float64(o.Reed)*float64(sum)/float64(len(order))/float64(o.Wanted)-1) * 100
		if o.Exact() != (off <= 0.5+1e-6) && math.Abs(off-0.5) > 1e-6 || o.Fair() != (off <= 3) && math.Abs(off-3) > 1e-6 {
			t.Fatalf("off %v, exact %v, fair %v", off, o.Exact(), o.Fair())
		}
		ends := rapid.IntRange(1, 5000).Draw(t, "ends")
		if want := math.Ceil(float64(ends*len(order))/float64(sum) - 1e-9); o.dentsFor(ends) != int(want) {
			t.Fatalf("%d ends in %v take %d dents, want %v", ends, order, o.dentsFor(ends), want)
		}
	})
}

// From the left edge to the right, the first half's order read inward and the second's
// outward form one continuous order.
func TestFromCentreIsContinuous(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := sleyFor(measure.Density(rapid.Float64Range(1, 20).Draw(t, "reed")), measure.Density(rapid.Float64Range(0.5, 60).Draw(t, "sett")))
		first, second := o.fromCentre()
		var across []int
		for k := 2*len(first) - 1; k >= 0; k-- {
			across = append(across, first[k%len(first)])
		}
		for k := range 2 * len(second) {
			across = append(across, second[k%len(second)])
		}
		order := o.Order()
		for k, n := range across {
			if n != order[k%len(order)] {
				t.Fatalf("%v does not go on as %v", across, order)
			}
		}
	})
}

func TestWidthError(t *testing.T) {
	// 202 ends at 20.2/cm are 10 cm wide; with 2 a dent at 10 dents/cm they are 10.1 cm.
	o := sleyFor(10, 20.2)
	if got := o.widthError(202); !near(got.Value, 1, 1e-9) {
		t.Errorf("%v mm, want 1", got.Value)
	}
}

func TestOtherReed(t *testing.T) {
	fine, eleven := schema.Reed{Name: "fine", Dents: perInch(100)}, schema.Reed{Name: "eleven", Dents: perInch(11)}
	six, eight, ten := schema.Reed{Name: "six", Dents: perInch(6)}, schema.Reed{Name: "eight", Dents: perInch(8)}, schema.Reed{Name: "ten", Dents: perInch(10)}
	for _, row := range []struct {
		name  string
		reeds []schema.Reed
		sett  float64
		want  string
	}{
		{"the reed in use does", []schema.Reed{ten, eight}, 20, ""},
		{"another does exactly", []schema.Reed{ten, eleven}, 11.05, "eleven"},
		{"the shorter order wins", []schema.Reed{fine, eight, six}, 12, "six"},
		{"another is as good only", []schema.Reed{ten, eight}, 8.2, ""},
		{"the same reed again", []schema.Reed{ten, ten}, 8.2, ""},
		{"no reed", nil, 20, ""},
		{"sett unknown", []schema.Reed{ten}, 0, ""},
		{"dents unknown", []schema.Reed{fine, {Name: "blank"}, six}, 12, "six"},
	} {
		t.Run(row.name, func(t *testing.T) {
			reed, order, ok := Of(&schema.Draft{}, &schema.Setup{Reeds: row.reeds, ReedNamed: true, Project: schema.Project{Sett: perInch(row.sett)}}).OtherReed()
			if reed.Name != row.want || ok != (row.want != "") || ok && !order.Fair() {
				t.Errorf("%q %v %v", reed.Name, order.Order(), ok)
			}
		})
	}
}

func TestRaddle(t *testing.T) {
	for _, row := range []struct {
		units measure.Units
		sett  measure.Density
		want  string
	}{
		{measure.Metric, 8, "[8]"},
		{measure.Metric, 7.5, "[7 8]"},
		{measure.Imperial, perInch(20), "[20]"},
	} {
		got := Of(straight(4, 4), &schema.Setup{Units: row.units, Project: schema.Project{Sett: row.sett}}).raddlePlan().Order
		if fmt.Sprint(got) != row.want {
			t.Errorf("%v, want %s", got, row.want)
		}
	}
}

func TestDentsInTens(t *testing.T) {
	up := func(n int) int { return 100 + n }
	for _, row := range []struct {
		name  string
		order []int
		ends  int
		want  []DentTen
	}{
		{"two a dent", []int{2}, 45, []DentTen{
			{10, 101, 120, []int{2, 2, 2, 2, 2, 2, 2, 2, 2, 2}},
			{20, 121, 140, []int{2, 2, 2, 2, 2, 2, 2, 2, 2, 2}},
			{23, 141, 145, []int{2, 2, 1}}}},
		{"1-2 makes 15 ends in ten dents", []int{1, 2}, 15, []DentTen{{10, 101, 115, []int{1, 2, 1, 2, 1, 2, 1, 2, 1, 2}}}},
		{"under ten dents", []int{2, 2, 3}, 5, []DentTen{{3, 101, 105, []int{2, 2, 1}}}},
		{"empty dents count", []int{0, 1}, 6, []DentTen{
			{10, 101, 105, []int{0, 1, 0, 1, 0, 1, 0, 1, 0, 1}},
			{12, 106, 106, []int{0, 1}}}},
		{"no order", nil, 5, nil},
		{"nothing in any dent", []int{0}, 5, nil},
		{"no ends", []int{2}, 0, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := dentTens(row.order, row.ends, up); !cmp.Equal(got, row.want) {
				t.Errorf("got %v, want %v", got, row.want)
			}
		})
	}
}

// TestNearest checks that no order of up to eight dents comes nearer than Nearest.
func TestNearest(t *testing.T) {
	for sett := 1.0; sett < 60; sett += 0.37 {
		o := sleyFor(10, measure.Density(sett))
		best := math.Inf(1)
		for dents := 1; dents <= 8; dents++ {
			for ends := 1; ends <= 60; ends++ {
				best = min(best, math.Abs(100*(10*float64(ends)/float64(dents)/sett-1)))
			}
		}
		if got := math.Abs(o.Nearest().OffPercent()); math.Abs(got-best) > 1e-6 {
			t.Errorf("%g in a reed of 10: nearest is %g %% off, want %g", sett, got, best)
		}
	}
	if o := sleyFor(measure.ByInch(10), measure.ByInch(11.5)); o.Ends != 7 || o.Nearest().Ends != 8 || o.Nearest().Dents != 7 {
		t.Errorf("11.5 to the inch in 10 dents: %+v, nearest %+v", o, o.Nearest())
	}
}
