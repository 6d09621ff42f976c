package clean

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettle/corpus/golden"
	"fettle/lint"
	"fettle/schema"
)

// plain is a draft without anything to fix.
const plain = `[WIF]
Version=1.1
[CONTENTS]
WEAVING=true
WARP=true
WEFT=true
TIEUP=true
THREADING=true
TREADLING=true
[WEAVING]
Shafts=2
Treadles=2
Rising Shed=true
[WARP]
Threads=4
[WEFT]
Threads=2
[TIEUP]
1=1
2=2
[THREADING]
1=1
2=2
3=1
4=2
[TREADLING]
1=1
2=2
`

// swapped returns the plain draft with some pieces replaced: old, new, old, new.
func swapped(t testing.TB, pairs ...string) string {
	t.Helper()
	text := plain
	for p := range slices.Chunk(pairs, 2) {
		if strings.Count(text, p[0]) != 1 {
			t.Fatalf("%q appears %d times", p[0], strings.Count(text, p[0]))
		}
		text = strings.Replace(text, p[0], p[1], 1)
	}
	return text
}

func TestSmallestEdits(t *testing.T) {
	for _, c := range []struct {
		name         string
		dirty, fixed []string // pieces to swap in the plain draft
		risky        bool
		made         string
	}{
		{name: "nothing to fix"},
		{name: "a stray line", dirty: []string{"3=1\n", "3=1\nthe rest as before\n"},
			fixed: []string{"3=1\n", "3=1\n; the rest as before\n"}, made: "file/stray-line 1"},
		{name: "a comma at the end, then a comment", dirty: []string{"Threads=4", "Threads=4, ; four"},
			fixed: []string{"Threads=4", "; four\nThreads=4"}, made: "file/stray-line 1"},
		{name: "commas after values that fettle keeps unread", dirty: []string{"Threads=4", "Threads=4\nColor=1,255,0,0,\nSymbol Number=3,, ; x\nSymbol=,"},
			fixed: []string{"Threads=4", "Threads=4\nColor=1,255,0,0\n; x\nSymbol Number=3\nSymbol=,"}, made: "file/stray-line 2"},
		{name: "a comment after a count of colors, and an abbreviated unit", dirty: []string{"Threads=4", "Threads=4\nUnits=cm, ; so\n[COLOR PALETTE]\nEntries=0 ; none\nForm=Symbolic,", "WEFT=true", "WEFT=true\nCOLOR PALETTE=yes,;x"},
			fixed: []string{"Threads=4", "Threads=4\n; so\nUnits=Centimeters\n[COLOR PALETTE]\n; none\nEntries=0\nForm=Symbolic", "WEFT=true", "WEFT=true\n; x\nCOLOR PALETTE=yes"}, made: "file/bad-value 1, file/stray-line 4"},
		{name: "a version with a comment", dirty: []string{"Version=1.1", "Version=1.1 ; of 1997"}, fixed: []string{"Version=1.1", "; of 1997\nVersion=1.1"}, made: "file/stray-line 1"},
		{name: "an ignore after a value, and one after a bracket", dirty: []string{"Threads=4", "Threads=4 ; fettle: ignore cloth/long-float - meant", "[TIEUP]", "[TIEUP] fettle: ignore cloth/layers"},
			fixed: []string{"Threads=4", "; fettle: ignore cloth/long-float - meant\nThreads=4", "[TIEUP]", "[TIEUP]\n; fettle: ignore cloth/layers"}, made: "file/stray-line 2"},
		{name: "an ignore without its semicolon", dirty: []string{"3=1\n", "3=1\nfettle: ignore cloth/long-float\n"},
			fixed: []string{"3=1\n", "3=1\n; fettle: ignore cloth/long-float\n"}, made: "file/stray-line 1"},
		{name: "a comment after the bracket of a private section", dirty: []string{"[WEAVING]", "[PRIVATE a] ; ours\nb=c,\n[WEAVING]", "WEAVING=true", "PRIVATE A=true\nWEAVING=true"},
			fixed: []string{"[WEAVING]", "[PRIVATE a]\n; ours\nb=c,\n[WEAVING]", "WEAVING=true", "PRIVATE A=true\nWEAVING=true"}, made: "file/stray-line 1"},
		{name: "a semicolon after a bracket", dirty: []string{"[TIEUP]", "[TIEUP] ; ;"}, fixed: []string{"[TIEUP]", "[TIEUP]"}, made: "file/stray-line 1"},
		{name: "a duplicate row with a comment", risky: true, dirty: []string{"3=1\n", "3=1\n1=2, ; again\n"}, fixed: []string{"3=1\n", "3=1\n; again\n; 1=2\n"}, made: "file/duplicate-key 1, file/stray-line 1"},
		{name: "a duplicate color that can't be read", risky: true, dirty: []string{"[TIEUP]\n", "[COLOR PALETTE]\nEntries=1\n[COLOR TABLE]\n1=red\n1=999,0,0\n[TIEUP]\n", "TIEUP=true\n", "TIEUP=true\nCOLOR PALETTE=true\nCOLOR TABLE=true\n"},
			fixed: []string{"[TIEUP]\n", "[COLOR PALETTE]\nEntries=1\n[COLOR TABLE]\n1=red\n; 1=999,0,0\n[TIEUP]\n", "TIEUP=true\n", "TIEUP=true\nCOLOR PALETTE=true\nCOLOR TABLE=true\n"}, made: "file/duplicate-key 1"},
		{name: "duplicate sections with comments after their brackets", dirty: []string{"3=1\n", "[THREADING] ; more\n3=1\n", "[WEFT]\n", "[TIEUP] ; late\n; x\n2=2\n[WEFT]\n", "[TIEUP]\n1=1\n2=2\n", "[TIEUP]\n1=1\n"},
			fixed: []string{"3=1\n", "; more\n3=1\n", "[WEFT]\n", "[TIEUP]\n; late\n; x\n2=2\n1=1\n[WEFT]\n", "[TIEUP]\n1=1\n2=2\n", ""}, made: "file/duplicate-section 2, file/stray-line 1"},
		{name: "a section that CONTENTS denies, with a comment", dirty: []string{"WARP=true", "WARP=false, ; none"}, fixed: []string{"WARP=true", "; none\nWARP=true"}, made: "file/contents 1, file/stray-line 1"},
		{name: "a comment after a bracket, and a misspelt name", dirty: []string{"[THREADING]", "[THREDING] ; so"},
			fixed: []string{"[THREADING]", "[THREADING]\n; so"}, made: "file/stray-line 1, file/unknown-section 1"},
		{name: "a misspelt key", dirty: []string{"Treadles", "Tredles"}, made: "file/unknown-key 1"},
		{name: "a duplicate key", dirty: []string{"Shafts=2\n", "Shafts=2\nShafts=2\n"},
			fixed: []string{"Shafts=2\n", "Shafts=2\n; Shafts=2\n"}, made: "file/duplicate-key 1"},
		{name: "a duplicate key with another value waits", dirty: []string{"Shafts=2\n", "Shafts=2\nShafts=9\n"}, fixed: []string{"Shafts=2\n", "Shafts=2\nShafts=9\n"}},
		{name: "a duplicate key with another value", risky: true, dirty: []string{"Shafts=2\n", "Shafts=2\nShafts=9\n"},
			fixed: []string{"Shafts=2\n", "Shafts=2\n; Shafts=9\n"}, made: "file/duplicate-key 1"},
		{name: "a duplicate section, apart", dirty: []string{"[WEAVING]\nShafts=2\n", "[WEAVING]\n", "Threads=2\n", "Threads=2\n[WEAVING]\nShafts=2\n"},
			fixed: []string{"Shafts=2\nTreadles=2\nRising Shed=true\n", "Treadles=2\nRising Shed=true\nShafts=2\n"}, made: "file/duplicate-section 1"},
		{name: "a duplicate section, right after the first", dirty: []string{"3=1\n", "[THREADING]\n3=1\n"}, made: "file/duplicate-section 1"},
		{name: "a decimal comma", dirty: []string{"Threads=4", "Threads=4\nSpacing=36,5"},
			fixed: []string{"Threads=4", "Threads=4\nSpacing=36.5"}, made: "file/decimal-comma 1"},
		{name: "a missing section WIF", dirty: []string{"[WIF]\nVersion=1.1\n", ""},
			fixed: []string{"Version=1.1\n", "Version=1.1\nDate=April 20, 1997\nDevelopers=wif@mhsoft.com\nSource Program=fettle\nSource Version=1\n\n"}, made: "file/missing-section 1"},
		{name: "a section that CONTENTS doesn't list", dirty: []string{"WARP=true\n", ""},
			fixed: []string{"WARP=true\n", "", "TREADLING=true\n", "TREADLING=true\nWARP=true\n"}, made: "file/contents 1"},
		{name: "sections that CONTENTS doesn't list", dirty: []string{"WARP=true\nWEFT=true\nTIEUP=true\n", ""},
			fixed: []string{"WARP=true\nWEFT=true\nTIEUP=true\n", "", "TREADLING=true\n", "TREADLING=true\nWARP=true\nWEFT=true\nTIEUP=true\n"}, made: "file/contents 3"},
		{name: "too few shafts and treadles declared", dirty: []string{"Shafts=2\nTreadles=2", "Shafts=1 ; only\nTreadles=1"},
			fixed: []string{"Shafts=2\n", "; only\nShafts=2\n"}, made: "draft/shaft-count 1, draft/treadle-count 1, file/stray-line 1"},
		{name: "too few ends declared", risky: true, dirty: []string{"Threads=4", "Threads=3"}, made: "draft/thread-count 1"},
		{name: "an impossible count", risky: true, dirty: []string{"Treadles=2", "Treadles=99999999"},
			fixed: []string{"Treadles=2", "; Treadles=99999999"}, made: "file/index 1"},
		{name: "a row numbered 0", risky: true, dirty: []string{"[TIEUP]\n", "[TIEUP]\n0=1\n"}, fixed: []string{"[TIEUP]\n", "[TIEUP]\n; 0=1\n"}, made: "file/index 1"},

		{name: "an unknown version waits", dirty: []string{"1.1", "3"}, fixed: []string{"1.1", "3"}},
		{name: "an unknown version", risky: true, dirty: []string{"1.1", "3"}, made: "file/version 1"},
		{name: "an unstated shed waits", dirty: []string{"Rising Shed=true\n", ""}, fixed: []string{"Rising Shed=true\n", ""}},
		{name: "an unstated shed", risky: true, dirty: []string{"Rising Shed=true\n", ""}, made: "draft/shed-unstated 1"},
		{name: "fewer picks than declared", risky: true, dirty: []string{"Threads=2", "Threads=3"}, made: "draft/thread-count 1"},
		{name: "a shaft without an end", risky: true, dirty: []string{"Shafts=2", "Shafts=3", "1=1\n2=2\n3=1\n4=2", "1=1\n2=3\n3=1\n4=3", "1=1\n2=2\n[THR", "1=1,2\n2=3\n[THR"},
			made: "draft/unused-shaft 1"},
		{name: "a treadle never pressed", risky: true, dirty: []string{"Treadles=2", "Treadles=3", "1=1\n2=2\n[THR", "1=1\n2=1,2\n; spare\n3=2\n[THR", "[TREADLING]\n1=1\n2=2", "[TREADLING]\n1=1\n2=3"},
			fixed: []string{"1=1\n2=2\n[THR", "1=1\n; spare\n2=2\n[THR"}, made: "draft/unused-treadle 1"},
		{name: "a tie-up typed sideways, of more treadles", risky: true, dirty: []string{"Treadles=2", "Treadles=3", "[TIEUP]\n1=1\n2=2\n", "[TIEUP]\n; by shafts\n1=1,3\n2=2,3\n", "Threads=2", "Threads=3", "[TREADLING]\n1=1\n2=2\n", "[TREADLING]\n1=1\n2=2\n3=3\n"},
			fixed: []string{"Treadles=2", "Treadles=3", "[TIEUP]\n1=1\n2=2\n", "[TIEUP]\n; by shafts\n1=1\n2=2\n3=1,2\n", "Threads=2", "Threads=3", "[TREADLING]\n1=1\n2=2\n", "[TREADLING]\n1=1\n2=2\n3=3\n"}, made: "draft/sideways-tieup 1"},
		{name: "a tie-up typed sideways, of fewer treadles", risky: true, dirty: []string{"Shafts=2", "Shafts=3", "1=1\n2=2\n3=1\n4=2", "1=1\n2=2\n3=3\n4=2", "[TIEUP]\n1=1\n2=2\n", "[TIEUP]\n1=1\n2=2\n3=1\n"},
			fixed: []string{"Shafts=2", "Shafts=3", "1=1\n2=2\n3=1\n4=2", "1=1\n2=2\n3=3\n4=2", "[TIEUP]\n1=1\n2=2\n", "[TIEUP]\n1=1,3\n2=2\n"}, made: "draft/sideways-tieup 1"},
		{name: "a lift plan that disagrees with the treadles", risky: true, dirty: []string{"1=1\n2=2\n[THR", "1=2\n; of old\n2=1\n[THR", "TREADLING=true\n", "TREADLING=true\nLIFTPLAN=true\n", "[TREADLING]\n1=1\n2=2\n", "[TREADLING]\n1=1\n2=2\n[LIFTPLAN]\n1=1\n2=2\n"},
			fixed: []string{"[TIEUP]\n1=1\n2=2\n", "; of old\n", "TIEUP=true", "TIEUP=false", "TREADLING=true\n", "TREADLING=false\nLIFTPLAN=true\n", "[TREADLING]\n1=1\n2=2\n", "[LIFTPLAN]\n1=1\n2=2\n"},
			made:  "draft/lift-conflict 1, file/contents 2"},
	} {
		t.Run(c.name, func(t *testing.T) {
			cl := cleaner(t, lint.Selection{})
			cl.Risky = c.risky
			r := cleaned(t, cl, swapped(t, c.dirty...))
			if diff := cmp.Diff(swapped(t, c.fixed...), string(r.After)); diff != "" {
				t.Errorf("want (-), got (+):\n%s", diff)
			}
			if r.Made.String() != c.made || len(r.Refused) > 0 {
				t.Errorf("made %q, want %q; refused: %q", r.Made, c.made, r.Refused)
			}
			if strings.HasSuffix(c.name, "waits") != (r.Waiting.Sum() == 1) {
				t.Errorf("waiting: %q", r.Waiting)
			}
		})
	}
}

