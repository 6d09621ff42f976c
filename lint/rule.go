// Package lint runs rules over a draft, with the severities and options from settings
// and without the findings that the draft ignores. The rules are in lint/rules.
package lint

import (
	"strings"

	"fettle/schema"
)

// Rule is a check with its documentation. Rule pages, reports and the manual take their
// texts from it.
type Rule struct {
	ID      string // family/name
	Title   string // what it finds, in one line
	Why     string // one paragraph for a weaver
	Default schema.Severity
	Options []Option
	Faulty  Example // a draft with a finding
	Mended  Example // the same draft, fixed
	SafeOff string  // when you can turn it off
	Source  string  // the source of its figures: a publication or common practice
	Data    []Field // the data of its findings, in order
	// Keys names the data that identifies a finding in a draft, such as the shaft. It is
	// empty, not nil, if a draft has at most one finding.
	Keys []string
	// ByText makes the text at a finding part of its identity.
	ByText bool
	// Measures lists the numbers that grow the worse a finding is. A known finding is
	// reported again if one of them grew. It is empty, not nil, for none.
	Measures []Measure
	Fixable  bool // fettle can fix some of its findings
	// Weave means that the rule needs the whole weave. It doesn't run if a missing part
	// or a wrong shaft or treadle is reported.
	Weave bool
	// Holds lists rules and families that don't run if this rule finds something, since
	// their findings would follow from it. They run if the draft ignores this rule.
	Holds []string

	// Check runs the rule. It is nil for rules of readers and of the engine.
	Check func(*Pass)
}

// Field is a key in the data of a rule's findings, and its description.
type Field struct{ Key, Text string }

// Example is a draft, or a part of one, and the settings for it.
type Example struct {
	Draft    string // WIF sections; a sound draft supplies the others
	Settings string // fettle.ini; "" for none
	Whole    bool   // Draft is the complete file
}

// Family returns the part of the id before the slash.
func (r *Rule) Family() string {
	family, _, _ := strings.Cut(r.ID, "/")
	return family
}

// Ids of rules that the engine implements or refers to.
const (
	// UnusedIgnore reports unused ignores.
	UnusedIgnore = "lint/unused-ignore"
	// ShaftCount and TreadleCount report shafts and treadles above the number that the
	// draft declares.
	ShaftCount   = "draft/shaft-count"
	TreadleCount = "draft/treadle-count"
	// Duplicate reports a cloth that an earlier file of the run has.
	Duplicate = "collection/duplicate"
	// NameClash reports two paths that differ only in capitals or accents.
	NameClash = "collection/name"

	acrossFiles = "collection" // the family of rules across files
)
