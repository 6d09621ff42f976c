package draftjson

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// Write writes a draft in its canonical form: properties in the order of the table, one
// row a line, and no empty values. Reading the text returns the same draft, and writing
// that returns the same text. lost has a line for everything the JSON draft can't hold.
func Write(d *schema.Draft) (text []byte, lost []string) {
	w := &writer{}
	w.object(table, d)
	w.out.WriteByte('\n')
	for _, g := range d.Ignores {
		if g.Section != (schema.Span{}) {
			lost = append(lost, "the section of the ignore of "+g.Rule+"; in the JSON draft it applies to the whole file")
		}
	}
	return w.out.Bytes(), lost
}

// writer indents values by two spaces a level.
type writer struct {
	out    bytes.Buffer
	depth  int
	filled bool // the current level has an item
	inline bool // everything goes on one line
}

func (w *writer) open(bracket byte) {
	w.out.WriteByte(bracket)
	w.depth++
	w.filled = false
}

func (w *writer) close(bracket byte) {
	w.depth--
	if w.filled {
		w.newLine()
	}
	w.out.WriteByte(bracket)
	w.filled = true
}

func (w *writer) newLine() {
	if w.inline {
		return
	}
	w.out.WriteByte('\n')
	for range w.depth {
		w.out.WriteString("  ")
	}
}

// item begins the next element or property.
func (w *writer) item() {
	if w.filled {
		w.out.WriteByte(',')
		if w.inline {
			w.out.WriteByte(' ')
		}
	}
	w.newLine()
	w.filled = true
}

func (w *writer) name(name string) {
	w.item()
	w.out.WriteString(quoted(name) + ": ")
}

// properties writes the properties of an object that have a value.
func (w *writer) properties(v *value, holder any) {
	for _, p := range v.properties {
		if p.kind == kindVersion {
			w.name(p.name)
			w.out.WriteString(p.expected)
			continue
		}
		switch to := p.target(holder).(type) {
		case *schema.Rows:
			w.list(p, to.Len(), func(i int) { w.row(to.Row(i+1), p.asLists) })
		case *[]string:
			w.list(p, len(*to), func(i int) { w.out.WriteString(quoted((*to)[i])) })
		case *[]schema.Color:
			w.list(p, len(*to), func(i int) { w.out.WriteString(colorText((*to)[i])) })
		case *[]int32:
			w.list(p, len(*to), func(i int) { w.out.WriteString(strconv.Itoa(int((*to)[i]))) })
		case *[]float64:
			w.list(p, len(*to), func(i int) { w.out.WriteString(decimal((*to)[i])) })
		case anyEntryList:
			w.list(p, to.len(), func(i int) { w.entry(p.each, to.at(i)) })
		default:
			w.single(p, to)
		}
	}
}

// single writes an object or a single value, unless it is empty.
func (w *writer) single(p *value, to any) {
	start, filled := w.out.Len(), w.filled
	w.name(p.name)
	says := false
	if p.kind == kindObject {
		says = w.object(p, to)
	} else {
		text := scalarText(p, to)
		w.out.WriteString(text)
		says = text != ""
	}
	if !says {
		w.out.Truncate(start)
		w.filled = filled
	}
}

// object writes an object, and reports whether it has properties.
func (w *writer) object(v *value, to any) (filled bool) {
	w.open('{')
	if list, ok := to.(*[]schema.Setting); ok {
		w.settings(*list)
	} else {
		w.properties(v, to)
	}
	filled = w.filled
	w.close('}')
	return filled
}

// entry writes an object in a list, on one line if it has no lists.
func (w *writer) entry(v *value, to any) {
	w.inline = !slices.ContainsFunc(v.properties, func(p *value) bool { return p.kind == kindList })
	w.object(v, to)
	w.inline = false
}

func (w *writer) list(p *value, count int, write func(i int)) {
	if count == 0 && !p.required {
		return
	}
	w.name(p.name)
	w.open('[')
	for i := range count {
		w.item()
		write(i)
	}
	w.close(']')
}

// row writes a row; 0 if it has no numbers and isn't a list.
func (w *writer) row(row []int32, asList bool) {
	if len(row) == 0 && !asList {
		row = []int32{0}
	}
	w.out.Write(appendRow(w.out.AvailableBuffer(), row, asList))
}

// scalarText returns a single value, "" if it is empty and not required.
func scalarText(p *value, to any) string {
	switch to := to.(type) {
	case *string:
		if *to != "" || p.required {
			return quoted(*to)
		}
	case *int:
		if *to != 0 {
			return strconv.Itoa(*to)
		}
	case *float64:
		if *to != 0 {
			return decimal(*to)
		}
	case *schema.Answer:
		if *to != schema.Unsaid {
			return strconv.FormatBool(*to == schema.Yes)
		}
	case *schema.Shed:
		return p.word(int(*to))
	case *schema.Unit:
		return p.word(int(*to))
	}
	return ""
}

// word returns a word of a choice, counted from 1; "" for none.
func (v *value) word(n int) string {
	if n < 1 || n > len(v.words) {
		return ""
	}
	return quoted(v.words[n-1])
}

func colorText(c schema.Color) string {
	if !c.Set {
		return "null"
	}
	return quoted(c.Hex())
}

func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// quoted returns a string as wording.JSON writes it.
func quoted(s string) string {
	text, err := wording.JSON(strings.ToValidUTF8(s, "\ufffd"), "", "")
	if err != nil {
		return `""`
	}
	return string(text)
}

// settings writes the draft's own settings: first [project], then the yarns.
func (w *writer) settings(settings []schema.Setting) {
	var yarns []string
	byYarn := map[string][]schema.Setting{}
	for _, s := range settings {
		if yarn, ok := strings.CutPrefix(s.Section, "yarn "); ok {
			if byYarn[yarn] == nil {
				yarns = append(yarns, yarn)
			}
			byYarn[yarn] = append(byYarn[yarn], s)
			continue
		}
		w.setting(s)
	}
	if len(yarns) == 0 {
		return
	}
	w.name("yarns")
	w.open('{')
	for _, yarn := range yarns {
		w.name(yarn)
		w.open('{')
		for _, s := range byYarn[yarn] {
			w.setting(s)
		}
		w.close('}')
	}
	w.close('}')
}

func (w *writer) setting(s schema.Setting) {
	w.name(settingName(s.Key))
	w.out.WriteString(quoted(s.Value))
}