// TestPartsOfARiskyFixAreOneLine turns many impossible rows into comments and expects one
// line for all of them.
func TestPartsOfARiskyFixAreOneLine(t *testing.T) {
	raw := swapped(t, "[THREADING]\n1=1\n", "[THREADING]\n1=1\n9000000=1\n9000001=1\n9000002=1\n")
	c := cleaner(t, lint.Selection{Only: []string{schema.FileIndex}})
	c.Risky = true
	r := cleaned(t, c, raw)
	if len(r.Risks) != 1 || !strings.Contains(r.Risks[0], "2 other places") || len(r.Refused) > 0 || strings.Count(string(r.After), "; 900000") != 3 {
		t.Errorf("risks %q; refused %v;\n%s", r.Risks, r.Refused, r.After)
	}
}

func TestRiskyFixesAreReported(t *testing.T) {
	c := cleaner(t, lint.Selection{})
	c.Risky = true
	r := cleaned(t, c, swapped(t, "Threads=2", "Threads=3", "Rising Shed=true\n", "", "WARP=true\nWEFT=true\n", "", "Threads=4", "Threads=4;x"))
	for i, part := range []string{"(draft/shed-unstated)", "(draft/thread-count)", "2 picks"} {
		if len(r.Risks) != 3 || !strings.Contains(r.Risks[i], part) {
			t.Fatalf("risks %q", r.Risks)
		}
	}
	golden.Words(t, strings.Join(r.Risks, "\n"))
}

