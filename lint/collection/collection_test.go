package collection

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"fettle/corpus/golden"
	"fettle/schema"
)

const draft = "[WIF]\nVersion=1.1\n[THREADING]\n1=1\n[LIFTPLAN]\n1=1\n"

// tree writes files into a new folder and makes it the working folder.
func tree(t *testing.T, files map[string]string) {
	t.Helper()
	t.Chdir(t.TempDir())
	for path, text := range files {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func TestInputs(t *testing.T) {
	tree(t, map[string]string{
		"b.wif": draft, "a.wif": draft, "notes.md": "x", "deep/c.WIF": draft, "deep/er/d.json": "{}",
		".hidden/e.wif": draft, ".f.wif": draft, "attic/g.wif": draft, "deep/h.txt": "x",
	})
	if err := os.Symlink("../b.wif", "deep/link.wif"); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("../attic", "deep/attic"); err != nil {
		t.Fatal(err)
	}
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	skip := func(path, folder string) bool { return path == "attic" && folder == "." }
	for _, test := range []struct {
		name     string
		args     []string
		want     string
		problems string
	}{
		{"a folder, sorted", []string{"."}, "a.wif b.wif deep/c.WIF deep/er/d.json deep/h.txt", ""},
		{"a folder in it", []string{"deep/"}, "deep/c.WIF deep/er/d.json deep/h.txt", ""},
		{"a duplicate file", []string{"b.wif", "./b.wif", "a.wif"}, "b.wif a.wif", ""},
		{"a file that is excluded but named", []string{"attic/g.wif"}, "attic/g.wif", ""},
		{"a hidden file that is named", []string{".f.wif"}, ".f.wif", ""},
		{"a pattern that names a file twice", []string{"{b,b}.wif"}, "b.wif", ""},
		{"a duplicate file by its absolute path", []string{"b.wif", filepath.Join(here, "b.wif")}, "b.wif", ""},
		{"a named link to a folder", []string{"deep/attic"}, "deep/attic/g.wif", ""},
		{"a named link to a folder, with a slash", []string{"deep/attic/"}, "deep/attic/g.wif", ""},
		{"a named link", []string{"deep/link.wif"}, "deep/link.wif", ""},
		{"a pattern, without hidden files and links", []string{"**/*.wif"}, "a.wif attic/g.wif b.wif", ""},
		{"a pattern for any file", []string{"*.m?"}, "notes.md", ""},
		{"standard input", []string{"-", "a.wif"}, "- a.wif", ""},
		{"a missing file", []string{"none.wif", "a.wif"}, "a.wif", "none.wif: "},
		{"a file below a file", []string{"a.wif/b.wif"}, "", "a.wif/b.wif: "},
		{"a pattern without matches", []string{"x*.wif"}, "", "x*.wif: "},
		{"an invalid pattern", []string{"[a"}, "", "[a: "},
	} {
		t.Run(test.name, func(t *testing.T) {
			listing := Inputs(test.args, skip)
			var got, wrong []string
			for _, in := range listing.Inputs {
				got = append(got, filepath.ToSlash(in.Path))
			}
			for _, p := range listing.Problems {
				wrong = append(wrong, p.Error())
			}
			if s := strings.Join(got, " "); s != test.want {
				t.Errorf("got %q, want %q", s, test.want)
			}
			s := strings.Join(wrong, "; ")
			if !strings.HasPrefix(s, test.problems) || (s == "") != (test.problems == "") {
				t.Errorf("problems %q, want one of %q", s, test.problems)
			}
			if s != "" {
				golden.Words(t, s)
			}
		})
	}
}

// TestLinksAndWholeFolders checks that skipped links to drafts and folders are counted, but
// not links to other files, named links or excluded ones.
func TestLinksAndWholeFolders(t *testing.T) {
	tree(t, map[string]string{"d/a.wif": draft, "d/x/notes.md": "x", "d/out/b.wif": draft})
	for name, target := range map[string]string{"d/link.wif": "a.wif", "d/torn.wif": "gone.wif", "d/folder": "x", "d/notes": "x/notes.md",
		"d/.hidden": "x", "d/out/link.wif": "b.wif"} {
		if err := os.Symlink(target, name); err != nil {
			t.Fatal(err)
		}
	}
	listing := Inputs([]string{"d", "d/x", "d/link.wif"}, func(path, _ string) bool { return path == filepath.FromSlash("d/out") })
	if listing.Links != 3 || !slices.Equal(listing.Whole, []string{"d", filepath.FromSlash("d/x")}) || len(listing.Inputs) != 2 {
		t.Errorf("got %+v", listing)
	}
}

func TestRead(t *testing.T) {
	tree(t, map[string]string{"a.wif": draft, "page.wif": "<html>", "b.json": "[1]", "c.txt": "words", "d.txt": draft,
		"e.json": `{"fettle": 1}`, "bare.json": `{"threading": [1, 2]}`, "empty.json": "{}", "f.json": `{"name": "other"}`,
		"report.json": `{"fettle": 1, "files": [], "summary": {}}`, "plan.json": `{"fettle": 1, "path": "a.wif", "sley": {}}`})
	r := Reader{Limit: 100, Stdin: strings.NewReader(draft)}
	for _, test := range []struct {
		name string
		in   Input
		want string // the format, "none" for a skipped file, "no draft"
	}{
		{"a draft", Input{Path: "a.wif"}, "wif"},
		{"a draft in a folder", Input{Path: "a.wif", Found: true}, "wif"},
		{"standard input", Input{Path: "-"}, "wif"},
		{"a web page named like a draft", Input{Path: "page.wif", Found: true}, "no draft"},
		{"other JSON in a folder", Input{Path: "b.json", Found: true}, "none"},
		{"another JSON object in a folder", Input{Path: "f.json", Found: true}, "none"},
		{"other JSON named", Input{Path: "b.json"}, "no draft"},
		{"a JSON draft in a folder", Input{Path: "e.json", Found: true}, "json"},
		{"a report of findings in a folder", Input{Path: "report.json", Found: true}, "none"},
		{"a report of findings named", Input{Path: "report.json"}, "no draft"},
		{"a draft without its version, in a folder", Input{Path: "bare.json", Found: true}, "json"},
		{"an empty object named", Input{Path: "empty.json"}, "no draft"},
		{"an empty object in a folder", Input{Path: "empty.json", Found: true}, "none"},
		{"a plan in a folder", Input{Path: "plan.json", Found: true}, "none"},
		{"text in a folder", Input{Path: "c.txt", Found: true}, "none"},
		{"text named", Input{Path: "c.txt"}, "no draft"},
		{"a draft in a text file", Input{Path: "d.txt", Found: true}, "wif"},
	} {
		t.Run(test.name, func(t *testing.T) {
			doc, err := r.Read(test.in)
			if err != nil {
				t.Fatal(err)
			}
			if got := kind(doc); got != test.want {
				t.Errorf("got %s, want %s", got, test.want)
			}
		})
	}
	if _, err := r.Read(Input{Path: "none.wif"}); err == nil || !strings.HasPrefix(err.Error(), "none.wif: ") {
		t.Errorf("got %v", err)
	}
	if _, err := r.Read(Input{Path: "."}); err == nil {
		t.Error("a folder was read")
	}
}

func kind(doc *schema.Document) string {
	switch {
	case doc == nil:
		return "none"
	case doc.Draft == nil:
		return "no draft"
	}
	return doc.Format
}

func TestMain(m *testing.M) { os.Exit(golden.M{M: m}.Run()) }

func TestLimit(t *testing.T) {
	tree(t, map[string]string{"big.wif": draft + strings.Repeat("; x\n", 100), "just.wif": draft + strings.Repeat("\n", 100-len(draft))})
	r := Reader{Limit: 100, Stdin: strings.NewReader(strings.Repeat("x", 1000))}
	for path, limit := range map[string]string{"big.wif": "100", "just.wif": "", "-": "100"} {
		doc, err := r.Read(Input{Path: path})
		if err != nil {
			t.Fatal(err)
		}
		if large := limit != ""; large != (doc.Draft == nil) || large && !strings.Contains(doc.Findings[0].Message, limit) {
			t.Errorf("%s: %v", path, doc.Findings)
		}
	}
}

// TestEach checks that results come in order, with no more jobs at once than workers.
func TestEach(t *testing.T) {
	var inputs []Input
	for i := range 100 {
		inputs = append(inputs, Input{Path: fmt.Sprint(i)})
	}
	for _, workers := range []int{0, 1, 3, 200} {
		var busy, most atomic.Int32
		var got []Input
		Each(inputs, workers, func(in Input) string {
			most.Store(max(most.Load(), busy.Add(1)))
			time.Sleep(time.Duration(len(in.Path)%2) * 100 * time.Microsecond)
			busy.Add(-1)
			return in.Path
		}, func(in Input, result string) bool {
			if result != in.Path {
				t.Errorf("%s was handed the result of %s", in.Path, result)
			}
			got = append(got, in)
			return true
		})
		sameFile := func(a, b Input) bool { return a.Path == b.Path }
		if !slices.EqualFunc(got, inputs, sameFile) || int(most.Load()) > max(workers, 1) {
			t.Errorf("with %d workers: %d results, %d at work", workers, len(got), most.Load())
		}
	}
}

func TestEachStops(t *testing.T) {
	inputs := make([]Input, 1000)
	var worked atomic.Int32
	used := 0
	Each(inputs, 2, func(Input) int { return int(worked.Add(1)) }, func(Input, int) bool { used++; return used < 5 })
	if used != 5 || worked.Load() > 50 {
		t.Errorf("used %d, worked %d", used, worked.Load())
	}
}

func TestOutputPath(t *testing.T) {
	for _, test := range []struct {
		in              Input
		extension, want string
	}{
		{Input{Path: "a/b.wif"}, ".json", "out/b.json"},
		{Input{Path: "a/b/c.wif", Folder: "a"}, ".json", "out/b/c.json"},
		{Input{Path: "a/b.wif", Folder: "a"}, "", "out/b.wif"},
		{Input{Path: "-"}, ".json", "out/draft.json"},
		{Input{Path: "noext"}, ".json", "out/noext.json"},
	} {
		got, err := OutputPath(test.in, "out", test.extension)
		if err != nil || filepath.ToSlash(got) != test.want {
			t.Errorf("%v goes to %s, %v; want %s", test.in, got, err, test.want)
		}
	}
}
