// Package golden keeps the sentences that the tests of a package expect in one file of the
// package, testdata/words.golden. go test -update writes it. The tests themselves compare
// rules, data and places.
package golden

import (
	"bytes"
	"cmp"
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	diff "github.com/google/go-cmp/cmp"
)

// Update is the flag -update: tests write their expected files instead of comparing them.
var Update = flag.Bool("update", false, "write the files that tests compare with")

// file is the absolute path of the golden file, because tests may change the folder.
var file = func() string {
	folder, err := os.Getwd()
	if err != nil {
		panic(err)
	}
	return filepath.Join(folder, "testdata", "words.golden")
}()

var (
	lock  sync.Mutex
	read  = sync.OnceValues(func() (map[string]string, error) { return parse(os.ReadFile(file)) })
	asked = map[string]int{}  // how many texts were compared, by name
	seen  = map[string]bool{} // by key
)

// Words compares a text with the next one expected by the test.
func Words(t testing.TB, got string) {
	t.Helper()
	t.Cleanup(func() { Done(t.Name()) })
	if err := Compare(t.Name(), got); err != nil {
		t.Error(err)
	}
}

// Compare compares a text with the next one in the file under a name. With -update it
// stores the text instead.
func Compare(name, got string) error {
	lock.Lock()
	defer lock.Unlock()
	texts, err := read()
	if err != nil {
		return err
	}
	key := name
	if asked[name]++; asked[name] > 1 {
		key = fmt.Sprintf("%s (%d)", name, asked[name])
	}
	seen[key] = true
	got = strings.ReplaceAll(strings.TrimSuffix(got, "\n"), "\r", `\r`)
	want, kept := texts[key]
	switch {
	case kept && want == got:
		return nil
	case *Update:
		texts[key] = got
		return write(texts)
	case !kept:
		return fmt.Errorf("testdata/words.golden lacks %q; if this is right, run go test -update:\n%s", key, got)
	}
	return fmt.Errorf("%q in testdata/words.golden (-) differs (+); if this is right, run go test -update:\n%s", key, diff.Diff(want, got))
}

// Done ends the test with this name; the next Compare starts at its first text again.
func Done(name string) {
	lock.Lock()
	defer lock.Unlock()
	delete(asked, name)
}

// M runs the tests of a package. With -update it then deletes texts that no test
// compared.
type M struct{ *testing.M }

// Run implements testscript.TestingM.
func (m M) Run() int {
	status := m.M.Run()
	if chosen := flag.Lookup("test.run").Value.String() + flag.Lookup("test.skip").Value.String(); !*Update || chosen != "" {
		return status
	}
	texts, err := read()
	if err == nil {
		maps.DeleteFunc(texts, func(key, _ string) bool { return !seen[key] })
		err = write(texts)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return cmp.Or(status, 1)
	}
	return status
}

// write writes the texts sorted by key. Each has a line "== KEY" and then its lines, each
// after a tab.
func write(texts map[string]string) error {
	var b strings.Builder
	for _, key := range slices.Sorted(maps.Keys(texts)) {
		fmt.Fprintf(&b, "== %s\n", key)
		for line := range strings.SplitSeq(texts[key], "\n") {
			fmt.Fprintf(&b, "\t%s\n", line)
		}
	}
	return WriteFile(file, []byte(b.String()))
}

// WriteFile updates a golden file and makes its folder. It leaves a file that is up to date
// alone, since tests of other packages may be reading it.
func WriteFile(path string, text []byte) error {
	if old, err := os.ReadFile(path); err == nil && bytes.Equal(old, text) {
		return nil
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	return os.WriteFile(path, text, 0o644)
}

func parse(text []byte, err error) (map[string]string, error) {
	texts := map[string]string{}
	if os.IsNotExist(err) {
		return texts, nil
	}
	if err != nil {
		return nil, err
	}
	key, lines := "", []string(nil)
	keep := func() {
		if lines != nil {
			texts[key] = strings.Join(lines, "\n")
		}
	}
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSuffix(line, "\n")
		if next, is := strings.CutPrefix(line, "== "); is {
			keep()
			key, lines = next, []string{}
			continue
		}
		content, is := strings.CutPrefix(line, "\t")
		if !is || lines == nil {
			return nil, fmt.Errorf("%s: this line is neither a key nor a part of a text: %q", file, line)
		}
		lines = append(lines, content)
	}
	keep()
	return texts, nil
}
