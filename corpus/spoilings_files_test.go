package corpus

import (
	"encoding/binary"
	"slices"
	"strings"

	"golang.org/x/text/encoding/charmap"

	"fettle/schema"
)

// spoiledSections returns sections with wrong names or in the wrong order.
func spoiledSections() []spoiling {
	slip := map[string]string{"TIEUP": "TIE-UP", "THREADING": "THREDING", "TREADLING": "TREADELING", "LIFTPLAN": "LIFT PLAN", "WEAVING": "WAVING", "WARP": "WRAP",
		"COLOR TABLE": "COLOUR TABLE", "WARP COLORS": "WARP_COLORS", "WEFT COLORS": "WEFT COLOURS"}
	named := []string{"TIEUP", "THREADING", "TREADLING", "LIFTPLAN", "WEAVING", "WARP", "COLOR TABLE", "WARP COLORS", "WEFT COLORS"}
	misspelt := func(s *spoiler, l string) string { return "[" + slip[strings.Trim(l, "[]")] + "]" }
	unknown := []string{schema.FileUnknownSection}
	header := []string{schema.FileStrayLine, schema.FileMissingSection, schema.FileUnknownSection, schema.FileUnreadable}
	// copied adds a copy of a section before or after the right one. An older copy has
	// other first rows.
	copied := func(before, older bool, as func(name string) string) func(*spoiler) bool {
		return func(s *spoiler) bool {
			table := s.any(weaveTables...)
			from, to := s.body(table)
			for i := from - 1; i < to; i++ {
				s.lines[i].spoiled = true
			}
			again := []string{"[" + as(table) + "]"}
			for i := from; i < to; i++ {
				name, value := s.row(i)
				if older && i < from+4 {
					if value != "1" {
						value = "1"
					} else {
						value = "2"
					}
				}
				again = append(again, name+"="+value)
			}
			if before {
				s.insert(from-1, append(again, "")...)
			} else {
				s.insert(to, append([]string{""}, again...)...)
			}
			return true
		}
	}
	itself := func(name string) string { return name }
	wrong := func(name string) string { return slip[name] }
	keySlips := [][3]string{{"WEAVING", "Shafts", "Shaft"}, {"WEAVING", "Rising Shed", "Raising Shed"}, {"WARP", "Threads", "Treads"}, {"WARP", "Spacing", "Spaceing"}, {"WEFT", "Color", "Colour"}}
	return []spoiling{
		{"misspelt section", unknown, line(headerOf(named...), misspelt)},
		{"misspelt older section before the right one", unknown, copied(true, true, wrong)},
		{"misspelt older section after the right one", unknown, copied(false, true, wrong)},
		{"rows of a section all commented out", append([]string{schema.FileMissingSection}, shortRows...), func(s *spoiler) bool {
			from, to := s.body(s.any(singleTables...))
			for i := from; i < to; i++ {
				s.lines[i].text = ";" + s.lines[i].text
			}
			return to > 0
		}},
		{"section without rows", append([]string{schema.FileMissingSection, "draft/untied-treadle"}, shortRows...), func(s *spoiler) bool {
			from, to := s.body(s.any(weaveTables...))
			s.remove(from, to)
			return true
		}},
		{"section in two languages", unknown, line(headerOf(named...), func(_ *spoiler, l string) string { return strings.TrimSuffix(l, "]") + " / Einzug]" })},
		{"space inside a section's name", unknown, line(headerOf("THREADING", "TREADLING", "WEAVING"), func(_ *spoiler, l string) string { return l[:4] + " " + l[4:] })},
		{"bracket of another kind at the end", header, line(headerOf(named...), func(_ *spoiler, l string) string { return strings.TrimSuffix(l, "]") + ")" })},
		{"double brackets", header, line(headerOf(named...), func(_ *spoiler, l string) string { return "[" + l + "]" })},
		{"equals sign before a header", header, line(headerOf(named...), func(_ *spoiler, l string) string { return "== " + strings.Trim(l, "[]") + " ==" })},
		{"section twice", []string{schema.FileDuplicateSection, schema.FileDuplicateKey}, copied(false, false, itself)},
		{"older section before the right one", []string{schema.FileDuplicateSection, schema.FileDuplicateKey}, copied(true, true, itself)},
		{"older section after the right one", []string{schema.FileDuplicateSection, schema.FileDuplicateKey}, copied(false, true, itself)},
		{"misspelt key", []string{schema.FileUnknownKey}, func(s *spoiler) bool {
			slip := keySlips[s.rand.IntN(len(keySlips))]
			i := s.key(slip[0], slip[1])
			if i < 0 {
				return false
			}
			s.change(i, strings.Replace(s.lines[i].text, slip[1], slip[2], 1))
			return true
		}},
		{"section without brackets", header, line(headerOf(named...), func(_ *spoiler, l string) string { return strings.Trim(l, "[]") })},
		{"section with a colon", header, line(headerOf(named...), func(_ *spoiler, l string) string { return strings.Trim(l, "[]") + ":" })},
		{"section in round brackets", header, line(headerOf(named...), func(_ *spoiler, l string) string { return "(" + strings.Trim(l, "[]") + ")" })},
		{"section in curly brackets", header, line(headerOf(named...), func(_ *spoiler, l string) string { return "{" + strings.Trim(l, "[]") + "}" })},
		{"bracket not closed", header, line(headerOf(named...), func(_ *spoiler, l string) string { return strings.TrimSuffix(l, "]") })},
		{"bracket not opened", header, line(headerOf(named...), func(_ *spoiler, l string) string { return strings.TrimPrefix(l, "[") })},
		{"words after a bracket", strayLine, line(headerOf(named...), func(_ *spoiler, l string) string { return l + " for the towel" })},
		{"header left out", append([]string{schema.FileDuplicateKey, schema.FileMissingSection, schema.FileContents}, shortRows...), func(s *spoiler) bool {
			i := s.header(s.any("THREADING", "TREADLING", "LIFTPLAN"))
			s.remove(i-1, i+1)
			return true
		}},
		{"section left out", append([]string{schema.FileContents, schema.FileMissingSection}, shortRows...), func(s *spoiler) bool {
			table := s.any(weaveTables...)
			from, to := s.body(table)
			s.remove(from-1, to)
			return true
		}},
		{"section in the middle of another", []string{schema.FileDuplicateKey, schema.FileDuplicateSection, schema.FileUnknownKey, schema.FileMissingSection}, func(s *spoiler) bool {
			i := s.key("WEAVING", "Rising Shed")
			l := s.lines[i].text
			s.remove(i, i+1)
			from, _ := s.body("WARP")
			s.insert(from, l)
			return true
		}},
	}
}

