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
			t.Errorf("%s: a draft without threads is drawn", name)
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
	if err == nil || !strings.Contains(err.Error(), "'xls' is not a format to write: say json, wif, svg, png, pdf or txt") {
		t.Errorf("got %v", err)
	}
}
