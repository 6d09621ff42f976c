package lint

import (
	"fmt"
	"slices"
	"sync"

	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/settings"
	"fettle/schema/spelling"
	"fettle/schema/wording"
)

// Selection says which rules run: ids or families, as the command line has
// them. The zero value runs all.
type Selection struct {
	Only, Skip []string
}

// Linter runs a set of rules. It may be used by several goroutines at once.
type Linter struct {
	rules  []Rule
	byID   map[string]*Rule
	chosen map[string]bool

	mu   sync.Mutex
	sets map[*settings.Settings]*ruleSet // worked out once for drafts that share their settings
}

// New gives a Linter. It is an error when a selection names no rule and no
// family.
func New(rules []Rule, s Selection) (*Linter, error) {
	l := &Linter{rules: rules, byID: map[string]*Rule{}, chosen: map[string]bool{}, sets: map[*settings.Settings]*ruleSet{}}
	for _, name := range slices.Concat(s.Only, s.Skip) {
		if !slices.ContainsFunc(rules, func(r Rule) bool { return r.ID == name || r.Family() == name }) {
			return nil, unknown(name, withFamilies(rules))
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

// OnlyAcross returns a Linter that runs, of the rules this one runs, only those
// across files.
func (l *Linter) OnlyAcross() *Linter {
	only := &Linter{rules: l.rules, byID: l.byID, chosen: make(map[string]bool, len(l.chosen)), sets: map[*settings.Settings]*ruleSet{}}
	for i := range l.rules {
		r := &l.rules[i]
		only.chosen[r.ID] = l.chosen[r.ID] && r.Family() == acrossFiles
	}
	return only
}

// Chosen reports whether the selection lets a rule run. Unknown rules count as
// selected, so their baseline entries are reported as no longer found.
func (l *Linter) Chosen(rule string) bool {
	chosen, there := l.chosen[rule]
	return chosen || !there
}

// None says whether the selection leaves out all that it asks for.
func (l *Linter) None() bool {
	for _, chosen := range l.chosen {
		if chosen {
			return false
		}
	}
	return true
}

// unknownRule is the error for a name that is no rule, or a family where one rule
// is wanted.
func unknownRule(name string, rules []Rule) error {
	for _, r := range rules {
		if r.Family() == name {
			return fmt.Errorf("%s is a family of rules: name its rules one by one, such as %s", wording.Quote(name), r.ID)
		}
	}
	return unknown(name, idsOf(rules))
}

// idsOf are the ids of rules.
func idsOf(rules []Rule) (ids []string) {
	for i := range rules {
		ids = append(ids, rules[i].ID)
	}
	return ids
}

// withFamilies are the ids of rules and their families.
func withFamilies(rules []Rule) []string {
	names := idsOf(rules)
	for i := range rules {
		names = append(names, rules[i].Family())
	}
	return names
}

// isFamily says whether a name is that of a family of rules.
func isFamily(name string, rules []Rule) bool {
	return slices.ContainsFunc(rules, func(r Rule) bool { return r.Family() == name })
}

// unknown is the error for a name that is none of those known.
func unknown(name string, known []string) error {
	best := spelling.Nearest(name, known)
	if best != "" {
		return fmt.Errorf("there is no rule %s; is %s meant?", wording.Quote(name), best)
	}
	return fmt.Errorf("there is no rule %s: 'fettle rules' lists them", wording.Quote(name))
}

// Rulebook is rules as settings speak of them.
type Rulebook []Rule

// Known is an error for a name that is no rule's and no family's.
func (b Rulebook) Known(name string) error {
	if names := withFamilies(b); !slices.Contains(names, name) {
		return unknown(name, names)
	}
	return nil
}

// Takes is an error for words behind a severity that are no options of a rule; a
// family takes none.
func (b Rulebook) Takes(name string, options []string) error {
	if isFamily(name, b) {
		return ofFamily(name, options)
	}
	r, err := Find(b, name)
	if err == nil {
		_, _, err = readOptions(r, options)
	}
	return err
}

// ofFamily is an error for options, which the rules of a family do not share.
func ofFamily(name string, options []string) error {
	if len(options) == 0 {
		return nil
	}
	return fmt.Errorf("%s is no severity: the family %s takes error, warning, note or off, and its rules what else there is to say, one by one", wording.Quote(options[0]), name)
}

// Find gives the rule of that id.
func Find(rules []Rule, id string) (*Rule, error) {
	for i := range rules {
		if rules[i].ID == id {
			return &rules[i], nil
		}
	}
	return nil, unknownRule(id, rules)
}

// ruleSet is the rules as some settings have them.
type ruleSet struct {
	all   []Rule
	rules []setRule
	byID  map[string]*setRule
	err   error
}

// setRule is a rule with its severity and options.
type setRule struct {
	*Rule
	severity schema.Severity
	fixed    bool // the severity was stated
	values   []float64
	stated   []bool
}

// Result is what came of one draft.
type Result struct {
	Findings   []schema.Finding // sorted, with their positions
	Suppressed []Suppressed

	run *run // what was worked out of the draft, for the rules across files
}

// Lint runs the rules over a document and sorts what they and its reader found.
// The error is for settings that speak of rules or options there are not.
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
	result := r.leaveOut()
	result.run = r
	result.Findings = schema.SortFindings(result.Findings)
	for i := range result.Findings {
		f := &result.Findings[i]
		f.Position = doc.Source.Position(f.Span)
	}
	return result, nil
}

// mostSets bounds how many settings are remembered: a collection in which each
// draft has its own would else fill the memory.
const mostSets = 64

// set is the rules for a path. Settings that say nothing of single paths are
// worked out once.
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

// apply has a line of [rules] hold.
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
		one.severity, one.fixed = s.Severity, true
	}
	return nil
}

