package lint

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"fettle/schema/wording"
)

// baselineVersion is the version of the file format.
const baselineVersion = 2

// baselineSum and fileEntry are a file and a finding as in
// schema/jsonschema/baseline.schema.json.
type baselineSum struct {
	Path string `json:"path"`
	Sum  string `json:"sha256"`
}

type fileEntry struct {
	Path        string          `json:"path"`
	Rule        string          `json:"rule"`
	Fingerprint string          `json:"fingerprint"`
	Data        json.RawMessage `json:"data"`
	Count       int             `json:"count,omitempty"` // omitted for 1
}

// ReadBaseline reads a baseline file of any size. Errors call it name.
func ReadBaseline(file io.Reader, name string, l *Linter) (*Baseline, error) {
	r := &baselineReader{Decoder: json.NewDecoder(file), into: NewBaseline(l), met: map[string]string{}}
	r.DisallowUnknownFields()
	err := r.read()
	var other wrongVersion
	switch {
	case errors.As(err, &other):
		return nil, fmt.Errorf("%s has baseline version %d, but fettle reads version %d; delete it and create it again with --write-baseline", wording.PathName(name), other, baselineVersion)
	case errors.Is(err, errMore):
		return nil, fmt.Errorf("%s has text after the end of the baseline, perhaps from a failed merge; delete it and create it again with --write-baseline", wording.PathName(name))
	case err != nil:
		return nil, fmt.Errorf("%s isn't a baseline, or is damaged at byte %d; name another file, or delete it and create it again with --write-baseline", wording.PathName(name), r.InputOffset())
	}
	for _, of := range r.into.entries {
		for id, list := range of { // duplicate lines come from merging two files
			of[id] = merged(list, func(a, b int) int { return max(a, b) })
		}
	}
	return r.into, nil
}

type wrongVersion int

func (v wrongVersion) Error() string { return fmt.Sprintf("version %d", int(v)) }

var (
	errMore = errors.New("text after the end")
	errForm = errors.New("not the form of a baseline")
)

type baselineReader struct {
	*json.Decoder
	into *Baseline
	met  map[string]string
}

// shared returns the first equal text, so that entries share the memory of equal texts.
func (r *baselineReader) shared(text string) string {
	first, ok := r.met[text]
	if !ok {
		first = text
		r.met[text] = text
	}
	return first
}

func (r *baselineReader) read() error {
	if err := r.expect(json.Delim('{')); err != nil {
		return err
	}
	if err := r.expect("baseline"); err != nil {
		return err
	}
	var version int
	if err := r.Decode(&version); err != nil {
		return err
	}
	if version != baselineVersion {
		return wrongVersion(version)
	}
	if err := r.list("files", r.sum); err != nil {
		return err
	}
	if err := r.list("known", r.entry); err != nil {
		return err
	}
	if err := r.expect(json.Delim('}')); err != nil {
		return err
	}
	if _, err := r.Token(); !errors.Is(err, io.EOF) {
		return errMore
	}
	return nil
}

func (r *baselineReader) expect(want json.Token) error {
	got, err := r.Token()
	if err == nil && got != want {
		err = errForm
	}
	return err
}

// list reads the list at a key, one element at a time.
func (r *baselineReader) list(key string, element func() error) error {
	if err := r.expect(key); err != nil {
		return err
	}
	if err := r.expect(json.Delim('[')); err != nil {
		return err
	}
	for r.More() {
		if err := element(); err != nil {
			return err
		}
	}
	return r.expect(json.Delim(']'))
}

func (r *baselineReader) sum() error {
	var s baselineSum
	if err := r.Decode(&s); err != nil {
		return err
	}
	path, err := wording.ParsePathName(s.Path)
	r.into.sums[path] = s.Sum
	return err
}

func (r *baselineReader) entry() error {
	var e fileEntry
	if err := r.Decode(&e); err != nil {
		return err
	}
	path, err := wording.ParsePathName(e.Path)
	data, wrong := wording.JSON(e.Data, "", "") // without spaces
	if err != nil || wrong != nil || e.Count < 0 || data[0] != '{' {
		return errForm
	}
	of := r.into.entries[path]
	if of == nil {
		of = entries{}
		r.into.entries[path] = of
	}
	id := entryID{r.shared(e.Rule), e.Fingerprint}
	of[id] = append(of[id], countedData{r.shared(string(data)), max(e.Count, 1)})
	return nil
}

// Renewed returns the text of the baseline after the run: the old entries without the
// missing ones, and the new findings. Each entry has its own line, so a version-control
// diff shows each change.
func (b *Baseline) Renewed(gone func(path string) bool) ([]byte, error) {
	list, _ := b.divide(gone)
	for i, e := range list {
		if to, ok := b.moved[e.other()]; ok {
			data := parseBaselineData(e.Data)
			data[otherPath] = wording.PathName(to)
			list[i].Data = data.text()
		}
	}
	for path, of := range b.found {
		for id, more := range of {
			for _, e := range more {
				list = append(list, Entry{path, id.rule, id.fingerprint, e.data, e.count})
			}
		}
	}
	sortEntries(list)
	var out bytes.Buffer
	fmt.Fprintf(&out, "{\"baseline\": %d, \"files\": [", baselineVersion)
	if err := writeLines(&out, b.sumsOf(list), func(s baselineSum) any { return s }); err != nil {
		return nil, err
	}
	out.WriteString("], \"known\": [")
	err := writeLines(&out, list, func(e Entry) any {
		line := fileEntry{wording.PathName(e.Path), e.Rule, e.Fingerprint, json.RawMessage(e.Data), e.Count}
		if e.Count == 1 {
			line.Count = 0
		}
		return line
	})
	if err != nil {
		return nil, err
	}
	out.WriteString("]}\n")
	return out.Bytes(), nil
}

// sumsOf returns the checksums of the files of sorted entries.
func (b *Baseline) sumsOf(list []Entry) (sums []baselineSum) {
	last := ""
	for _, e := range list {
		if s := b.sums[e.Path]; s != "" && e.Path != last {
			sums = append(sums, baselineSum{wording.PathName(e.Path), s})
		}
		last = e.Path
	}
	return sums
}

// writeLines writes the elements of a JSON list, one per line.
func writeLines[T any](out *bytes.Buffer, list []T, line func(T) any) error {
	for i, x := range list {
		text, err := wording.JSON(line(x), "", "")
		if err != nil {
			return fmt.Errorf("the baseline can't be written as JSON: %w", err)
		}
		if i > 0 {
			out.WriteByte(',')
		}
		out.WriteByte('\n')
		out.Write(text)
	}
	if len(list) > 0 {
		out.WriteByte('\n')
	}
	return nil
}
