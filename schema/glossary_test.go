package schema

import (
	"os"
	"strings"
	"testing"
)

// TestGlossary checks that the terms are sorted, unique and explained.
func TestGlossary(t *testing.T) {
	text, err := os.ReadFile("glossary.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rows, ok := strings.Cut(string(text), "| --- | --- |\n")
	if !ok {
		t.Fatal("no table")
	}
	last := ""
	for row := range strings.Lines(rows) {
		cells := strings.Split(strings.TrimSpace(row), " | ")
		if len(cells) != 2 || strings.Trim(cells[1], " |") == "" {
			t.Errorf("not a word and its meaning: %s", row)
			continue
		}
		word := strings.NewReplacer("| ", "", ",", "", "-", " ").Replace(cells[0])
		if word <= last {
			t.Errorf("%q comes after %q", word, last)
		}
		last = word
	}
}
