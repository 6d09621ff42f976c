package collection

import (
	"fmt"
	"path/filepath"
	"slices"
	"sync"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

// Run looks at the files of a collection.
type Run struct {
	Checker  *lint.Checker
	Reader   Reader
	Workers  int            // files looked at at once; none is one
	Baseline *lint.Baseline // takes note of what is found; nil for none
	Root     Root           // the folder that reports and the baseline name files from
	// Compare are files that those looked at are compared with. What is found in
	// these alone is not handed on.
	Compare []Input
	// OnlyNew leaves out what the baseline knows.
	OnlyNew bool
}

// Looked is what came of a file.
type Looked struct {
	Path       string // as it was typed or met, with / between folders
	RootPath   string // the same file from the root of the run
	Format     string // "" where it holds no draft
	Source     *schema.Source
	Draft      *schema.Draft // nil where it holds no draft
	Findings   []schema.Finding
	Prints     func() []string // gives the fingerprint of each finding
	Suppressed []lint.Suppressed
	// SuppressedPrints gives the fingerprint of each of them.
	SuppressedPrints func() []string
	Worse            []int            // the indexes in Findings of those that the baseline knows less bad
	Known            []schema.Finding // that the baseline knows and Findings leaves out, in order
	KnownPrints      []string         // the fingerprint of each of them
}

// Look looks at each file and hands on what was found, in the order of the
// files, until use says no. A file that cannot be looked at is told to missed,
// and the rest goes on; a file met in a folder that is no draft is passed over.
func (r *Run) Look(list []Input, use func(Input, Looked) bool, missed func(Input, error)) {
	var across *lint.Across
	if len(list)+len(r.Compare) > 1 {
		across = lint.NewAcross()
		r.compare(across, missed)
	}
	Each(list, r.Workers, func(in Input) outcome { return r.one(in, across) }, func(in Input, o outcome) bool {
		if o.err != nil {
			missed(in, o.err)
		}
		if o.err != nil || o.passed {
			return true
		}
		r.finish(&o, across)
		return use(in, o.Looked)
	})
}

// compare notes the files that the others are compared with.
func (r *Run) compare(across *lint.Across, missed func(Input, error)) {
	bare := &Run{Checker: &lint.Checker{Linter: r.Checker.Linter.OnlyAcross(), Finder: r.Checker.Finder}, Reader: r.Reader, Root: r.Root}
	Each(r.Compare, r.Workers, func(in Input) outcome { return bare.one(in, across) }, func(in Input, o outcome) bool {
		switch {
		case o.err != nil:
			missed(in, o.err)
		case !o.passed:
			across.Add(o.Path, o.traits)
		}
		return true
	})
}

// outcome is what came of a file before it is compared with others.
type outcome struct {
	Looked
	traits lint.Traits
	sum    string // the SHA-256 of the file; "" where no baseline asks for it
	passed bool
	err    error
}

func (r *Run) one(in Input, across *lint.Across) (o outcome) {
	defer func() {
		if what := recover(); what != nil {
			o = outcome{err: Problem{in.Path, "fettle failed on this file (" + wording.Plain(fmt.Sprint(what), 120) +
				"); that is a fault of fettle, not of the file: please report it with the file"}}
		}
	}()
	doc, err := r.Reader.Read(in)
	if err != nil || doc == nil {
		return outcome{err: err, passed: true}
	}
	result, err := r.Checker.Check(doc)
	if err != nil {
		return outcome{err: err}
	}
	o = outcome{Looked: Looked{Path: filepath.ToSlash(in.Path), RootPath: r.Root.Path(in.Path), Format: doc.Format, Source: doc.Source, Draft: doc.Draft,
		Findings: result.Findings, Suppressed: result.Suppressed}}
	if across != nil {
		o.traits = across.Traits(&result)
	}
	if r.Baseline != nil {
		o.sum = sum(doc.Source.Raw)
	}
	return o
}

// finish compares a file with those before it and with the baseline.
func (r *Run) finish(o *outcome, across *lint.Across) {
	if across != nil {
		found, suppressed := across.Add(o.Path, o.traits)
		o.Suppressed = append(o.Suppressed, suppressed...)
		if len(found) > 0 {
			o.Findings = schema.SortFindings(append(o.Findings, found...))
		}
	}
	src, findings := o.Source, o.Findings
	o.Prints = sync.OnceValue(func() []string { return r.Checker.Linter.Fingerprints(src, findings) })
	ignored := o.Suppressed
	o.SuppressedPrints = sync.OnceValue(func() []string {
		all := slices.Clone(findings)
		for i := range ignored {
			all = append(all, ignored[i].Finding)
		}
		return r.Checker.Linter.Fingerprints(src, all)[len(findings):] // which no other finding of the file shares
	})
	if r.Baseline == nil {
		return
	}
	matches := r.Baseline.Note(lint.File{Path: o.RootPath, Sum: o.sum, Source: src, Findings: findings}, r.Root.Path)
	if r.OnlyNew {
		o.leaveOut(matches, o.Prints())
	}
}

// leaveOut takes out what the baseline knows, but for what is worse now.
func (o *outcome) leaveOut(matches []lint.Match, prints []string) {
	var fresh []string
	var kept []schema.Finding
	for i, match := range matches {
		switch match.State {
		case lint.Known:
			o.Known, o.KnownPrints = append(o.Known, o.Findings[i]), append(o.KnownPrints, prints[i])
			continue
		case lint.Worse:
			match.Tell(&o.Findings[i])
			o.Worse = append(o.Worse, len(kept))
		}
		kept, fresh = append(kept, o.Findings[i]), append(fresh, prints[i])
	}
	o.Findings = kept
	o.Prints = func() []string { return fresh }
}
