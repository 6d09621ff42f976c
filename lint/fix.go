package lint

import (
	"cmp"
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

func byPlace(a, b schema.Edit) int {
	return cmp.Or(cmp.Compare(a.Span.Start, b.Span.Start), cmp.Compare(a.Span.End, b.Span.End))
}

// Mend is a part of a fix to make, with its finding.
type Mend struct {
	Finding *schema.Finding
	Fix     *schema.Fix
	Edits   []schema.Edit // edits of the fix that belong together
}

// Mends picks a fix with edits for each finding: the first safe one, or with risky the
// first of all. It returns a Mend for each part of the fix. It skips rules for which
// leave returns true.
func Mends(findings []schema.Finding, risky bool, leave func(rule string) bool) []Mend {
	var list []Mend
	for i := range findings {
		f := &findings[i]
		if leave != nil && leave(f.Rule) {
			continue
		}
		for j := range f.Fixes {
			if x := &f.Fixes[j]; len(x.Edits) > 0 && (risky || !x.Risky) {
				list = slices.Grow(list, 1+len(x.Later))
				for edits := range x.Parts() {
					list = append(list, Mend{f, x, edits})
				}
				break
			}
		}
	}
	return list
}

// claim is an edit and the number of its mend.
type claim struct {
	*schema.Edit
	mend int
}

// Together splits the mends into those that can be made at once and those that must
// wait. Of two that conflict, the later one waits. The first one never waits unless its
// own edits overlap. Apart from sorting, the time is linear in the number of edits.
func Together(mends []Mend) (now, later []Mend) {
	claims := make([]claim, 0, countEdits(mends))
	waits := make([]bool, len(mends))
	for i, m := range mends {
		if waits[i] = conflicted(m.Edits); waits[i] {
			continue
		}
		for j := range m.Edits {
			claims = append(claims, claim{&m.Edits[j], i})
		}
	}
	slices.SortStableFunc(claims, func(a, b claim) int { return byPlace(*a.Edit, *b.Edit) })
	last := -1
	for i, c := range claims {
		switch {
		case waits[c.mend]:
		case last < 0 || waits[claims[last].mend] || !conflict(*claims[last].Edit, *c.Edit):
			last = i
		case claims[last].mend <= c.mend:
			waits[c.mend] = true
		default:
			waits[claims[last].mend] = true
			last = i
		}
	}
	if !slices.Contains(waits, true) {
		return mends, nil
	}
	for i, m := range mends {
		if waits[i] {
			later = append(later, m)
		} else {
			now = append(now, m)
		}
	}
	return now, later
}

func countEdits(mends []Mend) (count int) {
	for _, m := range mends {
		count += len(m.Edits)
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
