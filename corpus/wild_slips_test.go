package corpus

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettle/formats"
	"fettle/lint"
	"fettle/lint/clean"
	"fettle/lint/rules"
	"fettle/schema"
	"fettle/schema/settings"
)

// slip returns the sound draft with one mistake: some unique pieces are replaced.
func slip(name string, oldNew ...string) wildDraft {
	return wildDraft{name: name, raw: with(oldNew...), meant: sound}
}

// undone returns a slip that risky fixes undo.
func undone(name string, oldNew ...string) wildDraft {
	d := slip(name, oldNew...)
	d.risky = true
	return d
}

// sixTreadles is the sound draft with six pressed treadles.
var sixTreadles = with("Treadles=4", "Treadles=6", "[WEFT]\nThreads=3", "[WEFT]\nThreads=6", soundTieup, "1=1,2\n2=2,3\n3=3,4\n4=1,4\n5=1,3\n6=2,4\n",
	soundTreadling, "[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=5\n6=6\n")

// twoColors is the sound draft with a palette and a color for each end.
func twoColors(table, ends string) string {
	return strings.Replace(dyed("Entries=2\nForm=RGB\nRange=0,255\n", table), "TEXT=true\n", "WARP COLORS=true\nTEXT=true\n", 1) + "\n[WARP COLORS]\n" + ends
}

// The tables of the sound draft, to be typed in other ways.
const (
	soundTieup     = "1=1,2\n2=2,3\n3=3,4\n4=1,4\n"
	soundThreading = "[THREADING]\n1=1\n2=2\n3=3\n4=4\n"
	soundTreadling = "[TREADLING]\n1=1\n2=2\n3=4\n"
)

// tied returns the sound draft with another separator in its tie-up.
func tied(name, mark string) wildDraft {
	return slip(name, soundTieup, strings.ReplaceAll(soundTieup, ",", mark))
}

