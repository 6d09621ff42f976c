package clean

import (
	"bytes"
	"errors"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/corpus/golden"
	"fettle/lint"
	"fettle/schema"
)

// edited is a text before and after several rounds of edits.
type edited struct {
	before, after string
	changes       []change
	trace         *trace
}

// rounds generates a text and several rounds of edits.
func rounds(t *rapid.T) edited {
	word := rapid.StringOfN(rapid.RuneFrom([]rune("ab\n\r\u00e9")), 0, 6, -1)
	e := edited{before: strings.Join(rapid.SliceOfN(word, 0, 30).Draw(t, "text"), "\n")}
	e.after = e.before
	tr := newTrace(len(e.before))
	for range rapid.IntRange(1, 4).Draw(t, "rounds") {
		var steps []step
		var edits []schema.Edit
		for at := 0; at <= len(e.after); {
			start := at + rapid.IntRange(0, 9).Draw(t, "gap")
			end := start + rapid.IntRange(0, 5).Draw(t, "size")
			if end > len(e.after) {
				break
			}
			edit := schema.Edit{Span: schema.Span{Start: start, End: end}, New: word.Draw(t, "new")}
			edits = append(edits, edit)
			steps = append(steps, step{&edit, rapid.SampledFrom([]string{"x/x", "y/y"}).Draw(t, "rule")})
			at = end + 1
		}
		text, err := lint.Apply([]byte(e.after), edits)
		if err != nil {
			t.Fatal(err)
		}
		tr.apply(steps)
		e.after = string(text)
	}
	e.changes, e.trace = tr.changes([]byte(e.before)), tr
	return e
}

// TestChangesLeadToTheResult checks that making all changes at once gives the same text
// as the rounds of edits.
func TestChangesLeadToTheResult(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := rounds(t)
		got, err := lint.Apply([]byte(e.before), editsOf(e.changes))
		if err != nil || string(got) != e.after {
			t.Fatalf("%q becomes %q, %v; want %q: %+v", e.before, got, err, e.after, e.changes)
		}
		for i, c := range e.changes {
			if len(c.Rules) == 0 || !slices.IsSorted(c.Rules) || i > 0 && c.Span.Start <= e.changes[i-1].Span.End {
				t.Fatalf("wrong rules or order: %+v", e.changes)
			}
		}
	})
}

func (e edited) result() Result {
	return Result{Source: &schema.Source{Path: "draft.wif", Raw: []byte(e.before)}, After: []byte(e.after), base: []byte(e.before), trace: e.trace}
}

// diffOf returns the diff of a result that has one.
func diffOf(t interface{ Fatal(...any) }, r *Result) string {
	diff, err := r.Diff()
	if err != nil {
		t.Fatal(err)
	}
	return string(diff)
}

var hunkHead = regexp.MustCompile(`^@@ -(\d+)(,\d+)? \+\d+(,\d+)? @@ (.+)\n$`)

// TestDiffLeadsToTheResult applies the diff as patch would and expects the result. Each
// hunk names its rules and shows no unchanged line as changed.
func TestDiffLeadsToTheResult(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := rounds(t)
		r := e.result()
		diff := diffOf(t, &r)
		if got := patched(t, e.before, diff); got != e.after {
			t.Fatalf("%q\n%s\ngives %q, want %q", e.before, diff, got, e.after)
		}
		old, changed, blocks, err := r.blocks()
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range blocks {
			if b.old.from < b.old.to && b.changed.from < b.changed.to && bytes.Equal(old.line(b.old.from), changed.line(b.changed.from)) {
				t.Fatalf("line %d doesn't change, but the diff shows it as changed:\n%s", b.old.from+1, diff)
			}
		}
	})
}

// patched applies a diff.
func patched(t interface{ Fatalf(string, ...any) }, text, diff string) string {
	old := slices.Collect(strings.Lines(text))
	var out []string
	left := 0
	lines := slices.Collect(strings.Lines(diff))
	for i, l := range lines {
		switch {
		case i < 2 && (strings.HasPrefix(l, "--- ") || strings.HasPrefix(l, "+++ ")):
		case strings.HasPrefix(l, "@@"):
			m := hunkHead.FindStringSubmatch(l)
			if m == nil {
				t.Fatalf("not the head of a hunk: %q", l)
			}
			from, _ := strconv.Atoi(m[1])
			if m[2] == ",0" {
				from++
			}
			out = append(out, old[left:from-1]...)
			left = from - 1
		case l[0] == '\\':
			if lines[i-1][0] != '-' {
				out[len(out)-1] = strings.TrimSuffix(out[len(out)-1], "\n")
			}
		case l[0] == '+':
			out = append(out, l[1:])
		case l[0] == '-', l[0] == ' ':
			if want := old[left]; want != l[1:] && want+"\n" != l[1:] {
				t.Fatalf("line %d is %q, not %q", left+1, want, l[1:])
			}
			if left++; l[0] == ' ' {
				out = append(out, l[1:])
			}
		}
	}
	return strings.Join(append(out, old[left:]...), "")
}

