package sheet

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strconv"
	"strings"

	"fettle/schema/dressing"
)

//go:embed sheet.tmpl
var sheetTemplate string

//go:embed sheet.js
var sheetScript string

// HTML writes the sheet as one self-contained page. A small script keeps the ticked boxes
// in the browser's storage, if there is any. The page prints in black and white, and
// tables that fit on one printed page aren't split.
func HTML(w io.Writer, p *dressing.Plan, o Options) error {
	t, err := template.New("sheet").Funcs(template.FuncMap{"figures": markFigures}).Parse(sheetTemplate)
	if err != nil {
		return fmt.Errorf("can't read the template of the sheet: %w", err)
	}
	s := of(p, o)
	page := htmlPage{
		Title: s.title, Paper: o.Paper.String(), Facts: htmlTableOf(&s.facts, &boxes{}),
		Key: keyOf(Text(p, o)), Script: template.JS(sheetScript), ScriptHash: scriptHash(),
	}
	page.Facts.Class = "facts"
	times := map[string]int{} // steps by their names
	for i := range s.steps {
		name := s.steps[i].id
		if times[name]++; times[name] > 1 {
			name += strconv.Itoa(times[name])
		}
		step, err := htmlStepOf(&s.steps[i], name)
		if err != nil {
			return fmt.Errorf("can't draw the draft on the sheet: %w", err)
		}
		page.Steps = append(page.Steps, step)
	}
	var b bytes.Buffer
	if err := t.Execute(&b, page); err != nil {
		return fmt.Errorf("can't lay out the sheet: %w", err)
	}
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("the sheet could not be written: %w", err)
	}
	return nil
}

// markFigures marks the figures of a sentence, which stay on one line.
func markFigures(say string) template.HTML {
	escaped := template.HTMLEscapeString(say)
	return template.HTML(figure.ReplaceAllString(escaped, `<span class="figure">$0</span>`))
}

// keyOf returns the key of a sheet's ticks in the browser's storage. Sheets with different text
// have different keys.
func keyOf(text []byte) string {
	sum := sha256.Sum256(text)
	return "fettle-sheet-" + hex.EncodeToString(sum[:16])
}

// scriptHash returns the hash by which the page's content security policy allows its script.
func scriptHash() string {
	sum := sha256.Sum256([]byte(sheetScript))
	return base64.StdEncoding.EncodeToString(sum[:])
}

// htmlPage is the data of the template, with the types below.
type htmlPage struct {
	Title      string
	Paper      string
	Key        string
	Script     template.JS
	ScriptHash string
	Facts      htmlTable
	Steps      []htmlStep
}

type htmlStep struct {
	Title string
	Short bool // must not be split across pages
	Parts []htmlPart
}

type htmlPart struct {
	Say     string // a sentence on the same line as the boxes
	Leads   bool   // stays on the same page as the next part
	Table   *htmlTable
	Ticks   []htmlTick
	Few     bool // the boxes stay on one page
	Wide    int  // characters of the widest label
	Drawing template.HTML
}

type htmlTick struct{ ID, Label string }

type htmlTable struct {
	Class  string
	Heads  []htmlCell
	Bodies [][][]htmlCell // groups of rows that stay on one page
}

type htmlCell struct {
	Text   string
	Right  bool
	Box    string     // the id of the cell's box, "" for none
	For    string     // for a label: the id of its box
	Swatch string     // a color to show beside the text
	Mark   string     // of a change of shuttle, before the swatch
	Lines  [][]string // the pieces of each line, if it is read at the loom
}

// boxes numbers the boxes of a step. The name of the step is unique on the sheet.
type boxes struct {
	step string
	n    int
}

func (b *boxes) next() string {
	b.n++
	return b.step + "-" + strconv.Itoa(b.n)
}

func htmlStepOf(s *step, name string) (htmlStep, error) {
	h, b := htmlStep{Title: s.title, Short: true}, &boxes{step: name}
	for i, p := range s.parts {
		part := htmlPart{Say: p.say, Leads: s.leads(i)}
		if part.Leads && besideTicks(p.say, s.parts[i+1].ticks) {
			continue // already on the line of its boxes
		}
		switch {
		case p.table != nil:
			t := htmlTableOf(p.table, b)
			part.Table, h.Short = &t, false
		case p.ticks != nil:
			h.Short = false
			if i > 0 && besideTicks(s.parts[i-1].say, p.ticks) {
				part.Say = s.parts[i-1].say
			}
			part.Wide = widest(p.ticks)
			part.Few = len(p.ticks) <= mostTicksTogether
			for _, label := range p.ticks {
				part.Ticks = append(part.Ticks, htmlTick{b.next(), label})
			}
		case p.drawing != nil:
			var svg bytes.Buffer
			if err := p.drawing.SVG(&svg, "draft-"); err != nil {
				return h, err
			}
			part.Drawing = template.HTML(svg.String()) // the drawing escapes text from the draft
		}
		h.Parts = append(h.Parts, part)
	}
	return h, nil
}

