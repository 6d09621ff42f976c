package corpus

import (
	"encoding/binary"
	"strings"

	"golang.org/x/text/encoding/charmap"
)

// sound is the draft from which most wild drafts are made: four ends straight on four
// shafts, three picks, 44 lines.
const sound = `[WIF]
Version=1.1
Date=April 20, 1997
Developers=wif@mhsoft.com

[CONTENTS]
TEXT=true
WEAVING=true
WARP=true
WEFT=true
TIEUP=true
THREADING=true
TREADLING=true

[TEXT]
Title=Quay check

[WEAVING]
Shafts=4
Treadles=4
Rising Shed=true

[WARP]
Threads=4

[WEFT]
Threads=3

[TIEUP]
1=1,2
2=2,3
3=3,4
4=1,4

[THREADING]
1=1
2=2
3=3
4=4

[TREADLING]
1=1
2=2
3=4
`

// accented is the title of the drafts with unusual encodings.
const accented = "Gr\u00fcner Schal, Caf\u00e9"

// wildDraft holds the bytes of corpus/wild/NAME.wif. For a sound draft with one mistake,
// it also holds those of NAME.meant.wif.
type wildDraft struct {
	name, raw string
	meant     string // "" if nothing is spoiled, or the meaning is unknown
	risky     bool   // risky fixes give the draft that was meant
}

// with returns the sound draft with some unique pieces replaced.
func with(oldNew ...string) string {
	text := sound
	for i := 0; i < len(oldNew); i += 2 {
		head, tail, ok := strings.Cut(text, oldNew[i])
		if !ok || strings.Contains(tail, oldNew[i]) {
			return "no piece, or more than one: " + oldNew[i]
		}
		text = head + oldNew[i+1] + tail
	}
	return text
}

// adding returns the sound draft with more sections, which CONTENTS lists.
func adding(sections string, names ...string) string {
	listed := ""
	for _, n := range names {
		listed += n + "=true\n"
	}
	return with("TEXT=true\n", listed+"TEXT=true\n") + sections
}

// until returns the sound draft up to and including a piece of it.
func until(piece string) string {
	head, _, _ := strings.Cut(sound, piece)
	return head + piece
}

func breaks(text, with string) string { return strings.ReplaceAll(text, "\n", with) }

// wide returns a text in UTF-16.
func wide(order binary.AppendByteOrder, text string) string { return string(inUTF16(order, text)) }

// coded returns a text in a code page that has all its letters.
func coded(page, text string) string { return string(inTable(codePages[page], text)) }

var codePages = map[string]*charmap.Charmap{"cp437": charmap.CodePage437, "cp850": charmap.CodePage850, "cp852": charmap.CodePage852,
	"cp865": charmap.CodePage865, "windows-1250": charmap.Windows1250, "windows-1252": charmap.Windows1252}

// dyed returns the sound draft with a palette of two colors.
func dyed(palette, table string) string {
	return adding("\n[COLOR PALETTE]\n"+palette+"\n[COLOR TABLE]\n"+table, "COLOR PALETTE", "COLOR TABLE")
}

func wildDrafts() []wildDraft {
	var all []wildDraft
	for _, group := range [][]wildDraft{
		wildBytes(), wildContents(), wildTables(), wildNumbers(), wildNames(), wildCarried(), wildBeginnings(), noDrafts(), wildSlips(),
	} {
		all = append(all, group...)
	}
	return all
}

