package corpus

import (
	"fmt"
	"strconv"
	"strings"

	"fettle/schema"
)

// spoiledCounts returns wrong counts, and tables that are numbered from 0 or transposed.
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

// sideways writes the tie-up with a row for each shaft.
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

// spoiledMeasures returns wrong spacings and colors.
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
			s.lines[to-1].spoiled = true // the extra color
			return true
		}},
	}
}
