package main

import (
	"fmt"
	"runtime"
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/lint"
	"fettle/lint/collection"
	"fettle/lint/report"
	"fettle/lint/rules"
	"fettle/schema"
	"fettle/schema/wording"
)

// rechecker checks cleaned drafts with all rules, so clean can say what lint will
// still report.
type rechecker struct {
	checker *lint.Checker
	across  *lint.Across // nil for a single file
}

func newRechecker(like *lint.Checker, single bool) (*rechecker, error) {
	linter, err := lint.New(rules.All(), lint.Selection{})
	if err != nil {
		return nil, failed("%s", err)
	}
	m := &rechecker{checker: &lint.Checker{Linter: linter, Finder: like.Finder}}
	if !single {
		m.across = lint.NewAcross()
	}
	return m, nil
}

// rechecked holds the findings of a cleaned draft.
type rechecked struct {
	path     string // of the cleaned draft
	findings []schema.Finding
	traits   lint.Traits
}

// in checks a draft with the settings for the path it is written to. It returns nil
// if those settings can't be read.
func (m *rechecker) in(doc *schema.Document, path string) *rechecked {
	src, there := *doc.Source, *doc
	src.Path, there.Source = path, &src
	result, err := m.checker.Check(&there)
	if err != nil {
		return nil
	}
	l := &rechecked{path: path, findings: result.Findings}
	if m.across != nil {
		l.traits = m.across.Traits(&result)
	}
	return l
}

// remaining counts findings that remain after cleaning.
type remaining struct {
	report.Summary
	fixable int // fixed by a skipped rule, or with --risky
}

// add counts the findings in a file, and those between it and earlier files.
func (r *remaining) add(m *rechecker, l *rechecked) {
	if l == nil {
		return
	}
	findings := l.findings
	if m.across != nil {
		more, _ := m.across.Add(l.path, l.traits)
		findings = append(findings, more...)
	}
	r.Add(report.File{Findings: findings})
	for i := range findings {
		if len(findings[i].Fixes) > 0 {
			r.fixable++
		}
	}
}

// say returns how many findings remain and which command shows them, "" if none remain.
func (r *remaining) say(lint string) string {
	var words []string
	for _, x := range []struct {
		count int
		what  string
	}{{r.Errors, "error"}, {r.Warnings, "warning"}, {r.Notes, "note"}} {
		if x.count > 0 {
			words = append(words, wording.Counted(x.count, x.what))
		}
	}
	all := r.Errors + r.Warnings + r.Notes
	text := wording.Listed(words) + " " + wording.Plural(all, "remains", "remain")
	switch none := all - r.fixable; {
	case all == 0:
		return ""
	case none == all:
		text += " that fettle cannot fix"
	case none > 0:
		text += fmt.Sprintf(", %d of which fettle cannot fix", none)
	}
	if lint == "" {
		return text
	}
	return text + "; run `" + lint + "` to see " + wording.Plural(all, "it", "them")
}

// manyPaths is the number of paths that is too long for a message.
const manyPaths = 4

// lintCommand returns the command that checks the paths with the settings of this
// run. It returns "" if a draft comes from standard input.
func lintCommand(c *cli.Context, paths ...string) string {
	words := []string{"fettle"}
	if config := c.String("config"); config != "" {
		words = append(words, "--config", shellWord(config))
	}
	words = append(words, "lint")
	for _, path := range paths {
		if path == "-" || len(paths) >= manyPaths {
			return ""
		}
		words = append(words, shellWord(path))
	}
	return strings.Join(words, " ")
}

// shellWord quotes a word for a shell if it needs that.
func shellWord(word string) string {
	special := func(r rune) bool {
		return !strings.ContainsRune(`/.,:=+@%_-`, r) && (r < '0' || r > '9' && r < 'A' || r > 'Z' && r < 'a' || r > 'z' && r < 0x80)
	}
	switch {
	case word != "" && !strings.ContainsFunc(strings.ReplaceAll(word, "\\", "/"), special) && (runtime.GOOS == "windows" || !strings.Contains(word, "\\")):
		return word
	case runtime.GOOS == "windows":
		return `"` + word + `"`
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}

// cleanedPath returns the path of the cleaned draft after the run.
func (v *cleaning) cleanedPath(in collection.Input) string {
	switch {
	case !v.writes() || v.write:
		return in.Path
	case v.folder.path != "":
		if path, err := collection.OutputPath(in, v.folder.path, ""); err == nil && in.Path != "-" {
			return path
		}
	case v.output != "-":
		return v.output
	}
	return in.Path
}
