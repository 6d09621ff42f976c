package corpus

import (
	"encoding/binary"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"golang.org/x/text/encoding/charmap"

	"fettle/schema"
)

// Sections that hold the weave: all of them, those whose rows are lists, and
// those whose rows mostly name one number.
var (
	weaveTables  = []string{"TIEUP", "THREADING", "TREADLING", "LIFTPLAN"}
	listTables   = []string{"TIEUP", "LIFTPLAN"}
	singleTables = []string{"THREADING", "TREADLING"}
)

// rewrite gives a row another form, or "" where it has none.
type rewrite func(s *spoiler, name, value string) string

// rows is the rows of one of the tables that a rewrite applies to.
func (s *spoiler) rows(tables []string, write rewrite) (at []int, texts []string) {
	table := s.any(tables...)
	if table == "" {
		return nil, nil
	}
	from, to := s.body(table)
	for i := from; i < to; i++ {
		name, value := s.row(i)
		if text := write(s, name, value); text != "" {
			at, texts = append(at, i), append(texts, text)
		}
	}
	return at, texts
}

// everyRow spoils all rows of a table that can be spoiled so.
func everyRow(tables []string, write rewrite) func(*spoiler) bool {
	return func(s *spoiler) bool {
		at, texts := s.rows(tables, write)
		for n, i := range at {
			s.change(i, texts[n])
		}
		return len(at) > 0
	}
}

// oneRow spoils one row of a table.
func oneRow(tables []string, write rewrite) func(*spoiler) bool {
	return func(s *spoiler) bool {
		at, texts := s.rows(tables, write)
		if len(at) == 0 {
			return false
		}
		n := s.rand.IntN(len(at))
		_, s.words = s.row(at[n])
		s.change(at[n], texts[n])
		return true
	}
}

// unproposed spoils in a way in which nothing certain can be proposed.
func unproposed(spoil func(*spoiler) bool) func(*spoiler) bool {
	return func(s *spoiler) bool {
		ok := spoil(s)
		s.words = ""
		return ok
	}
}

// marked is a row whose numbers have another mark between them.
func marked(mark string) rewrite {
	return func(_ *spoiler, name, value string) string {
		if !strings.Contains(value, ",") {
			return ""
		}
		return name + "=" + strings.ReplaceAll(value, ",", mark)
	}
}

// equal is a row with something else for its =.
func equal(sign string) rewrite {
	return func(_ *spoiler, name, value string) string { return name + sign + value }
}

// valued is a row with another value, "" where there is none.
func valued(change func(s *spoiler, value string) string) rewrite {
	return func(s *spoiler, name, value string) string {
		if v := change(s, value); v != "" && v != value {
			return name + "=" + v
		}
		return ""
	}
}

// replaced is the first of some characters replaced, "" where there is none.
func replaced(text string, oldNew ...string) string {
	for i := 0; i < len(oldNew); i += 2 {
		if strings.Contains(text, oldNew[i]) {
			return strings.Replace(text, oldNew[i], oldNew[i+1], 1)
		}
	}
	return ""
}

// lettered has a letter for one of its digits.
func lettered(s *spoiler, text string) string {
	return replaced(text, "0", s.pick("O", "o"), "1", s.pick("l", "I"), "5", "S", "8", "B")
}

// keyOf spoils the value of a key in one of several sections.
func keyOf(change func(s *spoiler, value string) string, places ...string) func(*spoiler) bool {
	return func(s *spoiler) bool {
		section, key, _ := strings.Cut(s.pick(places...), "/")
		i := s.key(section, key)
		if i < 0 {
			return false
		}
		name, value := s.row(i)
		text := change(s, value)
		if text != "" {
			s.change(i, name+"="+text)
		}
		return text != ""
	}
}

// line spoils a line that a function chooses.
func line(choose func(s *spoiler) int, change func(s *spoiler, text string) string) func(*spoiler) bool {
	return func(s *spoiler) bool {
		i := choose(s)
		if i < 0 {
			return false
		}
		text := change(s, s.lines[i].text)
		if text == "" || text == s.lines[i].text {
			return false
		}
		s.change(i, text)
		return true
	}
}

// headerOf chooses the header of one of several sections.
func headerOf(sections ...string) func(*spoiler) int {
	return func(s *spoiler) int { return s.header(s.any(sections...)) }
}

// everyLine spoils each line of the file.
func everyLine(change func(text string) string) func(*spoiler) bool {
	return func(s *spoiler) bool {
		for i := range s.lines {
			s.lines[i].text = change(s.lines[i].text)
		}
		return true
	}
}

// coded writes the file in a code page, where it has all letters and some of
// them beyond ASCII.
func inCodePage(table *charmap.Charmap) func(*spoiler) bool {
	return func(s *spoiler) bool {
		beyond := 0
		for _, r := range s.text() {
			if _, ok := table.EncodeRune(r); !ok {
				return false
			}
			if r > 127 {
				beyond++
			}
		}
		s.encode = func(text string) []byte { return inTable(table, text) }
		return beyond > 0
	}
}