func TestEncodings(t *testing.T) {
	titled := swapped(t, "[WEAVING]", "[TEXT]\nTitle=Gr\u00fcn\n[WEAVING]", "WEAVING=true", "TEXT=true\nWEAVING=true", "Threads=4", "Threads=4,")
	old := strings.ReplaceAll(titled, "\u00fc", "\xfc")
	for _, c := range []struct{ name, raw, want, skip string }{
		{"Windows-1252", old, strings.Replace(titled, "4,", "4", 1), ""},
		{"a byte order mark", "\xef\xbb\xbf" + titled, strings.Replace(titled, "4,", "4", 1), ""},
		{"Windows-1252 kept", old, strings.Replace(old, "4,", "4", 1), "file/encoding"},
		{"a byte order mark kept", "\xef\xbb\xbf" + titled, "\xef\xbb\xbf" + strings.Replace(titled, "4,", "4", 1), "file/encoding"},
		{"lone CR", strings.ReplaceAll(titled, "\n", "\r"), strings.Replace(titled, "4,", "4", 1), ""},
		{"mostly CRLF", strings.Replace(strings.ReplaceAll(titled, "\n", "\r\n"), "\r\n", "\n", 3),
			strings.ReplaceAll(strings.Replace(titled, "4,", "4", 1), "\n", "\r\n"), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := lint.Selection{}
			if c.skip != "" {
				s.Skip = []string{c.skip}
			}
			if r := cleaned(t, cleaner(t, s), c.raw); string(r.After) != c.want {
				t.Errorf("%q\nwant %q (refused: %q)", r.After, c.want, r.Refused)
			}
		})
	}
}

