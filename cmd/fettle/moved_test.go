package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestBaselineOfMovedLines saves the findings of faulty drafts in a baseline and moves
// all lines down. Then nothing is new and nothing is fixed.
func TestBaselineOfMovedLines(t *testing.T) {
	faulty, err := filepath.Abs("../../corpus/faulty")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	if err := os.CopyFS("drafts", os.DirFS(faulty)); err != nil {
		t.Fatal(err)
	}
	status, out, told := lintOnce("--fail-on", "note", "--write-baseline", "known.json", "drafts")
	if status != statusFine || strings.Count(out, "\n") < 50 {
		t.Fatalf("exit status %d, %s\n%s", status, told, out)
	}
	paths, err := filepath.Glob("drafts/*.wif")
	if err != nil || len(paths) == 0 {
		t.Fatalf("%d drafts, %v", len(paths), err)
	}
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		moved := "; moved\n\n" + strings.ReplaceAll(string(text), "\n[", "\n; moved\n\n[")
		writeFile(t, path, []byte(moved))
	}
	status, out, told = lintOnce("--fail-on", "note", "--baseline", "known.json", "drafts")
	if status != statusFine || out != "" || told != "" {
		t.Errorf("exit status %d: %s\n%s", status, told, out)
	}
}
