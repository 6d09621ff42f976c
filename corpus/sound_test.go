package corpus

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fettle/schema"
	"fettle/schema/measure"
	"fettle/schema/settings"
)

// TestGuildIsSound checks every draft on its loom with simple arithmetic. It breaks only
// the rules that it names.
func TestGuildIsSound(t *testing.T) {
	finder := settings.NewFinder(settings.Options{})
	for _, c := range compose() {
		t.Run(c.file, func(t *testing.T) {
			s, err := finder.For(filepath.Join("guild", c.file+".wif"), nil)
			if err != nil {
				t.Fatal(err)
			}
			onItsLoom := func(path string) bool { return filepath.Base(path) == c.loom+".ini" }
			if !slices.ContainsFunc(s.Files, onItsLoom) {
				t.Errorf("settings come from %s, want %s among them", s.Files, c.loom)
			}
			d := c.plan.draft()
			b := bench{d: d, s: &s.Setup, w: woven(d)}
			b.check()
			got := slices.DeleteFunc(b.broken, func(rule string) bool {
				return slices.ContainsFunc(d.Ignores, func(i schema.Ignore) bool { return i.Rule == rule })
			})
			if strings.Join(got, " ") != c.expects {
				t.Errorf("breaks %s, want %q", got, c.expects)
			}
		})
	}
}

// bench is a draft on a loom, with the rules that it breaks.
type bench struct {
	d      *schema.Draft
	s      *schema.Setup
	w      weave
	broken []string
}

func (b *bench) must(holds bool, rule string) {
	if !holds && !slices.Contains(b.broken, rule) {
		b.broken = append(b.broken, rule)
	}
}

func (b *bench) check() {
	b.loom()
	if p := b.s.Project; b.d.Ends()*max(p.Repeats, 1)+p.Balance > 1_000_000 {
		b.must(false, "loom/too-many-ends")
		b.floats()
		return // there is no warp to judge by width, heddles, dents and yarn
	}
	b.heddles()
	b.reed()
	b.floats()
	b.yarn()
}

func (b *bench) loom() {
	loom := b.s.Loom
	b.must(loom.Shafts == 0 || b.d.HighestShaft() <= loom.Shafts, "loom/too-many-shafts")
	b.must(loom.Treadles == 0 || b.treadles() <= loom.Treadles, "loom/too-many-treadles")
	opposed := b.d.Shed == schema.Rising && loom.Shed == schema.Sinking || b.d.Shed == schema.Sinking && loom.Shed == schema.Rising
	b.must(!opposed, "loom/shed-mismatch")
	b.must(loom.Shed != schema.Balanced || b.balanced(), "loom/unbalanced-lift")
}

// treadles returns how many treadles the draft takes; a lift plan takes one for each
// different lift.
func (b *bench) treadles() int {
	if b.d.LiftPlan.Len() == 0 {
		return b.d.HighestTreadle()
	}
	lifts := map[string]bool{}
	for p := 1; p <= b.d.Picks(); p++ {
		lifts[fmt.Sprint(b.d.LiftPlan.Row(p))] = true
	}
	return len(lifts)
}

func (b *bench) balanced() bool {
	for p := 1; p <= b.d.Picks(); p++ {
		if 2*len(liftOf(b.d, p)) != b.d.HighestShaft() {
			return false
		}
	}
	return true
}

// onShafts returns how many ends each shaft carries, with shaft 1 at index 0.
func (b *bench) onShafts() []int {
	count := make([]int, max(b.d.Shafts, b.d.HighestShaft()))
	for e := 1; e <= b.d.Ends(); e++ {
		for _, s := range b.d.Threading.Row(e) {
			count[s-1]++
		}
	}
	return count
}

func (b *bench) heddles() {
	for i, needed := range b.onShafts() {
		b.must(needed > 0, "draft/unused-shaft")
		have, known := b.s.Heddles.On(i + 1)
		b.must(!known || needed <= have, "loom/missing-heddles")
		b.must(b.sett() == 0 || float64(needed) <= 8*b.width()/10, "loom/heddle-crowding")
	}
}

// sett returns the ends per centimetre, 0 if unknown.
func (b *bench) sett() float64 { return known(b.s.Project.Sett, b.d.Warp.SpacingOf(1)) }

// picks returns the picks per centimetre, 0 if unknown.
func (b *bench) picks() float64 { return known(b.s.Project.Picks, b.d.Weft.SpacingOf(1)) }

func known(stated measure.Density, spacing float64) float64 {
	if stated > 0 || spacing == 0 {
		return float64(stated)
	}
	return 10 / spacing
}

