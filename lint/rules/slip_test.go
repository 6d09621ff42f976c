package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fettle/formats"
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/settings"
)

// warpOf makes a draft with a threading, its ends declared.
func warpOf(threading ...any) string {
	return fmt.Sprintf("[WARP]\nThreads=%d\nColor=1\nUnits=Centimeters\nSpacing=0.1\n", len(threading)) + table("THREADING", threading...)
}

// weftOf makes a draft with a treadling or a lift plan.
func weftOf(section string, rows ...any) string {
	return fmt.Sprintf("[WEFT]\nThreads=%d\nColor=1\nUnits=Centimeters\nSpacing=0.1\n", len(rows)) + table(section, rows...)
}

// with returns a list that repeats some rows n times, with one changed.
func with(times int, of []any, changes map[int]any) []any {
	list := slices.Repeat(of, times)
	for thread, row := range changes {
		list[thread-1] = row
	}
	return list
}

func TestSlip(t *testing.T) {
	four, lifts := []any{1, 2, 3, 4}, []any{"1,2", "2,3", "3,4", "1,4"}
	six := slices.Repeat(four, 6)
	stripes := []any{1, 1, 1, 2, 2, 2}
	colored := func(section string, list []any) string {
		threads, part := "[WARP]", "[THREADING]\n"
		if section == "WEFT COLORS" {
			threads, part = "[WEFT]", "[TREADLING]\n"
		}
		for i := range list {
			part += fmt.Sprintf("%d=%d\n", i+1, i%4+1)
		}
		return fmt.Sprintf("%s\nThreads=%d\nColor=1\nUnits=Centimeters\nSpacing=0.1\n", threads, len(list)) + part + table(section, list...)
	}
	shafts8 := "[WEAVING]\nShafts=8\nTreadles=8\nRising Shed=true\n" + table("TIEUP", "1,2,5", "2,3,6", "3,4,7", "4,5,8", "1,5,6", "2,6,7", "3,7,8", "1,4,8")
	turn := []any{1, 2, 3, 4, 5, 6, 7, 8, 7, 6, 5, 4, 3, 2}
	big := append(slices.Repeat(turn, 2), 1)
	bent := slices.Clone(big)
	bent[9] = 4
	check(t, "draft/slip", []row{
		{name: "nothing odd", draft: warpOf(six...)},
		{name: "an end on the wrong shaft", draft: warpOf(with(6, four, map[int]any{14: 4})...), fix: "risky",
			want: []string{`warning 14=4 {"system":"warp","list":"threading","kind":"changed","thread":14,"repeat":4,"expected":[2],"found":[4],"agree":23,"of":24}`}},
		{name: "two ends swapped", draft: warpOf(with(6, four, map[int]any{14: 3, 15: 2})...), fix: "risky",
			want: []string{`warning 14=3 {"system":"warp","list":"threading","kind":"swapped","thread":14,"repeat":4,"expected":[2],"found":[3],"agree":22,"of":24}`}},
		{name: "an end left out", draft: warpOf(slices.Delete(slices.Clone(six), 9, 10)...),
			want: []string{`warning 10=3 {"system":"warp","list":"threading","kind":"missing","thread":10,"repeat":4,"expected":[2],"found":[3],"agree":23,"of":23}`}},
		{name: "an end threaded twice", draft: warpOf(slices.Insert(slices.Clone(six), 9, any(2))...),
			want: []string{`warning 11=2 {"system":"warp","list":"threading","kind":"extra","thread":11,"repeat":4,"expected":[3],"found":[2],"agree":24,"of":25}`}},
		{name: "two slips", draft: warpOf(with(8, four, map[int]any{10: 4, 23: 1})...), fix: "risky",
			want: []string{`warning 10=4 {"system":"warp","list":"threading","kind":"changed","thread":10,"repeat":4,"expected":[2],"found":[4],"agree":30,"of":32}`,
				`warning 23=1 {"system":"warp","list":"threading","kind":"changed","thread":23,"repeat":4,"expected":[3],"found":[1],"agree":30,"of":32}`}},
		{name: "three repeats", draft: warpOf(with(3, four, map[int]any{6: 4})...)},
		{name: "in the first repeat", draft: warpOf(with(6, four, map[int]any{3: 4})...)},
		{name: "in the last repeat", draft: warpOf(with(6, four, map[int]any{22: 4})...)},
		{name: "the same twice", draft: warpOf(with(8, four, map[int]any{10: 4, 22: 4})...)},
		{name: "doubled selvedges", draft: warpOf(slices.Concat([]any{1, 1, 2, 2}, with(6, four, map[int]any{14: 4}), []any{3, 3, 4, 4})...), fix: "risky",
			want: []string{`warning 18=4 {"system":"warp","list":"threading","kind":"changed","thread":18,"repeat":4,"expected":[2],"found":[4],"agree":31,"of":32}`}},
		{name: "two halves", draft: warpOf(slices.Concat(slices.Repeat(four, 4), []any{2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4, 1})...)},
		{name: "mirrored", draft: shafts8 + warpOf(bent...),
			want: []string{`warning 10=4 {"system":"warp","list":"threading","kind":"changed","thread":10,"repeat":0,"expected":[6],"found":[4],"agree":28,"of":29}`}},
		{name: "a pick on the wrong treadle", draft: weftOf("TREADLING", with(6, four, map[int]any{14: 4})...), fix: "risky",
			want: []string{`warning 14=4 {"system":"weft","list":"treadling","kind":"changed","thread":14,"repeat":4,"expected":[2],"found":[4],"agree":23,"of":24}`}},
		{name: "a wrong lift", draft: "[TREADLING]\n" + weftOf("LIFTPLAN", with(6, lifts, map[int]any{14: "2,4"})...), fix: "risky",
			want: []string{`warning 14=2,4 {"system":"weft","list":"liftplan","kind":"changed","thread":14,"repeat":4,"expected":[2,3],"found":[2,4],"agree":23,"of":24}`}},
		{name: "a color in a stripe", draft: colored("WARP COLORS", with(8, stripes, map[int]any{20: 2})), fix: "risky",
			want: []string{`warning 20=2 {"system":"warp","list":"colors","kind":"changed","thread":20,"repeat":6,"expected":[1],"found":[2],"agree":47,"of":48}`}},
		{name: "a stripe a pick too wide", draft: colored("WEFT COLORS", slices.Insert(slices.Repeat(stripes, 8), 18, any(1))),
			want: []string{`warning 22=1 {"system":"weft","list":"colors","kind":"extra","thread":22,"repeat":6,"expected":[2],"found":[1],"agree":48,"of":49}`}},
		{name: "an accent", draft: "[COLOR PALETTE]\nEntries=3\nForm=RGB\nRange=0,255\n[COLOR TABLE]\n1=242,234,216\n2=34,49,63\n3=200,0,0\n" +
			colored("WARP COLORS", with(8, stripes, map[int]any{20: 3}))},
		{name: "one color", draft: colored("WARP COLORS", with(8, []any{1, 1, 1, 1}, map[int]any{20: 2}))},
		{name: "log cabin", draft: colored("WARP COLORS", slices.Concat(slices.Repeat([]any{1, 2}, 12), slices.Repeat([]any{2, 1}, 8)))},
		{name: "a treadle tied wrong", draft: "[WEAVING]\nShafts=6\nTreadles=6\nRising Shed=true\n" + table("TIEUP", "1,2,3", "2,3,4", "3,4,5", "4,5", "1,5,6", "1,2,6"), fix: "risky",
			want: []string{`warning 4=4,5 {"system":"tieup","list":"tieup","kind":"changed","thread":4,"repeat":6,"expected":[4,5,6],"found":[4,5],"agree":5,"of":6}`}},
		{name: "two treadles swapped", draft: "[WEAVING]\nShafts=8\nTreadles=8\nRising Shed=true\n" + table("TIEUP", "1,2,5", "2,3,6", "4,5,8", "3,4,7", "1,5,6", "2,6,7", "3,7,8", "1,4,8"), fix: "risky",
			want: []string{`warning 3=4,5,8 {"system":"tieup","list":"tieup","kind":"swapped","thread":3,"repeat":8,"expected":[3,4,7],"found":[4,5,8],"agree":6,"of":8}`}},
		{name: "four treadles that agree", draft: "[WEAVING]\nShafts=5\nTreadles=5\nRising Shed=true\n" + table("TIEUP", "1,2", "2,3", "3,5", "4,5", "1,5")},
		{name: "twill and tabby", draft: "[WEAVING]\nShafts=6\nTreadles=8\nRising Shed=true\n" + table("TIEUP", "1,2,3", "2,3,4", "3,4,5", "4,5,6", "1,5,6", "1,2,6", "1,3,5", "2,4,6")},
	})
}

