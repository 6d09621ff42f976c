package main

import (
	"bytes"
	"os"
	"regexp"
	"strings"
	"testing"
)

// TestHooks runs the hooks on a broken draft: the first reports it, the second fixes it.
// Both skip excluded drafts.
func TestHooks(t *testing.T) {
	text, err := os.ReadFile("../../.pre-commit-hooks.yaml")
	if err != nil {
		t.Fatal(err)
	}
	entries := regexp.MustCompile(`(?m)^  entry: fettle (.*)$`).FindAllStringSubmatch(string(text), -1)
	if len(entries) != 2 || strings.Count(string(text), "- id: ") != 2 {
		t.Fatalf("there are the entries %v", entries)
	}
	t.Chdir(t.TempDir())
	if err := os.WriteFile("fettle.ini", []byte("[files]\nexclude = kept.wif, kept.json\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	const broken = "[WIF]\nVersion=1.1\n[CONTENTS]\nTHREADING=true\nLIFTPLAN=true\nWARP=true\n[WARP]\nThreads=2\nThreads=2\nSpacing=0,2\nUnits=Centimeters\n[THREDING]\n1=1\n2=2\n[LIFTPLAN]\n1=1\n2=2\n"
	for name, text := range map[string]string{"a.wif": broken, "kept.wif": broken, "package.json": `{"name": "looms"}`, "kept.json": `{"threading": 1}`,
		"b.json": `{"fettle": 1, "shafts": 1, "shed": "rising", "threading": [1, 2], "liftplan": [[1], [2]]}`} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	run := func(words string) (int, string) {
		var out bytes.Buffer
		p := &program{in: strings.NewReader(""), out: &out, err: &out}
		return p.run(append(append([]string{"fettle"}, strings.Fields(words)...), "--quiet", "a.wif", "kept.wif", "package.json", "kept.json", "b.json")), out.String()
	}
	if _, out := run(entries[0][1]); !strings.Contains(out, "a.wif:12:1: warning: ") || !strings.Contains(out, "b.json:") ||
		strings.Contains(out, "kept.") || strings.Contains(out, "package.json") {
		t.Errorf("checking says\n%s", out)
	}
	if status, out := run(entries[1][1]); status != statusFine {
		t.Errorf("cleaning ends with %d:\n%s", status, out)
	}
	if status, out := run(entries[0][1]); status != statusFine || strings.Contains(out, "[file/") {
		t.Errorf("checking again ends with %d:\n%s", status, out)
	}
	if kept, err := os.ReadFile("kept.wif"); err != nil || string(kept) != broken {
		t.Errorf("what is excluded was cleaned (%v):\n%s", err, kept)
	}
}
