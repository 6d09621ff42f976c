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
	Title: "a thread has a color that the palette does not have",
	Why: "Threads take their colors by number from the draft's palette. " +
		"A number beyond the palette is no color at all: the thread is drawn in any color or none, and no yarn can be reckoned for it.",
	Default: schema.Error,
	Faulty:  lint.Example{Draft: "[WARP COLORS]\n3=2\n5=7\n"},
	Mended:  lint.Example{Draft: "[WARP COLORS]\n3=2\n5=2\n"},
	SafeOff: "where colors are not used: the interlacement does not depend on them",
	Source:  "common practice, no source",
	Data: []lint.Field{{Key: "system", Text: "warp or weft"}, {Key: "color", Text: "the palette number asked for"},
		{Key: "palette", Text: "colors the palette has"}},
	Check: checkColorIndex,

	Keys:     []string{"system", "color"},
	Measures: []lint.Measure{},
}

func checkColorIndex(p *lint.Pass) {
	checkColorsOf(p, schema.Warp, p.Draft.Ends())
	checkColorsOf(p, schema.Weft, p.Draft.Picks())
}

// dyed is a thread and its palette number.
type dyed struct{ color, thread int }

func checkColorsOf(p *lint.Pass, name schema.SystemName, threads int) {
	system, palette := p.Draft.Of(name), len(p.Draft.Palette)
	if len(system.Colors) == 0 {
		threads = min(threads, 1) // all are alike
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

// reportColor reports a color at the first thread that has it: at the row that
// gives it, or at the color of the whole system.
func reportColor(p *lint.Pass, name schema.SystemName, first dyed) {
	system, palette := p.Draft.Of(name), len(p.Draft.Palette)
	at := schema.Place{Part: schema.PartOf(name, schema.PartWarp), Field: schema.FieldColor}
	if first.thread <= len(system.Colors) && system.Colors[first.thread-1] != 0 {
		at = schema.Place{Part: schema.PartOf(name, schema.PartWarpColors), Row: first.thread}
	}
	thread, _ := threadsOf(name)
	holds := fmt.Sprintf("the palette has %s; add the color, or choose another", wording.Counted(palette, "color"))
	if palette == 0 {
		holds = "there is no palette; write one"
	}
	p.Report(at, schema.Data{{Key: "system", Value: string(name)}, {Key: "color", Value: first.color}, {Key: "palette", Value: palette}},
		"%s %d has color %d, and %s", thread, first.thread, first.color, holds)
}
