package wif

import (
	"strings"
	"testing"

	"fettle/schema"
)

// small returns a draft with a little of everything; canonical is its text.
func small() *schema.Draft {
	return &schema.Draft{
		Texts:  schema.Texts{Title: "Café; [x] = y", Author: "Ada"},
		Notes:  []string{"one", "", "three"},
		Shafts: 2, Treadles: 2, Shed: schema.Sinking, Profile: schema.No,
		Palette:   []schema.Color{schema.RGB(255, 128, 0), {}, schema.RGB(0, 0, 1)},
		Threading: schema.RowsOf([]int32{1}, []int32{2, 1}, nil),
		Tieup:     schema.Singles(1, 2),
		Treadling: schema.Singles(1, 0, 2),
		Warp:      schema.System{Threads: 3, Color: 1, Unit: schema.Centimetres, Spacing: 0.127, Spacings: []float64{0, 0.25}},
		Weft:      schema.System{Threads: 3, Color: 3, Colors: []int32{0, 1}},
	}
}

const canonical = `[WIF]
Version=1.1
Date=April 20, 1997
Developers=wif@mhsoft.com
Source Program=fettle
Source Version=1

[CONTENTS]
COLOR PALETTE=true
TEXT=true
WEAVING=true
WARP=true
WEFT=true
NOTES=true
TIEUP=true
COLOR TABLE=true
THREADING=true
WARP SPACING=true
TREADLING=true
WEFT COLORS=true

[COLOR PALETTE]
Entries=3
Form=RGB
Range=0,255

[TEXT]
Title=Café; [x] = y
Author=Ada

[WEAVING]
Shafts=2
Treadles=2
Rising Shed=false
Profile=false

[WARP]
Threads=3
Color=1
Units=Centimeters
Spacing=0.127

[WEFT]
Threads=3
Color=3

[NOTES]
1=one
2=
3=three

[TIEUP]
1=1
2=2

[COLOR TABLE]
1=255,128,0
3=0,0,1

[THREADING]
1=1
2=1,2
3=0

[WARP SPACING]
2=0.25

[TREADLING]
1=1
2=0
3=2

[WEFT COLORS]
2=1
`

func TestWrite(t *testing.T) {
	for _, c := range []struct {
		name string
		o    Options
		want string
	}{
		{"lines end with CRLF by default", Options{}, strings.ReplaceAll(canonical, "\n", "\r\n")},
		{"lines end with LF", Options{LF: true}, canonical},
	} {
		t.Run(c.name, func(t *testing.T) {
			text, lost := Write(small(), c.o)
			if string(text) != c.want || len(lost) > 0 {
				t.Errorf("lost %q, text\n%s", lost, text)
			}
			again, _ := Write(Read(&schema.Source{Text: text}).Draft, c.o)
			if string(again) != c.want {
				t.Errorf("read and written again:\n%s", again)
			}
		})
	}
}

func TestWriteReportsLosses(t *testing.T) {
	d := small()
	d.Texts.Address = "Quay 1\nQuarrow"
	d.Settings = []schema.Setting{{Section: "project", Key: "sett", Value: "8/cm"}}
	text, lost := Write(d, Options{LF: true})
	if len(lost) != 2 || !strings.Contains(lost[0], "address") || !strings.Contains(lost[1], "[project] sett") {
		t.Errorf("lost %q", lost)
	}
	if !strings.Contains(string(text), "\nAddress=Quay 1 Quarrow\n") {
		t.Errorf("text\n%s", text)
	}
}

func TestWriteNothing(t *testing.T) {
	text, lost := Write(&schema.Draft{}, Options{LF: true})
	if want := wifSection() + "\n[CONTENTS]\n"; string(text) != want || len(lost) > 0 {
		t.Errorf("%q, lost %q", text, lost)
	}
}

// TestCarriedValuesStayOnOneLine writes carried values that would begin another section.
func TestCarriedValuesStayOnOneLine(t *testing.T) {
	const value = "1\n[TIEUP]\n1=2"
	for _, k := range []kind{kindWIF, kindColorPalette, kindWarp, kindWeft, kindWeaving, kindText, kindColorTable} {
		for _, key := range append(sections[k].keys, key{name: "1"}, key{name: "Other"}) {
			d := small()
			d.Palette = append(d.Palette, schema.Color{})
			plain, _ := Write(d, Options{LF: true})
			d.Carried.Values = []schema.Setting{{Section: sections[k].name, Key: key.name, Value: value}}
			text, _ := Write(d, Options{LF: true})
			if got, want := strings.Count(string(text), "\n["), strings.Count(string(plain), "\n["); got != want {
				t.Errorf("%s %s: %d sections, want %d:\n%s", sections[k].name, key.name, got, want, text)
			}
		}
	}
}

// TestKeysInOrder writes the keys of a section in the order of the table, and unknown ones
// after them.
func TestKeysInOrder(t *testing.T) {
	d := &schema.Draft{Warp: schema.System{Threads: 2, Unit: schema.Inches}}
	for _, key := range []string{"Odd", "Spacing Zoom", "Symbol"} {
		d.Carried.Values = append(d.Carried.Values, schema.Setting{Section: "WARP", Key: key, Value: "3"})
	}
	text, _ := Write(d, Options{LF: true})
	if want := "[WARP]\nThreads=2\nSymbol=3\nUnits=Inches\nSpacing Zoom=3\nOdd=3\n"; !strings.Contains(string(text), want) {
		t.Errorf("%s\nhas no\n%s", text, want)
	}
}
