// Package rules is the rules, one a file, each with its test beside it.
package rules

import (
	"slices"
	"strings"

	"fettle/lint"
)

// All are the rules, by id.
func All() []lint.Rule {
	list := []lint.Rule{
		// What the file says.
		badValue, contents, decimalComma, duplicateKey, duplicateSection, encoding, index, missingSection,
		strayLine, unknownKey, unknownSection, unreadable, version,
		// What the draft says of itself.
		colorIndex, emptyPick, liftConflict, oddSpacing, partialRepeat, severalShafts, shaftCount, shedUnstated, sidewaysTieup,
		threadCount, treadleCount, unthreadedEnd, untiedTreadle, unusedShaft, unusedTreadle,
		// What it weaves.
		layers, longFloat, looseSelvedge, looseThread,
		// The loom, the reed and the yarn.
		heddleCrowding, missingHeddles, shedMismatch, tooManyEnds, tooManyShafts, tooManyTreadles, tooWide, unbalancedLift,
		crowdedDent, reedSett, tooShort,
		yarnOverrun, yarnSett, yarnUnassigned,
		// What the engine says.
		unusedIgnore,
		// What holds across the files of a run.
		duplicate, name,
	}
	slices.SortFunc(list, func(a, b lint.Rule) int { return strings.Compare(a.ID, b.ID) })
	return list
}
