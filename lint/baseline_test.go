package lint

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/corpus/golden"
	"fettle/schema"
	"fettle/schema/jsonschema"
	"fettle/schema/wording"
)

// knowing returns a linter whose rules know their findings by keys and a measure, by text,
// or by another file.
func knowing(t interface{ Fatal(...any) }, skip ...string) *Linter {
	l, err := New([]Rule{
		{ID: "loom/heddles", Keys: []string{"shaft"}, Measures: []Measure{{Key: "short"}}},
		{ID: "file/stray", ByText: true},
		{ID: "loom/width"},
		{ID: Duplicate},
	}, Selection{Skip: skip})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// heddles returns a finding on a shaft, stray one with a text, width one without keys,
// and copyOf one that names another file.
func heddles(shaft, short int) schema.Finding {
	return schema.Finding{Rule: "loom/heddles", Data: schema.Data{{Key: "shaft", Value: shaft}, {Key: "short", Value: short}}}
}

func stray(n int) schema.Finding {
	return schema.Finding{Rule: "file/stray", Span: schema.Span{Start: n, End: n + 1}, Data: schema.Data{{Key: "n", Value: n}}}
}

func width() schema.Finding {
	return schema.Finding{Rule: "loom/width", Data: schema.Data{{Key: "mm", Value: 3}}}
}

func copyOf(path string) schema.Finding {
	return schema.Finding{Rule: Duplicate, OtherFile: path, Data: schema.Data{{Key: "path", Value: wording.PathName(path)}, {Key: "how", Value: "identical"}}}
}

// checked is a file that a run has read.
type checked struct {
	path, sum string
	findings  []schema.Finding
}

// note records a run in a baseline and returns the findings that aren't known.
func note(b *Baseline, run []checked) string {
	var words []string
	for _, l := range run {
		src := source("abcdefghijklmnopqrstuvwxyz")
		for i, m := range b.Note(File{l.path, l.sum, src, l.findings}, func(path string) string { return path }) {
			if m.State != Known {
				words = append(words, l.path+" "+l.findings[i].Rule+map[State]string{Unknown: "", Worse: " worse"}[m.State])
			}
		}
	}
	return strings.Join(words, ", ")
}

func always(string) bool { return true }
func never(string) bool  { return false }

func only(gone ...string) func(string) bool {
	return func(path string) bool { return slices.Contains(gone, path) }
}

// listed returns entries in one line: path, rule and count.
func listed(list []Entry) string {
	var words []string
	for _, e := range list {
		word := e.Path + " " + e.Rule
		if data := parseBaselineData(e.Data); data["short"] != nil {
			word += fmt.Sprintf(" %v:%v", data["shaft"], data["short"])
		}
		if e.Count > 1 {
			word += fmt.Sprintf(" x%d", e.Count)
		}
		words = append(words, word)
	}
	return strings.Join(words, ", ")
}

// renewed returns the baseline after a run, read back from its text.
func renewed(t *testing.T, b *Baseline, gone func(string) bool) *Baseline {
	t.Helper()
	text, err := b.Renewed(gone)
	if err != nil {
		t.Fatal(err)
	}
	if wrong, err := jsonschema.Validate("baseline", text); err != nil || len(wrong) > 0 {
		t.Errorf("against its schema: %v, %v\n%s", err, wrong, text)
	}
	again, err := ReadBaseline(bytes.NewReader(text), "base.json", knowing(t))
	if err != nil {
		t.Fatalf("%v:\n%s", err, text)
	}
	return again
}

func (b *Baseline) listed() string {
	var list []Entry
	for path, of := range b.entries {
		for id, more := range of {
			for _, e := range more {
				list = append(list, Entry{path, id.rule, id.fingerprint, e.data, e.count})
			}
		}
	}
	sortEntries(list)
	return listed(list)
}

// baselineOf returns a baseline that knows a run.
func baselineOf(t *testing.T, run []checked) *Baseline {
	t.Helper()
	b := NewBaseline(knowing(t))
	note(b, run)
	return renewed(t, b, never)
}

func TestBaseline(t *testing.T) {
	f := func(findings ...schema.Finding) []schema.Finding { return findings }
	first := []checked{
		{"a.wif", "1", f(heddles(3, 12), stray(1), stray(1))},
		{"deep/b.wif", "2", f(width())},
		{"deep/c.wif", "3", f(copyOf("a.wif"))},
	}
	const all = "a.wif file/stray x2, a.wif loom/heddles 3:12, deep/b.wif loom/width, deep/c.wif collection/duplicate"
	for _, test := range []struct {
		name    string
		run     []checked
		skip    []string
		gone    func(string) bool
		fresh   string
		missing string
		after   string
	}{
		{"the same again", first, nil, never, "", "", all},
		{"moved in the file", []checked{{"a.wif", "4", f(stray(1), heddles(3, 12), stray(1))}}, nil, never, "", "", all},
		{"another shaft", []checked{{"a.wif", "4", f(heddles(3, 12), heddles(4, 1), stray(1), stray(1))}}, nil, never,
			"a.wif loom/heddles", "", strings.Replace(all, "3:12,", "3:12, a.wif loom/heddles 4:1,", 1)},
		{"worse", []checked{{"a.wif", "4", f(heddles(3, 13), stray(1), stray(1))}}, nil, never,
			"a.wif loom/heddles worse", "", strings.Replace(all, "3:12", "3:13", 1)},
		{"less bad", []checked{{"a.wif", "4", f(heddles(3, 2), stray(1), stray(1))}}, nil, never,
			"", "", strings.Replace(all, "3:12", "3:2", 1)},
		{"one more of the same text", []checked{{"a.wif", "4", f(heddles(3, 12), stray(1), stray(1), stray(1))}}, nil, never,
			"a.wif file/stray", "", strings.Replace(all, "x2", "x3", 1)},
		{"one fewer of the same text", []checked{{"a.wif", "4", f(heddles(3, 12), stray(1))}}, nil, never,
			"", "a.wif file/stray", strings.Replace(all, " x2", "", 1)},
		{"another text", []checked{{"a.wif", "4", f(heddles(3, 12), stray(1), stray(2))}}, nil, never,
			"a.wif file/stray", "a.wif file/stray", strings.Replace(all, " x2", ", a.wif file/stray", 1)},
		{"one fixed", []checked{{"a.wif", "4", f(stray(1), stray(1))}}, nil, never,
			"", "a.wif loom/heddles 3:12", strings.Replace(all, "a.wif loom/heddles 3:12, ", "", 1)},
		{"a part of the rules", []checked{{"a.wif", "4", f(stray(1), stray(1))}}, []string{"loom"}, never, "", "", all},
		{"a part of the tree", []checked{{"deep/b.wif", "5", nil}}, nil, never,
			"", "deep/b.wif loom/width", strings.Replace(all, "deep/b.wif loom/width, ", "", 1)},
		{"a file gone", []checked{first[1]}, nil, only("a.wif"),
			"", "a.wif file/stray x2, a.wif loom/heddles 3:12", "deep/b.wif loom/width, deep/c.wif collection/duplicate"},
		{"all files gone", nil, nil, always, "", all, ""},
		{"a duplicate whose other is not checked", []checked{{"deep/c.wif", "3", nil}}, nil, never, "", "", all},
		{"a duplicate no more", []checked{first[0], {"deep/c.wif", "3", nil}}, nil, never,
			"", "deep/c.wif collection/duplicate", strings.TrimSuffix(all, ", deep/c.wif collection/duplicate")},
		{"a duplicate of another", []checked{{"deep/c.wif", "3", f(copyOf("b.wif"))}}, nil, never, "", "", all},
	} {
		t.Run(test.name, func(t *testing.T) {
			b := baselineOf(t, first)
			b.linter = knowing(t, test.skip...)
			if got := note(b, test.run); got != test.fresh {
				t.Errorf("new: %s, want %s", got, test.fresh)
			}
			if got := listed(b.Missing(test.gone)); got != test.missing {
				t.Errorf("missing: %s, want %s", got, test.missing)
			}
			if got := renewed(t, b, test.gone).listed(); got != test.after {
				t.Errorf("after it: %s, want %s", got, test.after)
			}
		})
	}
}

// TestBaselineMatchesBest checks that findings with equal keys match entries that were as
// bad, so that as few as possible count as worse.
func TestBaselineMatchesBest(t *testing.T) {
	b := baselineOf(t, []checked{{"a.wif", "1", []schema.Finding{heddles(1, 5), heddles(1, 9)}}})
	for _, test := range []struct {
		shorts []int
		want   string
	}{
		{[]int{9, 5}, ""},
		{[]int{7, 5}, ""},
		{[]int{9, 10}, "a.wif loom/heddles worse"},
		{[]int{10, 11}, "a.wif loom/heddles worse, a.wif loom/heddles worse"},
		{[]int{5, 9, 1}, "a.wif loom/heddles"},
	} {
		var findings []schema.Finding
		for _, short := range test.shorts {
			findings = append(findings, heddles(1, short))
		}
		if got := note(b, []checked{{"a.wif", "1", findings}}); got != test.want {
			t.Errorf("%v: %s, want %s", test.shorts, got, test.want)
		}
	}
}

func TestBaselineMoves(t *testing.T) {
	f := func(findings ...schema.Finding) []schema.Finding { return findings }
	a := checked{"a.wif", "1", f(heddles(3, 12), width())}
	b := checked{"deep/b.wif", "2", f(width())}
	at := func(path string, l checked) checked { return checked{path, l.sum, l.findings} }
	edited := func(l checked, findings ...schema.Finding) checked {
		return checked{l.path, l.sum + " edited", findings}
	}
	for _, test := range []struct {
		name  string
		known []checked
		run   []checked
		gone  func(string) bool
		moved int
		fresh string
		after string
	}{
		{"renamed", []checked{a, b}, []checked{at("z.wif", a), b}, only("a.wif"), 1, "",
			"deep/b.wif loom/width, z.wif loom/heddles 3:12, z.wif loom/width"},
		{"moved to a folder", []checked{a, b}, []checked{at("deep/a.wif", a), b}, only("a.wif"), 1, "",
			"deep/a.wif loom/heddles 3:12, deep/a.wif loom/width, deep/b.wif loom/width"},
		{"copied", []checked{a}, []checked{a, at("z.wif", a)}, never, 0, "z.wif loom/heddles, z.wif loom/width",
			"a.wif loom/heddles 3:12, a.wif loom/width, z.wif loom/heddles 3:12, z.wif loom/width"},
		{"copied, and the first is not in this run", []checked{a}, []checked{at("z.wif", a)}, never, 0, "z.wif loom/heddles, z.wif loom/width",
			"a.wif loom/heddles 3:12, a.wif loom/width, z.wif loom/heddles 3:12, z.wif loom/width"},
		{"moved, and copied", []checked{a}, []checked{at("y.wif", a), at("z.wif", a)}, only("a.wif"), 1, "z.wif loom/heddles, z.wif loom/width",
			"y.wif loom/heddles 3:12, y.wif loom/width, z.wif loom/heddles 3:12, z.wif loom/width"},
		{"moved, and copied under its own name", []checked{a}, []checked{at("aa.wif", a), at("deep/a.wif", a)}, only("a.wif"), 1,
			"aa.wif loom/heddles, aa.wif loom/width",
			"aa.wif loom/heddles 3:12, aa.wif loom/width, deep/a.wif loom/heddles 3:12, deep/a.wif loom/width"},
		{"two of a kind moved", []checked{a, at("b.wif", a)}, []checked{at("y.wif", a), at("z.wif", a)}, only("a.wif", "b.wif"), 2, "",
			"y.wif loom/heddles 3:12, y.wif loom/width, z.wif loom/heddles 3:12, z.wif loom/width"},
		{"two of a kind, one moved and one gone", []checked{a, at("b.wif", a)}, []checked{at("z.wif", a)}, only("a.wif", "b.wif"), 1, "",
			"z.wif loom/heddles 3:12, z.wif loom/width"},
		{"two changed places", []checked{a, b}, []checked{at("a.wif", b), at("deep/b.wif", a)}, never, 0, "deep/b.wif loom/heddles",
			"a.wif loom/width, deep/b.wif loom/heddles 3:12, deep/b.wif loom/width"},
		{"moved to a folder and edited", []checked{a}, []checked{edited(at("deep/a.wif", a), heddles(3, 12))}, only("a.wif"), 1, "",
			"deep/a.wif loom/heddles 3:12"},
		{"moved to a folder and made worse", []checked{a}, []checked{edited(at("deep/a.wif", a), heddles(3, 13), width())}, only("a.wif"), 1,
			"deep/a.wif loom/heddles worse", "deep/a.wif loom/heddles 3:13, deep/a.wif loom/width"},
		{"moved and edited, a part of the rules", []checked{{"a.wif", "1", f(heddles(3, 12), stray(1), stray(2), stray(3))}}, []checked{{"deep/a.wif", "2", f(heddles(3, 12))}},
			only("a.wif"), 1, "", "deep/a.wif file/stray, deep/a.wif file/stray, deep/a.wif file/stray, deep/a.wif loom/heddles 3:12"},
		{"another file of that name", []checked{a}, []checked{edited(at("deep/a.wif", a), heddles(1, 1), stray(1))}, only("a.wif"), 0,
			"deep/a.wif loom/heddles, deep/a.wif file/stray", "deep/a.wif file/stray, deep/a.wif loom/heddles 1:1"},
		{"renamed and edited", []checked{a}, []checked{edited(at("z.wif", a), heddles(3, 12), width())}, only("a.wif"), 0,
			"z.wif loom/heddles, z.wif loom/width", "z.wif loom/heddles 3:12, z.wif loom/width"},
		{"a folder of files alike in name, edited", []checked{at("x/1/a.wif", a), at("x/2/a.wif", a)},
			[]checked{edited(at("y/1/a.wif", a), heddles(3, 12), width()), edited(at("y/2/a.wif", a), heddles(3, 12), width())},
			only("x/1/a.wif", "x/2/a.wif"), 2, "",
			"y/1/a.wif loom/heddles 3:12, y/1/a.wif loom/width, y/2/a.wif loom/heddles 3:12, y/2/a.wif loom/width"},
		{"moved, a part of the rules", []checked{{"a.wif", "1", f(width(), stray(1))}}, []checked{{"z.wif", "1", f(width())}}, only("a.wif"), 1, "",
			"z.wif file/stray, z.wif loom/width"},
		{"the other of a duplicate moved", []checked{a, {"c.wif", "3", f(copyOf("a.wif"))}}, []checked{at("z.wif", a)}, only("a.wif"), 1, "",
			"c.wif collection/duplicate, z.wif loom/heddles 3:12, z.wif loom/width"},
	} {
		t.Run(test.name, func(t *testing.T) {
			b := baselineOf(t, test.known)
			if strings.HasSuffix(test.name, ", a part of the rules") {
				b.linter = knowing(t, "file")
			}
			var present []string
			sums := map[string]string{}
			for _, l := range test.run {
				present = append(present, l.path)
				sums[l.path] = l.sum
			}
			b.Move(present, test.gone, func(path string) string { return sums[path] })
			if got := note(b, test.run); got != test.fresh {
				t.Errorf("new: %s, want %s", got, test.fresh)
			}
			if got := b.Moved(); got != test.moved {
				t.Errorf("%d moved, want %d", got, test.moved)
			}
			after := renewed(t, b, test.gone)
			if got := after.listed(); got != test.after {
				t.Errorf("after it: %s, want %s", got, test.after)
			}
			if fresh := note(after, test.run); fresh != "" {
				t.Errorf("new the next time: %s", fresh)
			}
		})
	}
}

// TestBaselineMovedOther moves the other file of a duplicate. Its entry moves too, and is
// missing after the duplicate is fixed.
func TestBaselineMovedOther(t *testing.T) {
	b := baselineOf(t, []checked{{"a.wif", "1", []schema.Finding{width()}}, {"c.wif", "3", []schema.Finding{copyOf("a.wif")}}})
	run := []checked{{"z.wif", "1", []schema.Finding{width()}}}
	b.Move([]string{"z.wif"}, only("a.wif"), func(string) string { return "1" })
	note(b, run)
	after := renewed(t, b, only("a.wif"))
	note(after, []checked{run[0], {"c.wif", "4", nil}})
	if got := listed(after.Missing(never)); got != "c.wif collection/duplicate" {
		t.Errorf("missing: %s", got)
	}
}

func TestReadBaselineErrors(t *testing.T) {
	for _, test := range []struct{ name, text string }{
		{"a draft", "[WIF]\n"},
		{"nothing", ""},
		{"other JSON", `{"fettle": 1, "files": []}`},
		{"another version", `{"baseline": 1, "known": []}`},
		{"a failed merge", "{\"baseline\": 2, \"files\": [], \"known\": []}\n<<<<<<<\n"},
		{"cut off", `{"baseline": 2, "files": [], "known": [{"path": "a`},
		{"an entry with something else", `{"baseline": 2, "files": [], "known": [{"pfad": "a"}]}`},
		{"a damaged path", `{"baseline": 2, "files": [], "known": [{"path": "\"a"}]}`},
		{"fewer than none", `{"baseline": 2, "files": [], "known": [{"path": "a", "count": -1}]}`},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, err := ReadBaseline(strings.NewReader(test.text), "base.json", knowing(t))
			if err == nil {
				t.Fatal("read without an error")
			}
			golden.Words(t, err.Error())
		})
	}
}