// renumbered counts the rows, or the numbers in them, of tables from 0.
func renumbered(rows, numbers []string) func(*spoiler) bool {
	return func(s *spoiler) bool {
		for _, table := range rows {
			if from, to := s.body(table); to > 0 {
				for i := from; i < to; i++ {
					name, value := s.row(i)
					s.change(i, lowered(name)+"="+value)
				}
			}
		}
		for _, table := range numbers {
			if from, to := s.body(table); to > 0 {
				s.lines[from-1].spoiled = true
				for i := from; i < to; i++ {
					name, value := s.row(i)
					s.change(i, name+"="+lowered(value))
				}
			}
		}
		return len(s.spoiled()) > 0
	}
}

// lowered is a list of numbers, each less by 1.
func lowered(value string) string {
	words := strings.Split(value, ",")
	for i, w := range words {
		n, _ := strconv.Atoi(w)
		words[i] = strconv.Itoa(n - 1)
	}
	return strings.Join(words, ",")
}

// cutAt ends the file after so many bytes of its text.
func (s *spoiler) cutAt(n int) {
	s.encode = func(text string) []byte { return []byte(text[:n]) }
}

// Rules that name what is spoiled.
var (
	badValue  = []string{schema.FileBadValue}
	badRow    = []string{schema.FileBadValue, schema.FileUnknownKey, schema.FileStrayLine}
	strayLine = []string{schema.FileStrayLine}
	shortRows = []string{"draft/thread-count", "draft/unthreaded-end", "draft/empty-pick", schema.FileMissingSection}
	nothing   []string
)

// spoilings are all the ways of spoiling a draft.
func spoilings() []spoiling {
	return slices.Concat(spoiledLists(), spoiledSigns(), spoiledNumbers(), spoiledCounts(), spoiledMeasures(), spoiledSections(), spoiledFiles(), spoiledNothing())
}

// spoiledLists are lists typed in another way.
func spoiledLists() []spoiling {
	return []spoiling{
		{"list with semicolons", badValue, everyRow(listTables, marked(";"))},
		{"list with semicolons and blanks", badValue, everyRow(listTables, marked("; "))},
		{"list with spaces", badValue, everyRow(listTables, marked(" "))},
		{"list with plus signs", badValue, everyRow(listTables, marked("+"))},
		{"list with points", badValue, everyRow(listTables, marked("."))},
		{"list with slashes", badValue, everyRow(listTables, marked("/"))},
		{"list with ampersands", badValue, everyRow(listTables, marked(" & "))},
		{"list with hyphens", badValue, everyRow(listTables, marked("-"))},
		{"list with tabs", badValue, everyRow(listTables, marked("\t"))},
		{"list with 'and'", badValue, everyRow(listTables, marked(" and "))},
		{"one list with a semicolon", badValue, oneRow(listTables, marked(";"))},
		{"one list with a space", badValue, oneRow(listTables, marked(" "))},
		{"one list with a point", badValue, oneRow(listTables, marked("."))},
		{"one comma is a point", badValue, unproposed(oneRow(listTables, valued(func(_ *spoiler, v string) string { return replaced(v, ",", ".") })))},
		{"one comma is a semicolon", badValue, unproposed(oneRow(listTables, valued(func(_ *spoiler, v string) string { return replaced(v, ",", ";") })))},
		{"range", badValue, unproposed(oneRow(listTables, valued(func(_ *spoiler, v string) string {
			words := strings.Split(v, ",")
			first, _ := strconv.Atoi(words[0])
			last, _ := strconv.Atoi(words[len(words)-1])
			if len(words) < 2 || last-first != len(words)-1 {
				return ""
			}
			return words[0] + "-" + words[len(words)-1]
		})))},
		{"lists with points between points", badValue, unproposed(everyRow(listTables, marked("..")))},
		{"lists with 'to'", badValue, unproposed(everyRow(listTables, marked(" to ")))},
		{"lists with wide commas", badValue, everyRow(listTables, marked("\uff0c"))},
		{"lists with two marks by turns", badValue, unproposed(everyRow(listTables, func(s *spoiler, n, v string) string { return marked(s.pick(";", "+"))(s, n, v) }))},
		{"colons and spaces in all rows", badValue, everyRow(listTables, func(_ *spoiler, n, v string) string { return n + ": " + strings.ReplaceAll(v, ",", " ") })},
		{"brackets after row numbers", badRow, everyRow(weaveTables, equal(") "))},
		{"rows with lines of a drawing", badRow, unproposed(everyRow([]string{"TIEUP"}, func(s *spoiler, n, v string) string {
			marks := []byte(strings.Repeat(".", s.draft.Shafts))
			for _, w := range strings.Split(v, ",") {
				shaft, _ := strconv.Atoi(w)
				marks[shaft-1] = 'x'
			}
			return n + "=" + string(marks)
		}))},
		{"Roman numerals", badValue, unproposed(everyRow([]string{"TREADLING"}, valued(func(_ *spoiler, v string) string {
			n, _ := strconv.Atoi(v)
			return []string{"", "I", "II", "III", "IV", "V", "VI"}[min(n, 6)]
		})))},
		{"row repeated by a factor", badValue, unproposed(oneRow(singleTables, valued(func(s *spoiler, v string) string { return v + s.pick(" x2", "*3", " (2x)") })))},
		{"range of rows", []string{schema.FileUnknownKey}, unproposed(oneRow(weaveTables, func(_ *spoiler, n, v string) string { return n + "-" + n + "0=" + v }))},
		{"line numbers before rows", badRow, everyRow(weaveTables, func(_ *spoiler, n, v string) string { return "0" + n + ": " + n + "=" + v })},
		{"extra comma inside", []string{schema.FileBadValue, schema.FileStrayLine}, unproposed(oneRow(listTables, valued(func(_ *spoiler, v string) string { return replaced(v, ",", ",,") })))},
		{"extra comma before", []string{schema.FileBadValue, schema.FileStrayLine}, unproposed(oneRow(weaveTables, valued(func(_ *spoiler, v string) string { return "," + v })))},
		{"extra comma after", strayLine, unproposed(oneRow(weaveTables, valued(func(_ *spoiler, v string) string { return v + "," })))},
		{"commas after all rows", strayLine, everyRow(weaveTables, valued(func(_ *spoiler, v string) string { return v + "," }))},
		{"list cut after its comma", strayLine, unproposed(oneRow(listTables, valued(func(_ *spoiler, v string) string {
			if i := strings.LastIndexByte(v, ','); i > 0 {
				return v[:i+1]
			}
			return ""
		})))},
		{"list in brackets", badValue, unproposed(everyRow(listTables, valued(func(s *spoiler, v string) string { return "(" + v + ")" })))},
		{"list broken over two lines", []string{schema.FileStrayLine, schema.FileBadValue}, brokenList(",")},
		{"list broken over two lines, comma below", []string{schema.FileStrayLine, schema.FileBadValue}, brokenList("")},
		{"number twice for two", strayLine, unproposed(oneRow(listTables, valued(func(_ *spoiler, v string) string {
			if words := strings.Split(v, ","); len(words) > 1 {
				words[1] = words[0]
				return strings.Join(words, ",")
			}
			return ""
		})))},
		{"number twice in a list", strayLine, unproposed(oneRow(listTables, valued(func(_ *spoiler, v string) string {
			if first, _, more := strings.Cut(v, ","); more {
				return v + "," + first
			}
			return ""
		})))},
	}
}

