package clean

import (
	"bytes"
	"slices"
	"strings"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

// search looks for as many mends as can be made at once without making another
// draft. It tries all of them. Where that fails it tries those of each rule, and
// halves them, so that a few bad ones among n cost about log n trials each.
type search struct {
	*work
	list    []lint.Mend
	lenient bool
	left    int    // trials that it may still make for a rule
	in      []bool // which of the list are made so far
	outcome        // of making those
	why     string // why the last trial failed
	refused []refused
}

// outcome is what came of a trial.
type outcome struct {
	next *schema.Document
	told []string // how its threads differ, where that is let pass
}

type refused struct {
	lint.Mend
	why string
}

// A search for the bad fixes of a rule may read the text so many times, and a
// text of few bytes more often.
const (
	mostTrials     = 100
	mostTrialBytes = 16 << 20
)

// trialsFor is how many trials a search in a text may make for a rule.
func trialsFor(text []byte) int { return mostTrials + mostTrialBytes/(len(text)+1) }

// search makes what it can of mends that do not get in each other's way.
func (w *work) search(list []lint.Mend, lenient bool) *search {
	s := &search{work: w, list: list, lenient: lenient, in: make([]bool, len(list))}
	order := make([]int, len(list))
	for i := range order {
		order[i] = i
	}
	if s.add(order) {
		return s
	}
	if _, why := w.read(w.doc.Source.Text, false); why != "" { // not even as it is
		for _, m := range list {
			s.refused = append(s.refused, refused{m, why})
			w.result.refuse(Refusal{Rule: m.Finding.Rule, Reason: why})
		}
		return s
	}
	rule := func(i int) string { return list[i].Finding.Rule }
	slices.SortStableFunc(order, func(a, b int) int { return strings.Compare(rule(a), rule(b)) })
	for len(order) > 0 {
		n := 1
		for n < len(order) && rule(order[n]) == rule(order[0]) {
			n++
		}
		s.ofRule(order[:n])
		order = order[n:]
	}
	slices.SortStableFunc(s.refused, func(a, b refused) int { return a.Edits[0].Span.Start - b.Edits[0].Span.Start })
	for _, m := range s.refused {
		w.result.refuse(Refusal{Rule: m.Finding.Rule, Line: w.line(m.Edits[0].Span.Start), Reason: m.why})
	}
	return s
}

// ofRule makes what it can of the mends of a rule: none where the bad ones among
// them are too many to find.
func (s *search) ofRule(which []int) {
	before, begun := s.outcome, len(s.refused)
	s.left = trialsFor(s.doc.Source.Text)
	if s.add(which) {
		return
	}
	s.halve(which)
	if s.left > 0 {
		return
	}
	s.outcome, s.refused = before, s.refused[:begun]
	for _, i := range which {
		s.in[i] = false
		s.refused = append(s.refused, refused{s.list[i], "too many fixes like it would change the draft, so fettle made none of them; fix these lines by hand"})
	}
}

// add makes these mends as well, if all of them can be made.
func (s *search) add(which []int) bool {
	for _, i := range which {
		s.in[i] = true
	}
	if s.passes() {
		return true
	}
	for _, i := range which {
		s.in[i] = false
	}
	return false
}

// halve makes what it can of mends that cannot all be made.
func (s *search) halve(which []int) {
	switch {
	case s.left <= 0:
		return
	case len(which) == 1:
		s.refused = append(s.refused, refused{s.list[which[0]], s.why})
		return
	}
	first, second := which[:len(which)/2], which[len(which)/2:]
	fine := s.add(first)
	if !fine {
		s.halve(first)
	}
	if fine || !s.add(second) {
		s.halve(second) // where the first half is fine, the fault is in the second
	}
}

// passes tries out the mends that are in.
func (s *search) passes() bool {
	s.left--
	count := 0
	for i, m := range s.list {
		if s.in[i] {
			count += len(m.Edits)
		}
	}
	edits := make([]schema.Edit, 0, count)
	for i, m := range s.list {
		if s.in[i] {
			edits = append(edits, m.Edits...)
		}
	}
	before := s.doc.Source.Text
	text, err := lint.Apply(before, edits)
	switch {
	case err != nil:
		s.why = err.Error()
		return false
	case bytes.Equal(text, before):
		s.why = "the file would stay as it is"
		return false
	}
	next, why := s.read(text, false)
	if why != "" {
		s.why = why
		return false
	}
	threads, rest := differences(s.doc.Draft, next.Draft)
	if len(threads)+len(rest) > 0 && !s.lenient {
		s.why = listed(threads, rest)
		return false
	}
	s.outcome = outcome{next: next}
	if all := append(threads, rest...); len(all) > 0 {
		s.told = []string{"the draft now has " + wording.Listed(all)}
	}
	return true
}

// made says whether any of the mends can be made.
func (s *search) made() bool { return s.next != nil }