// TestInvalidBytes cleans a draft with a byte that is invalid in its encoding. UTF-8 would
// lose it, so only risky cleaning writes the file.
func TestInvalidBytes(t *testing.T) {
	raw := "\xef\xbb\xbf" + swapped(t, "[WEAVING]", "[TEXT]\nTitle=a\xe9b\n[WEAVING]", "WEAVING=true", "TEXT=true\nWEAVING=true")
	c := cleaner(t, lint.Selection{})
	r := cleaned(t, c, raw)
	if r.Changed() || r.Waiting.String() != "file/encoding 1" {
		t.Errorf("changed is %v, waiting %q", r.Changed(), r.Waiting)
	}
	r = cleaned(t, c, strings.Replace(raw, "Threads=4", "Threads=4,", 1))
	if r.Changed() || len(r.Refused) != 1 || r.Refused[0].Rule != "file/stray-line" || r.Refused[0].Line != 0 {
		t.Errorf("changed is %v, refused: %q", r.Changed(), r.Refused)
	}
	c.Risky = true
	if r = cleaned(t, c, raw); !r.Changed() || !strings.Contains(string(r.After), "Title=a\ufffdb\n") {
		t.Errorf("risky cleaning gives %q; refused: %q", r.After, r.Refused)
	}
}

// wrong returns a rule with one fix, for drafts that meet a condition.
func wrong(id string, while func(*schema.Draft) bool, start, end int, with string) lint.Rule {
	return lint.Rule{ID: id, Fixable: true, Default: schema.Warning, Check: func(p *lint.Pass) {
		if while(p.Draft) {
			p.Report(schema.Place{}, nil, "%s", id)
			p.Fix(schema.Fix{Title: id, Edits: []schema.Edit{{Span: schema.Span{Start: start, End: end}, New: with}}})
		}
	}}
}

