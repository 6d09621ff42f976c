package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"github.com/urfave/cli/v2"

	"fettle/lint"
	"fettle/lint/collection"
	"fettle/schema/files"
	"fettle/schema/wording"
)

// baseline is the baseline that the flags ask for.
type baseline struct {
	path  string         // "" without a baseline
	known *lint.Baseline // nil without a baseline
	text  []byte         // the old text of a file to write; nil if there was no file
	write bool           // save the current findings
}

func baselineOf(c *cli.Context, l *lint.Linter) (*baseline, error) {
	read, write := c.String("baseline"), c.String("write-baseline")
	if read != "" && write != "" && read != write {
		return nil, failed("--baseline and --write-baseline name different files; to update a baseline, give both the same file")
	}
	b := &baseline{path: read, write: write != ""}
	if b.write {
		b.path = write
	}
	if b.path == "" {
		return b, nil
	}
	err := b.read(l)
	switch {
	case errors.Is(err, fs.ErrNotExist) && read == "":
		b.known = lint.NewBaseline(l)
	case errors.Is(err, fs.ErrNotExist):
		return nil, failed("baseline %s doesn't exist; create it with --write-baseline", shown(b.path))
	case err != nil:
		return nil, failed("%s", err)
	}
	return b, nil
}

// read reads the file at any size, because the user named it.
func (b *baseline) read(l *lint.Linter) error {
	f, err := os.Open(b.path)
	if errors.Is(err, fs.ErrNotExist) {
		return err
	} else if err != nil {
		return collection.Problem{Path: b.path, Message: collection.Reason(err)}
	}
	defer f.Close()
	in := &watched{from: f, keep: b.write}
	b.known, err = lint.ReadBaseline(in, b.path, l)
	b.text = in.text.Bytes()
	if in.err != nil {
		return collection.Problem{Path: b.path, Message: collection.Reason(in.err)}
	}
	return err
}

// watched reads a file and keeps its text and the first read error.
type watched struct {
	from io.Reader
	keep bool // keep the text
	text bytes.Buffer
	err  error
}

func (w *watched) Read(to []byte) (int, error) {
	n, err := w.from.Read(to)
	if w.keep {
		w.text.Write(to[:n])
	}
	if err != nil && err != io.EOF {
		w.err = err
	}
	return n, err
}

// knowsIn reports whether the baseline has a file in the folder.
func (b *baseline) knowsIn(folder string, root collection.Root) bool {
	full, err := filepath.Abs(folder)
	return err == nil && slices.ContainsFunc(b.known.Paths(), func(path string) bool { return files.Contains(full, root.File(path)) })
}

// findMoved tells the baseline which files have new paths.
func (l *lintRun) findMoved(list []collection.Input) {
	if l.baseline.known == nil {
		return
	}
	paths, inputs := make([]string, len(list)), make(map[string]collection.Input, len(list))
	for i, in := range list {
		paths[i] = l.run.Root.Path(in.Path)
		inputs[paths[i]] = in
	}
	l.baseline.known.Move(paths, l.gone, func(path string) string { return l.run.Reader.Sum(inputs[path]) })
}

// finishBaseline writes the baseline, or reports entries that are no longer found.
func (l *lintRun) finishBaseline() error {
	b := l.baseline
	if b.known == nil {
		return nil
	}
	switch n := l.summary.NotChecked; {
	case !b.write:
		l.reportMissing(b.known.Missing(l.gone))
		return nil
	case n > 0:
		return failed("baseline %s not written: %s couldn't be read; fix the errors above, or exclude those paths in fettle.ini",
			shown(b.path), wording.Counted(n, "path"))
	}
	text, err := b.known.Renewed(l.gone)
	if err != nil {
		return failed("%s", err)
	}
	if bytes.Equal(text, b.text) {
		return nil
	}
	if b.text == nil {
		return l.write(b.path, text, false)
	}
	return l.replace(b.path, b.text, text)
}

// mostMissing limits how many missing findings are listed. The diff of a rewritten
// baseline shows them all.
const mostMissing = 10

func (l *lintRun) reportMissing(missing []lint.Entry) {
	n := 0
	for i, e := range missing {
		n += e.Count
		if i < mostMissing {
			l.say(l.context, "no longer found: %s: %s", shown(e.Path), aboutEntry(e))
		}
	}
	if more := len(missing) - mostMissing; more > 0 {
		l.say(l.context, "and %d more", more)
	}
	if n > 0 {
		l.say(l.context, "%s in the baseline no longer %s, because %s fixed or the file is gone; remove %s with --write-baseline",
			wording.Counted(n, "finding"), wording.Plural(n, "appears", "appear"), wording.Plural(n, "it was", "they were"), wording.Plural(n, "it", "them"))
	}
	if n := l.baseline.known.Moved(); n > 0 {
		l.say(l.context, "%s in the baseline moved; save the new %s with --write-baseline", wording.Counted(n, "file"), wording.Plural(n, "path", "paths"))
	}
}

// aboutEntry returns an entry on one line without its path: the rule and its data.
func aboutEntry(e lint.Entry) string {
	var words []string
	var data map[string]any
	if err := json.Unmarshal([]byte(e.Data), &data); err != nil {
		data = nil
	}
	for _, key := range slices.Sorted(maps.Keys(data)) {
		value := data[key]
		if number, ok := value.(float64); ok {
			value = wording.Decimal(number, 2)
		}
		words = append(words, wording.Plain(fmt.Sprintf("%s %v", key, value), 80))
	}
	text := wording.Plain(e.Rule, 60)
	if len(words) > 0 {
		text += " (" + strings.Join(words, ", ") + ")"
	}
	if e.Count > 1 {
		text += fmt.Sprintf(", %d times", e.Count)
	}
	return text
}

// gone reports whether a path, given from the root, no longer exists.
func (l *lintRun) gone(path string) bool {
	_, err := os.Lstat(l.run.Root.File(path))
	return errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR)
}
