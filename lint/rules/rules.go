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
		longFloat, missingHeddles, reedSett, shaftCount, yarnOverrun,
	}
	slices.SortFunc(list, func(a, b lint.Rule) int { return strings.Compare(a.ID, b.ID) })
	return list
}