// exchanging returns a rule like wrong that replaces words of the plain draft.
func exchanging(id string, while func(*schema.Draft) bool, old, with string) lint.Rule {
	at := strings.Index(plain, old)
	return wrong(id, while, at, at+len(old), with)
}

// exchangingIn returns a rule that replaces words of another draft.
func exchangingIn(text, id, old, with string) lint.Rule {
	at := strings.Index(text, old)
	return wrong(id, func(*schema.Draft) bool { return true }, at, at+len(old), with)
}

// TestFixesThatChangeTheDraftAreRefused runs rules with wrong fixes. fettle refuses them
// with a reason and makes the other fixes.
func TestFixesThatChangeTheDraftAreRefused(t *testing.T) {
	always := func(*schema.Draft) bool { return true }
	fourEnds := func(d *schema.Draft) bool { return d.Warp.Threads == 4 }
	fewer := exchanging("b/b", fourEnds, "Threads=4", "Threads=3") // the threading still lists four
	for _, c := range []struct {
		name    string
		rules   []lint.Rule
		refused []Refusal // without their reasons
		made    string
	}{
		{"a different cloth", []lint.Rule{exchanging("a/a", always, "4=2\n", "4=1\n")}, []Refusal{{"a/a", 25, "", 0}}, ""},
		{"one of two", []lint.Rule{exchanging("a/a", always, "4=2\n", "4=1\n"), fewer}, []Refusal{{"a/a", 25, "", 0}}, "b/b 1"},
		{"one that works after the other", []lint.Rule{exchanging("a/a", fourEnds, "4=2\n", "4=1\n"), fewer}, nil, "b/b 1"},
		{"one that waits for a refused one", []lint.Rule{exchanging("a/a", fourEnds, "Threads=4", "Threads=5"), fewer}, nil, "b/b 1"},
		{"not a draft afterwards", []lint.Rule{exchanging("a/a", always, plain, "nothing\n")}, []Refusal{{"a/a", 1, "", 0}}, ""},
		{"an endless fix", []lint.Rule{exchanging("a/a", always, "[WIF]\n", "[WIF]\n; more\n")}, []Refusal{{"", 0, "", 0}}, ""},
		{"no change", []lint.Rule{exchanging("a/a", always, "[WIF]", "[WIF]")}, nil, ""},
		{"outside the file", []lint.Rule{wrong("a/a", always, -1, 4, "x")}, []Refusal{{"a/a", 1, "", 0}}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := cleaned(t, cleanerOf(t, c.rules), plain)
			if r.Made.String() != c.made || r.Changed() != (c.made != "") {
				t.Errorf("changed is %v, made %q, want %q", r.Changed(), r.Made, c.made)
			}
			if !slices.EqualFunc(r.Refused, c.refused, func(got, want Refusal) bool {
				got.Reason = ""
				return got == want
			}) {
				t.Errorf("refused: %v, want %v", r.Refused, c.refused)
			}
			for _, x := range r.Refused {
				golden.Words(t, x.Reason)
			}
		})
	}
}

