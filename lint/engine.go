package lint

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/settings"
	"fettle/schema/wording"
)

// Selection chooses the rules to run, by ids or families. The zero value runs all.
type Selection struct {
	Only, Skip []string
}

// Linter runs a set of rules. It is safe for use by several goroutines at once.
type Linter struct {
	rules  []Rule
	byID   map[string]*Rule
	chosen map[string]bool

	mu   sync.Mutex
	sets map[*settings.Settings]*ruleSet // shared by drafts with the same settings
}

// New returns a Linter. The error is for a name that is neither a rule nor a family.
func New(rules []Rule, s Selection) (*Linter, error) {
	l := &Linter{rules: rules, byID: map[string]*Rule{}, chosen: map[string]bool{}, sets: map[*settings.Settings]*ruleSet{}}
	for _, name := range slices.Concat(s.Only, s.Skip) {
		if err := Rulebook(rules).Known(name); err != nil {
			return nil, err
		}
	}
	for i := range rules {
		r := &rules[i]
		named := func(list []string) bool { return slices.Contains(list, r.ID) || slices.Contains(list, r.Family()) }
		l.byID[r.ID] = r
		l.chosen[r.ID] = (len(s.Only) == 0 || named(s.Only)) && !named(s.Skip)
	}
	return l, nil
}

// OnlyAcross returns a Linter that runs only the selected rules across files.
func (l *Linter) OnlyAcross() *Linter {
	only := &Linter{rules: l.rules, byID: l.byID, chosen: make(map[string]bool, len(l.chosen)), sets: map[*settings.Settings]*ruleSet{}}
	for i := range l.rules {
		r := &l.rules[i]
		only.chosen[r.ID] = l.chosen[r.ID] && r.Family() == acrossFiles
	}
	return only
}

// mayRun reports whether the selection lets a rule run. Unknown rules count as
// selected, so their baseline entries are reported as no longer found.
func (l *Linter) mayRun(rule string) bool {
	chosen, there := l.chosen[rule]
	return chosen || !there
}

// None reports whether the selection leaves no rule to run.
func (l *Linter) None() bool {
	for _, chosen := range l.chosen {
		if chosen {
			return false
		}
	}
	return true
}

// ruleSet holds the rules as settings change them.
type ruleSet struct {
	all   []Rule
	rules []setRule
	byID  map[string]*setRule
	err   error
}

// setRule is a rule with its severity and options.
type setRule struct {
	*Rule
	severity       schema.Severity
	severityStated bool // in settings
	values         []float64
	stated         []bool // which of the values are stated in settings
}

// Result holds the findings of one draft.
type Result struct {
	Findings   []schema.Finding // sorted, with their positions
	Suppressed []Suppressed

	run *run // for the rules across files
}

// Lint runs the rules over a document. It returns their findings and those of the
// reader, sorted. The error is for settings with unknown rules or options.
func (l *Linter) Lint(doc *schema.Document, s *settings.Settings) (Result, error) {
	set, err := l.set(doc.Source.Path, s)
	if err != nil {
		return Result{}, err
	}
	r := &run{doc: doc, set: set}
	r.fromReader()
	if doc.Draft != nil {
		r.figures = dressing.Of(doc.Draft, &s.Setup)
		r.checkAll()
	}
	result := r.suppress()
	result.run = r
	result.Findings = schema.SortFindings(result.Findings)
	for i := range result.Findings {
		f := &result.Findings[i]
		f.Position = doc.Source.Position(f.Span)
	}
	return result, nil
}

// mostSets limits how many rule sets are kept. A collection in which each draft has its
// own settings would otherwise fill the memory.
const mostSets = 64

