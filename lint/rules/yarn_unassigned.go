package rules

import (
	"fmt"

	"fettle/lint"
	"fettle/schema"
)

var yarnUnassigned = lint.Rule{
	ID:    "yarn/unassigned",
	Title: "a color of the draft has no yarn",
	Why:   "fettle can only work out the yarn for colors that a [yarn] section covers. A color without a yarn is missing from all amounts.",
	Counts: "A [yarn] names its colors with color or palette. " +
		"One that names none takes all remaining colors; a yarn whose use is warp or weft alone comes first. " +
		"Threads without a color take the only yarn for their system, or a yarn that names no color.",
	Remedy:  "Name the color in a [yarn], or let one [yarn] name none.",
	Default: schema.Warning,
	Faulty: lint.Example{Draft: "[WARP COLORS]\n3=2\n4=2\n",
		Settings: "[yarn natural]\ngrist = 8/2 cotton\ncolor = #f2ead8\n"},
	Fixed: lint.Example{Draft: "[WARP COLORS]\n3=2\n4=2\n",
		Settings: "[yarn natural]\ngrist = 8/2 cotton\ncolor = #f2ead8\n[yarn indigo]\ngrist = 8/2 cotton\npalette = 2\n"},
	SafeOff: "if you choose the yarn later and don't need the amounts",
	Source:  "rule of thumb",
	Data:    []lint.Field{{Key: "color", Text: "the palette number; 0 for threads without a color"}},
	Check:   checkYarnUnassigned,

	Keys:     []string{"color"},
	Measures: []lint.Measure{},
}

func checkYarnUnassigned(p *lint.Pass) {
	if _, refused := p.Figures.TooManyEnds(); refused {
		return // loom/too-many-ends reports that there are no amounts
	}
	for _, lacks := range p.Figures.NoYarns() {
		color := lacks.Color
		if color > len(p.Draft.Palette) && p.Runs(colorIndex.ID) {
			continue // draft/color-index reports it
		}
		data := schema.Data{{Key: "color", Value: color}}
		place := schema.Place{Part: schema.PartPalette, Row: color}
		if color == 0 {
			place = warpPlace(p)
		}
		if kept, ok := p.Figures.KeptByUse(lacks); ok {
			p.Report(place, data, "%s", Words(kept, p.Units()))
			continue
		}
		if color == 0 {
			p.Report(place, data,
				"some threads have no color, and every [yarn] names colors; color them, or let one [yarn] name none")
			continue
		}
		hex, write := p.Figures.Hex(color), fmt.Sprintf("palette = %d", color)
		if hex != "" {
			write, hex = "color = "+hex, " ("+hex+")"
		}
		p.Report(place, data,
			"color %d%s has no yarn; write %s in the [yarn] for it", color, hex, write)
	}
}
