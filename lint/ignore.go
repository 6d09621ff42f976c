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

// mostUnused is how many ignores that leave nothing out are told one by one: to
// tell one takes far more than to read it.
const mostUnused = 100

// ignores are the words of a draft that have findings left out, and which of
// them did.
type ignores struct {
	list []schema.Ignore
	used []bool
	by   map[string][]int // which of the list name a rule, by the section they hold for
}

func newIgnores(list []schema.Ignore) *ignores {
	g := &ignores{list: list, used: make([]bool, len(list)), by: map[string][]int{}}
	for i := range list {
		g.by[list[i].Rule] = append(g.by[list[i].Rule], i)
	}
	for _, of := range g.by {
		slices.SortStableFunc(of, func(a, b int) int { return cmp.Compare(list[a].Section.Start, list[b].Section.Start) })
	}
	return g
}

// of is the words that have a finding left out, nil for none: the draft says so
// for the whole file, or in the section that it stands in. Of several words for
// one section the first counts.
func (g *ignores) of(f *schema.Finding) *schema.Ignore {
	of := g.by[f.Rule]
	if len(of) == 0 {
		return nil
	}
	if g.list[of[0]].Section == (schema.Span{}) {
		return g.use(of[0])
	}
	from := func(offset int) int { // the first that holds from there on
		at, _ := slices.BinarySearchFunc(of, offset, func(i, offset int) int { return cmp.Compare(g.list[i].Section.Start, offset) })
		return at
	}
	behind := from(f.Span.Start + 1)
	if behind == 0 {
		return nil
	}
	section := g.list[of[behind-1]].Section
	if f.Span.Start >= section.End {
		return nil
	}
	return g.use(of[from(section.Start)])
}

func (g *ignores) use(i int) *schema.Ignore {
	g.used[i] = true
	return &g.list[i]
}

// Suppressed is a finding, with its position, that the draft asks to ignore.
type Suppressed struct {
	schema.Finding
	Reason string // "" where the draft gives none
}

// leaveOut takes out the findings that the draft asks to have left out, and
// reports each such word that leaves nothing out.
func (r *run) leaveOut() Result {
	if r.doc.Draft == nil || len(r.doc.Draft.Ignores) == 0 {
		return Result{Findings: r.findings}
	}
	g := newIgnores(r.doc.Draft.Ignores)
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

// unused are the findings that ignores leave nothing out.
func (r *run) unused(g *ignores) (found []schema.Finding) {
	rule := r.set.byID[UnusedIgnore]
	if rule == nil || rule.severity == schema.Off {
		return nil
	}
	more := 0
	for i, x := range g.list {
		if g.used[i] || !r.looked(x.Rule) {
			continue
		}
		if len(found) == mostUnused {
			more++
			continue
		}
		message := fmt.Sprintf("nothing is found here by %s, so this ignore leaves nothing out; take it away", wording.Quote(x.Rule))
		switch {
		case severalRules(x):
			message = "an ignore names one rule, and this one names several; write one for each of them"
		case r.set.byID[x.Rule] == nil:
			message = fmt.Sprintf("this ignore leaves nothing out: %s", unknownRule(x.Rule, r.set.all))
		}
		found = append(found, schema.Finding{Rule: UnusedIgnore, Severity: rule.severity, Span: x.Span, Message: message,
			Data: schema.Data{{Key: "rule", Value: wording.Plain(x.Rule, 60)}}})
	}
	if more > 0 {
		found[mostUnused-1].Message += "; so is it with " + wording.Counted(more, "ignore") + " behind it"
	}
	return found
}

// severalRules says whether an ignore was meant for several rules, with commas
// between them.
func severalRules(g schema.Ignore) bool {
	return strings.Contains(g.Rule, ",") || strings.HasPrefix(g.Reason, ",")
}

// rightIgnore corrects the rule of a misspelt ignore: readers don't know which rules
// there are.
func (r *run) rightIgnore(f *schema.Finding) {
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

// looked says whether a rule was looked for at all: an ignore of one that is
// switched off, not chosen, or not looked for in half a draft, is not known to be
// unused. Nor is that of a rule across files, which hangs on what else is looked
// at.
func (r *run) looked(id string) bool {
	rule := r.set.byID[id]
	return rule == nil || rule.severity != schema.Off && rule.Family() != acrossFiles && !r.lacks(rule)
}
