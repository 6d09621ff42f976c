package collection

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fettle/lint"
	"fettle/lint/report"
	"fettle/schema"
	"fettle/schema/settings"
)

// run returns a Run with the rules across files and two others: one reports every draft, the
// other panics on drafts with a treadling.
func run(t *testing.T) *Run {
	t.Helper()
	linter, err := lint.New([]lint.Rule{
		{ID: "a/one", Default: schema.Warning, Check: func(p *lint.Pass) { p.Report(schema.EndPlace(1), nil, "found") }},
		{ID: "a/two", Default: schema.Note, Check: func(p *lint.Pass) {
			if p.Draft.Treadling.Len() > 0 {
				panic("out of range")
			}
		}},
		{ID: schema.FileUnreadable, Default: schema.Error},
		{ID: lint.Duplicate, Default: schema.Note},
	}, lint.Selection{})
	if err != nil {
		t.Fatal(err)
	}
	return &Run{Checker: &lint.Checker{Linter: linter, Finder: settings.NewFinder(settings.Options{})}}
}

// results returns a line for each file of a run, and the complaints.
func results(r *Run, list []Input) (files, complaints []string) {
	r.Lint(list, func(_ Input, x report.File) bool {
		line := x.Path + ":"
		for _, f := range x.Findings {
			line += fmt.Sprintf(" %s %s", f.Rule, f.Severity)
		}
		if prints := x.Prints(); len(prints) != len(x.Findings) {
			line += fmt.Sprintf(" with %d fingerprints", len(prints))
		}
		if n := len(x.Known); n > 0 && n == len(x.KnownPrints) {
			line += fmt.Sprintf(" and %d known", n)
		}
		files = append(files, line)
		return true
	}, func(_ Input, err error) { complaints = append(complaints, err.Error()) })
	return files, complaints
}

func TestLook(t *testing.T) {
	tree(t, map[string]string{"a.wif": draft, "b.wif": draft, "bad.wif": "<html>", "fails.wif": draft + "[TREADLING]\n1=1\n", "x.txt": "words"})
	inputs := Inputs([]string{"."}, nil).Inputs
	inputs = append(inputs, Input{Path: "gone.wif"}, Input{Path: "-"}) // nothing reads standard input here: it fails
	want := []string{
		"a.wif: a/one warning",
		"b.wif: collection/duplicate note a/one warning",
		"bad.wif: file/unreadable error",
		"fails.wif: a/two error collection/duplicate note a/one warning",
	}
	for _, workers := range []int{1, 4} {
		r := run(t)
		r.Workers = workers
		files, complaints := results(r, inputs)
		if !slices.Equal(files, want) {
			t.Errorf("with %d workers:\n%s\nwant\n%s", workers, strings.Join(files, "\n"), strings.Join(want, "\n"))
		}
		if len(complaints) != 2 || !strings.HasPrefix(complaints[0], "gone.wif: ") || !strings.HasPrefix(complaints[1], "-: ") {
			t.Errorf("complaints: %q", complaints)
		}
	}
	if files, _ := results(run(t), inputs[1:2]); !slices.Equal(files, []string{"b.wif: a/one warning"}) {
		t.Errorf("a file alone: %q", files)
	}
}

func TestLookWithBaseline(t *testing.T) {
	tree(t, map[string]string{"a.wif": draft, "b.wif": draft})
	inputs := Inputs([]string{"."}, nil).Inputs
	r := run(t)
	base := lint.NewBaseline(r.Checker.Linter)
	r.Baseline = base
	if files, _ := results(r, inputs[:1]); !slices.Equal(files, []string{"a.wif: a/one warning"}) {
		t.Errorf("noting: %q", files)
	}
	text, err := base.Renewed(func(string) bool { return false })
	if err != nil {
		t.Fatal(err)
	}
	r = run(t)
	r.OnlyNew = true
	if r.Baseline, err = lint.ReadBaseline(bytes.NewReader(text), "known.json", r.Checker.Linter); err != nil {
		t.Fatal(err)
	}
	files, _ := results(r, inputs)
	if want := []string{"a.wif: and 1 known", "b.wif: collection/duplicate note a/one warning"}; !slices.Equal(files, want) {
		t.Errorf("new: %q, want %q", files, want)
	}
}

func TestLookStops(t *testing.T) {
	tree(t, map[string]string{"a.wif": draft, "b.wif": draft})
	inputs := Inputs([]string{"."}, nil).Inputs
	used := 0
	run(t).Lint(inputs, func(Input, report.File) bool { used++; return false }, func(_ Input, err error) { t.Error(err) })
	if used != 1 {
		t.Errorf("went on for %d files", used)
	}
}

func TestOutside(t *testing.T) {
	tree(t, map[string]string{"a.wif": draft, "d/b.wif": draft, "json/a.wif": draft, "json/d/b.wif": draft, "jsons/c.wif": draft})
	for _, test := range []struct{ args, results, want string }{
		{".", "json", "a.wif d/b.wif jsons/c.wif"},
		{".", "./json/", "a.wif d/b.wif jsons/c.wif"},
		{".", "json/d", "a.wif d/b.wif json/a.wif jsons/c.wif"},
		{"json/a.wif .", "json", "json/a.wif a.wif d/b.wif jsons/c.wif"}, // a named folder is searched
		{"json", "json", "json/a.wif json/d/b.wif"},
		{"json", ".", "json/a.wif json/d/b.wif"},
		{"d", "json", "d/b.wif"},
		{"d", "", "d/b.wif"},
	} {
		var got []string
		for _, in := range Outside(Inputs(strings.Fields(test.args), nil).Inputs, test.results) {
			got = append(got, filepath.ToSlash(in.Path))
		}
		if s := strings.Join(got, " "); s != test.want {
			t.Errorf("%s into %q: %s, want %s", test.args, test.results, s, test.want)
		}
	}
}

func TestWithout(t *testing.T) {
	list := []Input{{Path: "a.json", Found: true}, {Path: "b.json", Found: true}, {Path: "b.json"}, {Path: "-"}}
	var got []string
	for _, in := range Without(list, []string{"./b.json", "-", ""}) {
		got = append(got, fmt.Sprintf("%s %v", in.Path, in.Found))
	}
	if want := []string{"a.json true", "b.json false", "- false"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// TestCompare compares a file with others that have no results of their own.
func TestCompare(t *testing.T) {
	tree(t, map[string]string{"a.wif": draft, "d/b.wif": draft, "d/bad.wif": "<html>", "d/x.txt": "words"})
	r := run(t)
	named := Inputs([]string{"a.wif"}, nil).Inputs
	r.Compare = append(Others(Inputs([]string{"d", "."}, nil).Inputs, named), Input{Path: "gone.wif"})
	if len(r.Compare) != 4 {
		t.Errorf("compared with %v", r.Compare)
	}
	files, complaints := results(r, named)
	if want := []string{"a.wif: collection/duplicate note a/one warning"}; !slices.Equal(files, want) {
		t.Errorf("%q, want %q", files, want)
	}
	if len(complaints) != 1 || !strings.HasPrefix(complaints[0], "gone.wif: ") {
		t.Errorf("complaints %q", complaints)
	}
}

func TestStdinForAPath(t *testing.T) {
	tree(t, map[string]string{"a.wif": "<html>"})
	doc, err := Reader{Stdin: strings.NewReader(draft)}.Read(Input{Path: "a.wif", Stdin: true})
	if err != nil || doc.Draft == nil || doc.Source.Path != "a.wif" {
		t.Errorf("%v, %v", doc, err)
	}
}