// brokenList breaks a list over two lines, with a comma at the end of the first
// or at the beginning of the second.
func brokenList(end string) func(*spoiler) bool {
	return func(s *spoiler) bool {
		at, _ := s.rows(listTables, marked(";"))
		if len(at) == 0 {
			return false
		}
		i := at[s.rand.IntN(len(at))]
		comma := strings.LastIndexByte(s.lines[i].text, ',')
		head, tail := s.lines[i].text[:comma], s.lines[i].text[comma+1:]
		if end == "" {
			tail = "," + tail
		}
		s.change(i, head+end)
		s.insert(i+1, tail)
		return true
	}
}

// spoiledSigns are rows and keys with another sign, or other characters.
func spoiledSigns() []spoiling {
	counts := []string{"WEAVING/Shafts", "WEAVING/Treadles", "WARP/Threads", "WEFT/Threads"}
	around := func(open, close string) func(*spoiler, string) string {
		return func(_ *spoiler, v string) string { return open + v + close }
	}
	return []spoiling{
		{"colon for one =", badValue, unproposed(oneRow(weaveTables, equal(": ")))},
		{"colons for all =", badValue, everyRow(weaveTables, equal(": "))},
		{"colon after a key", []string{schema.FileStrayLine, schema.FileUnknownKey, schema.FileBadValue}, line(
			func(s *spoiler) int { return s.key("WEAVING", s.pick("Shafts", "Treadles", "Rising Shed")) }, func(_ *spoiler, l string) string { return replaced(l, " = ", ": ", "=", ": ") })},
		{"tab for one =", badValue, unproposed(oneRow(weaveTables, equal("\t")))},
		{"tabs for all =", badValue, everyRow(weaveTables, equal("\t"))},
		{"space for one =", badValue, unproposed(oneRow(weaveTables, equal(" ")))},
		{"spaces for all =", badValue, everyRow(weaveTables, equal(" "))},
		{"hyphen for one =", badRow, unproposed(oneRow(weaveTables, equal("-")))},
		{"hyphens for all =", badRow, everyRow(weaveTables, equal("-"))},
		{"points for all =", badRow, everyRow(weaveTables, equal(". "))},
		{"commas for all =", badRow, everyRow(weaveTables, equal(","))},
		{"semicolon for one =", badRow, unproposed(oneRow(weaveTables, equal(";")))},
		{"arrows for all =", badRow, everyRow(weaveTables, equal("->"))},
		{"colon and =", badRow, unproposed(oneRow(weaveTables, equal(":=")))},
		{"= twice", badValue, unproposed(oneRow(weaveTables, equal("==")))},
		{"= twice in all rows", badValue, everyRow(weaveTables, equal("=="))},
		{"= left out of a row", append([]string{schema.FileStrayLine}, shortRows...), unproposed(oneRow(weaveTables, equal("")))},
		{"= after the value", badValue, unproposed(oneRow(weaveTables, valued(around("", "="))))},
		{"point after the value", badValue, unproposed(oneRow(weaveTables, valued(around("", "."))))},
		{"quotation mark after a value", badValue, oneRow(weaveTables, valued(around("", `"`)))},
		{"quotation mark before a value", badValue, oneRow(weaveTables, valued(around(`"`, "")))},
		{"all values in quotation marks", badValue, everyRow(weaveTables, valued(around(`"`, `"`)))},
		{"rows in quotation marks", badValue, everyRow(weaveTables, func(_ *spoiler, n, v string) string { return `"` + n + "=" + v + `"` })},
		{"count in quotation marks", badValue, keyOf(around("\u201c", "\u201d"), counts...)},
		{"digits of full width", badValue, everyRow(weaveTables, valued(func(_ *spoiler, v string) string { return wideDigits(v) }))},
		{"row number of full width", badRow, unproposed(oneRow(weaveTables, func(_ *spoiler, n, v string) string { return wideDigits(n) + "=" + v }))},
		{"non-breaking spaces", strayLine, everyRow(weaveTables, valued(around("\u00a0", "")))},
		{"non-breaking space in a key", []string{schema.FileStrayLine, schema.FileUnknownKey}, line(func(s *spoiler) int { return s.key("WEAVING", "Rising Shed") },
			func(_ *spoiler, l string) string { return replaced(l, "Rising Shed", "Rising\u00a0Shed") })},
		{"byte order mark in the middle", strayLine, line(headerOf(weaveTables...), func(_ *spoiler, l string) string { return "\ufeff" + l })},
		{"comment after a number", strayLine, unproposed(oneRow(weaveTables, valued(around("", " ; left side"))))},
		{"comment with a number", badRow, unproposed(oneRow(singleTables, valued(around("", " ; 2 repeats"))))},
		{"note after a number", badValue, unproposed(oneRow(weaveTables, valued(around("", " (left side)"))))},
		{"comment with slashes", badRow, unproposed(oneRow(weaveTables, valued(around("", " // left side"))))},
		{"comment with a hash", badRow, unproposed(oneRow(weaveTables, valued(around("", " # left side"))))},
		{"comments with hashes on their lines", badRow, func(s *spoiler) bool {
			from, to := s.body(s.any(weaveTables...))
			s.insert(from+s.rand.IntN(to-from), "# border", "# 1=2")
			return true
		}},
		{"row commented out", append([]string{"draft/loose-thread", "cloth/loose-thread"}, shortRows...), func(s *spoiler) bool {
			at, texts := s.rows(singleTables, equal("="))
			if len(at) == 0 {
				return false
			}
			n := s.rand.IntN(len(at))
			s.lines[at[n]].text = "; " + texts[n]
			return true
		}},
		{"point after a count", badValue, keyOf(around("", ".0"), counts...)},
		{"two counts", badValue, keyOf(around("", "/96"), counts...)},
		{"space inside a count", badValue, keyOf(func(_ *spoiler, v string) string { return v[:1] + " " + v[1:] }, "WARP/Threads", "WEFT/Threads")},
		{"superscript digits", badValue, unproposed(oneRow(singleTables, valued(func(_ *spoiler, v string) string { return replaced(v, "1", "\u00b9", "2", "\u00b2", "3", "\u00b3") })))},
		{"zero-width spaces", strayLine, everyRow(weaveTables, valued(around("", "\u200b")))},
		{"zero-width space in a row number", badRow, unproposed(oneRow(weaveTables, func(_ *spoiler, n, v string) string { return n[:1] + "\u200b" + n[1:] + "=" + v }))},
		{"zero byte in a row", badRow, unproposed(oneRow(weaveTables, valued(around("", "\x00"))))},
		{"curly quotation marks", badValue, everyRow(weaveTables, valued(around("\u201c", "\u201d")))},
		{"percent sign after a count", badValue, keyOf(around("", "%"), counts...)},
		{"unit after a count", badValue, keyOf(around("", " threads"), counts...)},
		{"sign of plus", badValue, unproposed(oneRow(singleTables, valued(around("+", ""))))},
		{"sign of minus", badValue, unproposed(oneRow(singleTables, valued(around("-", ""))))},
		{"decimal point in rows", badValue, everyRow(singleTables, valued(around("", ".0")))},
		{"number sign", badValue, everyRow(singleTables, valued(around("#", "")))},
		{"names in words", badValue, everyRow(singleTables, valued(around("shaft ", "")))},
	}
}

