package lint

import (
	"fmt"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/dressing"
	"fettle/schema/measure"
)

// Pass gives a rule the draft to check. It is valid until the rule returns.
type Pass struct {
	Draft *schema.Draft
	Setup *schema.Setup
	// Figures holds the draft's figures, computed once for all rules.
	Figures *dressing.Figures

	run  *run
	rule *setRule
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

// Floats returns the draft's longest floats, measured with the rule's limits.
func (p *Pass) Floats(warp, weft cloth.Measure) cloth.Floats {
	return p.Cloth().Floats(cloth.FloatQuery{Warp: warp, Weft: weft, Wrap: p.Setup.Project.Wrap,
		FloatingSelvedge: p.Setup.Project.FloatingSelvedge})
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

// LooksFor reports whether another rule runs too, and may report the same fault.
func (p *Pass) LooksFor(rule string) bool { return p.run.looksFor(rule) }

// Units returns the units for lengths in messages.
func (p *Pass) Units() measure.Units { return p.Setup.Units }

// usualFindings is the number of findings that most drafts with any stay below.
const usualFindings = 8

// Report adds a finding at a place in the draft.
func (p *Pass) Report(at schema.Place, data schema.Data, format string, args ...any) {
	p.ReportSeverity(p.rule.severity, at, data, format, args...)
}

// ReportSeverity adds a finding with another severity than the rule's default. A
// severity in fettle.ini overrides it.
func (p *Pass) ReportSeverity(s schema.Severity, at schema.Place, data schema.Data, format string, args ...any) {
	if p.rule.fixed {
		s = p.rule.severity
	}
	f := schema.Finding{Rule: p.rule.ID, Severity: s, Message: fmt.Sprintf(format, args...), Data: data}
	f.Span, f.Pointer = p.run.doc.Locator.Locate(at)
	if p.run.findings == nil {
		p.run.findings = make([]schema.Finding, 0, usualFindings)
	}
	p.run.findings = append(p.run.findings, f)
}

// Fix adds a fix to the last finding.
func (p *Pass) Fix(f schema.Fix) {
	last := &p.run.findings[len(p.run.findings)-1]
	last.Fixes = append(last.Fixes, f)
}

// Editor returns an editor for the file, nil if its format has none.
func (p *Pass) Editor() schema.Editor {
	e, _ := p.run.doc.Locator.(schema.Editor)
	return e
}
