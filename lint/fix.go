package lint

import (
	"fmt"
	"slices"
	"strings"

	"fettle/schema"
)

// Apply returns a copy of a text with edits made. The edits may come in any order;
// insertions at one place keep theirs. The error is for an edit that ends before it
// starts, lies outside the text or overlaps another.
func Apply(text []byte, edits []schema.Edit) ([]byte, error) {
	edits = inOrder(edits)
	size, end := len(text), 0
	for _, e := range edits {
		switch {
		case e.Span.Start > e.Span.End:
			return nil, fmt.Errorf("an edit ends at byte %d, before it starts at %d", e.Span.End, e.Span.Start)
		case e.Span.Start < 0 || e.Span.End > len(text):
			return nil, fmt.Errorf("an edit of bytes %d to %d lies outside the text of %d", e.Span.Start, e.Span.End, len(text))
		case e.Span.Start < end:
			return nil, fmt.Errorf("an edit at byte %d overlaps one that ends at %d", e.Span.Start, end)
		}
		size += len(e.New) - (e.Span.End - e.Span.Start)
		end = e.Span.End
	}
	out, at := make([]byte, 0, size), 0
	for _, e := range edits {
		out = append(append(out, text[at:e.Span.Start]...), e.New...)
		at = e.Span.End
	}
	return append(out, text[at:]...), nil
}

// inOrder returns the edits sorted by place. It copies them only if it must.
func inOrder(edits []schema.Edit) []schema.Edit {
	if !slices.IsSortedFunc(edits, byPlace) {
		edits = slices.Clone(edits)
		slices.SortStableFunc(edits, byPlace)
	}
	return edits
}

func byPlace(a, b schema.Edit) int { return a.Span.Compare(b.Span) }

// FixPart is a part of a fix, with its finding.
type FixPart struct {
	Finding *schema.Finding
	Fix     *schema.Fix
	Edits   []schema.Edit // edits of the fix that belong together
}

// FixParts picks a fix with edits for each finding: the first safe one, or with risky the
// first of all. It returns all parts of these fixes.
func FixParts(findings []schema.Finding, risky bool) []FixPart {
	var list []FixPart
	for i := range findings {
		f := &findings[i]
		for j := range f.Fixes {
			if x := &f.Fixes[j]; len(x.Edits) > 0 && (risky || !x.Risky) {
				list = slices.Grow(list, 1+len(x.Later))
				for edits := range x.Parts() {
					list = append(list, FixPart{f, x, edits})
				}
				break
			}
		}
	}
	return list
}

// claim is an edit and the index of its part.
type claim struct {
	*schema.Edit
	part int
}

// Together splits parts into those that can be made at once and those that must
// wait. Of two that conflict, the later one waits. The first one never waits unless its
// own edits overlap. Apart from sorting, the time is linear in the number of edits.
func Together(parts []FixPart) (now, later []FixPart) {
	claims := make([]claim, 0, countEdits(parts))
	waits := make([]bool, len(parts))
	for i, p := range parts {
		if waits[i] = conflicted(p.Edits); waits[i] {
			continue
		}
		for j := range p.Edits {
			claims = append(claims, claim{&p.Edits[j], i})
		}
	}
	slices.SortStableFunc(claims, func(a, b claim) int { return byPlace(*a.Edit, *b.Edit) })
	last := -1
	for i, c := range claims {
		switch {
		case waits[c.part]:
		case last < 0 || waits[claims[last].part] || !conflict(*claims[last].Edit, *c.Edit):
			last = i
		case claims[last].part <= c.part:
			waits[c.part] = true
		default:
			waits[claims[last].part] = true
			last = i
		}
	}
	if !slices.Contains(waits, true) {
		return parts, nil
	}
	for i, p := range parts {
		if waits[i] {
			later = append(later, p)
		} else {
			now = append(now, p)
		}
	}
	return now, later
}

func countEdits(parts []FixPart) (count int) {
	for _, p := range parts {
		count += len(p.Edits)
	}
	return count
}

// conflicted reports whether any two of the edits conflict.
func conflicted(edits []schema.Edit) bool {
	edits = inOrder(edits)
	for i := 1; i < len(edits); i++ {
		if conflict(edits[i-1], edits[i]) {
			return true
		}
	}
	return false
}

// conflict reports whether only one of two edits, sorted by place, can be made. Lines
// added after the same line don't conflict, nor does a line added before a changed one.
func conflict(a, b schema.Edit) bool {
	inserts := a.Span.Start == a.Span.End
	switch {
	case a.Span == b.Span && inserts:
		return !addsLines(a.New) || !addsLines(b.New)
	case b.Span.Start == a.Span.Start:
		return !inserts || !endsLine(a.New)
	}
	return b.Span.Start < a.Span.End
}

func endsLine(s string) bool { return strings.HasSuffix(s, "\n") || strings.HasSuffix(s, "\r") }

func addsLines(s string) bool { return strings.HasPrefix(s, "\n") || strings.HasPrefix(s, "\r") }
