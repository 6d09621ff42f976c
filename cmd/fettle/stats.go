package main

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"slices"
	"time"

	"fettle/lint/report"
)

// stats counts the findings of a run. A nil stats counts nothing.
type stats struct {
	began  time.Time
	files  int
	drafts int
	byRule map[string]int
}

func newStats(wanted bool) *stats {
	if !wanted {
		return nil
	}
	return &stats{began: time.Now(), byRule: map[string]int{}}
}

func (s *stats) add(f report.File) {
	if s == nil {
		return
	}
	s.files++
	if f.Format != "" {
		s.drafts++
	}
	for i := range f.Findings {
		s.byRule[f.Findings[i].Rule]++
	}
}

// print writes the counts, the most frequent rule first. They go to standard error,
// because the times vary between runs.
func (s *stats) print(to io.Writer) {
	if s == nil {
		return
	}
	rules := slices.SortedFunc(maps.Keys(s.byRule), func(a, b string) int {
		return cmp.Or(cmp.Compare(s.byRule[b], s.byRule[a]), cmp.Compare(a, b))
	})
	for _, rule := range rules {
		fmt.Fprintf(to, "%7d  %s\n", s.byRule[rule], rule)
	}
	seconds := time.Since(s.began).Seconds()
	fmt.Fprintf(to, "%d drafts in %d files, %.1f s, %.0f drafts per second\n", s.drafts, s.files, seconds, float64(s.drafts)/max(seconds, 1e-9))
}