// besideTicks reports whether a sentence and all its boxes fit on one line.
func besideTicks(say string, labels []string) bool {
	const around = 6 // space around a label: its box and the gap
	return say != "" && len(labels) > 0 && cellWidth(say)+len(labels)*(widest(labels)+around) <= acrossPage
}

// widest returns the length of the longest label, in characters.
func widest(labels []string) int {
	wide := 0
	for _, label := range labels {
		wide = max(wide, cellWidth(label))
	}
	return wide
}

// mostTicksTogether is the most boxes that stay on one page.
const mostTicksTogether = 60

// The size of a table that fits on a printed page: lines, and characters across, in small
// and large type.
const (
	linesOnPage, largeOnPage = 36, 28
	acrossPage, acrossLarge  = 96, 58
)

// lanesOf returns the number of lanes in a table when printed.
func lanesOf(t *table) int {
	if len(t.heads) == 0 {
		return 1
	}
	const apart = 4
	across, used := acrossPage, -len(gap)
	if t.large {
		across = acrossLarge
	}
	for _, i := range t.shown() {
		width := 0
		for word := range strings.FieldsSeq(t.heads[i]) { // browsers wrap headings
			width = max(width, cellWidth(word))
		}
		for _, row := range t.rows {
			if i < len(row) {
				width = max(width, cellWidth(row[i]))
			}
		}
		used += width + len(gap)
	}
	return max(min((across+apart)/(used+apart), len(t.rows)/minLaneRows, maxLanes), 1)
}

// classOf returns the CSS classes of a table.
func classOf(t *table, lanes int) string {
	var list []string
	on := linesOnPage
	if t.large {
		list, on = append(list, "large"), largeOnPage
	}
	if t.even {
		list = append(list, "even")
	}
	if t.whole {
		list = append(list, "whole")
	}
	if lanes > 1 {
		list = append(list, "lanes"+strconv.Itoa(lanes))
	}
	if groups := slices.Contains(t.bound(), true); len(t.rows) <= on*lanes && !(groups && len(t.rows) > on*lanes/3) {
		list = append(list, "unbroken")
	}
	return strings.Join(list, " ")
}

func htmlTableOf(t *table, b *boxes) htmlTable {
	shown, lanes, bound := t.shown(), lanesOf(t), t.bound()
	h := htmlTable{Class: classOf(t, lanes)}
	if len(t.heads) > 0 {
		h.Heads = htmlRow(t, shown, t.heads, nil)
	}
	together := false
	for i, row := range t.rows {
		if !together {
			h.Bodies = append(h.Bodies, nil)
		}
		last := &h.Bodies[len(h.Bodies)-1]
		*last = append(*last, htmlRow(t, shown, row, b))
		together = bound[i] || lanes == 1 && nearEdge(i, len(t.rows), lanes)
	}
	return h
}

// htmlRow returns the shown cells of a row. The cell after a box is its label. b is nil for the
// headings.
func htmlRow(t *table, shown []int, row []string, b *boxes) []htmlCell {
	cells := make([]htmlCell, 0, len(shown))
	ticks := ""
	for k, i := range shown {
		c := htmlCell{Right: i < len(t.right) && t.right[i], For: ticks}
		if i < len(row) {
			c.Text = row[i]
		}
		ticks = ""
		if c.Text == box {
			c.Box = b.next()
			ticks = c.Box
		}
		if mark, hex := colorIn(c.Text); hex != "" {
			c.Mark, c.Swatch, c.Text = mark, hex, hex
		}
		if b != nil && t.even && k == len(shown)-1 {
			for line := range strings.SplitSeq(c.Text, "\n") {
				c.Lines = append(c.Lines, strings.Split(line, piecesApart))
			}
		}
		cells = append(cells, c)
	}
	return cells
}
