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
// about and not by where they stand or how bad they are. So a finding keeps its
// name when lines are added above it, its figures change or settings move it.
// Findings alike in all this are numbered, from 1, after a colon.
//
// SARIF and code quality reports go by these names; a baseline goes by them
// without the number.
func (l *Linter) Fingerprints(src *schema.Source, findings []schema.Finding) []string {
	prints := make([]string, len(findings))
	met := make(map[string]int, len(findings))
	for i := range findings {
		name := l.fingerprint(src, &findings[i])
		met[name]++
		prints[i] = fmt.Sprintf("%s:%d", name, met[name])
	}
	return prints
}

// fingerprint names a finding by its rule, the rule's keys and, where the rule
// asks for it, the text it stands at without spaces and capitals. A finding of a
// rule that isn't known goes by its text and the words of its data.
func (l *Linter) fingerprint(src *schema.Source, f *schema.Finding) string {
	hash := sha256.New()
	fmt.Fprintf(hash, "%s\n", f.Rule)
	rule := l.byID[f.Rule]
	if rule == nil || rule.ByText {
		fmt.Fprintf(hash, "%s\n", plainest(printed(src, f)))
	}
	for _, d := range f.Data {
		if rule.isKey(d) {
			fmt.Fprintf(hash, "%s=%q\n", d.Key, fmt.Sprint(d.Value))
		}
	}
	if len(f.Data) == 0 { // such as that the rule failed
		hash.Write([]byte("without data\n"))
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