func wideDigits(text string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r - '0' + '\uff10'
		}
		return r
	}, text)
}

// spoiledNumbers are rows with mistyped numbers.
func spoiledNumbers() []spoiling {
	twice := func(_ *spoiler, v string) string {
		if n := len(v); n > 0 && !strings.Contains(v, ",") {
			return v + v[n-1:]
		}
		return ""
	}
	beyond := func(limit func(d *schema.Draft) int) func(*spoiler, string) string {
		return func(s *spoiler, v string) string {
			text := twice(s, v)
			if n, _ := strconv.Atoi(text); n <= limit(s.draft) {
				return ""
			}
			return text
		}
	}
	shafts := func(d *schema.Draft) int { return d.Shafts }
	treadles := func(d *schema.Draft) int { return d.Treadles }
	return []spoiling{
		{"letter for a digit", badValue, oneRow(weaveTables, valued(lettered))},
		{"letters for digits in all rows", badValue, everyRow(weaveTables, valued(func(_ *spoiler, v string) string { return replaced(v, "1", "l") }))},
		{"letter in a row number", []string{schema.FileUnknownKey}, unproposed(oneRow(weaveTables, func(s *spoiler, n, v string) string {
			if n = lettered(s, n); n == "" {
				return ""
			}
			return n + "=" + v
		}))},
		{"letter in a count", badValue, keyOf(lettered, "WEAVING/Shafts", "WEAVING/Treadles", "WARP/Threads", "WEFT/Threads")},
		{"doubled key in the threading", []string{"draft/shaft-count"}, unproposed(oneRow([]string{"THREADING"}, valued(beyond(shafts))))},
		{"doubled key in the treadling", []string{"draft/treadle-count"}, unproposed(oneRow([]string{"TREADLING"}, valued(beyond(treadles))))},
		{"doubled key in a list", []string{"draft/shaft-count"}, unproposed(oneRow(listTables, valued(func(s *spoiler, v string) string {
			i := strings.LastIndexByte(v, ',')
			last := beyond(shafts)(s, v[i+1:])
			if last == "" || i < 0 {
				return ""
			}
			return v[:i+1] + last
		})))},
		{"doubled key in a row number", append([]string{schema.FileDuplicateKey, "draft/treadle-count", "draft/untied-treadle"}, shortRows...), unproposed(oneRow(weaveTables, func(s *spoiler, n, v string) string {
			if n = twice(s, n); len(n) > 3 {
				return ""
			}
			return n + "=" + v
		}))},
		{"digit lost from a row number", append([]string{schema.FileDuplicateKey}, shortRows...), unproposed(oneRow(weaveTables, func(s *spoiler, n, v string) string {
			if len(n) < 2 {
				return ""
			}
			return n[:1] + "=" + v
		}))},
		{"row number of the row before", append([]string{schema.FileDuplicateKey}, shortRows...), unproposed(oneRow(weaveTables, func(s *spoiler, n, v string) string {
			if n = lowered(n); n == "0" {
				return ""
			}
			return n + "=" + v
		}))},
		{"row number left out", append([]string{schema.FileStrayLine}, shortRows...), unproposed(oneRow(weaveTables, func(_ *spoiler, _, v string) string { return "=" + v }))},
		{"value left out", append([]string{schema.FileBadValue, "draft/untied-treadle"}, shortRows...), unproposed(oneRow(weaveTables, func(_ *spoiler, n, _ string) string { return n + "=" }))},
		{"row left out", append([]string{"draft/untied-treadle"}, shortRows...), func(s *spoiler) bool {
			at, _ := s.rows(weaveTables, equal(""))
			i := at[s.rand.IntN(len(at))]
			s.remove(i, i+1)
			return true
		}},
		{"row typed twice", []string{schema.FileDuplicateKey}, func(s *spoiler) bool {
			at, texts := s.rows(weaveTables, equal("="))
			n := s.rand.IntN(len(at))
			s.insert(at[n]+1, texts[n])
			return true
		}},
		{"row typed again, put right", []string{schema.FileDuplicateKey}, func(s *spoiler) bool {
			at, texts := s.rows(singleTables, valued(func(s *spoiler, v string) string {
				if v == "1" {
					return "2"
				}
				return "1"
			}))
			if len(at) == 0 {
				return false
			}
			n := s.rand.IntN(len(at))
			s.insert(at[n], texts[n])
			s.lines[at[n]+1].spoiled = true
			return true
		}},
		{"number and row swapped", append([]string{schema.FileDuplicateKey}, shortRows...), unproposed(oneRow(singleTables, func(s *spoiler, n, v string) string {
			if strings.Contains(v, ",") || n == v || len(n) < 2 {
				return ""
			}
			return v + "=" + n
		}))},
		{"space inside a number", badValue, unproposed(oneRow(weaveTables, valued(func(_ *spoiler, v string) string {
			if len(v) == 2 && !strings.Contains(v, ",") {
				return v[:1] + " " + v[1:]
			}
			return ""
		})))},
		{"space inside a row number", badRow, unproposed(oneRow(weaveTables, func(_ *spoiler, n, v string) string {
			if len(n) < 2 {
				return ""
			}
			return n[:1] + " " + n[1:] + "=" + v
		}))},
		{"two rows on a line", badRow, func(s *spoiler) bool {
			from, to := s.body(s.any(weaveTables...))
			i := from + s.rand.IntN(to-from-1)
			s.change(i, s.lines[i].text+s.pick(" ", ", ", "; ", "\t")+s.lines[i+1].text)
			s.remove(i+1, i+2)
			return true
		}},
		{"rows without their numbers", append([]string{schema.FileStrayLine, schema.FileMissingSection}, shortRows...), everyRow(weaveTables, func(_ *spoiler, _, v string) string { return v })},
		{"row and number with a comma", badRow, unproposed(oneRow(weaveTables, equal(",")))},
		{"word for none", badValue, unproposed(oneRow(weaveTables, valued(func(s *spoiler, _ string) string { return s.pick("none", "-", "x", "?") })))},
		{"row 0 before the first", []string{schema.FileIndex}, func(s *spoiler) bool {
			from, _ := s.body(s.any(singleTables...))
			s.insert(from, "0=1")
			return true
		}},
	}
}

