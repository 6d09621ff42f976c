package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/wording"
)

// openPercent is the part of the maximum sett below which a warp is open, and facedPercent
// the one below which it may be for a weft-faced cloth. Both are rules of thumb.
const openPercent, facedPercent = 40, 50

var yarnOpenSett = lint.Rule{
	ID:    "yarn/open-sett",
	Title: "the sett is far more open than the yarn and the weave allow",
	Why:   "In a very open sett the threads slip, and the cloth comes out sleazy. Often the sett or the size of the yarn is mistyped.",
	Counts: "The maximum is that of yarn/sett, by Ashenhurst's rule. fettle reports a sett under 40 % of it, for the thickest yarn of the warp, unless the weft is beaten closer than its own maximum, as in weft-faced cloth, or its size is unknown. " +
		"The 40 % is a rule of thumb. It errs on the open side: cloth at half of the maximum can be too open, and lace is right below it.",
	Remedy:  "Check the sett and the size of the yarn. Use a closer sett, or weave a sample.",
	Default: schema.Note,
	Faulty:  lint.Example{Settings: "[project]\nsett = 10/in\npicks = 10/in\n[yarn natural]\ngrist = 8/2 cotton\n"},
	Fixed:   lint.Example{Settings: "[project]\nsett = 20/in\npicks = 20/in\n[yarn natural]\ngrist = 8/2 cotton\n"},
	SafeOff: "for lace, gauze and cloth to be felted",
	Source:  "Ashenhurst, for the maximum; the 40 % is a rule of thumb",
	Data: []lint.Field{{Key: "yarn", Text: "the yarn"}, {Key: "sett_per_cm", Text: "the sett, in ends per cm"},
		{Key: "max_per_cm", Text: "the maximum for this yarn in this weave"}, {Key: "percent", Text: "the sett in percent of the maximum"}},
	Weave: true,
	Check: checkYarnOpenSett,

	Keys:     []string{"yarn"},
	Measures: []lint.Measure{{Key: "max_per_cm", Over: "sett_per_cm"}},
}

func checkYarnOpenSett(p *lint.Pass) {
	sett := p.Figures.Sett().Density
	if len(p.Setup.Yarns) == 0 || sett <= 0 || p.Cloth().Layers() > 1 || p.Figures.WeftUnknown() {
		return
	}
	for _, weft := range p.Figures.WeftMaximums() {
		if weft.Picks > weft.Maximum {
			return // weft-faced
		}
	}
	closest, percent := nearestMaximum(p)
	if percent == 0 || percent >= openPercent {
		return
	}
	u, name := p.Units(), p.Setup.Yarns[closest.Yarn].Name
	p.Report(warpPlace(p),
		schema.Data{{Key: "yarn", Value: wording.Plain(name, 60)}, {Key: "sett_per_cm", Value: float64(sett)},
			{Key: "max_per_cm", Value: float64(closest.Maximum)}, {Key: "percent", Value: percent}},
		"a sett of %s is only %s %% of the maximum for yarn %s in this weave, %s; check both the sett and the yarn, or set it at about %s",
		u.Sett(sett), wording.Decimal(percent, 0), wording.Quote(name), u.Sett(closest.Maximum), u.RoughSett(closest.Maximum*0.75))
}

// nearestMaximum returns the yarn of the warp whose sett is nearest to its maximum, and the
// sett in percent of that; 0 if no maximum is known.
func nearestMaximum(p *lint.Pass) (yarn dressing.YarnMaximum, percent float64) {
	for _, m := range p.Figures.MaximumSetts(0) {
		if now := 100 * float64(p.Figures.Sett().Density/m.Maximum); now > percent {
			yarn, percent = m, now
		}
	}
	return yarn, percent
}
