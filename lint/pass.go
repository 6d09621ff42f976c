package lint

import (
	"fmt"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/dressing"
	"fettle/schema/measure"
)

// Pass is one rule looking at one draft. It is good until the rule is done.
type Pass struct {
	Draft *schema.Draft
	Setup *schema.Setup
	// Figures are the draft's, worked out once for all rules.
	Figures *dressing.Figures

	run  *run
	rule *setRule
}

// Cloth is what the draft weaves. It is worked out once for all rules. Where it
// is too large the rule ends here, and a finding says so.
func (p *Pass) Cloth() *cloth.Cloth { return p.run.woven() }

func (r *run) woven() *cloth.Cloth {
	woven := r.figures.Cloth()
	if woven.TooLarge() {
		panic(tooLarge{woven.Ends(), woven.Picks()})
	}
	return woven
}

// tooLarge ends a rule that asks for a cloth which would take too long to look
// at.
type tooLarge struct{ ends, picks int }

// Floats are the draft's longest floats, counted against the limits of the rule
// that looks.
func (p *Pass) Floats(warp, weft cloth.Measure) cloth.Floats {
	return p.Cloth().Floats(cloth.FloatQuery{Warp: warp, Weft: weft, Wrap: p.Setup.Project.Wrap,
		FloatingSelvedge: p.Setup.Project.FloatingSelvedge})
}

// Option is the value of an option of the rule, and whether fettle.ini states
// it.
func (p *Pass) Option(name string) (value float64, stated bool) {
	for i, o := range p.rule.Options {
		if o.Name == name {
			return p.rule.values[i], p.rule.stated[i]
		}
	}
	return 0, false
}

// LooksFor says whether another rule is looked for as well, so that it tells
// what need not be told twice.
func (p *Pass) LooksFor(rule string) bool { return p.run.looksFor(rule) }

// Units are what lengths are told in.
func (p *Pass) Units() measure.Units { return p.Setup.Units }

// Report reports a finding at a place of the draft.
func (p *Pass) Report(at schema.Place, data schema.Data, format string, args ...any) {
	p.ReportSeverity(p.rule.severity, at, data, format, args...)
}

// ReportSeverity reports a finding that is more, or less, severe than the rule's
// findings are by default. Where fettle.ini states a severity, that holds.
func (p *Pass) ReportSeverity(s schema.Severity, at schema.Place, data schema.Data, format string, args ...any) {
	if p.rule.fixed {
		s = p.rule.severity
	}
	f := schema.Finding{Rule: p.rule.ID, Severity: s, Message: fmt.Sprintf(format, args...), Data: data}
	f.Span, f.Pointer = p.run.doc.Locator.Locate(at)
	p.run.findings = append(p.run.findings, f)
}

// Fix adds a way to mend the finding reported last.
func (p *Pass) Fix(f schema.Fix) {
	last := &p.run.findings[len(p.run.findings)-1]
	last.Fixes = append(last.Fixes, f)
}

// Editor is how the file is brought to say something else; nil where its format
// has no such way.
func (p *Pass) Editor() schema.Editor {
	e, _ := p.run.doc.Locator.(schema.Editor)
	return e
}