// wildSlips returns sound drafts with one mistake each.
func wildSlips() []wildDraft {
	return []wildDraft{
		// Lists with other separators than commas.
		tied("list-semicolons", ";"), tied("list-semicolons-spaced", "; "), tied("list-spaces", " "), tied("list-plus", "+"),
		tied("list-points", "."), tied("list-slashes", "/"), tied("list-hyphens", "-"), tied("list-semicolons-apart", " ; "),
		undone("list-one-row", "2=2,3\n", "2=2;3\n"),
		slip("list-beyond-shafts", soundTieup, "1=1;2\n2=2;3\n3=3;7\n4=1;4\n"),
		undone("list-two-marks", soundTieup, "1=1;2\n2=2.3\n3=3;4\n4=1;4\n"),
		slip("list-and-comments", soundTieup, "1=1;2 ; left\n2=2;3\n3=3;4\n4=1;4 ; right\n"),
		slip("list-and-words", "2=2,3\n", "2=2;3 foot\n"),
		slip("list-cut-short", "1=1,2\n", "1=1,\n"), slip("list-commas-at-ends", soundTieup, "1=1,2,\n2=2,3,\n3=3,4,\n4=1,4,\n"),
		// Other signs than = after a row's number or a key.
		slip("colon-one-row", "3=3\n", "3: 3\n"), slip("colon-all-rows", soundThreading, "[THREADING]\n1: 1\n2: 2\n3: 3\n4: 4\n"),
		slip("colon-beyond-shafts", "3=3\n", "3: 8\n"), slip("colon-and-row", "3=3\n", "3=3\n3: 4\n"),
		slip("colon-key", "Rising Shed=true", "Rising Shed: true"), slip("tab-row", "3=3\n", "3\t3\n"), slip("tab-key", "Shafts=4", "Shafts\t4"),
		// Letters for digits.
		undone("letter-l", "1=1\n2=2\n3=3\n4=4\n", "1=l\n2=2\n3=3\n4=4\n"), undone("letter-in-list", "2=2,3\n", "2=Z,3\n"),
		slip("letters-several", "1=1\n2=2\n3=3\n4=4\n", "1=I\n2=2\n3=3\n4=A\n"), slip("letter-row", "3=3\n", "E=3\n"),
		undone("letter-row-number", "[TREADLING]\n1=1\n", "[TREADLING]\nl=1\n"), slip("letter-count", "[WARP]\nThreads=4", "[WARP]\nThreads=A4"),
		slip("letter-o", "2=2\n3=4\n", "2=O\n3=4\n"), slip("letter-key-count", "Shafts=4", "Shafts=4l"),
		// Tables numbered from 0.
		undone("rows-from-zero", soundThreading, "[THREADING]\n0=1\n1=2\n2=3\n3=4\n"),
		undone("all-rows-from-zero", soundTieup, "0=1,2\n1=2,3\n2=3,4\n3=1,4\n", soundThreading, "[THREADING]\n0=1\n1=2\n2=3\n3=4\n",
			soundTreadling, "[TREADLING]\n0=1\n1=2\n2=4\n"),
		undone("shafts-from-zero", soundTieup, "1=0,1\n2=1,2\n3=2,3\n4=0,3\n", soundThreading, "[THREADING]\n1=0\n2=1\n3=2\n4=3\n"),
		undone("treadles-from-zero", soundTieup, "0=1,2\n1=2,3\n2=3,4\n3=1,4\n", soundTreadling, "[TREADLING]\n1=0\n2=1\n3=3\n"),
		undone("everything-from-zero", soundTieup, "0=0,1\n1=1,2\n2=2,3\n3=0,3\n", soundThreading, "[THREADING]\n0=0\n1=1\n2=2\n3=3\n",
			soundTreadling, "[TREADLING]\n0=0\n1=1\n2=3\n"),
		{"colors-from-zero", twoColors("0=255,128,0\n1=1,33,85\n", "1=0\n2=1\n3=0\n4=1\n"), twoColors("1=255,128,0\n2=1,33,85\n", "1=1\n2=2\n3=1\n4=2\n"), true},
		// Stray characters, and joined files.
		slip("quoted-list", "1=1,2\n", "1=\"1,2\"\n"), slip("quoted-row", "1=1,2\n", "\"1=1,2\"\n"), slip("quoted-all", soundTieup, "1=\"1,2\"\n2=\"2,3\"\n3=\"3,4\"\n4=\"1,4\"\n"),
		slip("quoted-count", "Shafts=4", "Shafts=\"4\""), slip("quote-stray", "1=1,2\n", "1=1,2\"\n"),
		slip("list-tabs", "1=1,2\n2=2,3\n3=3,4\n4=1,4\n", "1=1\t2\n2=2\t3\n3=3\t4\n4=1\t4\n"),
		slip("tab-rows", soundThreading, "[THREADING]\n1\t1\n2\t2\n3\t3\n4\t4\n"),
		slip("wide-digit", "2=2\n3=4\n", "2=\uff12\n3=4\n"), slip("wide-digit-row", "3=3\n", "\uff13=3\n"), slip("wide-digit-count", "Treadles=4", "Treadles=\uff14"),
		slip("wide-equals", "3=3\n", "3\uff1d3\n"),
		slip("nbsp-value", "3=3\n", "3=\u00a03\n"), slip("nbsp-list", "1=1,2\n", "1=1,\u00a02\n"), slip("nbsp-key", "Rising Shed", "Rising\u00a0Shed"),
		slip("nbsp-indent", "3=3\n", "\u00a0\u00a03=3\n"), slip("nbsp-count", "Shafts=4", "Shafts=\u00a04"), slip("nbsp-section", "[TIEUP]", "[\u00a0TIEUP\u00a0]"),
		slip("mark-in-the-middle", "[THREADING]", "\ufeff[THREADING]"),
		{"two-drafts", sound + "\n" + strings.ReplaceAll(sound, "1,4", "1,2,3"), sound, false},
		{"two-drafts-joined", sound + "\ufeff" + strings.ReplaceAll(sound, "1,4", "1,2,3"), sound, false},
		{"two-drafts-and-marks", sound + "\x1a" + sound + "\x1a", sound, false},
		{"mark-after-last-row", strings.TrimSuffix(sound, "\n") + "\x1a", sound, false},
		{"mark-and-zeros", sound + "\x1a\x00\x00\x1a\r\n", sound, false},
		{"misspelt-table-before-right", with("[THREADING]\n", "[THREDING]\n1=4\n\n[THREADING]\n"), sound, false},
		{"tieup-sideways", strings.Replace(sixTreadles, "1=1,2\n2=2,3\n3=3,4\n4=1,4\n5=1,3\n6=2,4\n", "1=1,4,5\n2=1,2,6\n3=2,3,5\n4=3,4,6\n", 1), sixTreadles, true},
		// Headings without brackets, and missing headings.
		slip("header-bare", "[TREADLING]", "TREADLING"), slip("header-colon", "[TIEUP]", "Tie-up:"), slip("header-colon-exact", "[TIEUP]", "TIEUP:"),
		slip("header-round-brackets", "[THREADING]", "(THREADING)"), slip("header-half-bracket", "[WEAVING]", "WEAVING]"),
		slip("header-lost", "\n[TREADLING]\n", ""), slip("header-lost-after-tieup", "\n[THREADING]\n", ""),
		slip("key-in-another-section", "Rising Shed=true\n", "", "[WARP]\n", "[WARP]\nRising Shed=true\n"),
		// Joined and split rows.
		slip("two-rows-semicolon", "1=1\n2=2\n3=3\n", "1=1; 2=2\n3=3\n"), slip("two-rows-comma", "1=1\n2=2\n3=3\n", "1=1, 2=2\n3=3\n"),
		slip("two-rows-space", "1=1\n2=2\n3=4\n", "1=1 2=2\n3=4\n"), slip("equals-twice", "3=4\n", "3==4\n"), slip("equals-lost", "3=4\n", "34\n"),
		slip("list-on-two-lines", "4=1,4\n", "4=1,\n4\n"), slip("list-on-two-lines-comma-below", "4=1,4\n", "4=1\n,4\n"),
		slip("number-twice", "4=1,4\n", "4=1,1\n"), slip("comma-twice", "4=1,4\n", "4=1,,4\n"), slip("row-typed-again", "3=4\n", "3=3\n3=4\n"),
		slip("row-number-struck-twice", "1=1\n2=2\n3=3\n4=4\n", "1=1\n22=2\n3=3\n4=4\n"), slip("row-number-of-the-one-before", "1=1\n2=2\n3=3\n4=4\n", "1=1\n1=2\n3=3\n4=4\n"),
		slip("row-commented-out", "3=3\n", "; 3=3\n"), slip("row-of-words", "3=4\n", "3=none\n"), slip("sign-of-plus", "3=4\n", "3=+4\n"),
		{"space-inside-number", with("Shafts=4", "Shafts=12", "3=3\n", "3=1 2\n"), with("Shafts=4", "Shafts=12", "3=3\n", "3=12\n"), false},
		// Counts.
		slip("threads-too-many", "[WARP]\nThreads=4", "[WARP]\nThreads=8"), slip("threads-twice", "[WARP]\nThreads=4", "[WARP]\nThreads=6\nThreads=4"),
		slip("threads-in-words", "[WARP]\nThreads=4", "[WARP]\nThreads=4 ends"), slip("shafts-percent", "Shafts=4", "Shafts=4%"),
		// Colors.
		{"two-colors-for-a-thread", twoColors("1=255,128,0\n2=1,33,85\n", "1=2,1\n2=2\n3=1\n4=2\n"), twoColors("1=255,128,0\n2=1,33,85\n", "1=2\n2=2\n3=1\n4=2\n"), false},
		{"color-hexadecimal", twoColors("1=#ff8000\n2=1,33,85\n", "1=1\n2=2\n"), twoColors("1=255,128,0\n2=1,33,85\n", "1=1\n2=2\n"), false},
		{"color-semicolons", twoColors("1=255;128;0\n2=1;33;85\n", "1=1\n2=2\n"), twoColors("1=255,128,0\n2=1,33,85\n", "1=1\n2=2\n"), false},
		// Files.
		{"ends-between-sections", until("4=1,4\n"), sound, false},
		slip("web-page-line-breaks", soundThreading, "[THREADING]\n1=1<br>\n2=2<br>\n3=3<br>\n4=4<br>\n"),
		{"no-draft/quoted-printable", strings.ReplaceAll(sound, "=", "=3D"), sound, false},
		{"no-draft/quoted-in-a-mail", "> " + strings.ReplaceAll(strings.TrimSuffix(sound, "\n"), "\n", "\n> ") + "\n", sound, false},
		slip("space-row", "3=3\n", "3 3\n"), slip("row-after-bracket", "[THREADING]\n1=1\n", "[THREADING] 1=1\n"),
	}
}

