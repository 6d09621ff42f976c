package rules

import (
	"strings"
	"testing"

	"fettle/lint"
	"fettle/schema"
)

func TestOddSpacing(t *testing.T) {
	warp := func(unit, spacing string) string {
		if unit != "" {
			unit = "Units=" + unit + "\n"
		}
		return "[WARP]\nThreads=8\nColor=1\n" + unit + "Spacing=" + spacing + "\n"
	}
	want := func(spacing, mm, meant string) []string {
		return []string{`warning Spacing=` + spacing + ` {"system":"warp","spacing_mm":` + mm + `,"meant":"` + meant + `"}`}
	}
	check(t, "draft/odd-spacing", []row{
		{name: "believed"},
		{name: "a thread to the inch", draft: warp("Inches", "1")},
		{name: "2.5 cm", draft: warp("Centimeters", "2.5")},
		{name: "200 to the inch", draft: warp("Inches", "0.005")},
		{name: "unstated", draft: "[WARP]\nThreads=8\nColor=1\n"},
		{name: "a sett by the centimetre", draft: warp("Centimeters", "8"), fix: "risky",
			want: want("8", "80", "8 to the centimetre")},
		{name: "a sett by the inch", draft: warp("Inches", "20"), want: want("20", "508", "20 to the inch")},
		{name: "millimetres for inches", draft: warp("Inches", "1.27"), want: want("1.27", "32.258", "1.27 mm")},
		{name: "millimetres for decipoints", draft: warp("Decipoints", "0.5"), want: want("0.5", "0.017639", "0.5 mm")},
		{name: "centimetres or inches without a unit", draft: warp("", "0.1"),
			want: want("0.1", "0.003528", "0.1 cm or 0.1 in")},
		{name: "inches without a unit", draft: warp("", "0.04"), want: want("0.04", "0.001411", "0.04 in")},
		{name: "a sett or millimetres", draft: warp("Centimeters", "3"), want: want("3", "30", "3 to the centimetre or 3 mm")},
		{name: "decipoints or a sett by the inch", draft: warp("Centimeters", "36"), want: want("36", "360", "36 decipoints or 36 to the inch")},
		{name: "nothing usual", draft: warp("Centimeters", "500"), want: want("500", "5000", "")},
		{name: "thread by thread", draft: "[WARP]\nThreads=8\nColor=1\nUnits=Centimeters\n" + table("WARP SPACING", 8, 8, 8, 8, 8, 8, 8, 8),
			want: []string{`warning 1=8 {"system":"warp","spacing_mm":80,"meant":"8 to the centimetre"}`}},
		{name: "gaps between bands", draft: "[WARP]\nThreads=8\nColor=1\nUnits=Centimeters\n" + table("WARP SPACING", 0.1, 0.1, 0.1, 6, 0.1, 0.1, 0.1, 0.1)},
		{name: "the weft", draft: "[WEFT]\nThreads=8\nColor=1\nUnits=Inches\nSpacing=18\n",
			want: []string{`warning Spacing=18 {"system":"weft","spacing_mm":457.2,"meant":"18 to the inch"}`}},
	})
}

// TestOddSpacingReportsAlone: what rests on a spacing that is not believed is held
// back, unless the settings state sett and picks.
func TestOddSpacingReportsAlone(t *testing.T) {
	draft := "[WARP]\nThreads=8\nColor=1\nUnits=Centimeters\nSpacing=8\n[WEFT]\nThreads=8\nColor=1\nUnits=Centimeters\nSpacing=8\n"
	room := "[loom]\nweaving width = 20 cm\n[reed]\ndents = 10/cm\nwidth = 20 cm\n[yarn]\ngrist = 100 tex\nstock = 10 m\n[project]\nfinished length = 1 m\n"
	_, findings := look(t, lint.Example{Draft: draft, Settings: room})
	for _, f := range findings {
		if f.Rule != "draft/odd-spacing" {
			t.Errorf("%s: %s", f.Rule, f.Message)
		}
	}
	if len(findings) != 2 {
		t.Errorf("%d findings, want one for the warp and one for the weft", len(findings))
	}
	_, findings = look(t, lint.Example{Draft: draft, Settings: room + "sett = 1/cm\npicks = 1/cm\n"})
	seen := ""
	for _, f := range findings {
		seen += f.Rule + " "
	}
	if !strings.Contains(seen, "cloth/long-float") || !strings.Contains(seen, "reed/sett") {
		t.Errorf("by a stated sett, found only %s", seen)
	}
}

// TestOddSpacingIsMended: what one reading says it is meant to be is believed.
func TestOddSpacingIsMended(t *testing.T) {
	doc, findings := look(t, lint.Example{Draft: oddSpacing.Faulty.Draft})
	for _, f := range findings {
		if f.Rule != "draft/odd-spacing" || len(f.Fixes) != 1 || !f.Fixes[0].Risky {
			t.Fatalf("%s with fixes %v", f.Rule, f.Fixes)
		}
		e := f.Fixes[0].Edits[0]
		text := string(doc.Source.Text[:e.Span.Start]) + e.New + string(doc.Source.Text[e.Span.End:])
		if _, left := look(t, lint.Example{Draft: text, Whole: true}); len(left) > 0 {
			t.Errorf("mended, it gives %s", left[0].Message)
		}
	}
	if doc.Draft.Warp.SpacingOf(1) != 0 || doc.Draft.Of(schema.Weft).SpacingOf(1) != 1 {
		t.Error("an odd spacing is used")
	}
}