// TestSlipFixes applies the fixes of a draft with slips in its threading and its tie-up. The
// result has no slip.
func TestSlipFixes(t *testing.T) {
	for name, draft := range map[string]string{
		"changed": warpOf(with(6, []any{1, 2, 3, 4}, map[int]any{14: 4})...),
		"swapped": warpOf(with(6, []any{1, 2, 3, 4}, map[int]any{14: 3, 15: 2})...),
		"tie-up":  "[WEAVING]\nShafts=8\nTreadles=8\nRising Shed=true\n" + table("TIEUP", "1,2,5", "2,3,6", "4,5,8", "3,4,7", "1,5,6", "2,6,7", "3,7,8", "1,4,8"),
	} {
		for _, format := range []string{"wif", "json"} {
			text, _, err := formats.Write(format, formats.Read("a.wif", []byte(composed(lint.Example{Draft: draft}))).Draft, formats.Options{})
			if err != nil {
				t.Fatal(err)
			}
			doc := formats.Read("a."+format, text)
			i := slices.IndexFunc(run(t, doc, &settings.Settings{}), isSlip)
			if i < 0 {
				t.Fatalf("%s in %s: no slip", name, format)
			}
			fixed, err := lint.Apply(doc.Source.Text, run(t, doc, &settings.Settings{})[i].Fixes[0].Edits)
			if err != nil {
				t.Fatal(err)
			}
			after := formats.Read("a."+format, fixed)
			if list := run(t, after, &settings.Settings{}); slices.ContainsFunc(list, isSlip) || strings.Contains(string(fixed), "14=4") {
				t.Errorf("%s in %s: still a slip in\n%s", name, format, fixed)
			}
		}
	}
}

func isSlip(f schema.Finding) bool { return f.Rule == "draft/slip" }