// wildBytes returns drafts with odd encodings and line endings.
func wildBytes() []wildDraft {
	unicode := with("Quay check", accented)
	return []wildDraft{
		{"plain-lf", sound, "", false},
		{"plain-crlf", breaks(sound, "\r\n"), "", false},
		{"lone-cr", breaks(sound, "\r"), "", false},
		{"mixed-line-endings", with("Shafts=4\n", "Shafts=4\r\n", "Treadles=4\n", "Treadles=4\r"), "", false},
		{"utf8", unicode, "", false},
		{"utf8-mark", "\xef\xbb\xbf" + unicode, "", false},
		{"utf16-le-mark", "\xff\xfe" + wide(binary.LittleEndian, unicode), "", false},
		{"utf16-be-mark", "\xfe\xff" + wide(binary.BigEndian, unicode), "", false},
		{"utf16-le", wide(binary.LittleEndian, unicode), "", false},
		{"utf16-be", wide(binary.BigEndian, unicode), "", false},
		{"windows-1252", with("Quay check", "Gr\xfcner Schal \x96 \x93Caf\xe9\x94 f\xfcr Ren\xe9\x92s Fl\xf6te"), "", false},
		{"mac-roman", with("Quay check", "Gr\x9fner Schal, Caf\x8e"), "", false},
		{"mac-roman-cr", breaks(with("Quay check", "Gr\x9fner Schal, Caf\x8e"), "\r"), "", false},
		{"mac-roman-one-accent", with("Quay check", "Caf\x8e curtain"), "", false},
		{"windows-1252-swedish", with("Quay check", coded("windows-1252", "Handduk i kråkdräll")), "", false},
		{"cp850-swedish", with("Quay check", coded("cp850", "Rosengång på 4 skaft")), "", false},
		{"cp850-end-of-file-mark", with("Quay check", coded("cp850", "Schußtreue")) + "\x1a", "", false},
		{"cp437", with("Quay check", coded("cp437", "Crème towel, 75 ¢")), "", false},
		{"cp865", with("Quay check", coded("cp865", "Ærø-håndklæde, ≈ 40 cm")), "", false},
		{"cp852-polish", with("Quay check", coded("cp852", "Ręcznik w jodełkę, żółty")), "", false},
		{"windows-1250-polish", with("Quay check", coded("windows-1250", "Ręcznik w jodełkę, żółty")), "", false},
		{"windows-1250-czech", with("Quay check", coded("windows-1250", "Červený ručník, plátno")), "", false},
		{"cp850-not-clear", with("Quay check", coded("cp850", "Rölakan")), "", false},
		{"utf8-one-byte-broken", with("Quay check", "Grüner Schal, blå, Ren\xe9!"), "", false},
	}
}

// wildContents returns drafts with missing or wrong CONTENTS, and missing sections.
func wildContents() []wildDraft {
	return []wildDraft{
		{"no-contents", with("[CONTENTS]\nTEXT=true\nWEAVING=true\nWARP=true\nWEFT=true\nTIEUP=true\nTHREADING=true\nTREADLING=true\n\n", ""), "", false},
		{"contents-lists-absent", with("TEXT=true\n", "NOTES=yes\nTEXT=true\n"), "", false},
		{"contents-omits", with("TEXT=true\n", ""), "", false},
		{"contents-denies", with("TEXT=true\n", "TEXT=false\n"), "", false},
		{"no-wif", with("[WIF]\nVersion=1.1\nDate=April 20, 1997\nDevelopers=wif@mhsoft.com\n\n", ""), "", false},
		{"no-tieup", with("TIEUP=true\n", "", "[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n\n", ""), "", false},
		{"no-palette", adding("\n[COLOR TABLE]\n1=255,128,0\n", "COLOR TABLE"), "", false},
		{"booleans", with("TEXT=true\nWEAVING=true\nWARP=true\nWEFT=true\n",
			"TEXT=True\nWEAVING=yes\nWARP=ON\nWEFT=1\nNOTES=FALSE\nCOLOR TABLE=No\nLIFTPLAN=off\nBITMAP FILE=0\n",
			"Rising Shed=true", "Rising Shed=0"), "", false},
		{"boolean-wrong", with("Rising Shed=true", "Rising Shed=up"), "", false},
	}
}

// wildTables returns drafts with tables that contradict the declared numbers.
func wildTables() []wildDraft {
	return []wildDraft{
		{"threading-longer", with("4=4\n", "4=4\n5=1\n"), "", false},
		{"threading-shorter", with("4=4\n", ""), "", false},
		{"treadling-longer", with("3=4\n", "3=4\n4=3\n"), "", false},
		{"treadling-shorter", with("3=4\n", ""), "", false},
		{"rows-out-of-order", with("[THREADING]\n1=1\n2=2\n3=3\n4=4\n", "[THREADING]\n4=4\n2=2\n1=1\n3=3\n"), "", false},
		{"zero-and-empty", with("[THREADING]\n1=1\n2=2\n3=3\n", "[THREADING]\n1=1\n2=0\n3=\n", "2=2\n3=4\n", "2=\n3=4\n"), "", false},
		{"duplicate-rows", with("4=4\n", "4=4\n2=1\n3=1\n"), "", false},
		{"duplicate-key", with("Shafts=4\n", "Shafts=4\nShafts=8\n"), "", false},
		{"duplicate-section", sound + "\n[WARP]\nThreads=9\nColor=2\n", "", false},
		{"index-zero", with("4=4\n", "4=4\n0=2\n"), "", false},
		{"index-high", with("4=4\n", "4=4\n999999999=2\n"), "", false},
		{"index-beyond-any", with("4=4\n", "4=4\n98765432109876543210=2\n"), "", false},
		{"count-high", with("[WARP]\nThreads=4", "[WARP]\nThreads=2000000000"), "", false},
		{"spacing-beyond", adding("\n[WARP SPACING]\n2=72\n9=36\n", "WARP SPACING"), "", false},
		{"tieup-and-liftplan", adding("\n[LIFTPLAN]\n1=1,2\n2=2,3\n3=2\n", "LIFTPLAN"), "", false},
	}
}

