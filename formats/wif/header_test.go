package wif

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fettle/schema"
)

func TestHeadersWithoutBrackets(t *testing.T) {
	const listed = "[WIF]\n[CONTENTS]\nNOTES=true\nTIEUP=true\n"
	for _, c := range []struct {
		name, text string
		rows       int // read in the tie-up
	}{
		{"no brackets", "[WIF]\n[THREADING]\n1=1\nTIEUP\n1=1,2\n2=3\n", 2},
		{"a colon", "[WIF]\n[THREADING]\n1=1\nTieup:\n\n1=1,2\n", 1},
		{"round brackets", "[WIF]\n[TEXT]\nTitle=a\n(TIEUP)\n1=1,2\n", 1},
		{"one bracket", "[WIF]\n[WEAVING]\nShafts=4\nTIEUP]\n1=1,2\n", 1},
		{"equals signs around", "[WIF]\n[WEAVING]\nShafts=4\n== Tieup ==\n1=1,2\n", 1},
		{"misspelt, but CONTENTS lists it", listed + "[THREADING]\n1=1\nTie-up:\n1=1,2\n", 1},
		{"after notes, and CONTENTS lists it", listed + "[NOTES]\n1=a\n{TIEUP}\n1=1,2\n", 1},
		{"after notes, but CONTENTS doesn't list it", "[WIF]\n[NOTES]\n1=a\nTIEUP\n2=b\n", 0},
		{"the file also has the section", "[WIF]\n[THREADING]\n1=1\nTIEUP\n2=2\n[TIEUP]\n1=1\n", 1},
		{"no row follows", "[WIF]\n[THREADING]\n1=1\nTIEUP\n[WARP]\nThreads=1\n", 0},
		{"in a carried section", "[WIF]\n[PRIVATE loom]\nTIEUP\n1=1\n", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			doc := read(c.text)
			if got := doc.Draft.Tieup.Len(); got != c.rows {
				t.Errorf("%d rows of tie-up, want %d", got, c.rows)
			}
			fixed := slices.ContainsFunc(doc.Findings, func(f schema.Finding) bool {
				return f.Rule == schema.FileStrayLine && f.Fixable() && f.Data.Get("suggestion") == "[TIEUP]"
			})
			if want := c.rows > 0 && !strings.Contains(c.name, "also has"); fixed != want {
				t.Errorf("offers to write the header: %v, want %v: %+v", fixed, want, doc.Findings)
			}
		})
	}
}

// TestMissingHeader finds where the rows of another table begin, whose header is
// missing.
func TestMissingHeader(t *testing.T) {
	for _, c := range []struct {
		name, text string
		line       int // of the finding, 0 for none
		rows       int // read in the threading
	}{
		{"treadling after threading", "[TIEUP]\n1=1\n2=2\n[THREADING]\n1=1\n2=2\n1=2\n2=1\n3=2\n4=1\n", 7, 2},
		{"threading after colors", "[TREADLING]\n1=1\n[TIEUP]\n1=1\n[COLOR TABLE]\n1=9,9,9\n1=1\n2=2\n3=3\n", 7, 0},
		{"no table is missing", "[TIEUP]\n1=1\n[TREADLING]\n1=1\n[THREADING]\n1=1\n2=2\n1=1\n2=2\n", 0, 2},
		{"the missing table is misspelt", "[TIEUP]\n1=1\n[TREADELING]\n1=1\n[THREADING]\n1=1\n2=2\n1=1\n2=2\n", 0, 2},
		{"only row 1 again", "[TIEUP]\n1=1\n2=2\n[THREADING]\n1=1\n2=2\n1=2\n3=1\n", 0, 3},
		{"rows out of order", "[TIEUP]\n1=1\n2=2\n[THREADING]\n2=2\n1=1\n2=2\n", 0, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			doc := read(c.text)
			line := 0
			for _, f := range doc.Findings {
				if f.Rule == schema.FileDuplicateKey && strings.Contains(f.Message, "header") {
					line = 1 + strings.Count(c.text[:f.Span.Start], "\n")
				}
			}
			if got := doc.Draft.Threading.Len(); line != c.line || got != c.rows {
				t.Errorf("line %d, %d rows; want %d, %d", line, got, c.line, c.rows)
			}
			if held := slices.Contains(doc.Unclear, schema.FileDuplicateKey); c.line > 0 && !held {
				t.Error("the rules about the weave run")
			}
		})
	}
}

// TestSectionsInTwoLanguages reads a section name with its translation, but not two
// section names.
func TestSectionsInTwoLanguages(t *testing.T) {
	for name, want := range map[string]kind{"TIEUP / Anbindung": kindTieup, "Threading (Einzug)": kindThreading, "WARP: Kette": kindWarp,
		"WARP / WEFT": kindUnknown, "WARP, WEFT COLORS": kindUnknown, "Einzug / THREADING": kindUnknown} {
		if got := nearSection([]byte(name)); got != want {
			t.Errorf("fettle reads %s as %q, want %q", name, sections[got].name, sections[want].name)
		}
	}
}

// TestSectionWithoutRows checks that a table of the weave without rows counts as missing.
func TestSectionWithoutRows(t *testing.T) {
	const whole = "[WIF]\n[CONTENTS]\nTIEUP=true\nTHREADING=true\nTREADLING=true\n[TIEUP]\n1=1\n[THREADING]\n1=1\n[TREADLING]\n1=1\n"
	for _, c := range []struct {
		name, old, new string
		line           int // of the finding, 0 for none
	}{
		{"with rows", "", "", 0},
		{"no rows", "[TIEUP]\n1=1\n", "[TIEUP]\n", 6},
		{"only comments", "[THREADING]\n1=1\n", "[THREADING]\n; 1=1\n", 8},
		{"an unreadable row", "[THREADING]\n1=1\n", "[THREADING]\nx\n", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			doc := read(strings.Replace(whole, c.old, c.new, 1))
			line := 0
			for _, f := range doc.Findings {
				if f.Rule == schema.FileMissingSection {
					line = 1 + strings.Count(string(doc.Source.Text[:f.Span.Start]), "\n")
				}
			}
			if line != c.line || doc.Partial != (c.line > 0) {
				t.Errorf("line %d, partial %v; want line %d", line, doc.Partial, c.line)
			}
		})
	}
}

// TestTruncatedBetweenSections checks that a truncated file has only one finding.
func TestTruncatedBetweenSections(t *testing.T) {
	const head = "[WIF]\n[CONTENTS]\nWEAVING=true\n%s[WEAVING]\nShafts=2\n"
	for _, c := range []struct {
		name, contents string
		want           []string
	}{
		{"before the weave", "TIEUP=true\nTHREADING=true\nTREADLING=true\n", []string{schema.FileMissingSection}},
		{"only before colors", "WARP COLORS=true\n", []string{schema.FileContents, schema.FileMissingSection, schema.FileMissingSection}},
		{"CONTENTS lists nothing", "", []string{schema.FileMissingSection, schema.FileMissingSection}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got []string
			for _, f := range read(fmt.Sprintf(head, c.contents)).Findings {
				got = append(got, f.Rule)
			}
			if slices.Sort(got); !slices.Equal(got, c.want) {
				t.Errorf("got %v, want %v", got, c.want)
			}
		})
	}
}
