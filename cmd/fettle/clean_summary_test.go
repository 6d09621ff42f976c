package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fettle/lint/report"
	"fettle/schema/wording"
)

// TestRemainingIsWhatLintFinds cleans dirty drafts, one by one and as a folder. lint then
// finds what clean says remains.
func TestRemainingIsWhatLintFinds(t *testing.T) {
	folder, before, _ := dirtyFolder(t, 60)
	ini := "[loom]\nshafts = 6\n[rules]\ndraft/shed-unstated = error\n"
	if err := os.WriteFile(filepath.Join(folder, "fettle.ini"), []byte(ini), 0o644); err != nil {
		t.Fatal(err)
	}
	paths := []string{folder}
	for path := range before {
		if paths = append(paths, path); len(paths) == 20 {
			break
		}
	}
	told := 0
	for _, path := range paths {
		said, status := runs(t, "clean", path, "--write")
		if status != statusFine {
			t.Fatalf("status %d: %s", status, said)
		}
		want := found(t, path)
		if has := strings.Contains(said, want); want != "" && !has || want == "" && strings.Contains(said, " remain") {
			t.Errorf("%s: lint finds %q, clean said\n%s", path, want, said)
		}
		if want != "" {
			told++
		}
	}
	if told < 10 {
		t.Errorf("in only %d of them is anything found", told)
	}
}

// found returns what lint finds at a path, in the words of clean.
func found(t *testing.T, path string) string {
	t.Helper()
	out, _ := runs(t, "--quiet", "lint", path, "--format", "json")
	var r struct{ Summary report.Summary }
	if err := json.Unmarshal([]byte(out), &r); err != nil {
		t.Fatal(err)
	}
	var words []string
	for _, x := range []struct {
		count int
		what  string
	}{{r.Summary.Errors, "error"}, {r.Summary.Warnings, "warning"}, {r.Summary.Notes, "note"}} {
		if x.count > 0 {
			words = append(words, wording.Counted(x.count, x.what))
		}
	}
	if len(words) == 0 {
		return ""
	}
	return wording.Listed(words) + " remain"
}

func TestShellWord(t *testing.T) {
	for word, want := range map[string]string{
		"towel.wif": "towel.wif", "drafts/a-b_c@2+1.wif": "drafts/a-b_c@2+1.wif", "Grün.wif": "Grün.wif",
		"my towel.wif": "'my towel.wif'", "": "''", "$(x).wif": "'$(x).wif'", "it's": `'it'\''s'`, "a;b": "'a;b'", "*.wif": "'*.wif'",
	} {
		if got := shellWord(word); got != want && filepath.Separator == '/' {
			t.Errorf("%q becomes %s, want %s", word, got, want)
		}
	}
}
