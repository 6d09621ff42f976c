package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestPatchingPrograms applies the output of clean --diff with patch and git apply, for
// all kinds of file names. They change that file exactly as clean does, and no other.
func TestPatchingPrograms(t *testing.T) {
	tools := map[string][]string{"patch": {"-p0", "--batch", "--silent"}, "git": {"apply", "-p0"}}
	const plain = "[WIF]\nVersion=1.1\nDeveloper=x\n[CONTENTS]\nTHREADING=true\nLIFTPLAN=true\n[THREADING]\n1=1\n2=2\n[LIFTPLAN]\n1=1\n2=2\n"
	drafts := map[string]string{
		"LF":             plain,
		"CRLF":           strings.ReplaceAll(plain, "\n", "\r\n"),
		"no last line":   strings.TrimSuffix(plain, "\n"),
		"mixed":          strings.Replace(plain, "1=1\n", "1=1\r\n", 1),
		"Windows-1252":   strings.Replace(plain, "[CONTENTS]\n", "[TEXT]\nTitle=p\xeache \xe0 la ligne\n[CONTENTS]\nTEXT=true\n", 1),
		"forged headers": strings.Replace(plain, "[THREADING]\n", "-- victim.wif\n++ victim.wif\n@@ -1 +1 @@\n[THREADING]\n", 1),
	}
	names := []string{"a.wif", "a b.wif", " a.wif ", "a\tb.wif", "a\n--- victim.wif\n+++ victim.wif\n@@ -1 +1 @@\n-[WIF]\n+gone\n", `"a".wif`, `a\b.wif`,
		"\u00e9.wif", "a\u202e.wif", "a\xff.wif", "a\r.wif", "deep/a b.wif", "a/b/c.wif", "dev/null", "##vso[x]y.wif", "::error::a.wif", "victim.wif\t2020", "-p9"}
	for tool, args := range tools {
		// Other versions of patch don't understand quoted names.
		if is, err := exec.Command(tool, "--version").Output(); err != nil || tool == "patch" && !strings.HasPrefix(string(is), "GNU patch") {
			if os.Getenv("CI") != "" {
				t.Errorf("%s is missing", tool)
			}
			t.Logf("%s is not here", tool)
			continue
		}
		t.Run(tool, func(t *testing.T) {
			for i, name := range names {
				t.Run(fmt.Sprint("name ", i+1), func(t *testing.T) { checkPatched(t, tool, args, name, plain, plain) })
			}
			for what, draft := range drafts {
				t.Run(what, func(t *testing.T) { checkPatched(t, tool, args, "a.wif", draft, plain) })
			}
		})
	}
}

// checkPatched cleans a file, applies the diff in a copy of its folder, and
// compares the two.
func checkPatched(t *testing.T, tool string, args []string, name, draft, victim string) {
	t.Helper()
	t.Chdir(t.TempDir())
	for _, folder := range []string{"cleaned", "patched"} {
		for file, text := range map[string]string{"victim.wif": victim, name: draft} {
			path := filepath.Join(folder, filepath.FromSlash(file))
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
				t.Skipf("no file can be called %q here: %v", name, err)
			}
		}
	}
	t.Chdir("cleaned")
	var diff, told bytes.Buffer
	run := program{in: strings.NewReader(""), out: &diff, err: &told}
	if status := run.run([]string{"fettle", "clean", "--diff", "--write", "--quiet", "--", name}); status != statusFine || diff.Len() == 0 {
		t.Fatalf("%q: status %d: %s%s", name, status, told.String(), diff.String())
	}
	t.Chdir(filepath.Join("..", "patched"))
	apply := exec.Command(tool, args...)
	apply.Stdin = bytes.NewReader(diff.Bytes())
	if out, err := apply.CombinedOutput(); err != nil {
		t.Errorf("%q: %v: %s\n%s", name, err, out, diff.String())
	}
	for _, file := range []string{name, "victim.wif"} {
		want, err := os.ReadFile(filepath.Join("..", "cleaned", filepath.FromSlash(file)))
		if err != nil {
			t.Fatal(err)
		}
		if got, err := os.ReadFile(filepath.FromSlash(file)); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%q: %q is %q (%v), want %q, by\n%s", name, file, got, err, want, diff.String())
		}
	}
	if left, _ := filepath.Glob("*.rej"); left != nil {
		t.Errorf("%q: %q is left", name, left)
	}
}
