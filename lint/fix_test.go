package lint

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

func edit(start, end int, with string) schema.Edit {
	return schema.Edit{Span: schema.Span{Start: start, End: end}, New: with}
}

func TestApply(t *testing.T) {
	const text = "0123456789"
	for _, c := range []struct {
		name  string
		edits []schema.Edit
		want  string // or what the error says, behind !
	}{
		{"none", nil, text},
		{"one", []schema.Edit{edit(2, 4, "x")}, "01x456789"},
		{"in any order", []schema.Edit{edit(8, 9, "b"), edit(0, 1, "a")}, "a1234567b9"},
		{"put in at either end", []schema.Edit{edit(10, 10, "b"), edit(0, 0, "a")}, "a0123456789b"},
		{"put in at one place, in their order", []schema.Edit{edit(5, 5, "a"), edit(5, 5, "b")}, "01234ab56789"},
		{"an insertion before a replacement", []schema.Edit{edit(5, 7, "b"), edit(5, 5, "a")}, "01234ab789"},
		{"side by side", []schema.Edit{edit(2, 4, ""), edit(4, 6, "")}, "016789"},
		{"over each other", []schema.Edit{edit(2, 5, "x"), edit(4, 6, "y")}, "!overlaps"},
		{"an insertion inside a replacement", []schema.Edit{edit(2, 5, "x"), edit(3, 3, "y")}, "!overlaps"},
		{"back to front", []schema.Edit{edit(5, 2, "x")}, "!before it starts"},
		{"before the text", []schema.Edit{edit(-1, 2, "x")}, "!outside"},
		{"after the text", []schema.Edit{edit(9, 11, "x")}, "!outside"},
	} {
		t.Run(c.name, func(t *testing.T) {
			given := slices.Clone(c.edits)
			got, err := Apply([]byte(text), c.edits)
			if !slices.Equal(given, c.edits) {
				t.Error("the edits given were put in order")
			}
			if says, wrong := strings.CutPrefix(c.want, "!"); wrong {
				if err == nil || !strings.Contains(err.Error(), says) {
					t.Errorf("the error is %v, want one that says %q", err, says)
				}
				return
			}
			if err != nil || string(got) != c.want {
				t.Errorf("%q, %v; want %q", got, err, c.want)
			}
		})
	}
}

// fixable returns a finding with one fix.
func fixable(rule string, risky bool, edits ...schema.Edit) schema.Finding {
	return schema.Finding{Rule: rule, Fixes: []schema.Fix{{Title: rule, Risky: risky, Edits: edits}}}
}

func TestFixParts(t *testing.T) {
	findings := []schema.Finding{
		{Rule: "no fix"}, fixable("certain", false, edit(0, 1, "")), fixable("risky", true, edit(2, 3, "")), fixable("no edits", false),
		{Rule: "either", Fixes: []schema.Fix{{Title: "a", Risky: true, Edits: []schema.Edit{edit(4, 5, "")}},
			{Title: "b", Edits: []schema.Edit{edit(4, 5, "")}}}},
	}
	titles := func(list []FixPart) string {
		var words []string
		for _, m := range list {
			words = append(words, m.Finding.Rule+":"+m.Fix.Title)
		}
		return strings.Join(words, " ")
	}
	if got := titles(FixParts(findings, false)); got != "certain:certain either:b" {
		t.Errorf("certain ones: %s", got)
	}
	if got := titles(FixParts(findings, true)); got != "certain:certain risky:risky either:a" {
		t.Errorf("with risky ones: %s", got)
	}
}

