package clean

import (
	"testing"

	"fettle/formats"
	"fettle/lint"
	"fettle/lint/rules"
	"fettle/schema"
	"fettle/schema/settings"
)

// cleaner returns a Cleaner with selected rules and without settings.
func cleaner(t testing.TB, s lint.Selection) *Cleaner {
	t.Helper()
	all := rules.All()
	return &Cleaner{Checker: checker(t, all, Selection(all, s))}
}

// cleanerOf returns a Cleaner with the given rules.
func cleanerOf(t testing.TB, list []lint.Rule) *Cleaner {
	t.Helper()
	return &Cleaner{Checker: checker(t, list, lint.Selection{})}
}

func checker(t testing.TB, list []lint.Rule, s lint.Selection) *lint.Checker {
	t.Helper()
	l, err := lint.New(list, s)
	if err != nil {
		t.Fatal(err)
	}
	return &lint.Checker{Linter: l, Finder: settings.NewFinder(settings.Options{})}
}

// cleaned returns the result of cleaning the bytes of a file.
func cleaned(t testing.TB, c *Cleaner, raw string) Result {
	t.Helper()
	doc := formats.Read("draft.wif", []byte(raw))
	if doc.Draft == nil {
		t.Fatalf("no draft: %s", doc.Findings[0].Message)
	}
	r, err := c.Clean(doc)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// fileFindings returns what the readers find in a file.
func fileFindings(raw []byte) []schema.Finding { return formats.Read("draft.wif", raw).Findings }
