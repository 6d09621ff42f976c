package lint

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
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
	Data        string // what it is about and how bad it is, as a JSON object
	Count       int    // how many findings are alike in all this
}

// same is what makes two findings in a file the same.
type same struct{ rule, fingerprint string }

// entries are the entries of a file. They are held in little memory, since a
// baseline may be large.
type entries map[same][]kept

// kept is the data of findings that are alike, and how many they are.
type kept struct {
	data  string
	count int
}

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
	for i := range f.Findings {
		x := &f.Findings[i]
		rule := b.linter.byID[x.Rule]
		matches[i] = Match{rule: rule, is: rule.known(x.Data)}
		if other := otherFile(x.Data.Get(otherPath)); other != "" {
			matches[i].is[otherPath] = wording.PathName(root(other))
		}
		id := same{x.Rule, b.linter.fingerprint(f.Source, x)}
		alike[id] = append(alike[id], i)
	}
	if old, ok := b.maybe[f.Path]; ok && b.mostlyIn(b.entries[old], alike) {
		b.move(old, f.Path)
	}
	b.sums[f.Path] = f.Sum
	if len(alike) > 0 {
		b.found[f.Path] = make(entries, len(alike))
	}
	for id, group := range alike {
		found := make([]kept, len(group))
		for n, i := range group {
			found[n] = kept{matches[i].is.text(), 1}
		}
		b.found[f.Path][id] = merged(found, func(a, b int) int { return a + b })
		match(matches, group, b.entries[f.Path][id])
	}
	return matches
}

// match finds for each finding of a group, all alike in rule and fingerprint, one
// that the baseline knows: first one that was as bad, then one that was not.
func match(matches []Match, group []int, entries []kept) {
	if rule := matches[group[0]].rule; rule == nil || len(rule.Measures) == 0 {
		for _, i := range group[:min(len(group), total(entries))] {
			matches[i].State = Known
		}
		return
	}
	left := slices.Clone(entries)
	was := make([]known, len(left))
	for k, e := range left {
		was[k] = knownOf(e.data)
	}
	var rest []int
	for _, i := range group {
		m := &matches[i]
		k := slices.IndexFunc(was, func(w known) bool { return m.rule.grown(w, m.is) == nil })
		if k < 0 {
			rest = append(rest, i)
			continue
		}
		m.State = Known
		if left[k].count--; left[k].count == 0 {
			left, was = slices.Delete(left, k, k+1), slices.Delete(was, k, k+1)
		}
	}
	for k, e := range left {
		for range min(e.count, len(rest)) {
			matches[rest[0]].State, matches[rest[0]].was = Worse, was[k]
			rest = rest[1:]
		}
	}
}

// total returns how many findings some entries stand for.
func total(list []kept) int {
	n := 0
	for _, e := range list {
		n += e.count
	}
	return n
}

// merged makes one of the entries that have the same data; both says how many
// findings the one stands for.
func merged(list []kept, both func(a, b int) int) []kept {
	if len(list) < 2 {
		return list
	}
	var whole []kept
	at := map[string]int{}
	for _, e := range list {
		i, met := at[e.data]
		if met {
			whole[i].count = both(whole[i].count, e.count)
			continue
		}
		at[e.data] = len(whole)
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
			if again != nil { // the new numbers take the place of the old
				if fewer := total(list) - total(again); fewer > 0 {
					missing = append(missing, Entry{path, id.rule, id.fingerprint, list[0].data, fewer})
				}
				continue
			}
			for _, e := range list {
				entry := Entry{path, id.rule, id.fingerprint, e.data, e.count}
				if away || looked && b.sought(entry) {
					missing = append(missing, entry)
				} else {
					kept = append(kept, entry)
				}
			}
		}
	}
	return kept, missing
}

// sought reports whether this run would have found an entry again in its file.
func (b *Baseline) sought(e Entry) bool {
	other := e.other()
	return b.linter.Chosen(e.Rule) && (other == "" || b.looked[cmp.Or(b.moved[other], other)])
}

// other returns the other file of a finding across files, "" for one in a file.
func (e Entry) other() string {
	if !strings.HasPrefix(e.Rule, acrossFiles+"/") {
		return ""
	}
	return otherFile(knownOf(e.Data)[otherPath])
}

// otherPath is the data of a rule across files that names the other file.
const otherPath = "path"

// otherFile returns the path of the other file, "" where the data names none.
func otherFile(data any) string {
	name, _ := data.(string)
	path, err := wording.ParsePathName(name)
	if err != nil {
		return name
	}
	return path
}

func sortEntries(list []Entry) {
	slices.SortFunc(list, func(a, b Entry) int {
		return cmp.Or(cmp.Compare(a.Path, b.Path), cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Fingerprint, b.Fingerprint), cmp.Compare(a.Data, b.Data))
	})
}