func TestTogether(t *testing.T) {
	for _, c := range []struct {
		name  string
		parts [][]schema.Edit
		want  string // which of them, a for the first
	}{
		{"apart", [][]schema.Edit{{edit(0, 1, "")}, {edit(2, 3, "")}}, "ab"},
		{"side by side", [][]schema.Edit{{edit(0, 2, "")}, {edit(2, 3, "")}}, "ab"},
		{"over each other", [][]schema.Edit{{edit(0, 2, "")}, {edit(1, 3, "")}}, "a"},
		{"the first has the right of way", [][]schema.Edit{{edit(1, 3, "")}, {edit(0, 2, "")}}, "a"},
		{"what one waits for does not wait", [][]schema.Edit{{edit(0, 2, "")}, {edit(1, 4, "")}, {edit(3, 5, "")}}, "ac"},
		{"whole or not at all", [][]schema.Edit{{edit(4, 5, "")}, {edit(0, 1, ""), edit(4, 6, "")}}, "a"},
		{"two words at one place", [][]schema.Edit{{edit(3, 3, "; ")}, {edit(3, 3, "x")}}, "a"},
		{"a word before a replacement", [][]schema.Edit{{edit(3, 5, "y")}, {edit(3, 3, "; ")}}, "a"},
		{"lines after one line", [][]schema.Edit{{edit(3, 3, "\na=b")}, {edit(3, 3, "\r\nc=d")}}, "ab"},
		{"a word and a line at one place", [][]schema.Edit{{edit(3, 3, "]")}, {edit(3, 3, "\nc=d")}}, "a"},
		{"a line before a replacement", [][]schema.Edit{{edit(3, 5, "y")}, {edit(3, 3, "; x\n")}}, "ab"},
		{"over itself", [][]schema.Edit{{edit(0, 2, ""), edit(1, 3, "")}, {edit(5, 6, "")}}, "b"},
		{"the same twice", [][]schema.Edit{{edit(0, 2, "x")}, {edit(0, 2, "x")}}, "a"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := letters(first(Together(partsOf(c.parts)))); got != c.want {
				t.Errorf("%s go together, want %s", got, c.want)
			}
		})
	}
}

func partsOf(edits [][]schema.Edit) []FixPart {
	var list []FixPart
	for i, e := range edits {
		f := fixable(string(rune('a'+i)), false, e...)
		list = append(list, FixPart{&f, &f.Fixes[0], e})
	}
	return list
}

func first(now, _ []FixPart) []FixPart { return now }

func letters(list []FixPart) string {
	var s string
	for _, m := range list {
		s += m.Finding.Rule
	}
	return s
}

// TestTogetherIsWhole splits random parts. Those for now can be made at once, stay in order,
// and include the first part that can be made alone.
func TestTogetherIsWhole(t *testing.T) {
	text := []byte(strings.Repeat("x", 30))
	span := rapid.Custom(func(t *rapid.T) schema.Edit {
		start := rapid.IntRange(0, 30).Draw(t, "start")
		return edit(start, rapid.IntRange(start, min(30, start+6)).Draw(t, "end"), rapid.SampledFrom([]string{"", "; ", "\nA=b", "; x\r\n"}).Draw(t, "new"))
	})
	rapid.Check(t, func(t *rapid.T) {
		list := partsOf(rapid.SliceOfN(rapid.SliceOfN(span, 1, 4), 1, 8).Draw(t, "parts"))
		chosen, waiting := Together(list)
		var all []schema.Edit
		for _, m := range chosen {
			all = append(all, m.Edits...)
		}
		if _, err := Apply(text, all); err != nil {
			t.Fatalf("what goes together does not: %v", err)
		}
		if len(chosen)+len(waiting) != len(list) {
			t.Fatalf("%d and %d are not %d", len(chosen), len(waiting), len(list))
		}
		if s := letters(chosen); !slices.IsSorted([]byte(s)) {
			t.Fatalf("out of order: %s", s)
		}
		for _, m := range list {
			if len(first(Together([]FixPart{m}))) == 0 {
				continue
			}
			if len(chosen) == 0 || chosen[0].Finding != m.Finding {
				t.Fatalf("%s could be made and was not", m.Finding.Rule)
			}
			break
		}
	})
}
