package collection

import (
	"fmt"
	"path/filepath"
	"slices"
	"sync"

	"fettle/lint"
	"fettle/lint/report"
	"fettle/schema"
	"fettle/schema/wording"
)

// Run lints the files of a collection.
type Run struct {
	Checker  *lint.Checker
	Reader   Reader
	Workers  int            // files linted at once; 0 means 1
	Baseline *lint.Baseline // records the findings; nil for none
	Root     Root           // paths in reports and the baseline start here
	// Compare lists more files to look for duplicates in. Run doesn't report findings
	// in them.
	Compare []Input
	// OnlyNew drops findings that are in the baseline.
	OnlyNew bool
}

// Lint lints each file and passes the results to use, in the order of the files, until
// use returns false. It passes files that can't be read to missed and goes on. It
// skips files in folders that aren't drafts.
func (r *Run) Lint(list []Input, use func(Input, report.File) bool, missed func(Input, error)) {
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
		return use(in, o.File)
	})
}

// compare adds the files of Compare to the comparison.
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

// outcome is the result for a file before the comparison with others.
type outcome struct {
	report.File
	traits lint.Traits
	sum    string // the SHA-256 of the file; "" without a baseline
	passed bool
	err    error
}

func (r *Run) one(in Input, across *lint.Across) (o outcome) {
	defer func() {
		if what := recover(); what != nil {
			o = outcome{err: Problem{in.Path, "fettle failed on this file (" + wording.Plain(fmt.Sprint(what), 120) +
				"); this is a bug in fettle, please report it with the file"}}
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
	o = outcome{File: report.File{Path: filepath.ToSlash(in.Path), RootPath: r.Root.Path(in.Path), Format: doc.Format, Source: doc.Source, Draft: doc.Draft,
		Findings: result.Findings, Suppressed: result.Suppressed}}
	if across != nil {
		o.traits = across.Traits(&result)
	}
	if r.Baseline != nil {
		o.sum = sum(doc.Source.Raw)
	}
	return o
}

// finish compares a file with earlier ones and with the baseline.
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
		return r.Checker.Linter.Fingerprints(src, all)[len(findings):] // unique within the file
	})
	if r.Baseline == nil {
		return
	}
	matches := r.Baseline.Note(lint.File{Path: o.RootPath, Sum: o.sum, Source: src, Findings: findings}, r.Root.Path)
	if r.OnlyNew {
		o.dropKnown(matches, o.Prints())
	}
}

// dropKnown drops findings that are in the baseline, except those that are worse now.
func (o *outcome) dropKnown(matches []lint.Match, prints []string) {
	var fresh []string
	var kept []schema.Finding
	for i, match := range matches {
		switch match.State {
		case lint.Known:
			o.Known, o.KnownPrints = append(o.Known, o.Findings[i]), append(o.KnownPrints, prints[i])
			continue
		case lint.Worse:
			match.ShowChange(&o.Findings[i])
			o.Worse = append(o.Worse, len(kept))
		}
		kept, fresh = append(kept, o.Findings[i]), append(fresh, prints[i])
	}
	o.Findings = kept
	o.Prints = func() []string { return fresh }
}

// Each calls work for all inputs in parallel, and use for the results in the order of
// the inputs, one at a time. It holds only a few more results than there are workers. It
// stops when use returns false.
//
// The worker that completes the next result uses it, and those that already follow it.
// So no worker waits for another, unless it is far ahead.
func Each[T any](inputs []Input, workers int, work func(Input) T, use func(Input, T) bool) {
	workers = min(max(workers, 1), max(len(inputs), 1))
	r := &queue[T]{inputs: inputs, use: use, done: make([]*T, 4*workers)}
	r.used.L = &r.mu
	var group sync.WaitGroup
	for range workers {
		group.Go(func() {
			for i, ok := r.next(); ok; i, ok = r.next() {
				r.add(i, work(inputs[i]))
			}
		})
	}
	group.Wait()
}

// queue holds results until all before them are used.
type queue[T any] struct {
	inputs []Input
	use    func(Input, T) bool

	mu      sync.Mutex
	used    sync.Cond // tells that a result was used
	given   int       // inputs given to workers
	first   int       // the first input whose result is not used
	done    []*T      // by input, modulo its length; nil until the result is there
	using   bool      // a worker uses results
	stopped bool
}

// next returns the index of the next input to work on. It waits while there is no room
// for the result.
func (r *queue[T]) next() (i int, ok bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for r.given-r.first == len(r.done) && !r.stopped {
		r.used.Wait()
	}
	if r.stopped || r.given == len(r.inputs) {
		return 0, false
	}
	r.given++
	return r.given - 1, true
}

// add takes the result for an input and uses all whose turn it is.
func (r *queue[T]) add(i int, result T) {
	r.mu.Lock()
	r.done[i%len(r.done)] = &result
	for result := r.turn(); result != nil; result = r.turn() {
		in := r.inputs[r.first]
		r.using = true
		r.mu.Unlock()
		more := r.use(in, *result)
		r.mu.Lock()
		r.using, r.stopped = false, !more
		r.first++
		r.used.Broadcast()
	}
	r.mu.Unlock()
}

// turn takes out the result to use next. It returns nil if that isn't there yet, or if
// another worker uses one.
func (r *queue[T]) turn() *T {
	if r.using || r.stopped {
		return nil
	}
	at := &r.done[r.first%len(r.done)]
	result := *at
	*at = nil
	return result
}
