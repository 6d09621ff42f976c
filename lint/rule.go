// Package lint runs rules over one draft: which rules, how severe, with which
// options, and which of their findings the draft asks to have left out. The
// rules themselves are in lint/rules.
package lint

import (
	"strings"

	"fettle/schema"
)

// Rule is one thing to look for in a draft. All that is said of it anywhere, on
// its page, in reports and in the manual, comes from here.
type Rule struct {
	ID      string // family/name
	Title   string // what it finds, in one line
	Why     string // one paragraph for a weaver
	Default schema.Severity
	Options []Option
	Faulty  Example // a draft it finds something in
	Mended  Example // the same put right
	SafeOff string  // when it can be switched off
	Source  string  // what its figures rest on: a publication, or common practice
	Data    []Field // the numbers of its findings, in order
	// Keys names the data that tells one finding of the rule from the others in a
	// draft, such as the shaft. It is empty, not nil, where a draft has one at most.
	Keys []string
	// ByText says that the text a finding stands at tells it from others, too.
	ByText bool
	// Measures names the numbers that say how bad a finding is. A known finding of
	// which one is worse is reported again. It is empty, not nil, for none.
	Measures []Measure
	Fixable  bool // some of its findings can be mended by the program
	// Weave says that it judges the weave as a whole: it is not looked for in a
	// draft that lacks a part of it, or in which a row names the wrong shaft or
	// treadle, where that is told.
	Weave bool
	// Holds lists rules and families that are not run where this rule finds
	// something, since what they would find follows from it. They are run where the
	// draft asks to have this rule's findings left out.
	Holds []string

	// Check looks for it. It is nil for what readers, or the engine, find.
	Check func(*Pass)
}

// Field is a number that a rule's findings carry.
type Field struct{ Key, Text string }

// Example is a draft, or the part of one that matters, and the settings it is
// looked at with.
type Example struct {
	Draft    string // sections of the text format; those it leaves out are those of a sound draft
	Settings string // of fettle.ini; "" for none
	Whole    bool   // Draft is the whole file, as it stands
}

// Family is the part of the id before the slash.
func (r *Rule) Family() string {
	family, _, _ := strings.Cut(r.ID, "/")
	return family
}

// Rules of the engine itself, and those that it asks for.
const (
	// UnusedIgnore is for an ignore that leaves nothing out.
	UnusedIgnore = "lint/unused-ignore"
	// ShaftCount and TreadleCount are for what a draft names above the shafts and
	// treadles that it declares: a slip, or the declared number, is wrong.
	ShaftCount   = "draft/shaft-count"
	TreadleCount = "draft/treadle-count"
	// Duplicate is for a cloth that another file of the run holds already.
	Duplicate = "collection/duplicate"
	// NameClash is for a path that only capitals, or ways of writing an
	// accent, set apart from another of the run.
	NameClash = "collection/name"

	acrossFiles = "collection" // the family of rules that look at all files of a run
)
