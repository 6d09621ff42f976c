package main

import (
	"bytes"
	"slices"
	"strings"
	"testing"
)

// TestGuesses checks that guessed flags and values get advice, and that the advice names
// existing flags.
func TestGuesses(t *testing.T) {
	for _, row := range []struct{ args, use string }{
		{"lint --fix a.wif", "use 'fettle clean --write'"},
		{"lint -w a.wif", "use 'fettle clean --write'"},
		{"lint --format github", "use --format annotations"},
		{"lint --format=gitlab", "use --format quality"},
		{"lint --format codeclimate", "use --format quality"},
		{"lint --json", "use --format json"},
		{"lint --max-warnings 0", "use --fail-on warning"},
		{"lint --disable reed", "use --skip"},
		{"lint --fail-on warnings", "use --fail-on warning"},
		{"lint --exclude attic", "use exclude in the section [files] of fettle.ini"},
		{"clean --fix a.wif", "use --write"},
		{"clean --dry-run a.wif", "use --check"},
		{"clean --force a.wif", "use --overwrite"},
		{"convert a.wif --format pdf", "--to pdf"},
		{"convert a.wif --to text", "use --to txt"},
		{"convert a.wif --from wif", "leave it out"},
		{"plan a.wif --to pdf", "use --format"},
		{"plan a.wif --epi 20", "use --sett"},
		{"rules --format md", "use --format markdown"},
		{"info a.wif --json", "use --format json"},
		{"--no-color lint", "use --color never"},
	} {
		var out, errs bytes.Buffer
		p := &program{in: strings.NewReader(""), out: &out, err: &errs}
		if status := p.run(strings.Fields("fettle " + row.args)); status != statusFailed || !strings.Contains(errs.String(), row.use) {
			t.Errorf("%s: status %d, %q, want %q", row.args, status, errs.String(), row.use)
		}
	}
}

// TestGuessesNameFlags checks that no guessed flag exists and that every replacement
// does.
func TestGuessesNameFlags(t *testing.T) {
	app := (&program{}).app()
	for command, guesses := range guessedFlags() {
		for guess, use := range guesses {
			for _, c := range app.Commands {
				if command != "" && command != c.Name {
					continue
				}
				flags := slices.Concat(c.Flags, app.Flags)
				if flagNamed(flags, guess) != nil && command != "" {
					t.Errorf("%s --%s is a flag", c.Name, guess)
				}
				name, _, _ := strings.Cut(strings.TrimPrefix(use, "--"), " ")
				if command != "" && strings.HasPrefix(use, "--") && flagNamed(flags, name) == nil {
					t.Errorf("%s --%s: there is no flag %s", c.Name, guess, use)
				}
			}
		}
	}
}
