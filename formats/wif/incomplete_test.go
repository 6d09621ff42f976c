package wif

import (
	"os"
	"slices"
	"strings"
	"testing"

	"fettle/corpus/golden"
	"fettle/schema"
)

// sound is a complete draft.
const sound = "[WIF]\nVersion=1.1\n[CONTENTS]\nWEAVING=true\nWARP=true\nWEFT=true\nTIEUP=true\nTHREADING=true\nTREADLING=true\nWARP COLORS=true\n" +
	"[WEAVING]\nShafts=2\nTreadles=2\nRising Shed=true\n[WARP]\nThreads=2\n[WEFT]\nThreads=12\n[TIEUP]\n1=1\n2=2\n[THREADING]\n1=1\n2=2\n" +
	"[TREADLING]\n1=1\n2=2\n3=1\n4=2\n5=1\n6=2\n7=1\n8=2\n9=1\n10=2\n11=1\n12=2\n[WARP COLORS]\n1=1\n2=1\n"

// cutAfter returns the sound draft up to the end of a text in it, and then more.
func cutAfter(at, more string) string {
	return sound[:strings.Index(sound, at)+len(at)] + more
}

func TestMain(m *testing.M) { os.Exit(golden.M{M: m}.Run()) }

func TestTruncatedFile(t *testing.T) {
	noColors := strings.Replace(sound, "WARP COLORS=true\n", "", 1)
	noColors = strings.TrimSuffix(noColors[:strings.Index(noColors, "[WARP COLORS]")], "\n")
	for _, test := range []struct {
		name, text string
		section    string // the section that is truncated, "" for none
		partial    bool
	}{
		{"whole", sound, "", false},
		{"whole, without a last line ending", strings.TrimSuffix(sound, "\n"), "", false},
		{"without colors, and CONTENTS doesn't list them", noColors, "", false},
		{"short, but with a last line ending", noColors[:strings.Index(noColors, "10=2")], "", false},
		{"in a row of the treadling", cutAfter("\n11=1", ""), "TREADLING", true},
		{"in the number of a row", noColors[:strings.Index(noColors, "0=2")], "TREADLING", true},
		{"after a complete row", cutAfter("\n12=2", ""), "TREADLING", true},
		{"after the =", noColors[:len(noColors)-1], "TREADLING", true},
		{"in the number of an extra row", noColors + "\n13", "TREADLING", true},
		{"an empty row, like others", strings.Replace(noColors, "\n9=1", "\n9=", 1)[:len(noColors)-2], "", false},
		{"in the threading", cutAfter("[THREADING]\n1=1", ""), "THREADING", true},
		{"in a section's name", cutAfter("[TREAD", ""), "TREAD", true},
		{"in a key's name", cutAfter("[WEFT]\nThr", ""), "WEFT", true},
		{"in the colors", cutAfter("[WARP COLORS]\n1", ""), "WARP COLORS", false},
		{"at the end of a line, in a short table before other sections",
			sound[:strings.Index(sound, "12=2")], "TREADLING", true},
		{"words after the draft", sound + "made on Quarrow", "", false},
		{"an end-of-file mark", cutAfter("\n11=1", "\n\x1a"), "", false},
	} {
		t.Run(test.name, func(t *testing.T) {
			doc := Read(&schema.Source{Text: []byte(test.text)})
			got := ""
			for _, f := range doc.Findings {
				if f.Rule == schema.FileMissingSection {
					got = f.Data.Get("section").(string)
					golden.Words(t, f.Message)
				}
			}
			if got != test.section || doc.Partial != test.partial {
				t.Errorf("got %q, partial %v; want %q, %v", got, doc.Partial, test.section, test.partial)
			}
			if got != "" && len(doc.Findings) != 1 {
				t.Errorf("there are other findings: %v", doc.Findings)
			}
		})
	}
}

// TestTruncatedFileWithOtherFaults checks that the other faults are reported too.
func TestTruncatedFileWithOtherFaults(t *testing.T) {
	text := strings.Replace(cutAfter("\n11=1", "x"), "Shafts=2", "Shafts=two", 1)
	text = strings.Replace(text, "TIEUP=true\n", "", 1)
	var got []string
	for _, f := range Read(&schema.Source{Text: []byte(text)}).Findings {
		got = append(got, f.Rule)
	}
	want := []string{schema.FileBadValue, schema.FileContents, schema.FileMissingSection}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}