// set returns the rules for a path. It keeps those of settings without path patterns.
func (l *Linter) set(path string, s *settings.Settings) (*ruleSet, error) {
	if slices.ContainsFunc(s.Rules, func(r settings.RuleSetting) bool { return r.For.Pattern != "" }) {
		set := l.newSet(s.RulesFor(path))
		return set, set.err
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	set := l.sets[s]
	if set == nil {
		set = l.newSet(s.Rules)
		if len(l.sets) == mostSets {
			clear(l.sets)
		}
		l.sets[s] = set
	}
	return set, set.err
}

func (l *Linter) newSet(list []settings.RuleSetting) *ruleSet {
	set := &ruleSet{all: l.rules, rules: make([]setRule, 0, len(l.rules)), byID: make(map[string]*setRule, len(l.rules))}
	for i := range l.rules {
		r := &l.rules[i]
		one := setRule{Rule: r, severity: r.Default}
		one.values, one.stated, _ = readOptions(r, nil)
		if !l.chosen[r.ID] {
			one.severity = schema.Off
		}
		set.rules = append(set.rules, one)
		set.byID[r.ID] = &set.rules[i]
	}
	var wrong settings.Errors
	for _, s := range list {
		if err := l.apply(set, s); err != nil {
			wrong = append(wrong, settings.Error{Path: s.Origin.Path, Line: s.Origin.Line, Section: "rules", Key: s.Rule, Message: err.Error()})
		}
	}
	if wrong != nil {
		set.err = wrong
	}
	return set
}

// apply applies a line of [rules].
func (l *Linter) apply(set *ruleSet, s settings.RuleSetting) error {
	if isFamily(s.Rule, l.rules) {
		return l.applyFamily(set, s)
	}
	one := set.byID[s.Rule]
	if one == nil {
		return unknownRule(s.Rule, l.rules)
	}
	values, stated, err := readOptions(one.Rule, s.Options)
	if err != nil {
		return err
	}
	if len(s.Options) > 0 {
		one.values, one.stated = values, stated
	}
	if s.Stated && l.chosen[s.Rule] {
		one.severity, one.severityStated = s.Severity, true
	}
	return nil
}

// applyFamily applies a line about a family to each of its rules.
func (l *Linter) applyFamily(set *ruleSet, s settings.RuleSetting) error {
	for i := range l.rules {
		if r := &l.rules[i]; r.Family() == s.Rule && l.chosen[r.ID] && s.Stated {
			one := set.byID[r.ID]
			one.severity, one.severityStated = s.Severity, true
		}
	}
	return noFamilyOptions(s.Rule, s.Options)
}

// run is the linting of one draft.
type run struct {
	doc      *schema.Document
	set      *ruleSet
	figures  *dressing.Figures
	findings []schema.Finding
	blocked  []string // rules and families blocked by findings of other rules
	pass     Pass     // reused for each rule
}

// fromReader adds the reader's findings, with the severities from the settings. A
// milder one from the reader holds unless fettle.ini states one.
func (r *run) fromReader() {
	for _, f := range r.doc.Findings {
		rule := r.set.byID[f.Rule]
		if rule == nil || rule.severity == schema.Off {
			continue
		}
		if f.Severity == schema.Off || rule.severityStated || f.Severity > rule.severity {
			f.Severity = rule.severity
		}
		r.correctIgnore(&f)
		r.findings = append(r.findings, f)
	}
}

// checkAll runs the rules, starting with those that can block others.
func (r *run) checkAll() {
	for _, first := range []bool{true, false} {
		for i := range r.set.rules {
			rule := &r.set.rules[i]
			if (len(rule.Blocks) > 0) != first {
				continue
			}
			before := len(r.findings)
			r.check(rule)
			if len(r.findings) > before && r.reports(rule.ID) {
				r.blocked = append(r.blocked, rule.Blocks...)
			}
		}
	}
}

// check runs one rule. A panic becomes a finding, so one draft never stops the others.
func (r *run) check(rule *setRule) {
	if rule.Check == nil || rule.severity == schema.Off || r.lacks(rule) {
		return
	}
	before := len(r.findings)
	defer func() {
		if what := recover(); what != nil {
			r.findings = append(r.findings[:before], failure(rule.ID, rule.severity, what))
		}
	}()
	r.pass = Pass{Draft: r.figures.Draft, Setup: r.figures.Setup, Figures: r.figures, run: r, rule: rule, before: before, most: r.most(rule)}
	rule.Check(&r.pass)
	r.pass.finish()
}

// most returns how many findings of a rule are reported singly: all if they may have fixes,
// or if the draft ignores the rule somewhere.
func (r *run) most(rule *setRule) int {
	if rule.Fixable || !r.reports(rule.ID) {
		return math.MaxInt
	}
	return mostSingly
}

// OfProfiles is the message for a draft that is marked as a block profile.
const OfProfiles = schema.BlockProfile + ", so fettle doesn't check cloth, loom, reed and yarn; " + schema.DrawProfileOut

// lacks reports whether a rule can't judge the draft: a block profile has no threads,
// part of the weave may be missing, or another rule blocks this one. The cause is always
// reported, and findings of the rule would only follow from it.
func (r *run) lacks(rule *setRule) bool {
	if r.doc.Draft.Profile == schema.Yes {
		switch rule.Family() {
		case "cloth", "loom", "reed", "yarn":
			return true
		}
	}
	if slices.Contains(r.blocked, rule.ID) || slices.Contains(r.blocked, rule.Family()) {
		return true
	}
	misread := rule.Weave && !slices.Contains(rule.Blocks, ShaftCount) && r.slipped() // such a rule must run first
	return misread || rule.Weave && (r.doc.Partial && r.runs(schema.FileMissingSection) || slices.ContainsFunc(r.doc.Unclear, r.runs))
}

// slipped reports whether a row names a wrong shaft or treadle that a finding reports.
func (r *run) slipped() bool {
	return r.reports(ShaftCount) && len(r.figures.ShaftsAbove().Typos) > 0 ||
		r.reports(TreadleCount) && len(r.figures.TreadlesAbove().Typos) > 0
}

// reports reports whether a rule runs and the draft nowhere ignores it.
func (r *run) reports(id string) bool {
	return r.runs(id) && !slices.ContainsFunc(r.doc.Draft.Ignores, func(g schema.Ignore) bool { return g.Rule == id })
}

func (r *run) runs(id string) bool {
	rule := r.set.byID[id]
	return rule != nil && rule.severity != schema.Off
}

// failure returns the finding for a rule that panicked, or for a draft too large for the
// rule. The second has the rule's own severity.
func failure(rule string, severity schema.Severity, what any) schema.Finding {
	if large, is := what.(tooLarge); is {
		return schema.Finding{Rule: rule, Severity: severity, Message: fmt.Sprintf(
			"rule skipped: this draft has %d ends and %d picks, too many of them different, so the check would take too long; check a smaller part",
			large.ends, large.picks)}
	}
	return schema.Finding{Rule: rule, Severity: schema.Error,
		Message: fmt.Sprintf("rule failed on this draft (%s); this is a bug in fettle, please report it with the draft",
			wording.Plain(fmt.Sprint(what), 120))}
}