// wildNumbers returns drafts with values in unusual, foreign or wrong forms.
func wildNumbers() []wildDraft {
	return []wildDraft{
		{"trailing-commas", with("2=2,3\n", "2=2,3,\n", "3=3\n", "3=3 , \n"), "", false},
		{"trailing-spaces", with("[WARP]\nThreads=4", "[WARP]\nThreads=4 \t", "3=3\n", "3=3   \n", "[TIEUP]", "[TIEUP]  "), "", false},
		{"blanks-around-equals", strings.ReplaceAll(sound, "=", " = "), "", false},
		{"comment-after-number", with("[WARP]\nThreads=4", "[WARP]\nThreads=4 ; vier F\u00e4den"), "", false},
		{"decimal-comma", strings.Replace(adding("\n[WARP SPACING]\n2=0,5\n", "WARP SPACING"),
			"[WARP]\nThreads=4\n", "[WARP]\nThreads=4\nUnits=Centimeters\nSpacing=0,25\n", 1), "", false},
		{"units-decipoints-inches", with("[WARP]\nThreads=4\n", "[WARP]\nThreads=4\nUnits=Decipoints\nSpacing=36\n",
			"[WEFT]\nThreads=3\n", "[WEFT]\nThreads=3\nUnits=inches\nSpacing=0.1\n"), "", false},
		{"units-centimeters", with("[WARP]\nThreads=4\n", "[WARP]\nThreads=4\nUnits=Centimeters\nSpacing=0.2\n",
			"[WEFT]\nThreads=3\n", "[WEFT]\nThreads=3\nUnits=CENTIMETRES\nSpacing=.3\n"), "", false},
		{"units-unknown", with("[WARP]\nThreads=4\n", "[WARP]\nThreads=4\nUnits=Ells\nSpacing=36\n"), "", false},
		{"units-missing", with("[WARP]\nThreads=4\n", "[WARP]\nThreads=4\nSpacing=0.08\n"), "", false},
		{"units-short", with("[WARP]\nThreads=4\n", "[WARP]\nThreads=4\nUnits=cm\nSpacing=0.2\n"), "", false},
		{"row-mistyped", with("2=2\n3=3\n", "2=2\n2=3\n"), "", false},
		{"count-in-words", with("Shafts=4", "Shafts=four"), "", false},
		{"row-in-words", with("[THREADING]\n1=1\n2=2\n", "[THREADING]\n1=1\n2=two\n"), "", false},
		{"range-999", dyed("Entries=2\nForm=RGB\nRange=0,999\n", "1=999,500,1\n2=2,128,333\n"), "", false},
		{"range-65535", dyed("Entries=2\nForm=RGB\nRange=0,65535\n", "1=65535,32768,128\n2=129,65406,65407\n"), "", false},
		{"range-missing", dyed("Entries=2\nForm=RGB\n", "1=255,128,0\n2=1,33,85\n"), "", false},
		{"range-missing-999", dyed("Entries=2\nForm=RGB\n", "1=999,500,1\n2=2,128,333\n"), "", false},
		{"range-missing-65535", dyed("Entries=2\nForm=RGB\n", "1=129,65406,65407\n2=65535,32768,128\n"), "", false},
		{"color-beyond-range", dyed("Entries=2\nForm=RGB\nRange=0,255\n", "1=256,128,0\n2=1,33,85\n"), "", false},
		{"color-beyond-entries", dyed("Entries=1\nForm=RGB\nRange=0,255\n", "1=255,128,0\n2=1,33,85\n"), "", false},
		{"color-by-name", dyed("Entries=2\nForm=RGB\nRange=0,255\n", "1=madder\n2=1,33,85\n"), "", false},
		{"color-symbolic", dyed("Entries=2\nForm=Symbolic\n", "1=madder\n2=weld\n"), "", false},
	}
}

