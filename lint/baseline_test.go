package lint

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

// listed is entries in a line: path, rule and fingerprint.
func listed(list []Entry) string {
	var words []string
	for _, e := range list {
		words = append(words, e.Path+" "+e.Rule+" "+e.Fingerprint)
	}
	return strings.Join(words, ", ")
}

// look is a file of a run: its path, and rule and fingerprint of each finding.
type look struct {
	path     string
	findings [][2]string
	with     string // what a finding of a rule across files names
}

// note takes a run into a baseline and gives what is new in it.
func note(b *Baseline, run []look) string {
	var fresh []Entry
	for _, l := range run {
		var findings []schema.Finding
		var prints []string
		for _, f := range l.findings {
			x := schema.Finding{Rule: f[0], Message: "wrong"}
			if l.with != "" {
				x.Data = schema.Data{{Key: "path", Value: l.with}}
			}
			findings, prints = append(findings, x), append(prints, f[1])
		}
		for i, known := range b.Note(l.path, findings, prints) {
			if !known {
				fresh = append(fresh, Entry{Path: l.path, Rule: findings[i].Rule, Fingerprint: prints[i]})
			}
		}
	}
	return listed(fresh)
}

func always(string) bool { return true }
func never(string) bool  { return false }

// renewed is a baseline after a run, read again from its text.
func renewed(t *testing.T, b *Baseline, mended []Entry) *Baseline {
	t.Helper()
	text, err := b.Renewed(mended)
	if err != nil {
		t.Fatal(err)
	}
	again, err := ParseBaseline("base.json", text)
	if err != nil {
		t.Fatalf("%v:\n%s", err, text)
	}
	return again
}

func (b *Baseline) listed() string {
	var list []Entry
	for _, e := range b.entries {
		list = append(list, e)
	}
	sortEntries(list)
	return listed(list)
}

func TestBaseline(t *testing.T) {
	first := []look{
		{"a.wif", [][2]string{{"a/one", "1"}, {"a/two", "2"}}, ""},
		{"deep/b.wif", [][2]string{{"a/one", "3"}}, ""},
		{"deep/c.wif", [][2]string{{"collection/duplicate", "4"}}, "a.wif"},
	}
	for _, test := range []struct {
		name   string
		run    []look
		chosen func(string) bool
		gone   func(string) bool
		fresh  string
		mended string
		after  string
	}{
		{"the same again", first, always, never, "", "",
			"a.wif a/one 1, a.wif a/two 2, deep/b.wif a/one 3, deep/c.wif collection/duplicate 4"},
		{"one new", []look{{"a.wif", [][2]string{{"a/one", "1"}, {"a/two", "2"}, {"a/two", "9"}}, ""}}, always, never,
			"a.wif a/two 9", "", "a.wif a/one 1, a.wif a/two 2, a.wif a/two 9, deep/b.wif a/one 3, deep/c.wif collection/duplicate 4"},
		{"one mended", []look{{"a.wif", [][2]string{{"a/two", "2"}}, ""}}, always, never,
			"", "a.wif a/one 1", "a.wif a/two 2, deep/b.wif a/one 3, deep/c.wif collection/duplicate 4"},
		{"a part of the rules", []look{{"a.wif", [][2]string{{"a/two", "2"}}, ""}}, func(rule string) bool { return rule == "a/two" }, never,
			"", "", "a.wif a/one 1, a.wif a/two 2, deep/b.wif a/one 3, deep/c.wif collection/duplicate 4"},
		{"a part of the tree", []look{{"deep/b.wif", nil, ""}}, always, never,
			"", "deep/b.wif a/one 3", "a.wif a/one 1, a.wif a/two 2, deep/c.wif collection/duplicate 4"},
		{"a file gone", []look{{"deep/b.wif", [][2]string{{"a/one", "3"}}, ""}}, always,
			func(path string) bool { return strings.HasSuffix(filepath.ToSlash(path), "/a.wif") },
			"", "a.wif a/one 1, a.wif a/two 2", "deep/b.wif a/one 3, deep/c.wif collection/duplicate 4"},
		{"a duplicate whose other is not looked at", []look{{"deep/c.wif", nil, ""}}, always, never, "", "",
			"a.wif a/one 1, a.wif a/two 2, deep/b.wif a/one 3, deep/c.wif collection/duplicate 4"},
		{"a duplicate no more", []look{{"a.wif", first[0].findings, ""}, {"deep/c.wif", nil, ""}}, always, never,
			"", "deep/c.wif collection/duplicate 4", "a.wif a/one 1, a.wif a/two 2, deep/b.wif a/one 3"},
	} {
		t.Run(test.name, func(t *testing.T) {
			b, err := NewBaseline("base.json")
			if err != nil {
				t.Fatal(err)
			}
			note(b, first)
			b = renewed(t, b, nil)
			if got := note(b, test.run); got != test.fresh {
				t.Errorf("new: %s, want %s", got, test.fresh)
			}
			mended := b.Missing(test.chosen, test.gone)
			if got := listed(mended); got != test.mended {
				t.Errorf("mended: %s, want %s", got, test.mended)
			}
			if got := renewed(t, b, mended).listed(); got != test.after {
				t.Errorf("after it: %s, want %s", got, test.after)
			}
		})
	}
}