// TestDiffNames checks that paths are quoted as in git, so that patch changes the cleaned
// file and no other.
func TestDiffNames(t *testing.T) {
	for path, want := range map[string]string{
		"a.wif":                   "a.wif",
		"./a.wif":                 "a.wif",
		"my drafts/a b.wif":       "my drafts/a b.wif\t",
		"\u00e9.wif":              "\u00e9.wif",
		" a.wif":                  `" a.wif"`,
		"a.wif ":                  `"a.wif "`,
		"a\tb.wif":                `"a\tb.wif"`,
		"a\n--- b.wif\n+++ b.wif": `"a\n--- b.wif\n+++ b.wif"`,
		`"a".wif`:                 `"\"a\".wif"`,
		`a"`:                      `"a\""`,
		"a\xff.wif":               `"a\377.wif"`,
		"a\u202e.wif":             `"a\342\200\256.wif"`,
		"/dev/null":               `"/dev/null"`,
		"##vso[x].wif":            `"##vso\133x].wif"`,
		"## [x] ##[y].wif":        `"## [x] ##\133y].wif"`,
		"a/b.wif":                 "a/b.wif",
		"../b.wif":                "../b.wif",
	} {
		e := edited{before: "a\n", after: "b\n", trace: newTrace(2)}
		e.trace.apply([]step{{&schema.Edit{Span: schema.Span{Start: 0, End: 1}, New: "b"}, "x/x"}})
		r := e.result()
		r.Source.Path = path
		if got := diffOf(t, &r); got != "--- "+want+"\n+++ "+want+"\n@@ -1 +1 @@ x/x\n-a\n+b\n" {
			t.Errorf("%q: got %q", path, got)
		}
	}
}

// TestDiffIsOfBytes checks diffs of encodings and line endings. There is no diff if lines
// of bytes can't show the change.
func TestDiffIsOfBytes(t *testing.T) {
	latin := strings.Replace(plain, "[CONTENTS]\n", "[TEXT]\nTitle=Roseng\xe5ng\n[CONTENTS]\nTEXT=true\n", 1)
	for _, test := range []struct {
		name, raw string
		skip      []string
		holds     []string
		without   bool // there is no diff
		remarks   int
	}{
		{name: "Windows-1252", raw: latin, holds: []string{"-Title=Roseng\xe5ng\n+Title=Roseng\u00e5ng\n", "@@ file/encoding"}, remarks: 1},
		{name: "the encoding kept", raw: strings.Replace(latin, "Version=1.1\n", "Version=1.1\nDeveloper=x\n", 1), skip: []string{"file/encoding"},
			holds: []string{"\n Title=Roseng\xe5ng\n", "-Developer=x\n+Developers=x\n"}},
		{name: "mixed line endings", raw: strings.Replace(plain, "[WARP]\n", "[WARP]\r\n", 1), holds: []string{"-[WARP]\r\n+[WARP]\n"}, remarks: 1},
		{name: "a byte order mark", raw: "\ufeff" + plain, holds: []string{"-\ufeff[WIF]\n+[WIF]\n"}, remarks: 1},
		{name: "lone CR", raw: strings.ReplaceAll(plain, "\n", "\r"), without: true, remarks: 1},
		{name: "UTF-16", raw: "\xff\xfe" + strings.Join(strings.Split(plain, ""), "\x00") + "\x00", without: true, remarks: 1},
	} {
		t.Run(test.name, func(t *testing.T) {
			r := cleaned(t, cleaner(t, lint.Selection{Skip: test.skip}), test.raw)
			if len(r.Remarks()) != test.remarks {
				t.Errorf("remarks: %q", r.Remarks())
			}
			for _, remark := range r.Remarks() {
				golden.Words(t, remark)
			}
			diff, err := r.Diff()
			if test.without {
				if diff != nil || err == nil || errors.As(err, new(Unsafe)) {
					t.Fatalf("got %v and\n%s", err, diff)
				}
				golden.Words(t, err.Error())
				return
			}
			for _, part := range test.holds {
				if !strings.Contains(string(diff), part) {
					t.Errorf("%q is not in %v\n%q", part, err, diff)
				}
			}
		})
	}
}

// TestDiffIsNoCommand checks that there is no diff if a CI service would run one of its
// lines.
func TestDiffIsNoCommand(t *testing.T) {
	for _, line := range []string{"; ##vso[task.setvariable variable=a]b", "::error::x", "; a\v::error::x", "; a\u2028 ::error::x"} {
		raw := strings.Replace(plain, "[WARP]\n", "[WARP]\n"+line+"\nColour=1,\n", 1)
		r := cleaned(t, cleaner(t, lint.Selection{Skip: []string{"file/stray-line"}, Only: []string{"file/unknown-key"}}), raw)
		if diff, err := r.Diff(); !r.Changed() || diff != nil || !errors.As(err, new(Unsafe)) {
			t.Errorf("%q: changed is %v; got %v and\n%s", line, r.Changed(), err, diff)
		}
	}
}

func TestDiff(t *testing.T) {
	raw := swapped(t, "Threads=4", "Threads=4,", "[THREADING]\n1=1\n", "[THREADING]\n1=1,\n", "Version=1.1\n", "Version=1.1\nDeveloper=x\n")
	r := cleaned(t, cleaner(t, lint.Selection{}), raw)
	want := `--- draft.wif
+++ draft.wif
@@ -1,6 +1,6 @@ file/unknown-key
 [WIF]
 Version=1.1
-Developer=x
+Developers=x
 [CONTENTS]
 WEAVING=true
 WARP=true
@@ -13,14 +13,14 @@ file/stray-line
 Treadles=2
 Rising Shed=true
 [WARP]
-Threads=4,
+Threads=4
 [WEFT]
 Threads=2
 [TIEUP]
 1=1
 2=2
 [THREADING]
-1=1,
+1=1
 2=2
 3=1
 4=2
`
	if got := diffOf(t, &r); got != want {
		t.Errorf("want\n%s\ngot\n%s", want, got)
	}
	if r := cleaned(t, cleaner(t, lint.Selection{}), plain); diffOf(t, &r) != "" {
		t.Errorf("nothing changed, but the diff is\n%s", diffOf(t, &r))
	}
}
