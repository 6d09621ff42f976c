package clean

import (
	"bytes"
	"slices"
	"strings"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

// search finds the fixes that can be made together without changing the draft. First it
// tries all of them. If that fails, it tries those of each rule, and halves them until it
// finds the bad ones. Each bad fix among n costs about log n trials.
type search struct {
	*work
	list      []lint.FixPart
	mayChange bool   // the draft may change
	left      int    // remaining trials for a rule
	in        []bool // which fixes of the list are made so far
	outcome          // of making those
	why       string // why the last trial failed
	refused   []refused
}

// outcome is the result of a successful trial.
type outcome struct {
	next  *schema.Document
	risks []string // how the draft changes, if it may
}

type refused struct {
	lint.FixPart
	why string
}

// Limits of a search for the bad fixes of a rule: how often it reads the text. A short
// text may be read more often.
const (
	mostTrials     = 100
	mostTrialBytes = 16 << 20
)

// trialsFor returns the most trials that a search in a text makes for a rule.
func trialsFor(text []byte) int { return mostTrials + mostTrialBytes/(len(text)+1) }

// search makes all good fixes of a list without conflicts.
func (w *work) search(list []lint.FixPart, mayChange bool) *search {
	s := &search{work: w, list: list, mayChange: mayChange, in: make([]bool, len(list))}
	order := make([]int, len(list))
	for i := range order {
		order[i] = i
	}
	if s.add(order) {
		return s
	}
	if _, why := w.read(w.doc.Source.Text, false); why != "" { // fails even without fixes
		for _, part := range list {
			s.refused = append(s.refused, refused{part, why})
			w.result.refuse(Refusal{Rule: part.Finding.Rule, Reason: why})
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
	for _, part := range s.refused {
		w.result.refuse(Refusal{Rule: part.Finding.Rule, Line: w.line(part.Edits[0].Span.Start), Reason: part.why})
	}
	return s
}

// ofRule makes the good fixes of a rule. If there are too many bad ones to find, it
// makes none.
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
		s.refused = append(s.refused, refused{s.list[i], "too many fixes of this rule would change the draft, so fettle made none of them; fix these lines by hand"})
	}
}

// add makes these fixes too, if all of them are good.
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

// halve makes the good fixes of a group with at least one bad one.
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
		s.halve(second) // if the first half is fine, the bad one is in the second
	}
}

// passes tries the chosen fixes.
func (s *search) passes() bool {
	s.left--
	count := 0
	for i, part := range s.list {
		if s.in[i] {
			count += len(part.Edits)
		}
	}
	edits := make([]schema.Edit, 0, count)
	for i, part := range s.list {
		if s.in[i] {
			edits = append(edits, part.Edits...)
		}
	}
	before := s.doc.Source.Text
	text, err := lint.Apply(before, edits)
	switch {
	case err != nil:
		s.why = err.Error()
		return false
	case bytes.Equal(text, before):
		s.why = "it would change nothing"
		return false
	}
	next, why := s.read(text, false)
	if why != "" {
		s.why = why
		return false
	}
	threads, rest := differences(s.doc.Draft, next.Draft)
	if len(threads)+len(rest) > 0 && !s.mayChange {
		s.why = listed(threads, rest)
		return false
	}
	s.outcome = outcome{next: next}
	if all := append(threads, rest...); len(all) > 0 {
		s.risks = []string{"the draft now has " + wording.Listed(all)}
	}
	return true
}

// made reports whether any of the fixes is good.
func (s *search) made() bool { return s.next != nil }