// shortTables spoils a count, after which a table of threads is short: that may be
// told at the table.
func shortTables(spoil func(*spoiler) bool) func(*spoiler) bool {
	return func(s *spoiler) bool {
		ok := spoil(s)
		for _, table := range singleTables {
			if i := s.header(table); ok && i >= 0 {
				s.lines[i].spoiled = true
			}
		}
		return ok
	}
}

// spoiledCounts are wrong counts, and tables numbered or laid in another way.
func spoiledCounts() []spoiling {
	more := func(s *spoiler, v string) string {
		n, _ := strconv.Atoi(v)
		return strconv.Itoa(n + 2 + s.rand.IntN(9))
	}
	fewer := func(s *spoiler, v string) string {
		n, _ := strconv.Atoi(v)
		return strconv.Itoa(n - 2 - s.rand.IntN(n/3))
	}
	without := func(section, key string) func(*spoiler) bool {
		return func(s *spoiler) bool {
			i := s.key(section, key)
			if i >= 0 {
				s.remove(i, i+1)
			}
			return i >= 0
		}
	}
	threads := []string{"WARP/Threads", "WEFT/Threads"}
	counts := []string{"WEAVING/Shafts", "WEAVING/Treadles", "WARP/Threads", "WEFT/Threads"}
	separated := func(mark string) func(*spoiler) bool {
		return keyOf(func(_ *spoiler, v string) string {
			if len(v) != 4 {
				return ""
			}
			return v[:1] + mark + v[1:]
		}, "WARP/Threads")
	}
	return []spoiling{
		{"too few threads declared", append([]string{schema.FileIndex}, shortRows...), keyOf(fewer, threads...)},
		{"too many threads declared", shortRows, shortTables(keyOf(more, threads...))},
		{"digit lost from a count", append([]string{"draft/shaft-count", "draft/treadle-count"}, shortRows...), keyOf(func(_ *spoiler, v string) string { return v[:len(v)-1] }, counts...)},
		{"doubled key in a count", append([]string{"draft/shaft-count", "draft/unused-shaft", "draft/unused-treadle"}, shortRows...), shortTables(keyOf(func(_ *spoiler, v string) string { return v + v[len(v)-1:] }, counts...))},
		{"too few shafts declared", []string{"draft/shaft-count"}, keyOf(fewer, "WEAVING/Shafts")},
		{"too few treadles declared", []string{"draft/treadle-count"}, keyOf(fewer, "WEAVING/Treadles")},
		{"count without a value", badValue, keyOf(func(*spoiler, string) string { return " " }, counts...)},
		{"count in words", badValue, keyOf(func(s *spoiler, _ string) string { return s.pick("four", "eight", "many") }, counts...)},
		{"thousands with a comma", badValue, separated(",")},
		{"thousands with a point", badValue, separated(".")},
		{"thousands with a space", badValue, separated(" ")},
		{"thousands with an apostrophe", badValue, separated("'")},
		{"count twice, one wrong", []string{schema.FileDuplicateKey}, func(s *spoiler) bool {
			i := s.key("WARP", "Threads")
			_, v := s.row(i)
			s.insert(i, "Threads="+more(s, v))
			s.lines[i+1].spoiled = true
			return true
		}},
		{"no number of shafts", nothing, without("WEAVING", "Shafts")},
		{"no number of treadles", nothing, without("WEAVING", "Treadles")},
		{"no number of ends", nothing, without("WARP", "Threads")},
		{"rows from 0", []string{schema.FileIndex}, renumbered([]string{"THREADING", "TREADLING", "LIFTPLAN", "WARP COLORS", "WEFT COLORS"}, nil)},
		{"all rows from 0", []string{schema.FileIndex}, renumbered([]string{"TIEUP", "THREADING", "TREADLING", "LIFTPLAN", "COLOR TABLE", "WARP COLORS", "WEFT COLORS"}, nil)},
		{"shafts from 0", []string{schema.FileIndex}, renumbered(nil, []string{"TIEUP", "THREADING", "LIFTPLAN"})},
		{"treadles from 0", []string{schema.FileIndex}, func(s *spoiler) bool {
			return s.header("TREADLING") >= 0 && renumbered([]string{"TIEUP"}, []string{"TREADLING"})(s)
		}},
		{"everything from 0", []string{schema.FileIndex}, func(s *spoiler) bool {
			all := []string{"TIEUP", "THREADING", "TREADLING", "LIFTPLAN"}
			return renumbered(all, all)(s)
		}},
		{"tie-up sideways", []string{"draft/sideways-tieup"}, sideways},
		{"neighbouring rows swapped", nothing, func(s *spoiler) bool {
			from, to := s.body(s.any(weaveTables...))
			i := from + s.rand.IntN(to-from-1)
			s.lines[i], s.lines[i+1] = s.lines[i+1], s.lines[i]
			return true
		}},
	}
}