// wildNames returns drafts with unknown or misspelt sections and keys.
func wildNames() []wildDraft {
	return []wildDraft{
		{"lower-case", strings.ToLower(sound), "", false},
		{"unknown-section", adding("\n[SPINDLES]\n1=ash\n", "SPINDLES"), "", false},
		{"unknown-key", with("Shafts=4\n", "Shafts=4\nLooms=2\n"), "", false},
		{"unknown-key-accented", with("Shafts=4\n", "Shafts=4\nGr\u00f6\u00dfe=7\n"), "", false},
		{"unknown-row", with("4=4\n", "4=4\nlast=1\n"), "", false},
		{"misspelt-section", with("[TREADLING]", "[TREDLING]"), "", false},
		{"misspelt-key", with("Treadles=4", "Tredles=4"), "", false},
		{"misspelt-section-before-right", with("[THREADING]\n", "[THREDING]\n1=4\n\n[THREADING]\n"), "", false},
		{"misspelt-section-after-right", adding("\n[THREDING]\n1=4\n", "THREDING"), "", false},
		{"misspelt-key-before-right", with("Shafts=4\n", "Shaft=8\nShafts=4\n"), "", false},
		{"misspelt-key-after-right", with("Shafts=4\n", "Shafts=4\nShaft=8\n"), "", false},
		{"unclosed-bracket", with("[WEFT]", "[WEFT"), "", false},
		{"comment-after-bracket", with("[WEFT]", "[WEFT] ; the shuttle"), "", false},
		{"version-1.0", with("1.1", "1.0"), "", false},
		{"version-foreign", with("1.1", "2.5"), "", false},
	}
}

// wildCarried returns drafts with parts that the model can't hold.
func wildCarried() []wildDraft {
	return []wildDraft{
		{"symbols", strings.Replace(adding("\n[WARP SYMBOL PALETTE]\nEntries=2\n\n[WARP SYMBOL TABLE]\n1='#'\n2=;\n3=o\n\n[WARP SYMBOLS]\n1=1\n9=2\n",
			"WARP SYMBOL PALETTE", "WARP SYMBOL TABLE", "WARP SYMBOLS"), "[WARP]\n", "[WARP]\nSymbol='#'\nSymbol Number=1\n", 1), "", false},
		{"zooms", strings.Replace(adding("\n[WARP SPACING ZOOM]\n1=2\n\n[WEFT THICKNESS ZOOM]\n3=1\n",
			"WARP SPACING ZOOM", "WEFT THICKNESS ZOOM"), "[WARP]\n", "[WARP]\nSpacing Zoom=2\nThickness Zoom=1\n", 1), "", false},
		{"bitmaps", adding("\n[BITMAP IMAGE]\nXdim=2\n0=FF\n\n[BITMAP FILE]\nname=quay.bmp\n", "BITMAP IMAGE", "BITMAP FILE"), "", false},
		{"translations", adding("\n[TRANSLATIONS]\nTREADLING=Trittfolge\n", "TRANSLATIONS"), "", false},
		{"private", adding("\n[PRIVATE loom room]\nwarped by=Ada\n\nloose words\n", "PRIVATE loom room"), "", false},
		{"notes", adding("\n[NOTES]\n1=Sett close.\n3=Full warm = soft.\n", "NOTES"), "", false},
		{"comments", with("[TEXT]\n", "; of the quay\n[TEXT]\n; the name\n", "Shafts=4\n", "; counted twice\nShafts=4\n"), "", false},
	}
}

// wildBeginnings returns drafts that follow other text, and truncated drafts.
func wildBeginnings() []wildDraft {
	return []wildDraft{
		{"mail-header", "From: the guild\nSubject: a draft = for the fair\n\n" + sound, "", false},
		{"cut-in-table", until("[TREADLING]\n1=1\n2=2\n3"), "", false},
		{"cut-in-key", until("[WEFT]\nThr"), "", false},
		{"cut-in-character", until("Title=") + "Caf\xc3", "", false},
		{"end-of-file-mark", sound + "\x1a", "", false},
	}
}

// noDrafts returns other kinds of files that are named like drafts.
func noDrafts() []wildDraft {
	return []wildDraft{
		{"no-draft/web-page", "<!DOCTYPE html>\n<html><head><title>[WIF] not found</title></head></html>\n", "", false},
		{"no-draft/picture", "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x00\x01", "", false},
		{"no-draft/empty", "", "", false},
		{"no-draft/binary", "\x7fELF\x02\x01\x01\x00\x00\x00[WIF]\x00\x00\x03\x00\x3e\x00\x01\x00", "", false},
		{"no-draft/letter", "Dear guild,\n\nthe draft is attached.\n", "", false},
	}
}
