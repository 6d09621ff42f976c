package lint

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// Baseline holds the known findings of a collection, so a run can report only new ones.
// All paths start at the root of the run and have / between folders. It isn't safe
// for use by several goroutines at once.
type Baseline struct {
	linter  *Linter
	sums    map[string]string  // the SHA-256 of each file with findings, in hex
	entries map[string]entries // before this run, by path
	found   map[string]entries // in this run, by path
	checked map[string]bool    // the paths that this run read
	moved   map[string]string  // the new path by the old one
	maybe   map[string]string  // a possible old path by the new one
}

// Entry is a finding in a baseline.
type Entry struct {
	Path        string
	Rule        string
	Fingerprint string
	Data        string // keys and measures as a JSON object
	Count       int    // how many findings are equal in all these fields
}

// entryID identifies a finding in a file.
type entryID struct{ rule, fingerprint string }

// entries holds the entries of a file. It saves memory, since a baseline may be large.
type entries map[entryID][]countedData

// countedData holds the data of equal findings and their number.
type countedData struct {
	data  string
	count int
}

// NewBaseline returns an empty baseline.
func NewBaseline(l *Linter) *Baseline {
	return &Baseline{linter: l, sums: map[string]string{}, entries: map[string]entries{}, found: map[string]entries{},
		checked: map[string]bool{}, moved: map[string]string{}, maybe: map[string]string{}}
}

// State says whether a finding is in a baseline.
type State uint8

const (
	Unknown State = iota // not in the baseline
	Known                // in the baseline, and no worse now
	Worse                // in the baseline, and worse now
)

// Match is the result of looking up a finding in a baseline. For a finding that is worse
// now, it holds the old data too.
type Match struct {
	State State

	rule    *Rule
	was, is baselineData
}

// ShowChange adds the old numbers to a finding that is worse now: to the message in words, and
// to the data with known_ before the key. It leaves other findings unchanged.
func (m Match) ShowChange(f *schema.Finding) {
	if m.State == Worse {
		m.rule.showChange(f, m.was, m.is)
	}
}

// File is a linted file and its findings.
type File struct {
	Path     string // from the root
	Sum      string // SHA-256 in hex
	Source   *schema.Source
	Findings []schema.Finding
}

// Note records a file and its findings, and returns a match for each finding. root
// converts the path of another file to one from the root.
func (b *Baseline) Note(f File, root func(path string) string) []Match {
	b.checked[f.Path] = true
	matches := make([]Match, len(f.Findings))
	alike := map[entryID][]int{}
	for i := range f.Findings {
		x := &f.Findings[i]
		rule := b.linter.byID[x.Rule]
		matches[i] = Match{rule: rule, is: rule.baselineData(x.Data)}
		if x.OtherFile != "" {
			matches[i].is[otherPath] = wording.PathName(root(x.OtherFile))
		}
		id := entryID{x.Rule, b.linter.fingerprint(f.Source, x)}
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
		found := make([]countedData, len(group))
		for n, i := range group {
			found[n] = countedData{matches[i].is.text(), 1}
		}
		b.found[f.Path][id] = merged(found, func(a, b int) int { return a + b })
		match(matches, group, b.entries[f.Path][id])
	}
	return matches
}

// match pairs findings with the same rule and fingerprint with entries of the baseline:
// first with entries that were as bad or worse, then with the others.
func match(matches []Match, group []int, entries []countedData) {
	if rule := matches[group[0]].rule; rule == nil || len(rule.Measures) == 0 {
		for _, i := range group[:min(len(group), total(entries))] {
			matches[i].State = Known
		}
		return
	}
	left := slices.Clone(entries)
	was := make([]baselineData, len(left))
	for k, e := range left {
		was[k] = parseBaselineData(e.data)
	}
	var rest []int
	for _, i := range group {
		m := &matches[i]
		k := slices.IndexFunc(was, func(w baselineData) bool { return m.rule.grown(w, m.is) == nil })
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

// total returns how many findings the entries count.
func total(list []countedData) int {
	n := 0
	for _, e := range list {
		n += e.count
	}
	return n
}

// merged merges entries with the same data. Function both combines their counts.
func merged(list []countedData, both func(a, b int) int) []countedData {
	if len(list) < 2 {
		return list
	}
	var unique []countedData
	at := map[string]int{}
	for _, e := range list {
		i, met := at[e.data]
		if met {
			unique[i].count = both(unique[i].count, e.count)
			continue
		}
		at[e.data] = len(unique)
		unique = append(unique, e)
	}
	return unique
}

// Paths returns the files in the baseline, sorted, without standard input.
func (b *Baseline) Paths() []string {
	paths := slices.Sorted(maps.Keys(b.entries))
	return slices.DeleteFunc(paths, func(path string) bool { return path == "-" })
}

// Missing returns the entries that weren't found again, sorted: those of files and
// rules in this run, and those of files that are gone. A run over some files or some
// rules says nothing about the others.
func (b *Baseline) Missing(gone func(path string) bool) []Entry {
	_, missing := b.divide(gone)
	sortEntries(missing)
	return missing
}

// divide splits the entries that this run didn't find into those to keep and those
// that are missing.
func (b *Baseline) divide(gone func(path string) bool) (kept, missing []Entry) {
	for path, of := range b.entries {
		checked := b.checked[path]
		away := !checked && path != "-" && gone(path)
		for id, list := range of {
			again := b.found[path][id]
			if again != nil { // the new numbers replace the old ones
				if fewer := total(list) - total(again); fewer > 0 {
					missing = append(missing, Entry{path, id.rule, id.fingerprint, list[0].data, fewer})
				}
				continue
			}
			for _, e := range list {
				entry := Entry{path, id.rule, id.fingerprint, e.data, e.count}
				if away || checked && b.wasSearched(entry) {
					missing = append(missing, entry)
				} else {
					kept = append(kept, entry)
				}
			}
		}
	}
	return kept, missing
}

// wasSearched reports whether this run checked for an entry.
func (b *Baseline) wasSearched(e Entry) bool {
	other := e.other()
	return b.linter.mayRun(e.Rule) && (other == "" || b.checked[cmp.Or(b.moved[other], other)])
}

// other returns the second file of a finding across files, "" for other findings.
func (e Entry) other() string {
	if !strings.HasPrefix(e.Rule, acrossFiles+"/") {
		return ""
	}
	name, _ := parseBaselineData(e.Data)[otherPath].(string)
	path, err := wording.ParsePathName(name)
	if err != nil {
		return name
	}
	return path
}

// otherPath is the data of a rule across files that names the other file.
const otherPath = "path"

func sortEntries(list []Entry) {
	slices.SortFunc(list, func(a, b Entry) int {
		return cmp.Or(cmp.Compare(a.Path, b.Path), cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Fingerprint, b.Fingerprint), cmp.Compare(a.Data, b.Data))
	})
}
