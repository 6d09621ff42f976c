package lint

import (
	"cmp"
	"maps"
	"slices"

	"fettle/schema"
)

// Baseline is the findings that a collection is known to have, so that a run
// counts new ones alone. All paths are those from the root of the run, with /
// between folders. It is not safe for use by several goroutines at once.
type Baseline struct {
	linter  *Linter
	sums    map[string]string  // the SHA-256 of each file with findings, as hex digits
	entries map[string]entries // what it knew at first, by path
	found   map[string]entries // what this run found, by path
	looked  map[string]bool    // the paths this run looked at
	moved   map[string]string  // the new path of a file by its old one
	maybe   map[string]string  // the old path that a file may have had, by its new one
}

// Entry is a finding that a baseline knows.
type Entry struct {
	Path        string
	Rule        string
	Fingerprint string
	Data        map[string]any // what it is about and how bad it is
	Count       int            // how many findings are alike in all this
}

// same is what makes two findings in a file the same.
type same struct{ rule, fingerprint string }

// entries are the entries of a file.
type entries map[same][]Entry

// NewBaseline returns a baseline that knows nothing yet.
func NewBaseline(l *Linter) *Baseline {
	return &Baseline{linter: l, sums: map[string]string{}, entries: map[string]entries{}, found: map[string]entries{},
		looked: map[string]bool{}, moved: map[string]string{}, maybe: map[string]string{}}
}

// State is how a finding stands to a baseline.
type State uint8

const (
	Unknown State = iota // the baseline doesn't know it
	Known                // the baseline knows it, and it is no worse now
	Worse                // the baseline knows it, and it is worse now
)

// Match is how a finding stands to a baseline, and what the baseline knows of one
// that is worse now.
type Match struct {
	State State

	rule    *Rule
	was, is known
}

// Tell adds to a finding that is worse now what the baseline knows of it: to the
// message in words, and to the data under known_ and the name of the number.
func (m Match) Tell(f *schema.Finding) {
	if m.State == Worse {
		m.rule.tell(f, m.was, m.is)
	}
}

// File is a file that was looked at.
type File struct {
	Path     string // from the root
	Sum      string // its SHA-256 as hex digits
	Source   *schema.Source
	Findings []schema.Finding
}

// Note takes note of a file and of what was found in it, and returns how each
// finding stands to the baseline. root names any other file from the root.
func (b *Baseline) Note(f File, root func(path string) string) []Match {
	b.looked[f.Path] = true
	matches := make([]Match, len(f.Findings))
	alike := map[same][]int{}
	list := make([]Entry, len(f.Findings))
	for i := range f.Findings {
		x := &f.Findings[i]
		rule := b.linter.byID[x.Rule]
		list[i] = Entry{f.Path, x.Rule, b.linter.fingerprint(f.Source, x), rule.known(x.Data), 1}
		if other := otherFile(x.Data.Get(otherPath)); other != "" {
			list[i].Data[otherPath] = schema.PathName(root(other))
		}
		matches[i] = Match{rule: rule, is: list[i].Data}
		id := same{x.Rule, list[i].Fingerprint}
		alike[id] = append(alike[id], i)
	}
	if old, ok := b.maybe[f.Path]; ok && b.mostlyIn(b.entries[old], alike) {
		b.move(old, f.Path)
	}
	b.sums[f.Path] = f.Sum
	if len(list) > 0 {
		b.found[f.Path] = entries{}
	}
	for id, group := range alike {
		found := make([]Entry, len(group))
		for n, i := range group {
			found[n] = list[i]
		}
		b.found[f.Path][id] = merged(found, func(a, b int) int { return a + b })
		match(matches, group, b.entries[f.Path][id])
	}
	return matches
}