// TestReadBaselineMerged reads duplicate lines, as left by a merge, as one.
func TestReadBaselineMerged(t *testing.T) {
	const line = `{"path": "a.wif", "rule": "loom/width", "fingerprint": "1", "data": {}, "count": 2}`
	text := `{"baseline": 2, "files": [], "known": [` + line + "," + strings.Replace(line, "2", "3", 1) + `]}`
	b, err := ReadBaseline(strings.NewReader(text), "base.json", knowing(t))
	if err != nil || b.listed() != "a.wif loom/width x3" {
		t.Errorf("%v, %v", b.listed(), err)
	}
}

// TestReadBaselineOfAnySize reads a baseline larger than any draft.
func TestReadBaselineOfAnySize(t *testing.T) {
	const line = `{"path": "a.wif", "rule": "loom/width", "fingerprint": "1", "data": {}}`
	blank := &blanks{left: 65 << 20}
	text := io.MultiReader(strings.NewReader(`{"baseline": 2, "files": [], "known": [`+line+`,`), blank, strings.NewReader(strings.Replace(line, "a.wif", "b.wif", 1)+`]}`))
	b, err := ReadBaseline(text, "base.json", knowing(t))
	if err != nil || b.listed() != "a.wif loom/width, b.wif loom/width" || blank.left != 0 {
		t.Errorf("%v, %d left", err, blank.left)
	}
}