// width returns the width in the reed in millimetres, if the sett is known.
func (b *bench) width() float64 { return 10 * float64(b.d.Ends()) / b.sett() }

func (b *bench) reed() {
	if b.sett() == 0 {
		return
	}
	b.must(b.s.Loom.WeavingWidth == 0 || b.width() <= float64(b.s.Loom.WeavingWidth), "loom/too-wide")
	if len(b.s.Reeds) == 0 {
		return
	}
	reed := b.s.Reeds[0]
	dents := float64(reed.Dents)
	best := math.Inf(1)
	for d := 1.0; d <= 8; d++ {
		order := math.Round(b.sett()/dents*d) / d
		best = min(best, math.Abs(order*dents/b.sett()-1))
	}
	b.must(best <= 0.005, "reed/sett")
	b.must(math.Ceil(b.sett()/dents-0.001) <= 4, "reed/crowded-dent")
	b.must(reed.Width == 0 || b.width() <= float64(reed.Width), "reed/too-short")
}

func (b *bench) floats() {
	four := b.w.fourFloats()
	over := tooLong(max(four[0], four[1]), b.picks()) || tooLong(max(four[2], four[3]), b.sett())
	b.must(!over, "cloth/long-float")
	b.must(b.w.layers() <= 1, "cloth/layers")
}

// tooLong judges a float by its length if known, otherwise by its threads.
func tooLong(threads int, perCentimetre float64) bool {
	if perCentimetre == 0 {
		return threads > 9
	}
	return threads > 1 && float64(threads)*10/perCentimetre > 12.7+0.01
}

// yarn checks each color separately: in these drafts each color is one yarn.
func (b *bench) yarn() {
	for i, c := range b.d.Palette {
		inWarp, inWeft := share(&b.d.Warp, i+1), share(&b.d.Weft, i+1)
		if len(b.s.Yarns) == 0 || inWarp+inWeft == 0 {
			continue
		}
		of := slices.IndexFunc(b.s.Yarns, func(y schema.Yarn) bool { return slices.Contains(y.Colors, c) })
		if of < 0 {
			b.must(false, "yarn/unassigned")
			continue
		}
		yarn := &b.s.Yarns[of]
		b.must((inWarp == 0 || yarn.ForWarp) && (inWeft == 0 || yarn.ForWeft), "yarn/unassigned")
		if yarn.Stock.Known() {
			b.must(inWarp*b.warpMetres()+inWeft*b.weftMetres() <= stockMetres(yarn), "yarn/overrun")
		}
		if yarn.Grist.Known() && inWarp > 0 {
			for color := range len(b.d.Palette) + 1 {
				if own := b.w.picksIn(b.d, color); len(own) > 0 {
					b.must(b.sett() <= usualK(yarn)*own.fullnessBy(b.w.turned().picksRepeat()), "yarn/sett")
				}
			}
		}
	}
}

// usualK returns the diameters of a yarn in a centimetre by Ashenhurst's rule, with k by its
// count.
func usualK(y *schema.Yarn) float64 {
	k := 0.9
	for word, by := range map[string]float64{"cotton": 0.92, "linen": 0.92, "cut": 0.84, "run": 0.84, "skein": 0.84} {
		if strings.Contains(y.Grist.Text, word) {
			k = by
		}
	}
	return k * math.Sqrt(y.Grist.YardsPerPound()) / 2.54
}

// share returns the fraction of a system's threads that have a color.
func share(s *schema.System, color int) float64 {
	n := 0
	for i := 1; i <= s.Threads; i++ {
		if s.ColorOf(i) == color {
			n++
		}
	}
	return float64(n) / float64(max(s.Threads, 1))
}

func stockMetres(y *schema.Yarn) float64 {
	each := y.Stock.Metres
	if y.Stock.Grams > 0 {
		each = y.Stock.Grams / y.Grist.Tex * 1000
	}
	return float64(y.Stock.Packages) * each
}

func (b *bench) wovenLength() float64 {
	p := &b.s.Project
	items := float64(max(p.Items, 1))
	return (items*float64(p.FinishedLength+p.Hem) + float64(p.Sample)) / (1 - p.ShrinkageWarp)
}

func (b *bench) warpMetres() float64 {
	p := &b.s.Project
	fringe := float64(max(p.Items, 1)) * float64(p.Fringe)
	each := (b.wovenLength()+fringe)/(1-p.TakeUp) + float64(p.LoomWaste)
	return float64(b.d.Ends()) * each / 1000
}

func (b *bench) weftMetres() float64 {
	picks := math.Ceil(b.wovenLength() / 10 * b.picks())
	return picks * b.width() * (1 + b.s.Project.WeftTakeUp) / 1000
}