// sideways types the tie-up with a row for each shaft.
func sideways(s *spoiler) bool {
	from, to := s.body("TIEUP")
	if to == 0 {
		return false
	}
	tied := make([][]int32, s.draft.Shafts)
	for t := 1; t <= s.draft.Tieup.Len(); t++ {
		for _, n := range s.draft.Tieup.Row(t) {
			tied[n-1] = append(tied[n-1], int32(t))
		}
	}
	s.remove(from, to)
	s.lines[from-1].spoiled = true
	s.insert(from, numbered(len(tied), func(n int) string { return list(tied[n-1], ",") })...)
	return true
}

// spoiledMeasures are wrong spacings and colors.
func spoiledMeasures() []spoiling {
	spacing := func(change func(v float64) float64) func(*spoiler, string) string {
		return func(_ *spoiler, v string) string {
			f, _ := strconv.ParseFloat(v, 64)
			return strconv.FormatFloat(change(f), 'g', 6, 64)
		}
	}
	comma := func(_ *spoiler, v string) string { return strings.Replace(v, ".", ",", 1) }
	both := []string{"WARP/Spacing", "WEFT/Spacing"}
	odd := []string{"draft/odd-spacing"}
	table, threadColors := []string{"COLOR TABLE"}, []string{"WARP COLORS", "WEFT COLORS"}
	return []spoiling{
		{"sett for spacing", odd, keyOf(spacing(func(v float64) float64 { return 1 / v }), both...)},
		{"sett an inch for spacing", odd, keyOf(spacing(func(v float64) float64 { return float64(int(2.54 / v)) }), both...)},
		{"threads in ten centimetres for spacing", odd, keyOf(spacing(func(v float64) float64 { return 10 / v }), both...)},
		{"decipoints for centimetres", odd, keyOf(spacing(func(v float64) float64 { return v / 2.54 * 720 }), both...)},
		{"decimal comma", []string{schema.FileDecimalComma}, keyOf(comma, both...)},
		{"unit after a spacing", badValue, keyOf(func(_ *spoiler, v string) string { return v + " cm" }, both...)},
		{"fraction for spacing", badValue, keyOf(func(*spoiler, string) string { return "1/8" }, both...)},
		{"percent for spacing", badValue, keyOf(func(_ *spoiler, v string) string { return v + "%" }, both...)},
		{"letter in a spacing", badValue, keyOf(func(_ *spoiler, v string) string { return replaced(v, "0", "O") }, both...)},
		{"unit in short", badValue, keyOf(func(s *spoiler, _ string) string { return s.pick("cm", "CM", "centimeter") }, "WARP/Units", "WEFT/Units")},
		{"unit unknown", badValue, keyOf(func(s *spoiler, _ string) string { return s.pick("mm", "ends/cm", "metric") }, "WARP/Units", "WEFT/Units")},
		{"shed in a word", badValue, keyOf(func(s *spoiler, _ string) string { return s.pick("rising", "sinking", "up", "maybe") }, "WEAVING/Rising Shed")},
		{"colors with semicolons", badValue, everyRow(table, marked(";"))},
		{"colors with spaces", badValue, everyRow(table, marked(" "))},
		{"colors with points", badValue, everyRow(table, marked("."))},
		{"colors with slashes", badValue, everyRow(table, marked("/"))},
		{"colons for all = of colors", badRow, everyRow([]string{"COLOR TABLE", "WARP COLORS", "WEFT COLORS"}, equal(": "))},
		{"color with a channel left out", badValue, unproposed(oneRow(table, valued(func(_ *spoiler, v string) string { return v[:strings.LastIndexByte(v, ',')] })))},
		{"color with a channel too high", badValue, unproposed(oneRow(table, valued(func(_ *spoiler, v string) string {
			if n, _ := strconv.Atoi(v[strings.LastIndexByte(v, ',')+1:]); n > 25 {
				return v + "0"
			}
			return ""
		})))},
		{"letter in the color of a thread", badValue, oneRow(threadColors, valued(lettered))},
		{"two colors for a thread", badRow, unproposed(oneRow(threadColors, valued(func(s *spoiler, v string) string { return v + s.pick(" ", ",", ";", "+") + "1" })))},
		{"comment after a color", badRow, unproposed(oneRow(threadColors, valued(func(_ *spoiler, v string) string { return v + " ; border" })))},
		{"range with a hyphen", badValue, keyOf(func(_ *spoiler, v string) string { return strings.Replace(v, ",", "-", 1) }, "COLOR PALETTE/Range")},
		{"range with a semicolon", badRow, keyOf(func(_ *spoiler, v string) string { return strings.Replace(v, ",", ";", 1) }, "COLOR PALETTE/Range")},
		{"comment after a key", strayLine, keyOf(func(_ *spoiler, v string) string { return v + " ; as on the card" }, "WEAVING/Shafts", "WEAVING/Rising Shed", "WARP/Threads", "WEFT/Spacing")},
		{"row of colors typed again, put right", []string{schema.FileDuplicateKey}, func(s *spoiler) bool {
			at, texts := s.rows(threadColors, valued(func(_ *spoiler, v string) string { return v + "1" }))
			if len(at) == 0 {
				return false
			}
			n := s.rand.IntN(len(at))
			s.insert(at[n], texts[n])
			s.lines[at[n]+1].spoiled = true
			return true
		}},
		{"colors in hexadecimal", badValue, everyRow(table, func(s *spoiler, n, v string) string {
			var r, g, b int
			fmt.Sscanf(v, "%d,%d,%d", &r, &g, &b)
			return fmt.Sprintf("%s=#%02x%02x%02x", n, r, g, b)
		})},
		{"color with a letter", badValue, unproposed(oneRow(table, valued(lettered)))},
		{"color beyond the palette", []string{"draft/color-index"}, unproposed(oneRow([]string{"WARP COLORS", "WEFT COLORS"}, valued(func(_ *spoiler, v string) string { return v + v + v })))},
		{"colors from 0", []string{schema.FileIndex, "draft/color-index"}, func(s *spoiler) bool {
			return len(s.draft.Palette) > 2 && len(s.draft.Warp.Colors) > 0 && renumbered([]string{"COLOR TABLE"}, []string{"WARP COLORS", "WEFT COLORS"})(s)
		}},
		{"too few colors declared", []string{schema.FileIndex}, func(s *spoiler) bool {
			if len(s.draft.Palette) < 2 || !keyOf(func(_ *spoiler, v string) string { return lowered(v) }, "COLOR PALETTE/Entries")(s) {
				return false
			}
			_, to := s.body("COLOR TABLE")
			s.lines[to-1].spoiled = true // the color beyond
			return true
		}},
	}
}

