// Package rules holds the rules, one in each file.
package rules

import (
	"slices"
	"strings"

	"fettle/lint"
)

// All returns the rules, sorted by id.
func All() []lint.Rule {
	list := []lint.Rule{
		// The file.
		badValue, contents, decimalComma, duplicateKey, duplicateSection, encoding, index, missingSection,
		strayLine, unknownKey, unknownSection, unreadable, version,
		// The draft.
		brokenPlainWeave, colorIndex, doubledThread, emptyPick, likeTreadles, liftConflict, oddSpacing, partialRepeat, severalShafts, shaftCount, shedUnstated, sidewaysTieup, slipRule,
		threadCount, treadleCount, unthreadedEnd, untiedTreadle, unusedShaft, unusedTreadle,
		// The cloth.
		layers, longFloat, looseSelvedge, looseThread,
		// The loom, the reed and the yarn.
		heavyLift, heddleCrowding, missingHeddles, shedMismatch, tooManyEnds, tooManyShafts, tooManyTreadles, tooWide, unbalancedLift,
		crowdedDent, reedSett, tooShort,
		yarnMargin, yarnOpenSett, yarnOverrun, yarnSett, yarnUnassigned, yarnWeftSett,
		// The engine.
		unusedIgnore,
		// All files of a run.
		duplicate, nameClash,
	}
	slices.SortFunc(list, func(a, b lint.Rule) int { return strings.Compare(a.ID, b.ID) })
	return list
}
