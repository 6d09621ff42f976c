package rules

import (
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/dressing"
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
	warp, weft := dressing.ShelfFor(p.Setup, schema.Warp), dressing.ShelfFor(p.Setup, schema.Weft)
	for n := range p.Draft.Palette {
		if warp.Yarn(p.Draft, n+1) == yarn || weft.Yarn(p.Draft, n+1) == yarn {
			return schema.Place{Part: schema.PartPalette, Row: n + 1}
		}
	}
	return warpPlace(p)
}

// systemPlace is where a draft says how many ends, or picks, it has.
func systemPlace(system schema.SystemName) schema.Place {
	return schema.Place{Part: schema.PartOf(system, schema.PartWarp), Field: schema.FieldThreads}
}
