package rules

import (
	"cmp"
	"fmt"
	"slices"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

var colorIndex = lint.Rule{
	ID:    "draft/color-index",
	Title: "a thread has a color that isn't in the palette",
	Why: "Threads take their colors by number from the draft's palette. " +
		"Without its palette entry a thread is drawn in any color or none, and its yarn can't be worked out.",
	Counts:  "fettle reports each missing color once for the warp and once for the weft, at the first thread that has it.",
	Remedy:  "Add the color to the palette, or give the thread another one.",
	Default: schema.Error,
	Faulty:  lint.Example{Draft: "[WARP COLORS]\n3=2\n5=7\n"},
	Fixed:   lint.Example{Draft: "[WARP COLORS]\n3=2\n5=2\n"},
	SafeOff: "if you don't use the colors: they don't change the interlacement",
	Source:  "rule of thumb",
	Data: []lint.Field{{Key: "system", Text: "warp or weft"}, {Key: "color", Text: "the palette number"},
		{Key: "palette", Text: "the number of colors in the palette"}},
	Check: checkColorIndex,

	Keys:     []string{"system", "color"},
	Measures: []lint.Measure{},
}

func checkColorIndex(p *lint.Pass) {
	checkColorsOf(p, schema.Warp, p.Draft.Ends())
	checkColorsOf(p, schema.Weft, p.Draft.Picks())
}

type dyed struct{ color, thread int }

func checkColorsOf(p *lint.Pass, name schema.SystemName, threads int) {
	system, palette := p.Draft.Of(name), len(p.Draft.Palette)
	if len(system.Colors) == 0 {
		threads = min(threads, 1) // all have the same color
	}
	var beyond []dyed
	for n := 1; n <= threads; n++ {
		if c := system.ColorOf(n); c > palette {
			beyond = append(beyond, dyed{c, n})
		}
	}
	slices.SortStableFunc(beyond, func(a, b dyed) int { return cmp.Compare(a.color, b.color) })
	for i, b := range beyond {
		if i == 0 || beyond[i-1].color != b.color {
			reportColor(p, name, b)
		}
	}
}

// reportColor reports a missing color at the first thread that has it: at the row
// of that thread, or at the color of the whole system.
func reportColor(p *lint.Pass, name schema.SystemName, first dyed) {
	system, palette := p.Draft.Of(name), len(p.Draft.Palette)
	at := schema.Place{Part: schema.PartOf(name, schema.PartWarp), Field: schema.FieldColor}
	if first.thread <= len(system.Colors) && system.Colors[first.thread-1] != 0 {
		at = schema.Place{Part: schema.PartOf(name, schema.PartWarpColors), Row: first.thread}
	}
	thread, _ := threadsOf(name)
	problem := fmt.Sprintf("the palette has %s; add the color, or choose another", wording.Counted(palette, "color"))
	if palette == 0 {
		problem = "the draft has no palette; add one"
	}
	p.Report(at, schema.Data{{Key: "system", Value: string(name)}, {Key: "color", Value: first.color}, {Key: "palette", Value: palette}},
		"%s %d has color %d, but %s", thread, first.thread, first.color, problem)
}
