//go:build !js

package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func quoted(t testing.TB, value any) string {
	t.Helper()
	text, err := json.Marshal(value)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// corpusFiles returns files of the corpus by path, such as guild/towel.wif: those below the
// folders and those named.
func corpusFiles(t testing.TB, paths ...string) map[string]string {
	t.Helper()
	files := map[string]string{}
	for _, path := range paths {
		err := filepath.WalkDir(filepath.Join("..", "..", "corpus", path), func(file string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() {
				return err
			}
			text, err := os.ReadFile(file)
			name, _ := filepath.Rel(filepath.Join("..", "..", "corpus"), file)
			files[filepath.ToSlash(name)] = string(text)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return files
}

// natively runs the native program over the same files in a folder.
func natively(t testing.TB, args []string, files map[string]string, input string) result {
	t.Helper()
	home := t.TempDir()
	for path, text := range files {
		file := filepath.Join(home, filepath.FromSlash(path))
		if err := errors.Join(os.MkdirAll(filepath.Dir(file), 0o755), os.WriteFile(file, []byte(text), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	command := exec.Command(builtFile(t, "fettle"), args...)
	command.Dir = home
	command.Stdin = strings.NewReader(input)
	var out, complaints bytes.Buffer
	command.Stdout, command.Stderr = &out, &complaints
	var failed *exec.ExitError
	if err := command.Run(); err != nil && !errors.As(err, &failed) {
		t.Fatal(err)
	}
	r := result{Status: command.ProcessState.ExitCode(), Stdout: out.String(), Stderr: complaints.String(), Files: map[string]string{}}
	gone := maps.Clone(files)
	err := filepath.WalkDir(home, func(file string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		text, err := os.ReadFile(file)
		name, _ := filepath.Rel(home, file)
		name = filepath.ToSlash(name)
		delete(gone, name)
		if before, known := files[name]; !known || before != string(text) {
			r.Files[name] = string(text)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	r.Deleted = slices.Sorted(maps.Keys(gone))
	return r
}

// commandLines lists command lines over the folders of the corpus. A line that starts with
// < FILE reads the file from standard input.
const commandLines = `
--help
--version
help lint
nonsense
lint
lint guild
lint inbox
lint wild
lint faulty
lint inbox --format json
lint wild --format json
lint faulty --format sarif
lint faulty --format junit
lint faulty --format annotations
lint faulty --format quality
lint wild --format html
lint inbox --report sarif=a.sarif --report junit=b.xml --report html=reports/c.html
lint inbox --output findings.txt
lint inbox --output inbox/fettle.ini
lint inbox --fail-on never
lint wild --only file --fail-on note
lint wild --skip draft/unused-treadle
lint faulty --only cloth/long-float,yarn
lint wild --write-baseline known.json
lint inbox --loom guild/looms/jack8.ini
lint inbox --loom nowhere.ini
lint inbox --config guild/fettle.ini
lint missing.wif
lint wild/*.wif --quiet
lint guild inbox --compare-with faulty
lint guild/fettle.ini
< wild/decimal-comma.wif lint -
< wild/decimal-comma.wif lint - --stdin-name inbox/x.wif
< wild/cp850-swedish.wif clean -
clean wild --check
clean wild --write
clean wild --write --risky
clean wild --canonical --out-dir cleaned
clean wild/decimal-comma.wif --diff
clean wild/decimal-comma.wif --check --diff --risky
clean wild/decimal-comma.wif --output fixed.wif
clean wild/decimal-comma.wif --output guild
clean wild/utf16-le.wif --write --canonical
clean faulty --write --only draft
clean nowhere
convert guild --to json --out-dir json
convert wild --to json --out-dir json
convert guild/goose-eye-towel.wif --to svg
convert guild/goose-eye-towel.wif --to png
convert guild/goose-eye-towel.wif --to pdf
convert guild/goose-eye-towel.wif --to txt
convert guild/goose-eye-towel.wif --to svg --show yarn --repeat --floats 3
convert guild/goose-eye-towel.wif --to pdf --page a3 --output deep/er/towel.pdf
convert guild/goose-eye-towel.wif --lifts plan --output dobby.wif
convert guild/ferry-scarf.wif --lifts plan --treadles 4
convert guild/ferry-scarf.wif --turn --to json
convert guild/ferry-scarf.wif --face-down --shed sinking --eol lf
convert wild/symbols.wif --to json --strict --format json
convert guild/ferry-scarf.wif --output guild/ferry-scarf.wif
convert guild/ferry-scarf.wif --output guild/ferry-scarf.wif --overwrite
fit guild
fit guild/goose-eye-towel.wif --loom guild/looms/jack8.ini --draw
fit guild/winter-coverlet.wif --shafts 4 --treadles 6
fit guild/croft-blanket.wif --shafts 8 --treadles 10 --output fitted.wif
fit faulty --format json
info guild/goose-eye-towel.wif
info guild/goose-eye-towel.wif guild/ferry-scarf.wif --format json
plan guild/goose-eye-towel.wif
plan guild/goose-eye-towel.wif --output towel.html
plan guild/goose-eye-towel.wif --output towel.pdf
plan guild/goose-eye-towel.wif --format json
plan guild/goose-eye-towel.wif --format wif
plan guild/ferry-scarf.wif --finished-length 2.4m --sett 20/in --items 2
plan faulty/missing-heddles.wif
plan wild/cut-in-table.wif
rules
rules cloth/long-float
rules --format json
rules --format markdown
rules no/rule
schema draft
schema nothing
init
init --output guild/fettle.ini
completion bash
man
`

// TestSameBytes compares runs in the page with the native program: status, both outputs
// and all files afterwards.
func TestSameBytes(t *testing.T) {
	t.Parallel()
	b := openPage(t)
	folders := []string{"guild", "inbox", "wild", "faulty"}
	all := corpusFiles(t, folders...)
	if !*long {
		maps.DeleteFunc(all, func(path, _ string) bool { return !sampled(path) })
	}
	b.give(all)
	for i, line := range strings.Split(strings.TrimSpace(commandLines), "\n") {
		if i%10 != 0 && !thorough() {
			continue
		}
		t.Run(line, func(t *testing.T) {
			b := &tab{TB: t, context: b.context}
			args := strings.Fields(line)
			input := ""
			if args[0] == "<" {
				input, args = args[1], args[2:]
			}
			files := maps.Clone(all)
			maps.DeleteFunc(files, func(path, _ string) bool { return !needed(line, path, folders) })
			got, want := b.inPage(args, slices.AppendSeq([]string{}, maps.Keys(files)), input), natively(t, args, files, all[input])
			compareResults(t, got, want)
		})
	}
}

// sampled reports whether to try a file without -long: one that a command line names, or
// one of a sample of the rest.
func sampled(path string) bool {
	if strings.Contains(commandLines, path) || path == "inbox/fettle.ini" {
		return true
	}
	folder, name, _ := strings.Cut(path, "/")
	return !strings.HasSuffix(name, ".expected.json") && !strings.HasSuffix(name, ".meant.wif") && (folder != "wild" || len(name)%8 == 0)
}

// needed reports whether a command line needs a file: one below a folder that the line
// names, or any if it lints without a path.
func needed(line, path string, folders []string) bool {
	for _, folder := range folders {
		if strings.Contains(line, folder) && strings.HasPrefix(path, folder+"/") {
			return true
		}
	}
	return line == "lint" || strings.HasPrefix(path, "guild/") && strings.Contains(line, "inbox") // its settings include the guild's
}

func compareResults(t testing.TB, got, want result) {
	t.Helper()
	if got.Status != want.Status {
		t.Errorf("the page's status is %d, the program's %d", got.Status, want.Status)
	}
	compareTexts(t, "standard output", got.Stdout, want.Stdout)
	compareTexts(t, "standard error", got.Stderr, want.Stderr)
	if a, b := slices.Sorted(maps.Keys(got.Files)), slices.Sorted(maps.Keys(want.Files)); !slices.Equal(a, b) {
		t.Errorf("the page writes %q, the program %q", a, b)
	}
	if slices.Sort(got.Deleted); !slices.Equal(got.Deleted, want.Deleted) {
		t.Errorf("the page deletes %q, the program %q", got.Deleted, want.Deleted)
	}
	for path, text := range want.Files {
		compareTexts(t, path, got.Files[path], text)
	}
}

func compareTexts(t testing.TB, what, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%s differs: the page gives %d bytes\n%.600s\nthe program %d\n%.600s", what, len(got), got, len(want), want)
	}
}
