package wif

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fettle/schema"
)

// TestOddRows reads tie-ups of a draft with 4 shafts and 4 treadles.
func TestOddRows(t *testing.T) {
	const head = "[WIF]\nVersion=1.1\n[WEAVING]\nShafts=4\nTreadles=4\n[TIEUP]\n"
	for _, c := range []struct{ name, rows, want string }{
		{"semicolons", "1=1;2\n2=2;3\n", "[1 2] [2 3]; certain"},
		{"a row with one number among them", "1=1;2\n2=3\n", "[1 2] [3]; certain"},
		{"a semicolon at the end", "1=1;2;\n", "[1 2]; certain"},
		{"a duplicate number", "1=1;1\n", "[1]; risky"},
		{"a number above the shafts", "1=1;2\n2=2;5\n", "[1 2] [2 5]; risky"},
		{"a number as a comment", "1=1 ;2\n", "[1 2]; risky"},
		{"a number above the shafts as a comment", "1=1 ;12\n", "[1]; risky"},
		{"a word as a comment", "1=1 ;two\n", "[1]; comment"},
		{"a comment that begins with a number", "1=1 ; 2 of them\n", "[1]; comment"},
		{"commas in other rows", "1=1,2\n2=2;3\n", "[1 2] [2 3]; risky"},
		{"a comma and a semicolon", "1=1,2;3\n", "[1 2 3]; risky"},
		{"an en dash", "1=1\u20133\n", "[1 3]; none"},
		{"a colon", "1=1\n2: 2,3\n3=4\n", "[1] [2 3] [4]; certain"},
		{"a colon, the last row", "1=1\n2=2\n3: 3\n", "[1] [2] [3]; certain"},
		{"a colon, and a duplicate row", "1=1\n2: 2,3\n2=4\n", "[1] [4]; risky"},
		{"a colon, above the treadles", "1=1\n5: 2\n", "[1] [] [] [] [2]; risky"},
		{"a colon twice", "1: 1\n1: 2\n", "[1]; certain risky"},
		{"a colon and words", "1=1\n2: see above\n", "[1]; stray"},
		{"a space, out of order", "1=1\n3 3\n", "[1] [] [3]; risky"},
		{"a space", "1=1\n2 3\n", "[1] [3]; certain"},
	} {
		t.Run(c.name, func(t *testing.T) {
			doc := read(head + c.rows)
			var rows, fixes []string
			for n := 1; n <= doc.Draft.Tieup.Len(); n++ {
				rows = append(rows, fmt.Sprint(doc.Draft.Tieup.Row(n)))
			}
			for _, f := range doc.Findings {
				switch {
				case f.Rule == schema.FileStrayLine && len(f.Fixes) > 0 && f.Fixes[0].Title == "make it a comment":
					fixes = append(fixes, "stray")
				case f.Rule == schema.FileStrayLine:
					fixes = append(fixes, "comment")
				case f.Rule != schema.FileBadValue:
				case len(f.Fixes) == 0:
					fixes = append(fixes, "none")
				case f.Fixes[0].Risky:
					fixes = append(fixes, "risky")
				default:
					fixes = append(fixes, "certain")
				}
			}
			if got := strings.Join(rows, " ") + "; " + strings.Join(fixes, " "); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
			unsure := strings.Contains(c.want, "risky") || strings.Contains(c.want, "none") || strings.Contains(c.want, "stray")
			if held := len(doc.Unclear) > 0; held != unsure {
				t.Errorf("the rules about the weave don't run: %v", held)
			}
		})
	}
}

// TestLinesOfFinding checks the lines of a finding that covers several.
func TestLinesOfFinding(t *testing.T) {
	doc := read("[WIF]\n[CONTENTS]\nTHREADING=true\n[THREADING]\n1=x\n2=2\n3=x\n4=x\n")
	i := slices.IndexFunc(doc.Findings, func(f schema.Finding) bool { return f.Rule == schema.FileBadValue })
	if f := doc.Findings[i]; !slices.Equal(f.Lines, []int{5, 7, 8}) || !strings.HasSuffix(f.Message, "(lines 5, 7 and 8)") {
		t.Errorf("lines %d: %s", f.Lines, f.Message)
	}
}