// match finds for each finding of a group, all alike in rule and fingerprint, one
// that the baseline knows: first one that was as bad, then one that was not.
func match(matches []Match, group []int, known []Entry) {
	if rule := matches[group[0]].rule; rule == nil || len(rule.Measures) == 0 {
		for _, i := range group[:min(len(group), total(known))] {
			matches[i].State = Known
		}
		return
	}
	left := slices.Clone(known)
	var rest []int
	for _, i := range group {
		m := &matches[i]
		k := slices.IndexFunc(left, func(e Entry) bool { return m.rule.grown(e.Data, m.is) == nil })
		if k < 0 {
			rest = append(rest, i)
			continue
		}
		m.State = Known
		left = takeOne(left, k)
	}
	for _, i := range rest[:min(len(rest), total(left))] {
		matches[i].State, matches[i].was = Worse, left[0].Data
		left = takeOne(left, 0)
	}
}

// takeOne takes a finding away from those that an entry stands for.
func takeOne(list []Entry, k int) []Entry {
	if list[k].Count--; list[k].Count == 0 {
		return slices.Delete(list, k, k+1)
	}
	return list
}

// total returns how many findings some entries stand for.
func total(list []Entry) int {
	n := 0
	for _, e := range list {
		n += e.Count
	}
	return n
}

// merged makes one of the entries that have the same data; both says how many
// findings the one stands for.
func merged(list []Entry, both func(a, b int) int) []Entry {
	if len(list) < 2 {
		return list
	}
	var whole []Entry
	at := map[string]int{}
	for _, e := range list {
		text := dataText(e.Data)
		i, met := at[text]
		if met {
			whole[i].Count = both(whole[i].Count, e.Count)
			continue
		}
		at[text] = len(whole)
		whole = append(whole, e)
	}
	return whole
}

// Paths returns the files that the baseline knows, sorted. Standard input is not
// among them.
func (b *Baseline) Paths() []string {
	paths := slices.Sorted(maps.Keys(b.entries))
	return slices.DeleteFunc(paths, func(path string) bool { return path == "-" })
}

// Missing returns the entries that were not found again, in order: those of files
// that were looked at, by rules that ran; and those of files that are gone. A run
// over a part of the tree, or with a part of the rules, says nothing about the
// rest.
func (b *Baseline) Missing(gone func(path string) bool) []Entry {
	_, missing := b.divide(gone)
	sortEntries(missing)
	return missing
}

// divide sorts the entries that this run didn't find into those that hold on and
// those that are missing.
func (b *Baseline) divide(gone func(path string) bool) (kept, missing []Entry) {
	for path, of := range b.entries {
		looked := b.looked[path]
		away := !looked && path != "-" && gone(path)
		for id, list := range of {
			again := b.found[path][id]
			for _, e := range list {
				switch {
				case again != nil:
					// The new numbers take its place; fewer findings are told below.
				case away || looked && b.sought(e):
					missing = append(missing, e)
				default:
					kept = append(kept, e)
				}
			}
			if fewer := total(list) - total(again); again != nil && fewer > 0 {
				e := list[0]
				e.Count = fewer
				missing = append(missing, e)
			}
		}
	}
	return kept, missing
}

// sought reports whether this run would have found an entry again in its file.
func (b *Baseline) sought(e Entry) bool {
	other := otherFile(e.Data[otherPath])
	return b.linter.Chosen(e.Rule) && (other == "" || b.looked[cmp.Or(b.moved[other], other)])
}

// otherPath is the data of a rule across files that names the other file.
const otherPath = "path"

// otherFile returns the path of the other file, "" where the data names none.
func otherFile(data any) string {
	name, _ := data.(string)
	path, err := schema.ParsePathName(name)
	if err != nil {
		return name
	}
	return path
}

func sortEntries(list []Entry) {
	slices.SortFunc(list, func(a, b Entry) int {
		if c := cmp.Or(cmp.Compare(a.Path, b.Path), cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Fingerprint, b.Fingerprint)); c != 0 {
			return c
		}
		return cmp.Compare(dataText(a.Data), dataText(b.Data))
	})
}
