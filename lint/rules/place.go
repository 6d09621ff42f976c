package rules

import (
	"fettle/lint"
	"fettle/schema"
)

// warpPlace returns the place that states the width of the warp: its spacing, or
// its number of ends.
func warpPlace(p *lint.Pass) schema.Place { return spacingPlace(p, schema.Warp) }

// spacingPlace returns the place that states the spacing of a system, or its number of
// threads.
func spacingPlace(p *lint.Pass, system schema.SystemName) schema.Place {
	if p.Draft.Of(system).Spacing > 0 {
		return schema.Place{Part: schema.PartOf(system, schema.PartWarp), Field: schema.FieldSpacing}
	}
	return systemPlace(system)
}

// yarnPlace returns the place for findings about a yarn: the first palette entry that
// the yarn is for, or the warp.
func yarnPlace(p *lint.Pass, yarn int) schema.Place {
	for n := range p.Draft.Palette {
		if p.Figures.YarnOf(schema.Warp, n+1) == yarn || p.Figures.YarnOf(schema.Weft, n+1) == yarn {
			return schema.Place{Part: schema.PartPalette, Row: n + 1}
		}
	}
	return warpPlace(p)
}

// systemPlace returns the place that states the number of ends or picks.
func systemPlace(system schema.SystemName) schema.Place {
	return schema.Place{Part: schema.PartOf(system, schema.PartWarp), Field: schema.FieldThreads}
}
