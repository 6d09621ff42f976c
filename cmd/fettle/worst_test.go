package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strings"

	"fettle/corpus"
	"fettle/formats/wif"
)

// worst is a file that could make a command slow. The size of its text, or of its
// settings, is proportional to n.
type worst struct {
	name     string
	text     func(n int) []byte
	settings func(n int) []byte // settings beside the file; nil means worstRoom
	apart    bool               // all ends and picks differ, so each pass over the cloth takes time in proportion to its crossings, up to a limit
}

// worstRoom holds settings that make every rule and every step of the plan do some work.
const worstRoom = "[loom]\nshafts = 8\ntreadles = 10\nweaving width = 60 cm\n[heddles]\neach = 20\n[reed]\ndents = 10/in\n" +
	"[project]\nsett = 20/in\nfinished length = 2 m\n[yarn a]\ngrist = 8/2 cotton\nstock = 100 m\n"

// worstFiles lists files that revealed slow code, or might.
func worstFiles() []worst {
	repeated := func(head, line string) func(int) []byte {
		return func(n int) []byte { return append([]byte(head), bytes.Repeat([]byte(line), n/len(line))...) }
	}
	numbered := func(head, format string) func(int) []byte {
		return func(n int) []byte {
			text := []byte(head)
			for i := 1; len(text) < n; i++ {
				text = fmt.Appendf(text, format, i)
			}
			return text
		}
	}
	// counted is numbered with a declared count of n/4, so that the count grows with the
	// file, up to a million at 4 MB.
	counted := func(head, format string) func(int) []byte {
		return func(n int) []byte { return numbered(fmt.Sprintf(head, n/4), format)(n) }
	}
	const tied = "[WIF]\n[WEAVING]\nShafts=4\n[TIEUP]\n1=1,2\n2=3,4\n[THREADING]\n1=1\n2=2\n3=3\n4=4\n[TREADLING]\n"
	// colored is a draft with many colors.
	colored := func(n int) []byte {
		text := fmt.Appendf(nil, "[WIF]\n[WEAVING]\nShafts=2\n[COLOR PALETTE]\nEntries=%d\nRange=0,255\n[TIEUP]\n1=1\n2=2\n[TREADLING]\n1=1\n2=2\n", n/4)
		text = append(text, numbered("[THREADING]\n", "%d=1\n")(n/4)...)
		text = append(text, numbered("[WARP COLORS]\n", "%[1]d=%[1]d\n")(n/4)...)
		text = append(text, "[COLOR TABLE]\n"...)
		for i := 1; len(text) < n; i++ {
			text = fmt.Appendf(text, "%d=%d,%d,%d\n", i, i%256, i/256%256, i/65536)
		}
		return text
	}
	return []worst{
		{name: "as it should be", text: func(n int) []byte {
			text, _ := wif.Write(corpus.Generate(1, corpus.GenOptions{Ends: n / 29, Picks: n / 29, Shafts: 8}), wif.Options{})
			return text
		}},
		{name: "many sections", text: numbered("[WIF]\n", "[SECTION %d]\n")},
		{name: "a section again and again", text: repeated("[WIF]\n[TEXT]\n", "[TEXT]\n")},
		{name: "sections by turns", text: repeated("[WIF]\n", "[THREADING]\n1=1\n[TREADLING]\n1=1\n")},
		{name: "many unknown keys", text: numbered("[WIF]\n[WEAVING]\n", "Key %d=1\n")},
		{name: "a key again and again", text: repeated("[WIF]\n[WEAVING]\n", "Shafts=4\n")},
		{name: "a row again and again", text: repeated("[WIF]\n[THREADING]\n", "1=1\n")},
		{name: "rows backwards", text: func(n int) []byte {
			text := []byte("[WIF]\n[THREADING]\n")
			for i := n / 10; i > 0; i-- {
				text = fmt.Appendf(text, "%d=%d\n", i, i%8+1)
			}
			return text
		}},
		{name: "rows far apart", text: numbered("[WIF]\n[THREADING]\n", "%d0=1\n")},
		{name: "many lines of contents", text: numbered("[WIF]\n[CONTENTS]\n", "PRIVATE %d=true\n")},
		{name: "a line without an end", text: repeated("[WIF]\n[NOTES]\n1=", "é ")},
		{name: "a row without an end", text: func(n int) []byte {
			text := []byte("[WIF]\n[TIEUP]\n1=1")
			for i := 2; len(text) < n; i++ {
				text = fmt.Appendf(text, ",%d", i)
			}
			return append(text, "\n[THREADING]\n1=1\n[TREADLING]\n1=1\n"...)
		}},
		{name: "stray lines and rows by turns", text: repeated("[WIF]\n[THREADING]\n", "x\n1=1\n")},
		{name: "values that cannot be read", text: numbered("[WIF]\n[WARP SPACING]\n", "%d=x\n")},
		{name: "decimal commas", text: counted("[WIF]\n[WARP]\nThreads=%d\n[WARP SPACING]\n", "%d=0,25\n")},
		{name: "colors beyond the palette", text: counted(tied+"1=1\n[WEFT]\nThreads=%d\n[WEFT COLORS]\n", "%d=9\n")},
		{name: "comments that ask to ignore", text: repeated("[WIF]\n", "; fettle: ignore cloth/layers - so\n")},
		{name: "comments that ask to ignore a rule of a whole weave", text: repeated(tied+"1=1\n", "; fettle: ignore cloth/long-float - so\n")},
		{name: "every line ended otherwise", text: repeated("[WIF]\n[NOTES]\n", "1=a\r\n2=b\n3=c\r")},
		{name: "every end on every shaft", text: func(n int) []byte {
			const shafts = 64
			var all strings.Builder
			for s := 1; s <= shafts; s++ {
				fmt.Fprintf(&all, ",%d", s)
			}
			row := all.String()[1:]
			text := []byte("[WIF]\n[WEAVING]\nShafts=64\n[THREADING]\n")
			for i := 1; len(text) < n/2; i++ {
				text = fmt.Appendf(text, "%d=%s\n", i, row)
			}
			text = append(text, "[LIFTPLAN]\n"...)
			for i := 1; len(text) < n; i++ {
				text = fmt.Appendf(text, "%d=%s\n", i, row)
			}
			return text
		}},
		{name: "every lift another", apart: true, text: func(n int) []byte {
			r := rand.New(rand.NewPCG(1, 2))
			text := []byte("[WIF]\n[WEAVING]\nShafts=32\n[THREADING]\n")
			for i := 1; len(text) < n/4; i++ {
				text = fmt.Appendf(text, "%d=%d\n", i, i%32+1)
			}
			text = append(text, "[LIFTPLAN]\n"...)
			for i := 1; len(text) < n; i++ {
				text = fmt.Appendf(text, "%d=", i)
				for s := 1; s <= 31; s++ {
					if r.IntN(2) == 0 {
						text = fmt.Appendf(text, "%d,", s)
					}
				}
				text = append(text, "32\n"...)
			}
			return text
		}},
		{name: "every end on a shaft of its own, every lift another", apart: true, text: func(n int) []byte {
			text := []byte("[WIF]\n[THREADING]\n")
			for i := 1; len(text) < n/2; i++ {
				text = fmt.Appendf(text, "%[1]d=%[1]d\n", i)
			}
			text = append(text, "[LIFTPLAN]\n"...)
			for i := 1; len(text) < n; i++ {
				text = fmt.Appendf(text, "%[1]d=%[1]d\n", i)
			}
			return text
		}},
		{name: "every treadle untied", text: numbered("[WIF]\n[TIEUP]\n1=1\n[THREADING]\n1=1\n[TREADLING]\n", "%[1]d=%[1]d\n")},
		{name: "uneven spacing", text: counted(tied+"1=1\n[WARP]\nUnits=Centimeters\nThreads=%d\n[WARP SPACING]\n", "%[1]d=0.1%[1]d\n")},
		{name: "deep JSON", text: func(n int) []byte {
			return []byte(`{"fettle":1,"threading":` + strings.Repeat("[", n/2) + strings.Repeat("]", n/2) + "}")
		}},
		{name: "wide JSON", text: func(n int) []byte {
			return []byte(`{"fettle":1,"threading":[` + strings.Repeat("1,", n/2) + `1]}`)
		}},
		{name: "JSON with unknown keys", text: func(n int) []byte {
			text := []byte(`{"fettle":1`)
			for i := 0; len(text) < n; i++ {
				text = fmt.Appendf(text, `,"k%d":[]`, i)
			}
			return append(text, '}')
		}},
		{name: "JSON with words for numbers", text: func(n int) []byte {
			return []byte(`{"fettle":1,"threading":[` + strings.Repeat(`"x",`, n/4) + `1]}`)
		}},
		// Many headings, names or comments.
		{name: "many private sections", text: numbered("[WIF]\n", "[PRIVATE P%d]\na=1\n")},
		{name: "sections almost called one", text: repeated("[WIF]\n", "[TREADLIGN]\n1=1\n[TREADING]\n1=1\n")},
		{name: "names almost like sections", text: numbered("[WIF]\n", "[TREADLING%d]\n1=1\n")},
		{name: "keys almost called one", text: repeated("[WIF]\n[WEAVING]\n", "Shfats=4\nTreadels=4\n")},
		{name: "names almost like keys", text: numbered("[WIF]\n[WEAVING]\n", "Shafts%d=4\n")},
		{name: "many comments", text: numbered(tied, "; comment %d\n")},
		{name: "comments between rows", text: numbered(tied, "; comment\n%d=1\n")},
		{name: "treadles untied, and comments that ask otherwise", text: func(n int) []byte {
			return append(numbered("[WIF]\n", "; fettle: ignore loom/rule%d - so\n")(n/2),
				numbered("[TIEUP]\n1=1\n[THREADING]\n1=1\n[TREADLING]\n", "%[1]d=%[1]d\n")(n/2)...)
		}},
		{name: "comments that ask otherwise", text: numbered("[WIF]\n", "; fettle: ignore loom/rule%d - so\n")},
		{name: "comments that ask in every section", text: numbered("[WIF]\n", "[SECTION %d]\n; fettle: ignore file/unknown-section - so\n")},
		// Very long lines.
		{name: "a word without an end", text: repeated("[WIF]\n[NOTES]\n1=", "x")},
		{name: "a title without an end", text: repeated(tied+"1=1\n2=2\n[TEXT]\nTitle=", "word ")},
		{name: "a stray line without an end", text: repeated("[WIF]\n", "x")},
		{name: "a heading without an end", text: repeated("[WIF]\n[", "x")},
		{name: "a key without an end", text: repeated("[WIF]\n[WEAVING]\n", "x")},
		{name: "a comment without an end", text: repeated("[WIF]\n; ", "x")},
		{name: "empty lines", text: repeated("[WIF]\n", "\n")},
		{name: "lone returns", text: repeated("[WIF]\r[NOTES]\r", "1=a\r")},
		// Characters and encodings.
		{name: "NULs", text: repeated("[WIF]\n[NOTES]\n", "1=a\x00b\n")},
		{name: "nothing but NULs", text: repeated("", "\x00")},
		{name: "control characters", text: repeated("[WIF]\n[NOTES]\n1=", "\x1b[31m\x07\u202e")},
		{name: "UTF-16 with an odd byte", text: func(n int) []byte { return append(utf16le(repeated("[WIF]\n[NOTES]\n", "1=a\n")(n/2)), 'x') }},
		{name: "UTF-16 with halves of pairs", text: func(n int) []byte {
			return append(utf16le([]byte("[WIF]\n[NOTES]\n1=")), bytes.Repeat([]byte{0x00, 0xd8}, n/2)...)
		}},
		{name: "bytes of no encoding", text: repeated("[WIF]\n[NOTES]\n1=", "\x81\xfe\xe9 ")},
		// Numbers.
		{name: "counts of 2^31", text: numbered("[WIF]\n[WEAVING]\nShafts=2147483648\nTreadles=2147483648\n[WARP]\nThreads=2147483648\n[WEFT]\nThreads=2147483648\n[THREADING]\n",
			"%d=2147483648\n")},
		{name: "rows at 2^31", text: numbered("[WIF]\n[THREADING]\n", "214748%d=1\n")},
		{name: "digits without an end", text: repeated("[WIF]\n[WEAVING]\nShafts=", "9")},
		// Many parts of a draft.
		{name: "many notes", text: numbered(tied+"1=1\n[NOTES]\n", "%[1]d=note %[1]d\n")},
		{name: "many colors", text: colored},
		{name: "many ends, two picks", text: func(n int) []byte {
			return append(numbered("[WIF]\n[TIEUP]\n1=1,3\n2=2,4\n[TREADLING]\n1=1\n2=2\n[THREADING]\n", "%d=1\n")(n/2), numbered("[WARP COLORS]\n", "%d=1\n")(n/2)...)
		}},
		{name: "two ends, many picks", text: numbered(tied, "%d=1\n")},
		{name: "runs of no two lengths", text: func(n int) []byte {
			text, end := []byte(tied+"1=1\n2=2\n[THREADING]\n"), 1
			for run := 1; len(text) < n; run++ {
				for i := 0; i < run && len(text) < n; i++ {
					text = fmt.Appendf(text, "%d=%d\n", end, run%4+1)
					end++
				}
			}
			return text
		}},
		{name: "thicknesses of no two sizes", text: counted(tied+"1=1\n[WEFT]\nUnits=Centimeters\nThreads=%d\n[WEFT THICKNESS]\n", "%[1]d=0.1%[1]d\n")},
		{name: "symbols, zooms and translations", text: numbered(tied+"1=1\n[TRANSLATIONS]\n", "%[1]d=a%[1]d\n")},
		// JSON.
		{name: "JSON with many notes", text: func(n int) []byte {
			return append(numbered(`{"fettle":1,"threading":[1,2],"notes":["a"`, ",\"note %d\"\n")(n), "]}"...)
		}},
		{name: "JSON with a text without an end", text: func(n int) []byte { return append(repeated(`{"fettle":1,"title":"`, `\u00e9 `)(n), `"}`...) }},
		{name: "JSON with a key again and again", text: func(n int) []byte { return append(repeated(`{"fettle":1`, `,"shafts":4`)(n), '}') }},
		{name: "JSON with many comments", text: func(n int) []byte {
			return append(numbered(`{"fettle":1,"threading":[1,2],"treadling":[1],"carried":{"wif":{"comments":[{"section":"WIF","before":"a","text":"b"}`,
				`,{"section":"THREADING","before":"%[1]d","text":"; comment %[1]d"}`)(n), "]}}}"...)
		}},
		{name: "JSON with many carried values", text: func(n int) []byte {
			return append(numbered(`{"fettle":1,"threading":[1,2],"treadling":[1],"carried":{"wif":{"values":[{"section":"WIF","key":"a","value":"b"}`,
				`,{"section":"WEAVING","key":"k%d","value":"b"}`)(n), "]}}}"...)
		}},
		{name: "JSON with many carried sections", text: func(n int) []byte {
			return append(numbered(`{"fettle":1,"threading":[1,2],"treadling":[1],"carried":{"wif":{"sections":[{"name":"PRIVATE A","lines":["a=1"]}`,
				`,{"name":"PRIVATE P%d","lines":["a=1"]}`)(n), "]}}}"...)
		}},
		{name: "JSON with many ignores", text: func(n int) []byte {
			return append(numbered(`{"fettle":1,"threading":[1,2],"treadling":[1],"ignore":[{"rule":"cloth/layers","reason":"so"}`,
				`,{"rule":"loom/rule%d","reason":"so"}`)(n), "]}"...)
		}},
		{name: "JSON with many yarns", text: func(n int) []byte {
			return append(numbered(`{"fettle":1,"threading":[1,2],"treadling":[1],"project":{"yarns":{"y":{}`,
				`,"y%d":{"grist":"8/2 cotton","Color":"#010203"}`)(n), "}}}"...)
		}},
		{name: "JSON with many colors", text: func(n int) []byte {
			return append(numbered(`{"fettle":1,"threading":[1,2],"treadling":[1],"palette":["#000000"`, ",\"#%06x\"\n")(n), "]}"...)
		}},
		// Settings.
		{name: "settings with many yarns", text: colored, settings: numbered(worstRoom, "[yarn y%[1]d]\ngrist = 8/2 cotton\npalette = %[1]d\n")},
		{name: "settings with many reeds", text: colored, settings: numbered(worstRoom, "[reed r%[1]d]\ndents = %[1]d/10cm\n")},
		{name: "settings with many comments", text: colored, settings: numbered(worstRoom, "; comment %d\n")},
		{name: "settings with unknown keys", text: colored, settings: numbered(worstRoom+"[project]\n", "key %d = 1\n")},
		{name: "settings with unknown sections", text: colored, settings: numbered(worstRoom, "[section %d]\na = 1\n")},
		{name: "settings with a key again and again", text: colored, settings: repeated(worstRoom+"[project]\n", "items = 2\n")},
		{name: "settings with many heddles", text: colored, settings: numbered(worstRoom+"[heddles]\n", "%d = 7\n")},
		{name: "settings with many rules", text: colored, settings: numbered(worstRoom+"[rules]\n", "loom/rule%d = off\n")},
		{name: "settings that exclude much", text: colored, settings: func(n int) []byte {
			return numbered(worstRoom+"[files]\nexclude = a", ", folder%d/**/*.wif")(n)
		}},
		{name: "settings with a line without an end", text: colored, settings: repeated(worstRoom+"[yarn b]\ngrist = ", "x")},
	}
}

// utf16le returns ASCII as UTF-16 with its byte order mark.
func utf16le(text []byte) []byte {
	wide := []byte{0xff, 0xfe}
	for _, c := range text {
		wide = append(wide, c, 0)
	}
	return wide
}
