package dressing

import (
	"slices"
	"testing"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/measure"
)

func TestLacks(t *testing.T) {
	loom := func(l schema.Loom) func(*schema.Draft, *schema.Setup) {
		return func(d *schema.Draft, s *schema.Setup) { d.Shed, s.Loom = schema.Sinking, l }
	}
	const (
		shafts   = "thread: the draft goes up to shaft 4 and the loom has 3 shafts; find a draft for fewer, or another loom"
		treadles = "tie up: the draft goes up to treadle 4 and the loom has 3 treadles; find a loom with more, or weave it on a dobby by a lift plan: fettle convert --lifts plan"
		shed     = "the draft is for a sinking shed and the loom has a rising one, so it weaves face down; change the draft over with fettle convert --shed rising"
		wide     = "sley: the warp is 50 cm wide in the reed and the loom weaves 40 cm, 10 cm less; take fewer ends, or a closer sett"
		short    = "sley: the warp of 400 ends takes 200 dents and the reed has 160, 40 short; take a longer reed, fewer ends, or a closer sett"
	)
	for _, row := range []struct {
		name   string
		change func(*schema.Draft, *schema.Setup)
		want   []string
	}{
		{"nothing", func(*schema.Draft, *schema.Setup) {}, nil},
		{"shafts", loom(schema.Loom{Shafts: 3}), []string{shafts}},
		{"enough of all", loom(schema.Loom{Shafts: 4, Treadles: 4, Shed: schema.Sinking, WeavingWidth: 500}), nil},
		{"a balanced shed", loom(schema.Loom{Shed: schema.Balanced}), nil},
		{"treadles", loom(schema.Loom{Treadles: 3}), []string{treadles}},
		{"shed", loom(schema.Loom{Shed: schema.Rising}), []string{"tie up: " + shed}},
		{"shed, by lift plan", func(d *schema.Draft, s *schema.Setup) {
			loom(schema.Loom{Shed: schema.Rising})(d, s)
			d.LiftPlan = schema.Singles(1, 2, 3, 4)
		}, []string{"weave: " + shed}},
		{"shed, on a loom without treadles", func(d *schema.Draft, s *schema.Setup) {
			loom(schema.Loom{Shed: schema.Rising})(d, s)
			s.Given = map[string]schema.Origin{"loom.treadles": {}}
		}, []string{"weave: " + shed}},
		{"a treadle for each lift", func(d *schema.Draft, s *schema.Setup) {
			d.Treadling, d.LiftPlan, s.Loom.Treadles = schema.Rows{}, schema.Singles(1, 2, 3, 1), 2
		}, []string{"weave: the lift plan has 3 different lifts, a treadle each, and the loom has 2 treadles; weave it on a dobby, or find a draft with fewer lifts"}},
		{"all at once, in the order of the work", func(d *schema.Draft, s *schema.Setup) {
			loom(schema.Loom{Shafts: 3, Treadles: 3, Shed: schema.Rising, WeavingWidth: 400})(d, s)
			s.Heddles.ByShaft = map[int]int{2: 90, 4: 99}
			s.Reeds[0].Width = 400
			s.Yarns[1].Stock = measure.Stock{Packages: 1, Metres: 1000}
			s.Yarns[0].Stock = measure.Stock{Packages: 1, Metres: 300}
		}, []string{
			"yarn: the work takes 1200 m of yarn 'natural' and there are 300 m, 900 m short; get more yarn, or weave narrower",
			wide, short, shafts, "thread: heddles are short, 10 on shaft 2 and 1 on shaft 4; add heddles, or move ends to other shafts",
			treadles, "tie up: " + shed}},
		{"a block profile", func(d *schema.Draft, s *schema.Setup) {
			loom(schema.Loom{Shafts: 3})(d, s)
			d.Profile = schema.Yes
		}, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, s := towel()
			s.Heddles, s.Yarns[0].Stock = schema.Heddles{Known: true, Each: 100}, measure.Stock{}
			row.change(d, s)
			list, err := Lacks(d, s, cloth.Of(d))
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, l := range list {
				got = append(got, l.Step+": "+l.Text)
			}
			if !slices.Equal(got, row.want) {
				t.Errorf("%q, want %q", got, row.want)
			}
		})
	}
}

// Of a warp on many shafts that are all short not every one is named.
func TestManyShaftsShort(t *testing.T) {
	s := &schema.Setup{Heddles: schema.Heddles{Known: true, Each: 1}}
	heddles, err := Heddles(straight(40, 20), s)
	if err != nil {
		t.Fatal(err)
	}
	want := "heddles are short, 1 on shaft 1, 1 on shaft 2, 1 on shaft 3, 1 on shaft 4, 1 on shaft 5, 1 on shaft 6, 1 on shaft 7, 1 on shaft 8 and some on 12 shafts more; " +
		"add heddles, or move ends to other shafts"
	if got := tooFewHeddles(heddles); got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
