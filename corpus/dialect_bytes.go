package corpus

import (
	"encoding/binary"
	"slices"
	"strings"
	"unicode/utf16"

	"golang.org/x/text/encoding/charmap"

	"fettle/schema"
)

// begin adds the sections WIF and CONTENTS, correct or wrong, or leaves them out.
func (w *dialect) begin() {
	var first []sectionText
	if w.one(8) {
		w.broke(schema.FileMissingSection)
	} else {
		version := w.key("Version", w.version())
		if w.one(w.dirt) {
			version += w.remark()
			w.broke(schema.FileStrayLine)
		}
		first = append(first, sectionText{name: "WIF", lines: []string{version,
			w.key("Date", "April 20, 1997"), w.key("Developers", "wif@mhsoft.com")}})
	}
	if w.one(8) && w.cut == "" { // a truncated file has one finding for all of this
		w.broke(schema.FileContents)
	} else {
		s := sectionText{name: "CONTENTS", lines: w.contents()}
		if w.one(w.dirt) {
			s.lines[w.rand.IntN(len(s.lines))] += w.remark()
			w.broke(schema.FileStrayLine)
		}
		first = append(first, s)
	}
	w.sections = append(first, w.sections...)
}

func (w *dialect) version() string {
	v := w.pick("1.1", "1.1", "1.1", "1.0", "2.0")
	if v == "2.0" {
		w.broke(schema.FileVersion)
	}
	return v
}

func (w *dialect) contents() []string {
	var lines []string
	listed := map[string]bool{}
	for _, s := range w.sections {
		if listed[s.name] {
			continue
		}
		listed[s.name] = true
		switch {
		case w.one(40):
			w.broke(schema.FileContents) // the section is left out
			continue
		case w.one(40):
			w.broke(schema.FileContents) // its line says no
			lines = append(lines, w.key(s.name, w.answer(false)))
		default:
			lines = append(lines, w.key(s.name, w.answer(true)))
		}
	}
	if w.one(8) && w.cut == "" {
		w.broke(schema.FileContents)
		lines = append(lines, w.key("WEFT SYMBOLS", w.answer(true)))
		w.lies = true
	}
	return append(lines, w.key("TRANSLATIONS", w.answer(false)))
}

// bytes returns the file in one of the encodings, with one or more kinds of line ending.
func (w *dialect) bytes() []byte {
	var lines []string
	if w.before != "" {
		lines = strings.Split(w.before, "\n")
	}
	for _, s := range w.sections {
		lines = append(lines, s.header(w))
		lines = append(lines, s.lines...)
		if w.one(2) {
			lines = append(lines, w.pick("", " ", "\t"))
		}
	}
	if w.cut != "" {
		lines = append(lines, w.cut)
	} else if !w.one(4) || w.looksTruncated() {
		lines = append(lines, "")
	}
	return w.encoded(w.withEndings(lines))
}

// looksTruncated reports whether the file would look truncated without its last line
// ending, because CONTENTS lists a missing section or the last table may lack rows.
func (w *dialect) looksTruncated() bool {
	last := w.sections[len(w.sections)-1].name
	return w.lies || slices.Contains([]string{"THREADING", "TREADLING", "LIFTPLAN", "COLOR TABLE"}, last)
}

func (s *sectionText) header(w *dialect) string {
	switch {
	case s.as != "":
		return "[" + w.names(s.as) + "]"
	case s.head != "":
		return s.head
	}
	return w.pick("", "", " ") + "[" + w.names(s.name) + "]" + w.pick("", "", " ")
}

// withEndings joins the lines with one kind of line ending or several.
func (w *dialect) withEndings(lines []string) string {
	kinds := [][]string{{"\n"}, {"\r\n"}, {"\r\n"}, {"\r"}, {"\n", "\r\n", "\r"}}[w.rand.IntN(5)]
	var b strings.Builder
	for i, l := range lines {
		b.WriteString(l)
		if i < len(lines)-1 {
			b.WriteString(kinds[w.rand.IntN(len(kinds))])
		}
	}
	text := b.String()
	if len(kinds) > 1 || kinds[0] == "\r" {
		w.broke(schema.FileEncoding)
	}
	return text
}

// encoded returns the text in one of the encodings.
func (w *dialect) encoded(text string) []byte {
	plain := !strings.ContainsFunc(text, func(r rune) bool { return r > 127 })
	how := w.rand.IntN(10)
	if how > 3 && plain || how > 7 {
		return []byte(text)
	}
	w.broke(schema.FileEncoding)
	switch how {
	case 0:
		return append([]byte("\xef\xbb\xbf"), text...)
	case 1:
		return append([]byte("\xff\xfe"), inUTF16(binary.LittleEndian, text)...)
	case 2:
		return append([]byte("\xfe\xff"), inUTF16(binary.BigEndian, text)...)
	case 3:
		return inUTF16(binary.LittleEndian, text)
	case 4:
		return inUTF16(binary.BigEndian, text)
	case 5:
		if !strings.Contains(text, "\n") { // otherwise a few letters may not reveal the code page
			return inTable(charmap.Macintosh, text)
		}
	}
	return inTable(charmap.Windows1252, text)
}

func inUTF16(order binary.AppendByteOrder, text string) []byte {
	var b []byte
	for _, unit := range utf16.Encode([]rune(text)) {
		b = order.AppendUint16(b, unit)
	}
	return b
}

// inTable returns a text in a code page that has all its letters.
func inTable(table *charmap.Charmap, text string) []byte {
	b := make([]byte, 0, len(text))
	for _, r := range text {
		c, _ := table.EncodeRune(r)
		b = append(b, c)
	}
	return slices.Clip(b)
}
