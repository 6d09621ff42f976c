package lint

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"unicode"

	"fettle/schema"
)

// mostPrinted bounds how many bytes of what a finding stands at go into its
// fingerprint, so that many findings at one long value cost no more than the
// file is long.
const mostPrinted = 256

// Fingerprints names the findings of a file, in their order, by what they are
// about and not by where they stand: the rule, the text they stand at without
// spaces and capitals, and the words of their data. So a finding keeps its name
// when lines are added above it or its figures change. Findings of a file that
// are alike in all this are numbered, from 1, behind a colon.
//
// Baselines, SARIF and code quality reports all go by these names.
func Fingerprints(src *schema.Source, findings []schema.Finding) []string {
	prints := make([]string, len(findings))
	met := make(map[string]int, len(findings))
	for i := range findings {
		name := fingerprint(src, &findings[i])
		met[name]++
		prints[i] = fmt.Sprintf("%s:%d", name, met[name])
	}
	return prints
}

func fingerprint(src *schema.Source, f *schema.Finding) string {
	hash := sha256.New()
	fmt.Fprintf(hash, "%s\n%s\n%s\n", f.Rule, f.Pointer, plainest(printed(src, f)))
	for _, d := range f.Data {
		// Which other file a draft is like, and so how, depends on what else is looked at.
		if word, ok := d.Value.(string); ok && d.Key != "path" && d.Key != "how" {
			fmt.Fprintf(hash, "%s=%q\n", d.Key, word)
		}
	}
	return hex.EncodeToString(hash.Sum(nil)[:8])
}

// printed is the text a finding stands at, its line where it stands between two
// characters.
func printed(src *schema.Source, f *schema.Finding) []byte {
	start := min(max(f.Span.Start, 0), len(src.Text))
	end := min(max(f.Span.End, start), len(src.Text))
	text := src.Text[start:end]
	if start == end {
		text = src.Line(f.Position.Line)
	}
	return text[:min(len(text), mostPrinted)]
}

// plainest is a text without spaces and capitals.
func plainest(text []byte) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return -1
		}
		return unicode.ToLower(r)
	}, string(text))
}
