// Package clean repairs drafts by the smallest edits, and leaves everything else
// as it stands. It makes the fixes that readers and rules attach to their
// findings, reads its own result again after every step, and takes back what
// would make another draft of it.
package clean

import (
	"slices"
	"strconv"
	"strings"

	"fettle/lint"
	"fettle/schema"
)

// mostRounds bounds how often fixes are made that only others make possible. A
// file that wants more is left as it is.
const mostRounds = 100

// Canonical is what a Result counts a rewriting in canonical form under.
const Canonical = "canonical form"

// Cleaner cleans drafts. It may be used by several goroutines at once.
type Cleaner struct {
	Checker   *lint.Checker // says which rules hold for a draft; its other rules need not run
	Risky     bool          // make fixes, too, that change what a draft means, or may
	Canonical bool          // rewrite in the canonical form at the end
}

// Selection is a selection of rules without those that there is nothing to make
// of: it keeps what the readers find and what has fixes.
func Selection(rules []lint.Rule, s lint.Selection) lint.Selection {
	for i := range rules {
		if r := &rules[i]; !r.Fixable && r.Family() != "file" {
			s.Skip = append(slices.Clip(s.Skip), r.ID)
		}
	}
	return s
}

// Result is what came of cleaning one draft.
type Result struct {
	Source  *schema.Source // the file as it was
	After   []byte         // the file as it is to be: Source.Raw where nothing changes
	Made    Counts         // the fixes made, by rule
	Told    []string       // what risky fixes did
	Refused []string       // fixes that were not made, and why
	Waiting Counts         // the fixes that there are only at a risk, and were not made

	base    []byte   // the text that changes apply to
	changes []change // in order
	remarks []string // what is done to the file as a whole
}

// Changed says whether the file is to change.
func (r *Result) Changed() bool { return string(r.After) != string(r.Source.Raw) }

// Counts are numbers of fixes by rule, in the order of the rules' ids.
type Counts []Count

// Count is how many fixes a rule has asked for.
type Count struct {
	Rule  string
	Fixes int
}

// Add counts more fixes of a rule.
func (c *Counts) Add(rule string, fixes int) {
	i, found := slices.BinarySearchFunc(*c, rule, func(x Count, rule string) int { return strings.Compare(x.Rule, rule) })
	if !found {
		*c = slices.Insert(*c, i, Count{Rule: rule})
	}
	(*c)[i].Fixes += fixes
}

// Sum is how many fixes there are of all rules.
func (c Counts) Sum() int {
	sum := 0
	for _, x := range c {
		sum += x.Fixes
	}
	return sum
}

// String lists the rules with their numbers: "file/contents 2, file/version 1".
func (c Counts) String() string {
	var words []string
	for _, x := range c {
		words = append(words, x.Rule+" "+strconv.Itoa(x.Fixes))
	}
	return strings.Join(words, ", ")
}

// Clean cleans a document that holds a draft. The error is for settings that
// cannot be read or make no sense.
func (c *Cleaner) Clean(doc *schema.Document) (Result, error) {
	w := &work{Cleaner: c, doc: doc, trace: newTrace(len(doc.Source.Text)),
		result: Result{Source: doc.Source, After: doc.Source.Raw, base: doc.Source.Text}}
	for range mostRounds {
		more, err := w.round()
		if err != nil {
			return Result{}, err
		}
		if !more {
			return w.finished(doc), nil
		}
	}
	return left(doc, "the file is left as it is, since mending one thing in it brings up the next without end; that is a fault of fettle: please report it with the draft"), nil
}

// left is the result for a file that is left as it is.
func left(doc *schema.Document, why string) Result {
	return Result{Source: doc.Source, After: doc.Source.Raw, Refused: []string{why}}
}

// finished is the result, if it still holds what the file held.
func (w *work) finished(first *schema.Document) Result {
	if !w.Risky {
		if threads, rest := differences(first.Draft, w.doc.Draft); len(threads)+len(rest) > 0 {
			return left(first, "the file is left as it is, since it would have "+schema.Listed(append(threads, rest...)))
		}
	}
	w.result.After = w.doc.Source.Raw
	w.result.changes = w.trace.changes(w.result.base)
	return w.result
}
