// Package clean repairs drafts by the smallest edits, and leaves everything else
// as it stands. It makes the fixes that readers and rules attach to their
// findings, reads its own result again after every step, and takes back what
// would make another draft of it.
package clean

import (
	"slices"
	"strconv"
	"strings"

	"fettle/formats"
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
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
	Refused []Refusal      // fixes that were not made, and why
	Waiting Counts         // the fixes that there are only at a risk, and were not made

	// Document is the draft as it is to be, with what its reader found.
	Document *schema.Document

	base    []byte   // the text that the trace begins with
	trace   *trace   // nil where the file is left as it is
	remarks []string // what is done to the file as a whole
}

// Changed says whether the file is to change.
func (r *Result) Changed() bool { return string(r.After) != string(r.Source.Raw) }

// Refusal is a fix that was not made, and why.
type Refusal struct {
	Rule   string // "" where nothing in the file is fixed
	Line   int    // in the file as it was; 0 for the file as a whole
	Reason string
	More   int // fixes of the same rule refused alike
}

// String says what was not fixed and why, without the place.
func (r Refusal) String() string {
	s := r.Rule + " was not fixed: " + r.Reason
	switch r.Rule {
	case "":
		return r.Reason
	case Canonical:
		return "not rewritten in " + Canonical + ": " + r.Reason
	}
	if r.More > 0 {
		s += "; " + strconv.Itoa(r.More) + " more " + wording.Plural(r.More, "fix", "fixes") + " like it"
	}
	return s
}

// At says what was not fixed and why in the file at a path.
func (r Refusal) At(path string) string {
	if r.Line > 0 {
		path += ":" + strconv.Itoa(r.Line)
	}
	return path + ": " + r.String()
}

// mostReasons is how many reasons are told for the refusals of one rule.
const mostReasons = 10

// refuse notes a refusal. Those that are alike count as one.
func (r *Result) refuse(one Refusal) {
	reasons := 0
	for i := range r.Refused {
		x := &r.Refused[i]
		if x.Rule != one.Rule {
			continue
		}
		if reasons++; x.Reason == one.Reason || reasons == mostReasons {
			x.More++
			return
		}
	}
	r.Refused = append(r.Refused, one)
}

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
	return c.work(doc).clean()
}

func (w *work) clean() (Result, error) {
	first, draft := w.doc.Source, w.doc.Draft // and not its findings, which can take much memory
	for range mostRounds {
		more, err := w.round()
		if err != nil {
			return Result{}, err
		}
		if !more {
			return w.finished(first, draft), nil
		}
		if w.trials > mostRounds*mostTrials+trialsFor(first.Text) {
			return left(first, "the file was not changed: too many of its fixes would change the draft; fix some of them by hand"), nil
		}
	}
	return left(first, "the file was not changed: each fix in it calls for another, without end; that is a fault of fettle: please report it with the draft"), nil
}

// left is the result for a file that is left as it is.
func left(src *schema.Source, why string) Result {
	return Result{Source: src, After: src.Raw, Document: formats.ReadAs(src.Path, src.Raw, src.Stated), Refused: []Refusal{{Reason: why}}}
}

// finished is the result, if it still holds what the file held.
func (w *work) finished(first *schema.Source, draft *schema.Draft) Result {
	if !w.Risky {
		if why := listed(differences(draft, w.doc.Draft)); why != "" {
			return left(first, "the file was not changed: "+why)
		}
	}
	slices.SortStableFunc(w.result.Refused, func(a, b Refusal) int { return a.Line - b.Line })
	w.result.After, w.result.Document = w.doc.Source.Raw, w.doc
	w.result.trace = w.trace
	return w.result
}
