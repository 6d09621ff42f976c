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

// rechecker looks at cleaned drafts with all rules, so that clean can say what
// lint will report in them.
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

// rechecked is what is found in a cleaned draft.
type rechecked struct {
	path     string // where the cleaned draft is
	findings []schema.Finding
	traits   lint.Traits
}

// in looks at a draft as it is at a path once it is written there. Settings that
// cannot be read there leave it out.
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
	fixable int // with fixes that a rule left out, or --risky, would make
}

// add counts what is left in a file, and what is wrong across it and those before
// it.
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

// say tells how many findings remain, and the command that shows them; "" where
// none do.
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

// manyPaths is from how many paths on they are not repeated in a message.
const manyPaths = 4

// lintCommand is the command that looks at these paths with the settings of this
// run; "" where no command can, since the draft is not in a file.
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

// shellWord is a word as a command line has to have it.
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

// cleanedPath is where the cleaned draft of a file is after the run.
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
