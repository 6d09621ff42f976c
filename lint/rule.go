// Package lint runs rules over a draft. It selects the rules, their severities and
// options, and drops the findings that the draft ignores. The rules themselves are
// in lint/rules.
package lint

import (
	"strings"

	"fettle/schema"
)

// Rule is one check. Its page, the reports and the manual take all that they say
// about it from here.
type Rule struct {
	ID      string // family/name
	Title   string // what it finds, in one line
	Why     string // why it matters, one paragraph for a weaver
	Counts  string // how it counts, one paragraph; "" if that is obvious
	Remedy  string // what to do about a finding
	Default schema.Severity
	Options []Option
	Faulty  Example // a draft with the fault
	Mended  Example // the same draft without it
	SafeOff string  // when to turn it off: "for double weave"; "never; ..." gives the reason
	Source  string  // short names from schema/sources.md, or "rule of thumb"
	Data    []Field // the values of its findings, in order
	// Keys names the data that distinguishes the rule's findings within a draft, such
	// as the shaft. It is empty, not nil, if a draft has at most one finding.
	Keys []string
	// ByText reports whether the text at a finding distinguishes it too.
	ByText bool
	// Measures names the values that say how bad a finding is. A baseline reports a
	// known finding again if one of them is worse. It is empty, not nil, for none.
	Measures []Measure
	Fixable  bool // fettle can fix some of its findings
	// Weave marks a rule that judges the weave as a whole. It doesn't run on a draft
	// that lacks part of its weave, or where another finding reports that a row names
	// the wrong shaft or treadle.
	Weave bool
	// Holds lists rules and families that don't run where this rule finds something,
	// because their findings would only follow from it. They do run if the draft
	// ignores this rule.
	Holds []string

	// Check looks for the fault. It is nil for rules whose findings come from readers
	// or from the engine.
	Check func(*Pass)
}

// Explanation returns why the rule matters, how it counts and what to do, as one
// paragraph.
func (r *Rule) Explanation() string {
	text := r.Why
	for _, part := range []string{r.Counts, r.Remedy} {
		if part != "" {
			text += " " + part
		}
	}
	return text
}

// Field is a value in the findings of a rule.
type Field struct{ Key, Text string }

// Example is a draft and its settings.
type Example struct {
	Draft    string // WIF sections that replace those of a sound draft
	Settings string // fettle.ini; "" for none
	Whole    bool   // Draft is the whole file
}

// Family returns the part of the id before the slash.
func (r *Rule) Family() string {
	family, _, _ := strings.Cut(r.ID, "/")
	return family
}

// Rules that the engine itself needs.
const (
	// UnusedIgnore reports an ignore comment without effect.
	UnusedIgnore = "lint/unused-ignore"
	// ShaftCount and TreadleCount report shafts and treadles above the declared
	// number: either the number is wrong or a row is.
	ShaftCount   = "draft/shaft-count"
	TreadleCount = "draft/treadle-count"
	// Duplicate reports a cloth that an earlier file of the run weaves too.
	Duplicate = "collection/duplicate"
	// NameClash reports a path that differs from another one of the run only in
	// capitals, or in how an accent is written.
	NameClash = "collection/name"

	acrossFiles = "collection" // the family of rules that compare all files of a run
)
