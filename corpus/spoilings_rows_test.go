package corpus

import (
	"strconv"
	"strings"

	"fettle/schema"
)

// spoiledLists returns lists in a wrong form.
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
		{"lists with two alternating marks", badValue, unproposed(everyRow(listTables, func(s *spoiler, n, v string) string { return marked(s.pick(";", "+"))(s, n, v) }))},
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

// brokenList splits a list into two lines. The comma is at the end of the first line or at
// the start of the second.
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

// spoiledSigns returns rows and keys with wrong signs or characters.
func spoiledSigns() []spoiling {
	counts := []string{"WEAVING/Shafts", "WEAVING/Treadles", "WARP/Threads", "WEFT/Threads"}
	around := func(before, after string) func(*spoiler, string) string {
		return func(_ *spoiler, v string) string { return before + v + after }
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

// spoiledNumbers returns rows with mistyped numbers.
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

// shortTables spoils a count so that a table of threads is too short. The finding may be
// at the table.
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
