package lint

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"fettle/schema"
)

// Entry is a finding that a baseline knows.
type Entry struct {
	Path        string `json:"path"` // below the baseline's folder, with / between folders
	Rule        string `json:"rule"`
	Fingerprint string `json:"fingerprint"`
	With        string `json:"with,omitempty"` // the other file, of a rule across files
	Message     string `json:"message"`        // for people to read; it is not compared
}

// Baseline is the findings that a collection is known to have, so that a run
// counts new ones alone. It is not safe for use by several goroutines at once.
type Baseline struct {
	folder  string             // the absolute folder that paths are below
	entries map[identity]Entry // what it knew at first
	found   map[identity]Entry // what this run found
	looked  map[string]bool    // the paths this run looked at
}

// identity is what makes two entries one.
type identity struct{ path, rule, fingerprint string }

func (e Entry) identity() identity { return identity{e.Path, e.Rule, e.Fingerprint} }

// NewBaseline is a baseline that knows nothing yet, for a file at a path.
func NewBaseline(path string) (*Baseline, error) {
	full, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("the folder of %s is not known; name it in full", schema.Quote(path))
	}
	return &Baseline{folder: filepath.Dir(full), entries: map[identity]Entry{}, found: map[identity]Entry{}, looked: map[string]bool{}}, nil
}

// baselineFile is a baseline as it is written.
type baselineFile struct {
	Version int     `json:"baseline"`
	Known   []Entry `json:"known"`
}

// ParseBaseline reads the text of a baseline file at a path.
func ParseBaseline(path string, text []byte) (*Baseline, error) {
	b, err := NewBaseline(path)
	if err != nil {
		return nil, err
	}
	var file baselineFile
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	err = d.Decode(&file)
	switch {
	case err != nil:
		return nil, fmt.Errorf("%s is no baseline, at byte %d: it is something else, or damaged; name another file, or take this one away to have it written anew", schema.Quote(path), d.InputOffset())
	case file.Version != 1:
		return nil, fmt.Errorf("%s is no baseline of version 1, the only one there is: name another file", schema.Quote(path))
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s holds something behind the baseline, as after a failed merge: write it again with --write-baseline", schema.Quote(path))
	}
	for _, e := range file.Known {
		b.entries[e.identity()] = e
	}
	return b, nil
}

// inside is a path as the baseline has it: from its folder, with / between
// folders, and in UTF-8, as JSON wants it.
func (b *Baseline) inside(path string) string {
	return strings.ToValidUTF8(filepath.ToSlash(b.below(path)), "\ufffd")
}

func (b *Baseline) below(path string) string {
	if path == "-" {
		return path
	}
	full, err := filepath.Abs(path)
	if err != nil {
		return path
	}
	rel, err := filepath.Rel(b.folder, full)
	if err != nil { // another drive
		return full
	}
	return rel
}

// Note takes note of a file that was looked at and of what was found in it, and
// says for each finding whether the baseline knows it.
func (b *Baseline) Note(path string, findings []schema.Finding, prints []string) (known []bool) {
	inside := b.inside(path)
	b.looked[inside] = true
	known = make([]bool, len(findings))
	for i := range findings {
		f := &findings[i]
		e := Entry{Path: inside, Rule: f.Rule, Fingerprint: prints[i], Message: f.Message}
		if other, ok := f.Data.Get("path").(string); ok {
			e.With = b.inside(other)
		}
		b.found[e.identity()] = e
		_, known[i] = b.entries[e.identity()]
	}
	return known
}

// Moved says whether the baseline knows files, and none of them is there from
// where it stands.
func (b *Baseline) Moved(gone func(path string) bool) bool {
	asked := map[string]bool{}
	for _, e := range b.entries {
		if e.Path == "-" || asked[e.Path] {
			continue
		}
		asked[e.Path] = true
		if !gone(filepath.Join(b.folder, filepath.FromSlash(e.Path))) {
			return false
		}
	}
	return len(asked) > 0
}

// Missing gives the entries that were not found again, by path: those of files
// that were looked at, by rules that were looked for; and those of files that are
// gone. A run over a part of the tree, or with a part of the rules, says nothing
// about the rest.
func (b *Baseline) Missing(chosen func(rule string) bool, gone func(path string) bool) []Entry {
	var missing []Entry
	left := map[string]bool{}
	for id, e := range b.entries {
		if _, again := b.found[id]; again {
			continue
		}
		if b.looked[e.Path] {
			if chosen(e.Rule) && (e.With == "" || b.looked[e.With]) {
				missing = append(missing, e)
			}
			continue
		}
		is, asked := left[e.Path]
		if !asked {
			is = e.Path != "-" && gone(filepath.Join(b.folder, filepath.FromSlash(e.Path)))
			left[e.Path] = is
		}
		if is {
			missing = append(missing, e)
		}
	}
	sortEntries(missing)
	return missing
}

func sortEntries(list []Entry) {
	slices.SortFunc(list, func(a, b Entry) int {
		return cmp.Or(cmp.Compare(a.Path, b.Path), cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Fingerprint, b.Fingerprint))
	})
}

// Renewed is the text of the baseline after the run: what it knew, without what
// is missing, and what was found. It has one entry a line, so that a
// version-control diff shows what came and went.
func (b *Baseline) Renewed(missing []Entry) ([]byte, error) {
	all := make(map[identity]Entry, len(b.entries)+len(b.found))
	for id, e := range b.entries {
		all[id] = e
	}
	for _, e := range missing {
		delete(all, e.identity())
	}
	for id, e := range b.found {
		all[id] = e
	}
	list := make([]Entry, 0, len(all))
	for _, e := range all {
		list = append(list, e)
	}
	sortEntries(list)
	return entriesText(list)
}

func entriesText(list []Entry) ([]byte, error) {
	text := []byte("{\"baseline\": 1, \"known\": [")
	for i, e := range list {
		if i > 0 {
			text = append(text, ',')
		}
		line, err := json.Marshal(e)
		if err != nil {
			return nil, fmt.Errorf("the baseline could not be written as JSON: %w", err)
		}
		text = append(append(text, '\n'), line...)
	}
	return append(text, "\n]}\n"...), nil
}
