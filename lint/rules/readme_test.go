package rules

import (
	"bytes"
	"os"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"fettle/corpus/golden"
	"fettle/lint"
)

// TestReadme compares README.md with the rules.
func TestReadme(t *testing.T) {
	book := lint.Book(All())
	if *golden.Update {
		if err := golden.WriteFile("README.md", book); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(text, book) {
		t.Error("README.md is out of date; run go test ./lint/rules -run TestReadme -update")
	}
}

// TestPages checks that a page is complete in both styles, and fits a terminal.
func TestPages(t *testing.T) {
	for _, r := range All() {
		t.Run(r.ID, func(t *testing.T) {
			off, _ := strings.CutPrefix(r.SafeOff, "never; ")
			says := []string{r.ID, r.Title[1:], r.Why, r.Counts, r.Remedy, off, r.Source[1:]}
			for _, o := range r.Options {
				says = append(says, o.Name, o.Text, r.ID+" = "+r.Default.String()+", ", ", "+o.Example())
			}
			if r.Faulty.Draft != r.Fixed.Draft || r.Faulty.Settings != r.Fixed.Settings {
				says = append(says, "(- wrong, + right)")
			}
			for _, f := range r.Data {
				says = append(says, f.Key, f.Text)
			}
			for _, as := range []lint.Style{lint.Text, lint.Markdown} {
				page := string(lint.Page(&r, as))
				for _, s := range says {
					if !strings.Contains(flat(page), flat(s)) {
						t.Errorf("style %d does not say %q", as, s)
					}
				}
			}
			for line := range strings.Lines(string(lint.Page(&r, lint.Text))) {
				if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > 80 || strings.HasSuffix(line, " \n") {
					t.Errorf("a line of %d characters: %q", n, line)
				}
			}
		})
	}
}

var space = regexp.MustCompile(`\s+`)

// flat returns a text as one line, without Markdown code marks.
func flat(text string) string {
	return strings.TrimSpace(space.ReplaceAllString(strings.ReplaceAll(text, "`", ""), " "))
}
