package rules

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fettle/formats"
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/settings"
)

// expected is a finding that a draft of the corpus must have.
type expected struct {
	Rule, Severity string
	Line, Column   int
	Place          string // "open" if the line may differ
	Data           map[string]any
}

// corpusFindings runs the rules on a draft of the corpus with its settings.
func corpusFindings(t *testing.T, finder *settings.Finder, path string) []schema.Finding {
	t.Helper()
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	doc := formats.Read(path, raw)
	s, err := finder.For(path, doc.Draft.Settings)
	if err != nil {
		t.Fatal(err)
	}
	return run(t, doc, s)
}

func corpusDrafts(t *testing.T, folder string) []string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("../../corpus", folder, "*.wif"))
	if err != nil || len(paths) < 5 {
		t.Fatalf("%d drafts in %s, error %v", len(paths), folder, err)
	}
	return paths
}

// expectedOf returns the findings that a draft must have, nil if it has no list.
func expectedOf(t *testing.T, path string) []expected {
	t.Helper()
	text, err := os.ReadFile(strings.TrimSuffix(path, ".wif") + ".expected.json")
	if os.IsNotExist(err) {
		return nil
	}
	var list []expected
	if err == nil {
		err = json.Unmarshal(text, &list)
	}
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func TestFaultyCorpus(t *testing.T) {
	finder := settings.NewFinder(settings.Options{})
	for _, path := range slices.Concat(corpusDrafts(t, "faulty"), corpusDrafts(t, "inbox")) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			compare(t, corpusFindings(t, finder, path), expectedOf(t, path))
		})
	}
}

// TestGuildCorpus ignores notes: sound drafts may have any.
func TestGuildCorpus(t *testing.T) {
	finder := settings.NewFinder(settings.Options{})
	for _, path := range corpusDrafts(t, "guild") {
		t.Run(filepath.Base(path), func(t *testing.T) {
			bad := slices.DeleteFunc(corpusFindings(t, finder, path), func(f schema.Finding) bool { return f.Severity <= schema.Note })
			compare(t, bad, expectedOf(t, path))
		})
	}
}

// compare matches findings with the expected ones, and reports the rest of both.
func compare(t *testing.T, findings []schema.Finding, want []expected) {
	t.Helper()
	for _, x := range want {
		i := slices.IndexFunc(findings, func(f schema.Finding) bool { return x.is(t, f) })
		if i < 0 {
			t.Errorf("not found: %+v", x)
			continue
		}
		findings = slices.Delete(findings, i, i+1)
	}
	for _, f := range findings {
		data, _ := json.Marshal(f.Data)
		t.Errorf("unexpected: %s %s at line %d: %s %s", f.Severity, f.Rule, f.Position.Line, f.Message, data)
	}
}

func (x expected) is(t *testing.T, f schema.Finding) bool {
	if f.Rule != x.Rule || f.Severity.String() != x.Severity || len(f.Data) != len(x.Data) {
		return false
	}
	if x.Place != "open" && (f.Position.Line != x.Line || f.Position.Column != x.Column) {
		return false
	}
	text, err := json.Marshal(f.Data)
	var got map[string]any
	if err == nil {
		err = json.Unmarshal(text, &got)
	}
	if err != nil {
		t.Fatal(err)
	}
	return alike(got, x.Data)
}

// alike compares values from JSON, numbers to one part in a million.
func alike(a, b any) bool {
	switch a := a.(type) {
	case float64:
		v, ok := b.(float64)
		return ok && math.Abs(a-v) <= 1e-6*math.Max(math.Abs(a), math.Abs(v))
	case []any:
		v, ok := b.([]any)
		return ok && slices.EqualFunc(a, v, alike)
	case map[string]any:
		v, ok := b.(map[string]any)
		if !ok || len(a) != len(v) {
			return false
		}
		for key, value := range a {
			if other, has := v[key]; !has || !alike(value, other) {
				return false
			}
		}
		return true
	}
	return a == b
}

// TestCorpusDataKeys checks the data and the message of every finding in the corpus.
func TestCorpusDataKeys(t *testing.T) {
	finder := settings.NewFinder(settings.Options{})
	list := All()
	for _, path := range slices.Concat(corpusDrafts(t, "faulty"), corpusDrafts(t, "guild")) {
		for _, f := range corpusFindings(t, finder, path) {
			r, err := lint.Find(list, f.Rule)
			if err != nil {
				t.Fatal(err)
			}
			checkKeys(t, r, f)
			checkMessage(t, f)
		}
	}
}

// TestJSONDraftsGiveTheSame writes the faulty drafts as JSON. They must have the same
// findings, and every place must have a pointer.
func TestJSONDraftsGiveTheSame(t *testing.T) {
	finder := settings.NewFinder(settings.Options{})
	for _, path := range corpusDrafts(t, "faulty") {
		raw, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		text, _, err := formats.Write("json", formats.Read(path, raw).Draft, formats.Options{})
		if err != nil {
			t.Fatal(err)
		}
		s, err := finder.For(path, nil)
		if err != nil {
			t.Fatal(err)
		}
		var got, want []string
		for _, f := range run(t, formats.Read(path, text), s) {
			got = append(got, figures(t, f))
			if f.Pointer == "" && f.Span.Start != 0 { // the pointer to the whole draft is empty
				t.Errorf("%s: %s has no pointer", path, f.Rule)
			}
		}
		for _, f := range corpusFindings(t, finder, path) {
			want = append(want, figures(t, f))
		}
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s as JSON gives\n  %s\nwant\n  %s", path, strings.Join(got, "\n  "), strings.Join(want, "\n  "))
		}
	}
}

func figures(t *testing.T, f schema.Finding) string {
	t.Helper()
	data, err := json.Marshal(f.Data)
	if err != nil {
		t.Fatal(err)
	}
	return f.Rule + " " + f.Severity.String() + " " + string(data)
}