// spoiledFiles returns mistakes that concern the whole file.
func spoiledFiles() []spoiling {
	encoding := []string{schema.FileEncoding}
	second := []string{schema.FileDuplicateSection, schema.FileStrayLine}
	contents := []string{schema.FileContents}
	around := func(head, tail []string) func(*spoiler) bool {
		return func(s *spoiler) bool {
			s.insert(len(s.lines), tail...)
			s.insert(0, head...)
			return true
		}
	}
	mark := func(tail string) func(*spoiler) bool {
		return func(s *spoiler) bool {
			s.encode = func(text string) []byte { return []byte(text + tail) }
			return true
		}
	}
	other := func(join string) func(*spoiler) bool {
		return func(s *spoiler) bool {
			next := newSpoiler(s.rand.Uint64(), 0).text()
			s.encode = func(text string) []byte { return []byte(text + join + next) }
			return true
		}
	}
	listing := func(change func(s *spoiler, i int)) func(*spoiler) bool {
		return func(s *spoiler) bool {
			from, to := s.body("CONTENTS")
			change(s, from+s.rand.IntN(to-from))
			return true
		}
	}
	return []spoiling{
		{"code page 437", encoding, inCodePage(charmap.CodePage437)},
		{"code page 850", encoding, inCodePage(charmap.CodePage850)},
		{"code page 865", encoding, inCodePage(charmap.CodePage865)},
		{"Windows-1252", encoding, inCodePage(charmap.Windows1252)},
		{"Mac Roman", encoding, inCodePage(charmap.Macintosh)},
		{"end-of-file mark", strayLine, mark("\x1a")},
		{"end-of-file marks and zeros", strayLine, mark("\x1a\x00\x00\x00\x1a")},
		{"two drafts in a file", second, other("")},
		{"two drafts with a mark between", second, other("\ufeff")},
		{"end-of-file mark between two drafts", second, other("\x1a")},
		{"no CONTENTS", contents, func(s *spoiler) bool {
			from, to := s.body("CONTENTS")
			s.remove(from-1, to+1)
			return true
		}},
		{"section not in CONTENTS", contents, listing(func(s *spoiler, i int) { s.remove(i, i+1) })},
		{"section denied in CONTENTS", contents, listing(func(s *spoiler, i int) {
			name, _ := s.row(i)
			s.lines[i].text = name + "=false"
		})},
		{"section listed and not there", contents, listing(func(s *spoiler, i int) { s.insert(i, "WARP SYMBOLS=true") })},
		{"no WIF section", []string{schema.FileMissingSection}, func(s *spoiler) bool {
			from, to := s.body("WIF")
			s.remove(from-1, to+1)
			return true
		}},
		{"cut off in a table", append([]string{schema.FileContents}, shortRows...), func(s *spoiler) bool {
			from, to := s.body(s.any(weaveTables...))
			i := from + 1 + s.rand.IntN(to-from-1)
			at := 0
			for _, l := range s.lines[:i] {
				at += len(l.text + s.breaks)
			}
			s.cutAt(at + s.rand.IntN(len(s.lines[i].text)))
			return true
		}},
		{"cut off between lines", append([]string{schema.FileContents}, shortRows...), func(s *spoiler) bool {
			from, to := s.body(s.any(weaveTables...))
			s.lines = s.lines[:from+1+s.rand.IntN(to-from-1)]
			return true
		}},
		{"cut off between sections", append([]string{schema.FileContents}, shortRows...), func(s *spoiler) bool {
			i := s.header(s.any("THREADING", "TREADLING", "LIFTPLAN"))
			s.lines = s.lines[:i]
			return true
		}},
		{"web page around", []string{schema.FileStrayLine, schema.FileUnreadable}, around([]string{"<html><body><pre>"}, []string{"</pre></body></html>"})},
		{"web page after", strayLine, around(nil, []string{"</pre>", "<p>Click <a href=\"/\">here</a> to go back"})},
		{"letter before", strayLine, around([]string{"From: the guild", "Subject: a draft = for the fair", ""}, nil)},
		{"signature after", strayLine, around(nil, []string{"-- ", "Ada", "the guild of Quarrow"})},
		{"web page line breaks", badRow, everyRow(weaveTables, valued(func(_ *spoiler, v string) string { return v + "<br>" }))},
		{"quoted as in a reply", []string{schema.FileUnreadable, schema.FileStrayLine}, everyLine(func(l string) string { return "> " + l })},
		{"quoted-printable", []string{schema.FileUnreadable, schema.FileEncoding, schema.FileBadValue}, everyLine(func(l string) string { return strings.ReplaceAll(l, "=", "=3D") })},
		{"angle bracket before some rows", badRow, everyRow(weaveTables, func(s *spoiler, n, v string) string { return ">" + n + "=" + v })},
		{"lone CR line ends", encoding, func(s *spoiler) bool { s.breaks = "\r"; return true }},
		{"UTF-16", encoding, func(s *spoiler) bool {
			s.encode = func(text string) []byte { return append([]byte("\xff\xfe"), inUTF16(binary.LittleEndian, text)...) }
			return true
		}},
		{"byte order mark at the start", encoding, func(s *spoiler) bool {
			s.encode = func(text string) []byte { return append([]byte("\xef\xbb\xbf"), text...) }
			return true
		}},
	}
}