// TestSlipsAreFoundOrUndone cleans each draft with a slip. Certain fixes give the draft that
// was meant, or an error or warning is left. No slip gives more than three findings.
func TestSlipsAreFoundOrUndone(t *testing.T) {
	with := func(s lint.Selection) *lint.Checker {
		linter, err := lint.New(rules.All(), s)
		if err != nil {
			t.Fatal(err)
		}
		return &lint.Checker{Linter: linter, Finder: settings.NewFinder(settings.Options{})}
	}
	checker, slipsOnly := with(lint.Selection{}), with(lint.Selection{Skip: []string{"draft/unused-treadle"}})
	findings := func(doc *schema.Document) []string {
		t.Helper()
		result, err := checker.Check(doc)
		if err != nil {
			t.Fatal(err)
		}
		var list []string
		for _, f := range result.Findings {
			if f.Severity > schema.Note {
				list = append(list, f.Rule+": "+f.Message)
			}
		}
		return list
	}
	read := func(text []byte) *schema.Document { return formats.Read(filepath.Join("wild", "draft.wif"), text) }
	for _, d := range wildDrafts() {
		if d.meant == "" {
			continue
		}
		t.Run(d.name, func(t *testing.T) {
			doc := read([]byte(d.raw))
			found := findings(doc)
			if len(found) == 0 || len(found) > 3 {
				t.Errorf("%d findings: %q", len(found), found)
			}
			if doc.Draft == nil {
				return // a finding says why this is not a draft
			}
			result, err := (&clean.Cleaner{Checker: checker}).Clean(doc)
			if err != nil {
				t.Fatal(err)
			}
			after := read(result.After)
			diff := cmp.Diff(wovenAs(read([]byte(d.meant)).Draft), wovenAs(after.Draft))
			if d.risky {
				result, err := (&clean.Cleaner{Checker: slipsOnly, Risky: true}).Clean(doc)
				if diff := cmp.Diff(wovenAs(read([]byte(d.meant)).Draft), wovenAs(read(result.After).Draft)); err != nil || diff != "" {
					t.Errorf("risky fixes don't give the draft that was meant (-); refused %q; %v:\n%s", result.Refused, err, diff)
				}
			}
			if left := findings(after); diff != "" && len(left) == 0 {
				t.Errorf("not the draft that was meant (-), and no finding:\n%s", diff)
			}
		})
	}
}

// wovenAs returns the facts of a draft without its comments.
func wovenAs(d *schema.Draft) *wildFacts {
	f := factsOf(d)
	f.Comments = nil
	return f
}