// TestPlaceOfBadValue checks that a finding names the row of a table, and the key of a section.
func TestPlaceOfBadValue(t *testing.T) {
	for text, want := range map[string]string{"[THREADING]\n007=x\n": "in row 7 of section THREADING", "[WEAVING]\nShafts=x\n": "for 'Shafts' in section WEAVING"} {
		doc := read("[WIF]\n" + text)
		if !slices.ContainsFunc(doc.Findings, func(f schema.Finding) bool {
			return f.Rule == schema.FileBadValue && strings.Contains(f.Message, want)
		}) {
			t.Errorf("%q: %v", text, doc.Findings)
		}
	}
}

// TestCertainFixes checks which fixes of the reader are certain.
func TestCertainFixes(t *testing.T) {
	const head = "[WIF]\nVersion=1.1\n[WEAVING]\nShafts=4\nTreadles=4\n[WARP]\nThreads=4\n[WEFT]\nThreads=4\n"
	for _, c := range []struct {
		name, text, rule string
		certain          bool
	}{
		{"a duplicate key with the same value", "[TEXT]\nTitle=a\nTitle=a\n", schema.FileDuplicateKey, true},
		{"a duplicate key with another value", "[TEXT]\nTitle=a\nTitle=b\n", schema.FileDuplicateKey, false},
		{"a duplicate row with the same value", "[THREADING]\n1=1\n2=2\n1=1\n", schema.FileDuplicateKey, true},
		{"a duplicate row with another value", "[THREADING]\n1=1\n2=2\n1=3\n", schema.FileDuplicateKey, false},
		{"a late duplicate row with the same value", "[THREADING]\n2=2\n1=1\n2=2\n", schema.FileDuplicateKey, true},
		{"a late duplicate row with another value", "[THREADING]\n2=2\n1=1\n2=3\n", schema.FileDuplicateKey, false},
		{"a misnumbered row", "[THREADING]\n1=1\n1=2\n3=3\n", schema.FileDuplicateKey, false},
		{"a duplicate note with another text", "[NOTES]\n1=a\n1=b\n", schema.FileDuplicateKey, false},
		{"a duplicate warp section, and no weft", "[WARP COLORS]\n1=1\n[WARP COLORS]\n1=2\n", schema.FileDuplicateSection, false},
		{"a warp section in two parts, and no weft", "[WARP COLORS]\n1=1\n[WARP COLORS]\n2=2\n", schema.FileDuplicateSection, true},
		{"a tie-up in two parts", "[TIEUP]\n1=1\n[TIEUP]\n2=2\n", schema.FileDuplicateSection, true},
		{"words in a table", "[THREADING]\nfrom the right\n1=1\n", schema.FileStrayLine, true},
		{"a number in a table", "[THREADING]\n1=1\n2 is on the second\n", schema.FileStrayLine, false},
		{"a section without brackets", "[THREADING]\n1=1\nTREADLING\n1=1\n", schema.FileStrayLine, true},
		{"a row after a row", "[THREADING]\n1=1; 2=2\n", schema.FileStrayLine, false},
		{"a comment after a row", "[THREADING]\n1=1; left\n", schema.FileStrayLine, true},
		{"a duplicate number", "[TIEUP]\n1=1,1\n", schema.FileStrayLine, false},
		{"a thread with two colors", "[WARP COLORS]\n1=2,1\n", schema.FileBadValue, false},
		{"a space inside a number", "[WEAVING]\nShafts=12\n[THREADING]\n1=1 2\n", schema.FileBadValue, false},
		{"two shafts, with a space", "[THREADING]\n1=1 2\n", schema.FileBadValue, true},
		{"a key without a value", "[TEXT]\nTitle\n", schema.FileStrayLine, false},
		{"row 0", "[THREADING]\n1=1\n2=2\n3=3\n4=4\n0=1\n", schema.FileIndex, false},
		{"a row number that is far too high", "[THREADING]\n1=1\n99999999=1\n", schema.FileIndex, false},
		{"a decimal comma", "[WARP SPACING]\n1=0,125\n", schema.FileDecimalComma, true},
		{"a thousands comma", "[WARP SPACING]\n1=1,250\n", schema.FileDecimalComma, false},
		{"a missing range", "[COLOR PALETTE]\nEntries=1\n[COLOR TABLE]\n1=999,0,0\n", schema.FileBadValue, false},
		{"one more color than declared", "[COLOR PALETTE]\nEntries=1\nRange=0,255\n[COLOR TABLE]\n1=9,0,0\n2=9,0,0\n", schema.FileIndex, true},
		{"a color number far above those declared", "[COLOR PALETTE]\nEntries=1\nRange=0,255\n[COLOR TABLE]\n1=9,0,0\n12=9,0,0\n", schema.FileIndex, false},
		{"notes that CONTENTS lists", "[CONTENTS]\nWEAVING=1\nWARP=1\nWEFT=1\nNOTES=true\n", schema.FileContents, true},
		{"colors that CONTENTS lists", "[CONTENTS]\nWEAVING=1\nWARP=1\nWEFT=1\nWARP COLORS=true\n", schema.FileContents, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := head + c.text
			if own, ok := strings.CutPrefix(c.text, "[WEAVING]\nShafts=12\n"); ok {
				text = strings.Replace(head, "Shafts=4", "Shafts=12", 1) + own
			}
			if c.rule != schema.FileContents {
				text = strings.Replace(text, "[WEAVING]", "[CONTENTS]\n[WEAVING]", 1)
			}
			found := 0
			for _, f := range read(text).Findings {
				if f.Rule == c.rule {
					found++
					if f.Fixable() != c.certain {
						t.Errorf("%s: %+v", f.Message, f.Fixes)
					}
				}
			}
			if found != 1 {
				t.Errorf("%d findings", found)
			}
		})
	}
}

