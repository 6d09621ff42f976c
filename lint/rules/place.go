package rules

import (
	"fettle/lint"
	"fettle/schema"
)

// warpPlace is where a draft says how wide its warp lies: its spacing, else how
// many ends it has.
func warpPlace(p *lint.Pass) schema.Place {
	if p.Draft.Warp.Spacing > 0 {
		return schema.Place{Part: schema.PartWarp, Field: schema.FieldSpacing}
	}
	return schema.Place{Part: schema.PartWarp, Field: schema.FieldThreads}
}

// yarnPlace is where a draft speaks of a yarn: the first palette entry that the
// yarn stands for, else the warp.
func yarnPlace(p *lint.Pass, yarn int) schema.Place {
	for n := range p.Draft.Palette {
		if p.Figures.YarnOf(schema.Warp, n+1) == yarn || p.Figures.YarnOf(schema.Weft, n+1) == yarn {
			return schema.Place{Part: schema.PartPalette, Row: n + 1}
		}
	}
	return warpPlace(p)
}

// systemPlace is where a draft says how many ends, or picks, it has.
func systemPlace(system schema.SystemName) schema.Place {
	return schema.Place{Part: schema.PartOf(system, schema.PartWarp), Field: schema.FieldThreads}
}
