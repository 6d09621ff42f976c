package wif

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fettle/schema"
)

// TestRowsTypedInAnotherWay reads a tie-up of a draft on 4 shafts and 4 treadles.
func TestRowsTypedInAnotherWay(t *testing.T) {
	const head = "[WIF]\nVersion=1.1\n[WEAVING]\nShafts=4\nTreadles=4\n[TIEUP]\n"
	for _, c := range []struct{ name, rows, want string }{
		{"semicolons", "1=1;2\n2=2;3\n", "[1 2] [2 3]; certain"},
		{"a row of one number among them", "1=1;2\n2=3\n", "[1 2] [3]; certain"},
		{"a semicolon at the end", "1=1;2;\n", "[1 2]; certain"},
		{"a number named twice", "1=1;1\n", "[1]; risky"},
		{"more than there are shafts", "1=1;2\n2=2;5\n", "[1 2] [2 5]; risky"},
		{"a comment of a number", "1=1 ;2\n", "[1 2]; risky"},
		{"a comment of a number that is no shaft", "1=1 ;12\n", "[1]; risky"},
		{"a comment of words", "1=1 ;two\n", "[1]; comment"},
		{"a comment that begins with a number", "1=1 ; 2 of them\n", "[1]; comment"},
		{"commas elsewhere", "1=1,2\n2=2;3\n", "[1 2] [2 3]; risky"},
		{"a comma and a semicolon", "1=1,2;3\n", "[1 2 3]; risky"},
		{"an en dash", "1=1\u20133\n", "[1 3]; none"},
		{"a colon for =", "1=1\n2: 2,3\n3=4\n", "[1] [2 3] [4]; certain"},
		{"a colon, the last row", "1=1\n2=2\n3: 3\n", "[1] [2] [3]; certain"},
		{"a colon and the row as well", "1=1\n2: 2,3\n2=4\n", "[1] [4]; risky"},
		{"a colon beyond the treadles", "1=1\n5: 2\n", "[1] [] [] [] [2]; risky"},
		{"a colon twice", "1: 1\n1: 2\n", "[1]; certain risky"},
		{"a colon and words", "1=1\n2: see above\n", "[1]; stray"},
		{"a space for =, out of order", "1=1\n3 3\n", "[1] [] [3]; risky"},
		{"a space for =", "1=1\n2 3\n", "[1] [3]; certain"},
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
				t.Errorf("the rules that judge the weave are held back: %v", held)
			}
		})
	}
}

// TestLinesOfOneFinding lists all lines that a finding stands for, wherever they
// are, and names the first of them.
func TestLinesOfOneFinding(t *testing.T) {
	doc := read("[WIF]\n[CONTENTS]\nTHREADING=true\n[THREADING]\n1=x\n2=2\n3=x\n4=x\n")
	i := slices.IndexFunc(doc.Findings, func(f schema.Finding) bool { return f.Rule == schema.FileBadValue })
	if f := doc.Findings[i]; !slices.Equal(f.Lines, []int{5, 7, 8}) || !strings.HasSuffix(f.Message, "lines 5, 7 and 8") {
		t.Errorf("lines %d: %s", f.Lines, f.Message)
	}
}

// TestCertainFixes says of each fix of the reader whether it is certain: something
// else may have been meant where it is not.
func TestCertainFixes(t *testing.T) {
	const head = "[WIF]\nVersion=1.1\n[WEAVING]\nShafts=4\nTreadles=4\n[WARP]\nThreads=4\n[WEFT]\nThreads=4\n"
	for _, c := range []struct {
		name, text, rule string
		certain          bool
	}{
		{"a key twice with one value", "[TEXT]\nTitle=a\nTitle=a\n", schema.FileDuplicateKey, true},
		{"a key twice with two values", "[TEXT]\nTitle=a\nTitle=b\n", schema.FileDuplicateKey, false},
		{"a row twice with one value", "[THREADING]\n1=1\n2=2\n1=1\n", schema.FileDuplicateKey, true},
		{"a row twice with two values", "[THREADING]\n1=1\n2=2\n1=3\n", schema.FileDuplicateKey, false},
		{"a late row twice with one value", "[THREADING]\n2=2\n1=1\n2=2\n", schema.FileDuplicateKey, true},
		{"a late row twice with two values", "[THREADING]\n2=2\n1=1\n2=3\n", schema.FileDuplicateKey, false},
		{"a row whose number the next one lacks", "[THREADING]\n1=1\n1=2\n3=3\n", schema.FileDuplicateKey, false},
		{"a note twice with two texts", "[NOTES]\n1=a\n1=b\n", schema.FileDuplicateKey, false},
		{"warp twice, and no weft", "[WARP COLORS]\n1=1\n[WARP COLORS]\n1=2\n", schema.FileDuplicateSection, false},
		{"warp in two parts, and no weft", "[WARP COLORS]\n1=1\n[WARP COLORS]\n2=2\n", schema.FileDuplicateSection, true},
		{"a tie-up twice", "[TIEUP]\n1=1\n[TIEUP]\n2=2\n", schema.FileDuplicateSection, true},
		{"words in a table", "[THREADING]\nfrom the right\n1=1\n", schema.FileStrayLine, true},
		{"a number in a table", "[THREADING]\n1=1\n2 is on the second\n", schema.FileStrayLine, false},
		{"a section without brackets", "[THREADING]\n1=1\nTREADLING\n1=1\n", schema.FileStrayLine, true},
		{"a row after a row", "[THREADING]\n1=1; 2=2\n", schema.FileStrayLine, false},
		{"a comment after a row", "[THREADING]\n1=1; left\n", schema.FileStrayLine, true},
		{"a number twice in a row", "[TIEUP]\n1=1,1\n", schema.FileStrayLine, false},
		{"two colors for a thread", "[WARP COLORS]\n1=2,1\n", schema.FileBadValue, false},
		{"a space inside a number", "[WEAVING]\nShafts=12\n[THREADING]\n1=1 2\n", schema.FileBadValue, false},
		{"two shafts with a space between", "[THREADING]\n1=1 2\n", schema.FileBadValue, true},
		{"a key without a value", "[TEXT]\nTitle\n", schema.FileStrayLine, false},
		{"a row of 0", "[THREADING]\n1=1\n2=2\n3=3\n4=4\n0=1\n", schema.FileIndex, false},
		{"a row beyond belief", "[THREADING]\n1=1\n99999999=1\n", schema.FileIndex, false},
		{"a decimal comma", "[WARP SPACING]\n1=0,125\n", schema.FileDecimalComma, true},
		{"a comma of thousands", "[WARP SPACING]\n1=1,250\n", schema.FileDecimalComma, false},
		{"a range that can only be guessed", "[COLOR PALETTE]\nEntries=1\n[COLOR TABLE]\n1=999,0,0\n", schema.FileBadValue, false},
		{"one color more than declared", "[COLOR PALETTE]\nEntries=1\nRange=0,255\n[COLOR TABLE]\n1=9,0,0\n2=9,0,0\n", schema.FileIndex, true},
		{"a color far beyond those declared", "[COLOR PALETTE]\nEntries=1\nRange=0,255\n[COLOR TABLE]\n1=9,0,0\n12=9,0,0\n", schema.FileIndex, false},
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
