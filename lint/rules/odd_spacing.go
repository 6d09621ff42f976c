package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/wording"
)

var oddSpacing = lint.Rule{
	ID:    "draft/odd-spacing",
	Title: "the threads are spaced as in no handwoven cloth",
	Why: "A spacing is the distance from thread to thread, in the unit of the draft. " +
		"A sett is easily typed in its place, 8 for 8 ends to the centimetre, or the number belongs to another unit. " +
		"A spacing under 1 thread to the inch or over 200 is ignored: width, sett and the length of floats count as unknown. " +
		"Where one reading is usual, from 2 to 60 threads to the inch, the message says that it is meant; where several are, it lists them.",
	Default: schema.Warning,
	Faulty:  lint.Example{Draft: "[WARP]\nThreads=8\nColor=1\nUnits=Centimeters\nSpacing=8\n"},
	Mended:  lint.Example{Draft: "[WARP]\nThreads=8\nColor=1\nUnits=Centimeters\nSpacing=0.125\n"},
	SafeOff: "where threads really lie so, and the settings state sett and picks",
	Source:  "common practice, no source",
	Data: []lint.Field{{Key: "system", Text: "warp or weft"}, {Key: "spacing_mm", Text: "the spacing as the draft states it, in mm"},
		{Key: "meant", Text: "what is probably meant, several readings with or between; empty where none is usual"}},
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
	mended, todo := "", "correct it, or its unit"
	switch len(odd.Meant) {
	case 0:
	case 1:
		mended = wording.Decimal(odd.Meant[0].MM/s.Unit.Millimetres(), 6)
		todo = odd.Text() + " is probably meant, so write " + mended
	default:
		todo = "is " + odd.Text() + " meant?"
	}
	p.Report(at, schema.Data{{Key: "system", Value: string(system)}, {Key: "spacing_mm", Value: odd.MM}, {Key: "meant", Value: odd.Text()}},
		"no handwoven cloth has a %s spacing of %s %s, so it is ignored; %s", system, wording.Decimal(odd.Value, 6), unitWord(s.Unit), todo)
	if mended != "" && len(s.Spacings) == 0 {
		offerChange(p, "write "+mended, func(e schema.Editor) []schema.Edit { return e.Set(at, mended) })
	}
}

// unitWord is the unit of a draft's spacing in words.
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
