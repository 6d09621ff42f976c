package lint

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/spelling"
	"fettle/schema/wording"
)

// mostUnused limits how many unused ignores are reported singly. Reporting one takes much
// longer than reading it.
const mostUnused = 100

// ignores holds the ignores of a draft and which of them were used.
type ignores struct {
	list []schema.Ignore
	used []bool
	by   map[string][]int // indexes into list by rule, sorted by section; only of known rules
}

func newIgnores(list []schema.Ignore, rules map[string]*setRule) *ignores {
	g := &ignores{list: list, used: make([]bool, len(list)), by: map[string][]int{}}
	for i := range list {
		if id := list[i].Rule; rules[id] != nil {
			g.by[id] = append(g.by[id], i)
		}
	}
	for _, of := range g.by {
		slices.SortStableFunc(of, func(a, b int) int { return cmp.Compare(list[a].Section.Start, list[b].Section.Start) })
	}
	return g
}

// of returns the ignore that applies to a finding, nil for none. An ignore applies to
// the whole file or to its section. In one section the first match wins.
func (g *ignores) of(f *schema.Finding) *schema.Ignore {
	of := g.by[f.Rule]
	if len(of) == 0 {
		return nil
	}
	if g.list[of[0]].Section == (schema.Span{}) {
		return g.use(of[0])
	}
	from := func(offset int) int { // the first whose section starts there or later
		at, _ := slices.BinarySearchFunc(of, offset, func(i, offset int) int { return cmp.Compare(g.list[i].Section.Start, offset) })
		return at
	}
	next := from(f.Span.Start + 1)
	if next == 0 {
		return nil
	}
	section := g.list[of[next-1]].Section
	if f.Span.Start >= section.End {
		return nil
	}
	return g.use(of[from(section.Start)])
}

func (g *ignores) use(i int) *schema.Ignore {
	g.used[i] = true
	return &g.list[i]
}

// Suppressed is a finding, with its position, that the draft ignores.
type Suppressed struct {
	schema.Finding
	Reason string // from the ignore; "" for none
}

// suppress removes the findings that the draft ignores, and reports unused ignores.
func (r *run) suppress() Result {
	if r.doc.Draft == nil || len(r.doc.Draft.Ignores) == 0 {
		return Result{Findings: r.findings}
	}
	g := newIgnores(r.doc.Draft.Ignores, r.set.byID)
	var result Result
	for _, f := range r.findings {
		if by := g.of(&f); by != nil {
			f.Position = r.doc.Source.Position(f.Span)
			result.Suppressed = append(result.Suppressed, Suppressed{f, by.Reason})
			continue
		}
		result.Findings = append(result.Findings, f)
	}
	slices.SortStableFunc(result.Suppressed, func(a, b Suppressed) int { return a.Position.Line - b.Position.Line })
	result.Findings = append(result.Findings, r.unused(g)...)
	return result
}

// unused returns findings for unused ignores.
func (r *run) unused(g *ignores) (found []schema.Finding) {
	rule := r.set.byID[UnusedIgnore]
	if rule == nil || rule.severity == schema.Off {
		return nil
	}
	more := 0
	idle := map[string]bool{} // by rule, because asking may go through all ignores
	for rule := range g.by {
		idle[rule] = !r.couldBeUsed(rule)
	}
	for i, x := range g.list {
		if g.used[i] || idle[x.Rule] {
			continue
		}
		if len(found) == mostUnused {
			more++
			continue
		}
		message := fmt.Sprintf("%s finds nothing here, so this ignore is unused; delete it", wording.Quote(x.Rule))
		switch {
		case severalRules(x):
			message = "this ignore names several rules; write one ignore for each rule"
		case r.set.byID[x.Rule] == nil:
			message = fmt.Sprintf("this ignore is unused: %s", unknownRule(x.Rule, r.set.all))
		}
		found = append(found, schema.Finding{Rule: UnusedIgnore, Severity: rule.severity, Span: x.Span, Message: message,
			Data: schema.Data{{Key: "rule", Value: wording.Plain(x.Rule, 60)}}})
	}
	if more > 0 {
		found[mostUnused-1].Message += "; " + wording.Counted(more, "ignore") + " after it " + wording.Plural(more, "has", "have") + " the same fault"
	}
	return found
}

// severalRules reports whether an ignore lists several rules with commas.
func severalRules(g schema.Ignore) bool {
	return strings.Contains(g.Rule, ",") || strings.HasPrefix(g.Reason, ",")
}

// correctIgnore names the nearest rule in the finding for a misspelt ignore. Readers
// can't, because they don't know the rules.
func (r *run) correctIgnore(f *schema.Finding) {
	if f.Ignore == nil || r.set.byID[f.Ignore.Rule] != nil {
		return
	}
	if id := spelling.Nearest(f.Ignore.Rule, idsOf(r.set.all)); id != "" {
		meant := *f.Ignore
		meant.Rule = id
		right := meant.Finding(f.Span)
		f.Message, f.Data, f.Ignore = right.Message, right.Data, right.Ignore
	}
}

// couldBeUsed reports whether an ignore of a known rule had a chance to be used. It had
// none if the rule didn't run. An ignore of a rule across files depends on the other files.
func (r *run) couldBeUsed(id string) bool {
	rule := r.set.byID[id]
	return rule.severity != schema.Off && rule.Family() != acrossFiles && !r.lacks(rule)
}