// TestCommentsAndPrivateSectionsStay cleans a draft with comments and private lines in
// many places.
func TestCommentsAndPrivateSectionsStay(t *testing.T) {
	raw := "; before all\n" + swapped(t, "[WEAVING]\n", "[WEAVING]\n  ;; counted twice\n", "Threads=4", "Threads=4,\n[PRIVATE loom room]\n a = b \n; mine\nloose words\n",
		"4=2\n", "4=2\n; the end", "1=1\n2=2\n3", "; from the right\n1=1\n2=2,\n3")
	r := cleaned(t, cleaner(t, lint.Selection{}), raw)
	for _, words := range []string{"; before all\n[WIF]", "  ;; counted twice\n", "[PRIVATE loom room]\n a = b \n; mine\nloose words\n", "; from the right\n1=1\n", "4=2\n; the end"} {
		if !strings.Contains(string(r.After), words) {
			t.Errorf("%q is lost:\n%s", words, r.After)
		}
	}
	if !r.Changed() {
		t.Error("nothing was fixed")
	}
}

func TestJSONDrafts(t *testing.T) {
	const tied = `"tieup": [[1], [2]], "treadling": [1, 2]`
	for _, c := range []struct{ name, dirty, fixed, made string }{
		{"nothing to fix", `{"fettle": 1, "shafts": 2, "shed": "rising", "threading": [1, 2], ` + tied + `}`, "", ""},
		{"too few shafts and threads", `{"fettle": 1, "shafts": 1, "shed": "rising", "threading": [1, 2], ` + tied + `, "warp": {"threads": 1}}`,
			`{"fettle": 1, "shafts": 2, "shed": "rising", "threading": [1, 2], ` + tied + `, "warp": {"threads": 2}}`, "draft/shaft-count 1, draft/thread-count 1"},
		{"an unstated shed", `{"fettle": 1, "threading": [1, 2], ` + tied + `}`,
			`{"fettle": 1, "shed": "rising", "threading": [1, 2], ` + tied + `}`, "draft/shed-unstated 1"},
		{"a shed of null", `{"fettle": 1, "shed": null, "threading": [1, 2], ` + tied + `}`,
			`{"fettle": 1, "shed": "rising", "threading": [1, 2], ` + tied + `}`, "draft/shed-unstated 1"},
		{"a shaft without an end", `{"fettle": 1, "shafts": 3, "shed": "rising", "threading": [1, [3], 0], "tieup": [[1, 2], [3]], "treadling": [1, 2]}`,
			`{"fettle": 1, "shafts": 2, "shed": "rising", "threading": [1, [2], 0], "tieup": [[1], [2]], "treadling": [1, 2]}`, "draft/unused-shaft 1"},
		{"a treadle that would have to move", `{"fettle": 1, "shed": "rising", "threading": [1, 2], "tieup": [[1], [], [2]], "treadling": [1, 3]}`, "", ""},
		{"a lift plan that disagrees with the treadles", `{"fettle": 1, "shed": "rising", "threading": [1, 2], ` + tied + `, "liftplan": [[2], [1]]}`,
			`{"fettle": 1, "shed": "rising", "threading": [1, 2], "tieup": [], "treadling": [], "liftplan": [[2], [1]]}`, "draft/lift-conflict 1"},
		{"a tie-up typed sideways", `{"fettle": 1, "shafts": 2, "treadles": 3, "shed": "rising", "threading": [1, 2], "tieup": [[1, 3], [2, 3]], "treadling": [1, 2, 3]}`,
			`{"fettle": 1, "shafts": 2, "treadles": 3, "shed": "rising", "threading": [1, 2], "tieup": [[1], [2], [1, 2]], "treadling": [1, 2, 3]}`, "draft/sideways-tieup 1"},
		{"mixed line endings", "{\"fettle\": 1, \"shed\": \"rising\",\r\"threading\": [1, 2],\n" + tied + "}\r\n",
			"{\"fettle\": 1, \"shed\": \"rising\",\n\"threading\": [1, 2],\n" + tied + "}\n", "file/encoding 1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			cl := cleaner(t, lint.Selection{})
			cl.Risky = true
			if c.fixed == "" {
				c.fixed = c.dirty
			}
			if r := cleaned(t, cl, c.dirty); string(r.After) != c.fixed || r.Made.String() != c.made || len(r.Refused) > 0 {
				t.Errorf("got\n%s\nwant\n%s\nmade %q, want %q; refused: %q", r.After, c.fixed, r.Made, c.made, r.Refused)
			}
		})
	}
}

// TestIgnoredFindingsAreNotFixed cleans a draft that ignores a finding.
func TestIgnoredFindingsAreNotFixed(t *testing.T) {
	raw := swapped(t, "[WARP]\nThreads=4", "[WARP]\n; fettle: ignore file/stray-line - as the old program wants it\nThreads=4,", "Threads=2", "Threads=2,")
	r := cleaned(t, cleaner(t, lint.Selection{}), raw)
	if want := strings.Replace(raw, "Threads=2,", "Threads=2", 1); string(r.After) != want {
		t.Errorf("got\n%s", r.After)
	}
}
