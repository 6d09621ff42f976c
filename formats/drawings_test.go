package formats

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"fettle/formats/diagram"
	"fettle/schema"
)

func TestDrawings(t *testing.T) {
	d := &schema.Draft{Threading: schema.Singles(1, 2), LiftPlan: schema.Singles(1, 2)}
	for _, row := range []struct {
		name   string
		o      Options
		begins string
	}{
		{"svg", Options{}, "<svg "},
		{"png", Options{}, "\x89PNG"},
		{"pdf", Options{}, "%PDF-"},
		{"txt", Options{}, "Untitled draft\n"},
		{"txt", Options{ClothOnly: true}, "#.\n.#\n"},
		{"txt", Options{Drawing: diagram.Options{Back: true}}, "Untitled draft\n"},
	} {
		t.Run(fmt.Sprint(row.name, row.o.ClothOnly), func(t *testing.T) {
			text, lost, err := Write(row.name, d, row.o)
			if err != nil || len(lost) > 0 || !bytes.HasPrefix(text, []byte(row.begins)) {
				t.Errorf("%.20q %v %v", text, lost, err)
			}
		})
	}
	for _, name := range Drawings() {
		if _, _, err := Write(name, &schema.Draft{}, Options{}); err == nil {
			t.Errorf("%s draws a draft without threads", name)
		}
	}
}

// TestDrawingsReportMissingGlyphs draws a title that the embedded font can't show.
func TestDrawingsReportMissingGlyphs(t *testing.T) {
	d := &schema.Draft{Threading: schema.Singles(1, 2), LiftPlan: schema.Singles(1, 2), Texts: schema.Texts{Title: "麻 \U0001F9F6"}}
	for _, row := range []struct {
		name string
		o    diagram.Options
		lost int
	}{{"png", diagram.Options{}, 1}, {"pdf", diagram.Options{}, 1}, {"svg", diagram.Options{}, 0}, {"txt", diagram.Options{}, 0}, {"pdf", diagram.Options{Bare: true}, 0}} {
		text, lost, err := Write(row.name, d, Options{Drawing: row.o})
		if err != nil || len(lost) != row.lost {
			t.Errorf("%s: %q %v", row.name, lost, err)
		}
		if len(lost) > 0 && !strings.Contains(lost[0], "'麻' (U+9EBB), '\U0001F9F6' (U+1F9F6)") {
			t.Errorf("%s: %q", row.name, lost)
		}
		if row.name == "svg" && bytes.Count(text, []byte("麻 \U0001F9F6")) != 2 {
			t.Error("the SVG lacks the title")
		}
	}
}

func TestCanWrite(t *testing.T) {
	for _, name := range append(Names(), Drawings()...) {
		if err := CanWrite(name); err != nil {
			t.Error(err)
		}
	}
	_, _, err := Write("xls", &schema.Draft{}, Options{})
	if err == nil || !strings.Contains(err.Error(), "'xls' isn't a format that fettle writes; choose json, wif, svg, png, pdf or txt") {
		t.Errorf("got %v", err)
	}
}
