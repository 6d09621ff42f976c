package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/wording"
)

var oddSpacing = lint.Rule{
	ID:    "draft/odd-spacing",
	Title: "no handwoven cloth has the spacing that the draft states",
	Why: "Spacing is the distance from one thread to the next, in the draft's unit. " +
		"It is easy to type the sett instead, such as 8 for 8 ends per centimetre, or to state the wrong unit.",
	Counts: "fettle ignores a spacing under 1 or over 200 threads per inch, so width, sett and float lengths count as unknown. " +
		"If the number makes 2 to 60 threads per inch in another reading, the finding names that reading.",
	Remedy:  "Correct the spacing or its unit.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[WARP]\nThreads=8\nColor=1\nUnits=Centimeters\nSpacing=8\n"},
	Fixed:   lint.Example{Draft: "[WARP]\nThreads=8\nColor=1\nUnits=Centimeters\nSpacing=0.125\n"},
	SafeOff: "if the threads really are spaced like this and your settings state sett and picks",
	Source:  "rule of thumb",
	Data: []lint.Field{{Key: "system", Text: "warp or weft"}, {Key: "spacing_mm", Text: "the spacing that the draft states, in mm"},
		{Key: "meant", Text: "the likely meaning; several are joined with or; empty if none is likely"}},
	Fixable: true,
	Check:   checkOddSpacing,

	Keys:     []string{"system"},
	Measures: []lint.Measure{},
}

func checkOddSpacing(p *lint.Pass) {
	for _, odd := range p.Figures.OddSpacings() {
		reportOddSpacing(p, odd)
	}
}

func reportOddSpacing(p *lint.Pass, odd dressing.OddSpacing) {
	system, s := odd.System, p.Draft.Of(odd.System)
	at := schema.Place{Part: schema.PartOf(system, schema.PartWarp), Field: schema.FieldSpacing}
	if s.Spacing == 0 {
		at = schema.Place{Part: schema.PartOf(system, schema.PartWarpSpacings), Row: 1}
	}
	fixed, todo := "", "correct it, or its unit"
	switch len(odd.Meant) {
	case 0:
	case 1:
		fixed = wording.Decimal(odd.Meant[0].MM/s.Unit.Millimetres(), 6)
		todo = "write " + fixed + " if you mean " + odd.Text()
	default:
		todo = "do you mean " + odd.Text() + "?"
	}
	p.Report(at, schema.Data{{Key: "system", Value: string(system)}, {Key: "spacing_mm", Value: odd.MM}, {Key: "meant", Value: odd.Text()}},
		"no handwoven cloth has a %s spacing of %s %s, so fettle ignores it; %s", system, wording.Decimal(odd.Value, 6), unitWord(s.Unit), todo)
	if fixed != "" && len(s.Spacings) == 0 {
		offerChange(p, "write "+fixed, func(e schema.Editor) []schema.Edit { return e.Set(at, fixed) })
	}
}

func unitWord(u schema.Unit) string {
	switch u {
	case schema.Centimetres:
		return "cm"
	case schema.Inches:
		return "in"
	case schema.UnitUnstated:
		return "decipoints (no unit is stated)"
	}
	return "decipoints"
}