// blanks is a reader of many spaces.
type blanks struct{ left int }

func (b *blanks) Read(to []byte) (int, error) {
	n := min(len(to), b.left)
	if b.left -= n; n == 0 {
		return 0, io.EOF
	}
	for i := range to[:n] {
		to[i] = ' '
	}
	return n, nil
}

// TestBaselineKnowsWhatItWrote records random findings twice. The second time all are
// known, none is missing, and the text is the same.
func TestBaselineKnowsWhatItWrote(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		run := rapid.SliceOfDistinct(rapid.Custom(func(t *rapid.T) checked {
			return checked{path: string(rapid.SliceOfN(rapid.Byte(), 1, 4).Draw(t, "path")), sum: rapid.StringMatching(`[0-3]`).Draw(t, "sum"),
				findings: rapid.SliceOf(rapid.OneOf(
					rapid.Map(rapid.IntRange(0, 3), func(n int) schema.Finding { return heddles(n%2, n) }),
					rapid.Map(rapid.IntRange(0, 3), stray), rapid.Just(width()), rapid.Just(copyOf("a\xff.wif")))).Draw(t, "findings")}
		}), func(l checked) string { return l.path }).Draw(t, "run")
		b := NewBaseline(knowing(t))
		note(b, run)
		text, err := b.Renewed(always)
		if err != nil {
			t.Fatal(err)
		}
		again, err := ReadBaseline(bytes.NewReader(text), "base.json", knowing(t))
		if err != nil {
			t.Fatal(err)
		}
		if fresh := note(again, run); fresh != "" {
			t.Fatalf("new: %s", fresh)
		}
		if missing := again.Missing(always); len(missing) > 0 {
			t.Fatalf("missing: %s", listed(missing))
		}
		if same, _ := again.Renewed(always); string(same) != string(text) {
			t.Fatalf("%s became %s", text, same)
		}
	})
}

func FuzzReadBaseline(f *testing.F) {
	for _, text := range []string{`{"baseline": 2, "files": [], "known": []}`,
		`{"baseline": 2, "files": [{"path": "a.wif", "sha256": "00"}], "known": [{"path": "a.wif", "rule": "a/one", "fingerprint": "1", "data": {"x": [1]}, "count": 2}]}`, "[WIF]"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		b, err := ReadBaseline(bytes.NewReader(text), "base.json", knowing(t))
		if err != nil {
			return
		}
		once, err := b.Renewed(never)
		if err != nil {
			t.Fatal(err)
		}
		again, err := ReadBaseline(bytes.NewReader(once), "base.json", knowing(t))
		if err != nil {
			t.Fatalf("%v: %s", err, once)
		}
		if twice, _ := again.Renewed(never); string(twice) != string(once) {
			t.Errorf("%s became %s", once, twice)
		}
	})
}
