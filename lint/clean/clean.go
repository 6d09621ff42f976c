// Package clean cleans drafts with small edits and leaves everything else unchanged. It
// makes the fixes that readers and rules attach to findings. After every step it reads
// the result again, and undoes fixes that would change the draft.
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

// mostRounds limits the rounds of fixes. A file that needs more stays unchanged.
const mostRounds = 100

// Canonical is the name under which a Result counts a rewrite in canonical form.
const Canonical = "canonical form"

// Cleaner cleans drafts. It is safe for use by several goroutines at once.
type Cleaner struct {
	Checker   *lint.Checker // finds what to fix; see Selection
	Risky     bool          // also make fixes that change, or may change, what a draft means
	Canonical bool          // rewrite the draft in canonical form at the end
	Line      int           // fix only findings on this line of the file before, from 1; 0 for all
}

// Selection returns a selection without the rules that have no fixes. It keeps all
// rules about files, because readers report them anyway.
func Selection(rules []lint.Rule, s lint.Selection) lint.Selection {
	for i := range rules {
		if r := &rules[i]; !r.Fixable && r.Family() != "file" {
			s.Skip = append(slices.Clip(s.Skip), r.ID)
		}
	}
	return s
}

// Result is the result of cleaning one draft.
type Result struct {
	Source  *schema.Source // the file before
	After   []byte         // the bytes of the file after; Source.Raw if nothing changes
	Made    Counts         // the fixes made, by rule
	Risks   []string       // a line for each risky fix made
	Refused []Refusal      // the fixes that were refused
	Waiting Counts         // risky fixes that weren't asked for, by rule

	// Document is the draft after, with its reader's findings.
	Document *schema.Document

	base    []byte   // the text at the start of the trace
	trace   *trace   // nil if the file stays unchanged
	remarks []string // changes to the file as a whole
}

// Changed reports whether the file changes.
func (r *Result) Changed() bool { return string(r.After) != string(r.Source.Raw) }

// Refusal is a refused fix and the reason.
type Refusal struct {
	Rule   string // "" if nothing in the file is fixed
	Line   int    // in the file before; 0 for the file as a whole
	Reason string
	More   int // how many other fixes of the rule were refused for the same reason
}

// String returns the refusal as a message without its place.
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

// At returns the refusal as a message about the file at a path.
func (r Refusal) At(path string) string {
	if r.Line > 0 {
		path += ":" + strconv.Itoa(r.Line)
	}
	return path + ": " + r.String()
}

// mostReasons is how many different refusals of one rule are reported.
const mostReasons = 10

// refuse adds a refusal. Equal ones are counted together.
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

// Counts counts fixes by rule, sorted by id.
type Counts []Count

// Count is a rule and a number of fixes.
type Count struct {
	Rule  string
	Fixes int
}

// Add adds fixes of a rule.
func (c *Counts) Add(rule string, fixes int) {
	i, found := slices.BinarySearchFunc(*c, rule, func(x Count, rule string) int { return strings.Compare(x.Rule, rule) })
	if !found {
		*c = slices.Insert(*c, i, Count{Rule: rule})
	}
	(*c)[i].Fixes += fixes
}

// Sum returns the number of fixes of all rules.
func (c Counts) Sum() int {
	sum := 0
	for _, x := range c {
		sum += x.Fixes
	}
	return sum
}

// String returns the rules with their numbers: "file/contents 2, file/version 1".
func (c Counts) String() string {
	var words []string
	for _, x := range c {
		words = append(words, x.Rule+" "+strconv.Itoa(x.Fixes))
	}
	return strings.Join(words, ", ")
}

// Clean cleans a document that holds a draft. The error is for settings that can't be
// read or are wrong.
func (c *Cleaner) Clean(doc *schema.Document) (Result, error) {
	return c.work(doc).clean()
}

func (w *work) clean() (Result, error) {
	first, draft := w.doc.Source, w.doc.Draft // not w.doc: its findings may take much memory
	for range mostRounds {
		more, err := w.round()
		if err != nil {
			return Result{}, err
		}
		if !more {
			return w.finished(first, draft), nil
		}
		if w.trials > mostRounds*mostTrials+trialsFor(first.Text) {
			return unchanged(first, "too many fixes in this file would change the draft, so fettle made none; fix some by hand"), nil
		}
	}
	return unchanged(first, "each fix in this file makes another one necessary, so fettle made none; this is a bug in fettle, please report it with the draft"), nil
}

// unchanged returns the result for a file that stays unchanged.
func unchanged(src *schema.Source, why string) Result {
	return Result{Source: src, After: src.Raw, Document: formats.ReadAs(src.Path, src.Raw, src.Stated), Refused: []Refusal{{Reason: why}}}
}

// finished returns the result if it holds the same draft as the file before.
func (w *work) finished(first *schema.Source, draft *schema.Draft) Result {
	if !w.Risky {
		if why := listed(differences(draft, w.doc.Draft)); why != "" {
			return unchanged(first, "the file was not changed: "+why)
		}
	}
	slices.SortStableFunc(w.result.Refused, func(a, b Refusal) int { return a.Line - b.Line })
	w.result.After, w.result.Document = w.doc.Source.Raw, w.doc
	w.result.trace = w.trace
	return w.result
}
