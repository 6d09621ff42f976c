package wif

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fettle/schema"
)

// TestHeadersWithoutBrackets reads sections whose names lack their brackets.
func TestHeadersWithoutBrackets(t *testing.T) {
	const listed = "[WIF]\n[CONTENTS]\nNOTES=true\nTIEUP=true\n"
	for _, c := range []struct {
		name, text string
		rows       int // of the tie-up that is read
	}{
		{"no brackets", "[WIF]\n[THREADING]\n1=1\nTIEUP\n1=1,2\n2=3\n", 2},
		{"a colon", "[WIF]\n[THREADING]\n1=1\nTieup:\n\n1=1,2\n", 1},
		{"round brackets", "[WIF]\n[TEXT]\nTitle=a\n(TIEUP)\n1=1,2\n", 1},
		{"one bracket", "[WIF]\n[WEAVING]\nShafts=4\nTIEUP]\n1=1,2\n", 1},
		{"equals signs around", "[WIF]\n[WEAVING]\nShafts=4\n== Tieup ==\n1=1,2\n", 1},
		{"misspelt, where CONTENTS lists it", listed + "[THREADING]\n1=1\nTie-up:\n1=1,2\n", 1},
		{"after notes, where CONTENTS lists it", listed + "[NOTES]\n1=a\n{TIEUP}\n1=1,2\n", 1},
		{"after notes, where nothing lists it", "[WIF]\n[NOTES]\n1=a\nTIEUP\n2=b\n", 0},
		{"the file has it as well", "[WIF]\n[THREADING]\n1=1\nTIEUP\n2=2\n[TIEUP]\n1=1\n", 1},
		{"no row follows", "[WIF]\n[THREADING]\n1=1\nTIEUP\n[WARP]\nThreads=1\n", 0},
		{"in a section kept as it stands", "[WIF]\n[PRIVATE loom]\nTIEUP\n1=1\n", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			doc := read(c.text)
			if got := doc.Draft.Tieup.Len(); got != c.rows {
				t.Errorf("%d rows of tie-up, want %d", got, c.rows)
			}
			fixed := slices.ContainsFunc(doc.Findings, func(f schema.Finding) bool {
				return f.Rule == schema.FileStrayLine && f.Fixable() && f.Data.Get("suggestion") == "[TIEUP]"
			})
			if want := c.rows > 0 && !strings.Contains(c.name, "as well"); fixed != want {
				t.Errorf("offers to write its header: %v, want %v: %+v", fixed, want, doc.Findings)
			}
		})
	}
}

// TestHeaderLeftOut finds where the rows of a table go on as those of the next,
// whose header is lost.
func TestHeaderLeftOut(t *testing.T) {
	for _, c := range []struct {
		name, text string
		line       int // of the finding, 0 for none
		rows       int // of the threading that is read
	}{
		{"treadling after threading", "[TIEUP]\n1=1\n2=2\n[THREADING]\n1=1\n2=2\n1=2\n2=1\n3=2\n4=1\n", 7, 2},
		{"threading after colors", "[TREADLING]\n1=1\n[TIEUP]\n1=1\n[COLOR TABLE]\n1=9,9,9\n1=1\n2=2\n3=3\n", 7, 0},
		{"no table is missing", "[TIEUP]\n1=1\n[TREADLING]\n1=1\n[THREADING]\n1=1\n2=2\n1=1\n2=2\n", 0, 2},
		{"the missing table is misspelt", "[TIEUP]\n1=1\n[TREADELING]\n1=1\n[THREADING]\n1=1\n2=2\n1=1\n2=2\n", 0, 2},
		{"row 1 alone again", "[TIEUP]\n1=1\n2=2\n[THREADING]\n1=1\n2=2\n1=2\n3=1\n", 0, 3},
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
				t.Error("the rules that judge the weave are not held back")
			}
		})
	}
}

// TestSectionsInTwoLanguages reads a section whose name is followed by what it is
// called elsewhere, but not two names of the format.
func TestSectionsInTwoLanguages(t *testing.T) {
	for name, want := range map[string]kind{"TIEUP / Anbindung": kindTieup, "Threading (Einzug)": kindThreading, "WARP: Kette": kindWarp,
		"WARP / WEFT": kindUnknown, "WARP, WEFT COLORS": kindUnknown, "Einzug / THREADING": kindUnknown} {
		if got := nearSection([]byte(name)); got != want {
			t.Errorf("%s is read as %q, want %q", name, sections[got].name, sections[want].name)
		}
	}
}

// TestSectionWithoutRows tells a table of the weave without rows as one that is
// missing, at its header.
func TestSectionWithoutRows(t *testing.T) {
	const whole = "[WIF]\n[CONTENTS]\nTIEUP=true\nTHREADING=true\nTREADLING=true\n[TIEUP]\n1=1\n[THREADING]\n1=1\n[TREADLING]\n1=1\n"
	for _, c := range []struct {
		name, old, new string
		line           int // of the finding, 0 for none
	}{
		{"with rows", "", "", 0},
		{"no rows", "[TIEUP]\n1=1\n", "[TIEUP]\n", 6},
		{"only comments", "[THREADING]\n1=1\n", "[THREADING]\n; 1=1\n", 8},
		{"a row that cannot be read", "[THREADING]\n1=1\n", "[THREADING]\nx\n", 0},
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

// TestFileThatEndsBetweenSections tells it as one that breaks off, and only once.
func TestFileThatEndsBetweenSections(t *testing.T) {
	const head = "[WIF]\n[CONTENTS]\nWEAVING=true\n%s[WEAVING]\nShafts=2\n"
	for _, c := range []struct {
		name, contents string
		told           []string
	}{
		{"before the weave", "TIEUP=true\nTHREADING=true\nTREADLING=true\n", []string{schema.FileMissingSection}},
		{"before colors alone", "WARP COLORS=true\n", []string{schema.FileContents, schema.FileMissingSection, schema.FileMissingSection}},
		{"nothing is listed", "", []string{schema.FileMissingSection, schema.FileMissingSection}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var told []string
			for _, f := range read(fmt.Sprintf(head, c.contents)).Findings {
				told = append(told, f.Rule)
			}
			if slices.Sort(told); !slices.Equal(told, c.told) {
				t.Errorf("got %v, want %v", told, c.told)
			}
		})
	}
}