// TestBaselineMoves makes sure that a path means the same from wherever the
// command is run.
func TestBaselineMoves(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.Mkdir("deep", 0o755); err != nil {
		t.Fatal(err)
	}
	b, _ := NewBaseline("base.json")
	note(b, []look{{filepath.Join("deep", "a.wif"), [][2]string{{"a/one", "1"}}, ""}})
	text, err := b.Renewed(nil)
	if err != nil || !strings.Contains(string(text), `"deep/a.wif"`) {
		t.Fatalf("%s, %v", text, err)
	}
	t.Chdir("deep")
	again, err := ParseBaseline(filepath.Join("..", "base.json"), text)
	if err != nil {
		t.Fatal(err)
	}
	if fresh := note(again, []look{{"a.wif", [][2]string{{"a/one", "1"}}, ""}}); fresh != "" {
		t.Errorf("new from another folder: %s", fresh)
	}
}

func TestParseBaselineErrors(t *testing.T) {
	for _, test := range []struct{ name, text, says string }{
		{"a draft", "[WIF]\n", "'base.json' is no baseline, at byte"},
		{"nothing", "", "is no baseline"},
		{"other JSON", `{"fettle": 1, "files": []}`, "is no baseline"},
		{"another version", `{"baseline": 2, "known": []}`, "no baseline of version 1"},
		{"a failed merge", "{\"baseline\": 1, \"known\": []}\n<<<<<<<\n", "behind the baseline"},
		{"cut off", `{"baseline": 1, "known": [{"path": "a`, "is no baseline"},
	} {
		t.Run(test.name, func(t *testing.T) {
			if _, err := ParseBaseline("base.json", []byte(test.text)); err == nil || !strings.Contains(err.Error(), test.says) {
				t.Errorf("got %v, want %q", err, test.says)
			}
		})
	}
}

// TestBaselineKnowsWhatItWrote takes any findings into a baseline and finds them
// all known, and nothing mended, the next time; and the text is the same again.
func TestBaselineKnowsWhatItWrote(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		run := rapid.SliceOfDistinct(rapid.Custom(func(t *rapid.T) look {
			return look{path: rapid.StringMatching(`[a-z "\\\x00\n]{1,5}\.wif`).Draw(t, "path"),
				findings: rapid.SliceOfDistinct(rapid.Custom(func(t *rapid.T) [2]string {
					return [2]string{"a/" + rapid.StringMatching(`[a-c]`).Draw(t, "rule"), rapid.StringMatching(`[0-9]`).Draw(t, "print")}
				}), func(f [2]string) [2]string { return f }).Draw(t, "findings")}
		}), func(l look) string { return l.path }).Draw(t, "run")
		b, err := NewBaseline("base.json")
		if err != nil {
			t.Fatal(err)
		}
		note(b, run)
		text, err := b.Renewed(nil)
		if err != nil {
			t.Fatal(err)
		}
		again, err := ParseBaseline("base.json", text)
		if err != nil {
			t.Fatal(err)
		}
		if fresh := note(again, run); fresh != "" {
			t.Fatalf("new: %s", fresh)
		}
		if mended := again.Missing(always, always); len(mended) > 0 {
			t.Fatalf("mended: %s", listed(mended))
		}
		if same, _ := again.Renewed(nil); string(same) != string(text) {
			t.Fatalf("%s became %s", text, same)
		}
	})
}

func FuzzParseBaseline(f *testing.F) {
	for _, text := range []string{`{"baseline": 1, "known": []}`, `{"baseline": 1, "known": [{"path": "a.wif", "rule": "a/one", "fingerprint": "1", "message": "x"}]}`, "[WIF]"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		b, err := ParseBaseline("base.json", text)
		if err != nil {
			return
		}
		once, err := b.Renewed(nil)
		if err != nil {
			t.Fatal(err)
		}
		again, err := ParseBaseline("base.json", once)
		if err != nil {
			t.Fatalf("%v: %s", err, once)
		}
		if twice, _ := again.Renewed(nil); string(twice) != string(once) {
			t.Errorf("%s became %s", once, twice)
		}
	})
}

func TestBaselineMoved(t *testing.T) {
	known := func(paths ...string) *Baseline {
		b, err := NewBaseline("base.json")
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range paths {
			note(b, []look{{path: path, findings: [][2]string{{"a/b", "1"}, {"a/c", "2"}}}})
		}
		return renewed(t, b, nil)
	}
	here := func(name string) func(string) bool {
		return func(path string) bool { return filepath.Base(path) != name }
	}
	for _, test := range []struct {
		name string
		b    *Baseline
		gone func(string) bool
		want bool
	}{
		{"all are gone", known("a.wif", "d/b.wif"), always, true},
		{"one is there", known("a.wif", "d/b.wif"), here("b.wif"), false},
		{"all are there", known("a.wif"), never, false},
		{"it knows nothing", known(), always, false},
		{"standard input", known("-"), always, false},
	} {
		if got := test.b.Moved(test.gone); got != test.want {
			t.Errorf("%s: moved %v", test.name, got)
		}
	}
}