// applyFamily has a line about a family hold for each of its rules.
func (l *Linter) applyFamily(set *ruleSet, s settings.RuleSetting) error {
	for i := range l.rules {
		if r := &l.rules[i]; r.Family() == s.Rule && l.chosen[r.ID] && s.Stated {
			one := set.byID[r.ID]
			one.severity, one.fixed = s.Severity, true
		}
	}
	return ofFamily(s.Rule, s.Options)
}

// run is one draft being looked at.
type run struct {
	doc      *schema.Document
	set      *ruleSet
	figures  *dressing.Figures
	findings []schema.Finding
	held     []string // rules and families that another rule holds back
	pass     Pass     // handed to one rule after the other
}

// fromReader takes over the reader's findings. The rule sets their severity; a
// milder one from the reader holds unless fettle.ini states one.
func (r *run) fromReader() {
	for _, f := range r.doc.Findings {
		rule := r.set.byID[f.Rule]
		if rule == nil || rule.severity == schema.Off {
			continue
		}
		if f.Severity == schema.Off || rule.fixed || f.Severity > rule.severity {
			f.Severity = rule.severity
		}
		r.rightIgnore(&f)
		r.findings = append(r.findings, f)
	}
}

// checkAll runs the rules, those first that hold others back.
func (r *run) checkAll() {
	for _, first := range []bool{true, false} {
		for i := range r.set.rules {
			rule := &r.set.rules[i]
			if (len(rule.Holds) > 0) != first {
				continue
			}
			before := len(r.findings)
			r.check(rule)
			if len(r.findings) > before && r.tells(rule.ID) {
				r.held = append(r.held, rule.Holds...)
			}
		}
	}
}

// check runs one rule. A rule that fails on a draft is itself a finding, so that
// one draft never stops the rest.
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
	r.pass = Pass{Draft: r.figures.Draft, Setup: r.figures.Setup, Figures: r.figures, run: r, rule: rule}
	rule.Check(&r.pass)
}

// OfProfiles says what is not looked for in a draft that says it is a block
// profile, and what to do.
const OfProfiles = schema.BlockProfile + ", so cloth, loom, reed and yarn are not judged; " + schema.DrawItOut

// lacks says whether the draft lacks what a rule judges: the threads, since it
// is a block profile, or a part of the weave, where that is reported and what the
// rule found would only follow from it. Another rule may hold it back, too.
func (r *run) lacks(rule *setRule) bool {
	if r.doc.Draft.Profile == schema.Yes {
		switch rule.Family() {
		case "cloth", "loom", "reed", "yarn":
			return true
		}
	}
	if slices.Contains(r.held, rule.ID) || slices.Contains(r.held, rule.Family()) {
		return true
	}
	slip := rule.Weave && !slices.Contains(rule.Holds, ShaftCount) && r.slipped() // a rule that holds back the finding of a slip comes before it
	return slip || rule.Weave && (r.doc.Partial && r.looksFor(schema.FileMissingSection) || slices.ContainsFunc(r.doc.Unclear, r.looksFor))
}

// slipped reports whether a row of the draft names a shaft or a treadle by a slip,
// and that is reported.
func (r *run) slipped() bool {
	return r.tells(ShaftCount) && len(r.figures.ShaftsAbove().Slips) > 0 ||
		r.tells(TreadleCount) && len(r.figures.TreadlesAbove().Slips) > 0
}

// tells reports whether a rule is looked for, and the draft does not ask anywhere to
// have its findings left out.
func (r *run) tells(id string) bool {
	return r.looksFor(id) && !slices.ContainsFunc(r.doc.Draft.Ignores, func(g schema.Ignore) bool { return g.Rule == id })
}

// looksFor says whether a rule is looked for.
func (r *run) looksFor(id string) bool {
	rule := r.set.byID[id]
	return rule != nil && rule.severity != schema.Off
}

// failure is the finding that a rule failed on a draft, or that the draft is too
// large for it; that is as severe as what it would have found.
func failure(rule string, severity schema.Severity, what any) schema.Finding {
	if large, is := what.(tooLarge); is {
		return schema.Finding{Rule: rule, Severity: severity, Message: fmt.Sprintf(
			"this is not looked for: with so many different ends and picks, among %d ends and %d picks, going through their crossings would take too long; have a smaller part of the draft looked at",
			large.ends, large.picks)}
	}
	return schema.Finding{Rule: rule, Severity: schema.Error,
		Message: fmt.Sprintf("the rule failed on this draft (%s); that is a fault of fettle, not of the draft: please report it with the draft",
			wording.Plain(fmt.Sprint(what), 120))}
}
