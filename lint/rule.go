// Package lint runs rules over a draft. It selects the rules, their severities and
// options, and drops the findings that the draft ignores. The rules themselves are
// in lint/rules.
package lint

import (
	"fmt"
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/dressing"
	"fettle/schema/measure"
	"fettle/schema/wording"
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
	Fixed   Example // the same draft without it
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
	// Weave marks a rule that judges the weave as a whole. It doesn't run on a draft that
	// lacks part of its weave, or if another finding reports a row with the wrong shaft
	// or treadle.
	Weave bool
	// Blocks lists rules and families that don't run if this rule finds something, because
	// their findings would only follow from it. They do run if the draft ignores this
	// rule.
	Blocks []string

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

// Pass gives a rule the draft to check. It is valid until the rule returns.
type Pass struct {
	Draft *schema.Draft
	Setup *schema.Setup
	// Figures holds the draft's figures, computed once for all rules.
	Figures *dressing.Figures

	run    *run
	rule   *setRule
	before int   // the findings of earlier rules
	most   int   // the findings to report singly
	more   []int // offsets of findings that the last one stands for
}

// Cloth returns the cloth that the draft weaves, computed once for all rules. If it is
// too large the call ends the rule, and a finding says so.
func (p *Pass) Cloth() *cloth.Cloth { return p.run.woven() }

func (r *run) woven() *cloth.Cloth {
	woven := r.figures.Cloth()
	if woven.TooLarge() {
		panic(tooLarge{woven.Ends(), woven.Picks()})
	}
	return woven
}

// tooLarge is the panic value that ends a rule if the cloth is too large.
type tooLarge struct{ ends, picks int }

// Floats returns the draft's longest floats, measured with the rule's limits. Unless the
// settings say whether floats wrap, they go on into the next repeat where the project
// repeats the draft.
func (p *Pass) Floats(warp, weft cloth.Measure) cloth.Floats {
	q := cloth.FloatQuery{Warp: warp, Weft: weft, Wrap: p.Setup.Project.Wrap, FloatingSelvedge: p.Setup.Project.FloatingSelvedge, Cuts: p.Draft.Cuts()}
	if !p.Setup.Has("project.wrap") {
		q.Ends, q.Picks = p.Figures.Warp().All, p.Figures.LongestPart()
	}
	return p.Cloth().Floats(q)
}

// Option returns the value of an option, and whether fettle.ini states it. It returns 0
// for an unknown option.
func (p *Pass) Option(name string) (value float64, stated bool) {
	for i, o := range p.rule.Options {
		if o.Name == name {
			return p.rule.values[i], p.rule.stated[i]
		}
	}
	return 0, false
}

// Runs reports whether another rule runs too, and may report the same fault.
func (p *Pass) Runs(rule string) bool { return p.run.runs(rule) }

// Units returns the units for lengths in messages.
func (p *Pass) Units() measure.Units { return p.Setup.Units }

// usualFindings is the number of findings to allocate memory for: most drafts with
// findings have fewer.
const usualFindings = 8

// mostSingly is how many findings of a rule without fixes are reported singly. The last
// one stands for all that follow, or a hostile draft would need far more memory than
// its size.
const mostSingly = 100

// Report adds a finding at a place in the draft.
func (p *Pass) Report(at schema.Place, data schema.Data, format string, args ...any) {
	p.ReportSeverity(p.rule.severity, at, data, format, args...)
}

// ReportSeverity adds a finding with another severity than the rule's default. A
// severity in fettle.ini overrides it.
func (p *Pass) ReportSeverity(s schema.Severity, at schema.Place, data schema.Data, format string, args ...any) {
	if p.rule.severityStated {
		s = p.rule.severity
	}
	span, pointer := p.run.doc.Locator.Locate(at)
	if p.full() {
		p.more = append(p.more, span.Start)
		return
	}
	f := schema.Finding{Rule: p.rule.ID, Severity: s, Message: fmt.Sprintf(format, args...), Data: data, Span: span, Pointer: pointer}
	if p.run.findings == nil {
		p.run.findings = make([]schema.Finding, 0, usualFindings)
	}
	p.run.findings = append(p.run.findings, f)
}

// full reports whether the rule has as many findings as are reported singly.
func (p *Pass) full() bool { return len(p.run.findings)-p.before >= p.most }

// finish gives the last finding the lines of those that it stands for.
func (p *Pass) finish() {
	if len(p.more) == 0 {
		return
	}
	last := p.last()
	source := p.run.doc.Source
	lines := []int{source.Position(last.Span).Line}
	for _, at := range p.more {
		lines = append(lines, source.Position(schema.Span{Start: at, End: at}).Line)
	}
	slices.Sort(lines)
	if lines = slices.Compact(lines); len(lines) > 1 {
		last.Lines = lines
	}
	last.Message += "; " + wording.Counted(len(p.more), "more finding") + " like this one " + wording.Plural(len(p.more), "isn't", "aren't") + " shown"
}

// Fix adds a fix to the last finding.
func (p *Pass) Fix(f schema.Fix) {
	last := p.last()
	last.Fixes = append(last.Fixes, f)
}

// Mark names the threads that the last finding is about, for drawings.
func (p *Pass) Mark(system schema.SystemName, threads ...int) {
	if len(p.more) > 0 {
		return // the finding isn't reported singly
	}
	last := p.last()
	last.System, last.Threads = system, threads
}

func (p *Pass) last() *schema.Finding { return &p.run.findings[len(p.run.findings)-1] }

// Editor returns an editor for the file, nil if its format has none.
func (p *Pass) Editor() schema.Editor {
	e, _ := p.run.doc.Locator.(schema.Editor)
	return e
}
