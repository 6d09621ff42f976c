package lint

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"unicode"

	"fettle/schema"
)

// mostPrinted limits how many bytes of text go into a fingerprint. Otherwise many
// findings at one long value would take quadratic time.
const mostPrinted = 256

// Fingerprints returns a fingerprint for each finding of a file, in order. It depends on
// the subject of the finding, not on its line or its figures, so it stays the same if
// lines are added above. Equal fingerprints get a number from 1 after a colon.
//
// SARIF and code quality reports use these fingerprints. Baselines use them without the
// number.
func (l *Linter) Fingerprints(src *schema.Source, findings []schema.Finding) []string {
	prints := make([]string, len(findings))
	count := make(map[string]int, len(findings))
	for i := range findings {
		name := l.fingerprint(src, &findings[i])
		count[name]++
		prints[i] = fmt.Sprintf("%s:%d", name, count[name])
	}
	return prints
}

// fingerprint hashes a finding's rule, the rule's keys and, if the rule asks for it, the
// text at the finding in lower case without spaces. For an unknown rule it hashes the
// text and the words in the data.
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
	if len(f.Data) == 0 { // for example after a panic of the rule
		hash.Write([]byte("without data\n"))
	}
	return hex.EncodeToString(hash.Sum(nil)[:8])
}

// printed returns the text at a finding, or its line if its span is empty.
func printed(src *schema.Source, f *schema.Finding) []byte {
	start := min(max(f.Span.Start, 0), len(src.Text))
	end := min(max(f.Span.End, start), len(src.Text))
	text := src.Text[start:end]
	if start == end {
		text = src.Line(f.Position.Line)
	}
	return text[:min(len(text), mostPrinted)]
}

// plainest returns a text in lower case without white space.
func plainest(text []byte) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return -1
		}
		return unicode.ToLower(r)
	}, string(text))
}
