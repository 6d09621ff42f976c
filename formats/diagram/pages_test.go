package diagram_test

import (
	"bytes"
	"strconv"
	"strings"
	"testing"

	"fettle/formats/diagram"
	"fettle/schema"
)

// stripedTwill returns a twill whose colors repeat less often than its weave.
func stripedTwill(threads, stripe int) *schema.Draft {
	d := twill()
	d.Threading, d.Treadling = schema.Rows{}, schema.Rows{}
	for i := range threads {
		d.Threading.Append(int32(i%4 + 1))
		d.Treadling.Append(int32(i%4 + 1))
		d.Warp.Colors = append(d.Warp.Colors, int32(i/stripe%2+1))
	}
	return d
}

// TestOneRepeatInsteadOfManyPages checks when a PDF shows one repeat, and that it says so.
func TestOneRepeatInsteadOfManyPages(t *testing.T) {
	mirrored, irregular := stripedTwill(400, 200), lifted(300, noise(3))
	irregular.Threading = schema.Rows{}
	for i, up := 0, noise(4); i < 300; i++ {
		irregular.Threading.Append(map[bool]int32{true: 1, false: 2}[up(0, i)])
	}
	for _, row := range []struct {
		name  string
		draft *schema.Draft
		o     diagram.Options
		says  string // of the remark; "" for none
		page  string // in the caption
		pages int    // at most
	}{
		{"two pages are few", stripedTwill(120, 20), diagram.Options{}, "", "", 2},
		{"the colors repeat too", stripedTwill(400, 20), diagram.Options{}, "40 ends by 4 picks", "one repeat of threading, lifts and colors", 1},
		{"the colors don't repeat", mirrored, diagram.Options{}, "4 ends by 4 picks", "without the whole order of the colors", 1},
		{"the whole on request", mirrored, diagram.Options{Whole: true}, "", "Sheet 3 of", 200},
		{"one page on request", mirrored, diagram.Options{FitPage: true}, "", "400 ends, 400 picks", 1},
		{"one repeat on request", mirrored, diagram.Options{Repeat: true}, "", "one repeat of the weave", 1},
		{"nothing repeats", irregular, diagram.Options{}, "", "Sheet 3 of", 200},
	} {
		t.Run(row.name, func(t *testing.T) {
			said := ""
			row.o.Remark = func(text string) { said += text }
			text := output(t, "pdftotext", pdfOf(t, row.draft, row.o), "-")
			if (said == "") != (row.says == "") || !strings.Contains(said, row.says) {
				t.Errorf("remark %q, want %q", said, row.says)
			}
			if text = strings.Join(strings.Fields(text), " "); !strings.Contains(text, row.page) {
				t.Errorf("%q isn't on the page: %.600s", row.page, text)
			}
			if got, err := diagram.SheetsOf(row.draft, row.o); err != nil || got > row.pages {
				t.Errorf("%d pages, %v", got, err)
			}
		})
	}
}

// TestFitPage draws a large draft on one page, in the size of the paper.
func TestFitPage(t *testing.T) {
	d := stripedTwill(300, 20)
	picture := pngOf(t, d, diagram.Options{FitPage: true, DPI: 100})
	if size := picture.Bounds().Size(); size.X != 827 && size.Y != 827 {
		t.Errorf("A4 at 100 dpi is %v", size)
	}
	if svg := svgOf(t, d, diagram.Options{FitPage: true, Page: diagram.A3}); !strings.Contains(svg, `mm" height="420mm"`) && !strings.Contains(svg, `width="420mm"`) {
		t.Errorf("no A3: %.300s", svg)
	}
	var b bytes.Buffer
	wide := &schema.Draft{Threading: schema.Singles(1), LiftPlan: schema.Singles(1)}
	wide.Warp.Threads = 4000
	for _, err := range []error{diagram.SVG(&b, wide, diagram.Options{FitPage: true}, ""), diagram.PDF(&b, wide, diagram.Options{FitPage: true})} {
		if err == nil || !strings.Contains(err.Error(), "--repeat") {
			t.Errorf("4,000 ends on A4: %v", err)
		}
	}
	if err := diagram.PNG(&b, stripedTwill(300, 20), diagram.Options{FitPage: true, DPI: 18}); err == nil {
		t.Error("300 ends fit in 150 pixels")
	}
}

// TestLetters counts the letters beside the bars. Each change of color has one, also where
// cells are narrower than letters.
func TestLetters(t *testing.T) {
	for name, o := range map[string]diagram.Options{"usual cells": {}, "narrow cells": {Cell: 0.6}, "large": {Large: true, Cell: 3}} {
		t.Run(name, func(t *testing.T) {
			d := stripedTwill(40, 2)
			d.Weft.Colors = []int32{1, 2, 1, 1, 2, 2, 2}
			svg := svgOf(t, d, o)
			// 20 stripes of the warp, and A B A B A to the last pick's color 2
			if a, b := strings.Count(svg, ">A</text>"), strings.Count(svg, ">B</text>"); a != 10+2 || b != 10+2 {
				t.Errorf("%d times A, %d times B", a, b)
			}
			if strings.Contains(svg, "too close for a letter") {
				t.Error("a letter is missing")
			}
		})
	}
	if svg := svgOf(t, stripedTwill(400, 1), diagram.Options{Cell: 0.2}); !strings.Contains(svg, "too close for") {
		t.Error("missing letters aren't mentioned")
	}
	many := stripedTwill(60, 1)
	for i := range 60 {
		many.Palette = append(many.Palette, schema.RGB(uint8(i), 0, 0))
		many.Warp.Colors[i] = int32(i + 3)
	}
	for _, want := range []string{">A: color 2, ", ">Z: color 27, ", ">AA: color 28, ", ">and 1 more color</text>"} {
		if svg := svgOf(t, many, diagram.Options{}); !strings.Contains(svg, want) {
			t.Errorf("no %s", want)
		}
	}
}

// TestEverySheetHasNumbers checks that sheets inside a drawing say which threads they show,
// and number them.
func TestEverySheetHasNumbers(t *testing.T) {
	text := output(t, "pdftotext", "-layout", pdfOf(t, stripedTwill(400, 200), diagram.Options{Whole: true}), "-")
	pages := strings.Split(strings.TrimSuffix(text, "\f"), "\f")
	if len(pages) < 9 {
		t.Fatalf("%d sheets", len(pages))
	}
	for i, page := range pages {
		line, rest, _ := strings.Cut(strings.TrimSpace(page), "\n")
		if !strings.Contains(line, "; ends ") || !strings.Contains(line, ", picks ") {
			t.Errorf("sheet %d: %q", i+1, line)
		}
		ends, _, _ := strings.Cut(strings.TrimSpace(rest), "\n")
		numbers := 0
		for _, word := range strings.Fields(rest) {
			if _, err := strconv.Atoi(word); err == nil {
				numbers++
			}
		}
		if numbers < 20 || i > 2 && len(strings.Fields(ends)) < 8 {
			t.Errorf("sheet %d has %d numbers, and above its ends %q", i+1, numbers, ends)
		}
	}
}
