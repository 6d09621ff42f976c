package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fettle/lint/report"
)

// TestPathsHaveSlashes checks that paths have / in every report format, in the facts and
// in the plan.
func TestPathsHaveSlashes(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "sub", "a.wif")
	text := "[WIF]\nVersion=1.1\n[WEAVING]\nShafts=1\n[WARP]\nThreads=2\n[THREADING]\n1=1\n2=2\n[LIFTPLAN]\n1=1\n2=2\n"
	if err := folderFor(path); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	commands := [][]string{{"info", folder, "--format", "json"}, {"plan", path, "--format", "json", "--sett", "8/cm", "--finished-length", "1m"},
		{"lint", folder, "--write-baseline", filepath.Join(folder, "known.json"), "--format", "json"}}
	for _, form := range report.Names() {
		commands = append(commands, []string{"lint", folder, "--format", form, "--fail-on", "never"})
	}
	for _, args := range commands {
		out, _ := runs(t, append(args, "--quiet")...) // reports without other messages
		if !strings.Contains(out, "sub/a.wif") || strings.Contains(out, `sub\`) {
			t.Errorf("%q: %s", args, out)
		}
	}
	if known, err := os.ReadFile(filepath.Join(folder, "known.json")); err != nil || strings.Contains(string(known), `sub\`) {
		t.Errorf("%s, %v", known, err)
	}
}