// spoiledNothing returns unusual forms that aren't mistakes.
func spoiledNothing() []spoiling {
	return []spoiling{
		{"names in capitals", nothing, everyLine(capital)},
		{"names in small letters", nothing, everyLine(small)},
		{"blank lines inside tables", nothing, func(s *spoiler) bool {
			from, to := s.body(s.any(weaveTables...))
			s.insert(from+s.rand.IntN(to-from), "", " ")
			for i := range s.lines {
				s.lines[i].spoiled = false
			}
			return true
		}},
		{"zeros before row numbers", nothing, everyRow(weaveTables, func(_ *spoiler, n, v string) string { return "0" + n + "=" + v })},
		{"zeros before numbers", nothing, everyRow(singleTables, valued(func(_ *spoiler, v string) string { return "0" + v }))},
		{"blanks around everything", nothing, everyRow(weaveTables, func(_ *spoiler, n, v string) string {
			return "  " + n + "\t= " + strings.ReplaceAll(v, ",", " , ") + " "
		})},
		{"sections shuffled", nothing, func(s *spoiler) bool {
			from, to := s.body("TEXT")
			text := slices.Clone(s.lines[from-1 : to])
			s.lines = append(slices.Delete(s.lines, from-1, to+1), typedLine{})
			s.lines = append(s.lines, text...)
			return true
		}},
		{"no line end at the end", nothing, func(s *spoiler) bool {
			s.encode = func(text string) []byte { return []byte(strings.TrimRight(text, "\r\n")) }
			return true
		}},
		{"rows shuffled", nothing, func(s *spoiler) bool {
			from, to := s.body(s.any(weaveTables...))
			rows := s.lines[from:to]
			s.rand.Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
			return true
		}},
		{"lists in falling order", nothing, everyRow(listTables, valued(func(_ *spoiler, v string) string {
			words := strings.Split(v, ",")
			slices.Reverse(words)
			return strings.Join(words, ",")
		}))},
	}
}

func capital(l string) string { return named(l, strings.ToUpper) }
func small(l string) string   { return named(l, strings.ToLower) }

// named changes the name of the section or key in a line.
func named(l string, as func(string) string) string {
	name, value, ok := strings.Cut(l, "=")
	if !ok {
		return as(l)
	}
	return as(name) + "=" + value
}
