package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fettle/corpus/golden"
	"fettle/formats"
)

// TestReadme runs every command that the README and the manuals show after a $, and
// compares the output with the text. -update replaces the text.
func TestReadme(t *testing.T) {
	t.Setenv("NO_COLOR", "1")
	t.Chdir("../..")
	for _, path := range []string{"README.md"} {
		t.Run(filepath.Base(path), func(t *testing.T) {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			shown := string(text)
			fresh, commands := replayed(t, shown)
			if commands == 0 {
				t.Fatal("it shows no command")
			}
			if words := len(strings.Fields(fresh)); words >= 1200 {
				t.Errorf("%d words; fewer than 1,200 get a weaver to success", words)
			}
			if fresh == shown {
				return
			}
			if !*golden.Update {
				t.Fatalf("%s does not show what its commands print; go test ./cmd/fettle -update mends it:\n%s", path, fresh)
			}
			if err := golden.WriteFile(path, []byte(fresh)); err != nil {
				t.Fatal(err)
			}
		})
	}
}

// replayed returns a text with fresh output in its console blocks, and the number of
// commands in them.
func replayed(t *testing.T, text string) (string, int) {
	t.Helper()
	var out strings.Builder
	commands, inside := 0, false
	for _, line := range strings.SplitAfter(text, "\n") {
		switch {
		case strings.HasPrefix(line, "```console"):
			inside = true
		case inside && strings.HasPrefix(line, "```"):
			inside = false
		case inside && strings.HasPrefix(line, "$ "):
			commands++
			out.WriteString(line)
			out.WriteString(printed(t, strings.Fields(line[2:])))
			continue
		case inside:
			continue
		}
		out.WriteString(line)
	}
	return out.String(), commands
}

func printed(t *testing.T, args []string) string {
	t.Helper()
	var out bytes.Buffer
	p := &program{in: strings.NewReader(""), out: &out, err: &out}
	if status := p.run(args); status == statusFailed {
		t.Errorf("%s could not be done: %s", strings.Join(args, " "), out.String())
	}
	return out.String()
}

// TestReadmeDraft lints the hand-typed draft in the manual of formats on the loom in the
// README. There are no findings.
func TestReadmeDraft(t *testing.T) {
	into := t.TempDir()
	for name, from := range map[string][2]string{"band.wif": {"../../formats/README.md", "[WIF]"}, "fettle.ini": {"../../README.md", "[loom]"}} {
		text, err := os.ReadFile(from[0])
		if err != nil {
			t.Fatal(err)
		}
		_, rest, ok := strings.Cut(string(text), "```ini\n"+from[1])
		block, _, closed := strings.Cut(rest, "```")
		if !ok || !closed {
			t.Fatalf("%s shows no %s", from[0], name)
		}
		if err := os.WriteFile(filepath.Join(into, name), []byte(from[1]+block), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(into)
	var out bytes.Buffer
	p := &program{in: strings.NewReader(""), out: &out, err: &out}
	if status := p.run([]string{"fettle", "lint"}); status != statusFine || out.Len() > 0 {
		t.Errorf("exit status %d:\n%s", status, out.String())
	}
}

// TestDraftsShown lints every complete draft in the documents, without settings. There
// are no findings, and JSON drafts are laid out as fettle writes them.
func TestDraftsShown(t *testing.T) {
	blocks := regexp.MustCompile("(?s)```(ini|json)\n(.*?)```")
	whole := regexp.MustCompile(`(?s)^\[WIF\].*\[THREADING\]|^\{`) // the book of rules shows single sections
	shown := map[string][]byte{}
	for _, pattern := range []string{"../../*.md", "../../*/*.md", "../../*/*/*.md"} {
		paths, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range paths {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			for i, block := range blocks.FindAllSubmatch(text, -1) {
				if draft := block[2]; formats.Holds(draft) && whole.Match(draft) {
					shown[fmt.Sprintf("%s block %d", path, i+1)] = draft
				}
			}
		}
	}
	t.Chdir(t.TempDir())
	if len(shown) < 2 {
		t.Errorf("%d drafts are shown", len(shown))
	}
	for name, draft := range shown {
		var out bytes.Buffer
		p := &program{in: bytes.NewReader(draft), out: &out, err: &out}
		if status := p.run([]string{"fettle", "lint", "-"}); status != statusFine || out.Len() > 0 {
			t.Errorf("%s: exit status %d:\n%s", name, status, out.String())
		}
		if again := printedOf(t, draft); draft[0] == '{' && again != string(draft) {
			t.Errorf("%s is written otherwise:\n%s", name, again)
		}
	}
}

// printedOf returns a draft as fettle writes it in JSON.
func printedOf(t *testing.T, draft []byte) string {
	t.Helper()
	text, _, err := formats.Write("json", formats.Read("shown", draft).Draft, formats.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
