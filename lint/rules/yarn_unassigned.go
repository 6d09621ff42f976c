package rules

import (
	"fmt"

	"fettle/lint"
	"fettle/schema"
)

var yarnUnassigned = lint.Rule{
	ID:    "yarn/unassigned",
	Title: "a color of the draft stands for no yarn",
	Why: "What yarn the work takes can only be said for colors that a yarn stands for, so a color without one is left out of every sum. " +
		"A [yarn] says which colors it stands for by color or by palette; one that names none takes all that are left, first one that is for the warp or the weft alone by its use. " +
		"Threads without a color take the one yarn that is for their system alone, whatever it names, else one that names none.",
	Default: schema.Warning,
	Faulty: lint.Example{Draft: "[WARP COLORS]\n3=2\n4=2\n",
		Settings: "[yarn natural]\ngrist = 8/2 cotton\ncolor = #f2ead8\n"},
	Mended: lint.Example{Draft: "[WARP COLORS]\n3=2\n4=2\n",
		Settings: "[yarn natural]\ngrist = 8/2 cotton\ncolor = #f2ead8\n[yarn indigo]\ngrist = 8/2 cotton\npalette = 2\n"},
	SafeOff: "where yarn is chosen later and the sums are not used",
	Source:  "common practice, no source",
	Data:    []lint.Field{{Key: "color", Text: "the palette number, 0 for threads without a color"}},
	Check:   checkYarnUnassigned,

	Keys:     []string{"color"},
	Measures: []lint.Measure{},
}

func checkYarnUnassigned(p *lint.Pass) {
	if _, refused := p.Figures.TooManyEnds(); refused {
		return // there are no sums for a color to be missing from; loom/too-many-ends reports it
	}
	for _, lacks := range p.Figures.NoYarns() {
		color := lacks.Color
		if color > len(p.Draft.Palette) && p.LooksFor(colorIndex.ID) {
			continue // a color that the palette does not have is told already
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
				"some threads have no color, and each yarn is for certain colors; color them, or let one [yarn] name none")
			continue
		}
		hex, write := p.Figures.Hex(color), fmt.Sprintf("palette = %d", color)
		if hex != "" {
			write, hex = "color = "+hex, " ("+hex+")"
		}
		p.Report(place, data,
			"no yarn stands for color %d%s; write %s in the [yarn] that does", color, hex, write)
	}
}