// spoiledSections are sections whose names or order are wrong.
func spoiledSections() []spoiling {
	slip := map[string]string{"TIEUP": "TIE-UP", "THREADING": "THREDING", "TREADLING": "TREADELING", "LIFTPLAN": "LIFT PLAN", "WEAVING": "WAVING", "WARP": "WRAP",
		"COLOR TABLE": "COLOUR TABLE", "WARP COLORS": "WARP_COLORS", "WEFT COLORS": "WEFT COLOURS"}
	named := []string{"TIEUP", "THREADING", "TREADLING", "LIFTPLAN", "WEAVING", "WARP", "COLOR TABLE", "WARP COLORS", "WEFT COLORS"}
	misspelt := func(s *spoiler, l string) string { return "[" + slip[strings.Trim(l, "[]")] + "]" }
	unknown := []string{schema.FileUnknownSection}
	header := []string{schema.FileStrayLine, schema.FileMissingSection, schema.FileUnknownSection, schema.FileUnreadable}
	// copied puts a section there a second time, with its first rows changed where
	// it is an older one, before or after the right one.
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

// spoiledFiles are files spoiled as a whole.
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

// spoiledNothing are ways of typing with which nothing is wrong.
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

// named writes the name of a section or a key in another way.
func named(l string, as func(string) string) string {
	name, value, ok := strings.Cut(l, "=")
	if !ok {
		return as(l)
	}
	return as(name) + "=" + value
}