// TestUnitSpelling checks which misspelt units fettle reads, and the safe fix.
func TestUnitSpelling(t *testing.T) {
	for spelt, want := range map[string]schema.Unit{"Inches": schema.Inches, "Inchs": schema.Inches, "Inche": schema.Inches, "inch": schema.Inches, "Centimeter": schema.Centimetres,
		"Centimetres": schema.Centimetres, "Centemeters": schema.Centimetres, "Decipoint": schema.Decipoints, "Inhces": schema.Inches, "Ins": schema.UnitUnstated, "Feet": schema.UnitUnstated} {
		text := "[WIF]\n[CONTENTS]\nWARP=1\n[WARP]\nThreads=2\nUnits=" + spelt + "\nSpacing=0.5\n"
		doc := read(text)
		if doc.Draft.Warp.Unit != want {
			t.Errorf("%s is unit %v", spelt, doc.Draft.Warp.Unit)
		}
		for _, f := range doc.Findings {
			if f.Rule == schema.FileBadValue && (lineOf(text, f) != 6 || f.Fixable() != (want != schema.UnitUnstated)) {
				t.Errorf("%s: line %d, fixable is %v", spelt, lineOf(text, f), f.Fixable())
			}
		}
	}
}

// TestMisspeltInContents checks that a misspelt section has a misspelt line in CONTENTS, and
// that the fix renames both.
func TestMisspeltInContents(t *testing.T) {
	for text, want := range map[string]int{
		"[WIF]\n[CONTENTS]\nTREADLNG=true\n[TREADLNG]\n1=1\n":             3, // the line
		"[WIF]\n[CONTENTS]\nTREADLNG=true\n[TREADLING]\n1=1\n":            3,
		"[WIF]\n[CONTENTS]\nTREADLING=1\nTREADLNG=1\n[TREADLING]\n1=1\n":  0,
		"[WIF]\n[CONTENTS]\nTREADLNG=1\nTREADLING=1\n[TREADLING]\n1=1\n":  0,
		"[WIF]\n[CONTENTS]\nTREADLING=true\n[TREADLNG]\n1=1\n[WEAVING]\n": 0,
	} {
		line := 0
		for _, f := range read(text).Findings {
			if f.Rule == schema.FileContents && f.Data.Get("listed") == true && f.Data.Get("present") == true {
				line = lineOf(text, f)
				if edits := f.Fixes[0].Edits; len(edits) != 1 || edits[0].New != "TREADLING" || f.Fixes[0].Risky {
					t.Errorf("%q: %v", text, edits)
				}
			}
		}
		if line != want {
			t.Errorf("%q: line %d, not %d", text, line, want)
		}
	}
}

func lineOf(text string, f schema.Finding) int {
	return 1 + strings.Count(text[:f.Span.Start], "\n")
}
