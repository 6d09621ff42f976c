package draftjson

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
)

// Write writes a draft in the canonical form: properties in the order of the
// table, one row a line, nothing that says nothing. Changing one pick changes one
// line. Reading the result gives the same draft, and writing that gives the same
// bytes.
func Write(d *schema.Draft) (text []byte, lost []string) {
	w := &writer{}
	w.open('{')
	w.properties(table, d)
	w.close('}')
	w.out.WriteByte('\n')
	for _, g := range d.Ignores {
		if g.Section != (schema.Span{}) {
			lost = append(lost, "the section that the ignore of "+g.Rule+" holds for; in the JSON draft it holds for the whole file")
		}
	}
	return w.out.Bytes(), lost
}

// writer writes values with two spaces for each level.
type writer struct {
	out    bytes.Buffer
	depth  int
	filled bool // whether the level being written has anything yet
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
	w.out.WriteByte('\n')
	for range w.depth {
		w.out.WriteString("  ")
	}
}

// item begins the next value of a list or an object.
func (w *writer) item() {
	if w.filled {
		w.out.WriteByte(',')
	}
	w.newLine()
	w.filled = true
}

func (w *writer) name(name string) {
	w.item()
	w.out.WriteString(quoted(name) + ": ")
}

// properties writes the properties of an object that say something.
func (w *writer) properties(v *value, holder any) {
	for _, p := range v.properties {
		to := holder
		if p.in != nil {
			to = p.in(holder)
		}
		w.property(p, to)
	}
}

// property writes a property, unless it says nothing and need not be there.
func (w *writer) property(p *value, to any) {
	switch to := to.(type) {
	case *schema.Draft:
		w.name(p.name) // the version, which goes nowhere in the model
		w.out.WriteString("1")
	case *schema.Rows:
		form := single
		if p.lists {
			form = several
		}
		w.list(p, to.Len(), func(i int) string { return form(to.Row(i + 1)) })
	case *[]string:
		w.list(p, len(*to), func(i int) string { return quoted((*to)[i]) })
	case *[]schema.Color:
		w.list(p, len(*to), func(i int) string { return colorText((*to)[i]) })
	case *[]int32:
		w.list(p, len(*to), func(i int) string { return strconv.Itoa(int((*to)[i])) })
	case *[]float64:
		w.list(p, len(*to), func(i int) string { return decimal((*to)[i]) })
	default:
		switch {
		case p.all != nil:
			w.entries(p, slices.Collect(p.all(to)))
		case p.kind == object:
			w.object(p, to)
		default:
			if text := scalarText(p, to); text != "" {
				w.name(p.name)
				w.out.WriteString(text)
			}
		}
	}
}

// object writes an object, unless there is nothing in it.
func (w *writer) object(p *value, to any) {
	start, filled := w.out.Len(), w.filled
	w.name(p.name)
	w.open('{')
	if list, ok := to.(*[]schema.Setting); ok {
		w.settings(*list)
	} else {
		w.properties(p, to)
	}
	empty := !w.filled
	w.close('}')
	if empty {
		w.out.Truncate(start)
		w.filled = filled
	}
}

func (w *writer) list(p *value, count int, value func(i int) string) {
	if count == 0 && !p.must {
		return
	}
	w.name(p.name)
	w.open('[')
	for i := range count {
		w.item()
		w.out.WriteString(value(i))
	}
	w.close(']')
}

// entries writes a list of objects: those of texts only on a line each.
func (w *writer) entries(p *value, all []any) {
	flat := !slices.ContainsFunc(p.each.properties, func(v *value) bool { return v.kind == list })
	if flat {
		w.list(p, len(all), func(i int) string { return line(p.each, all[i]) })
		return
	}
	if len(all) == 0 {
		return
	}
	w.name(p.name)
	w.open('[')
	for _, entry := range all {
		w.item()
		w.open('{')
		w.properties(p.each, entry)
		w.close('}')
	}
	w.close(']')
}

// line writes an object of texts on one line.
func line(v *value, entry any) string {
	var words []string
	for _, p := range v.properties {
		if text := scalarText(p, p.in(entry)); text != "" {
			words = append(words, quoted(p.name)+": "+text)
		}
	}
	return "{" + strings.Join(words, ", ") + "}"
}

// scalarText is a value without any others in it, "" where it says nothing and
// need not be there.
func scalarText(p *value, to any) string {
	switch to := to.(type) {
	case *string:
		if *to != "" || p.must {
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

// word is a word of a choice, from 1; "" where there is none.
func (v *value) word(n int) string {
	if n < 1 || n > len(v.words) {
		return ""
	}
	return quoted(v.words[n-1])
}

// single is a row that mostly holds one number: that number, 0 for none, a list
// for more.
func single(row []int32) string {
	switch len(row) {
	case 0:
		return "0"
	case 1:
		return strconv.Itoa(int(row[0]))
	}
	return several(row)
}

func several(row []int32) string {
	b := []byte{'['}
	for i, v := range row {
		if i > 0 {
			b = append(b, ", "...)
		}
		b = strconv.AppendInt(b, int64(v), 10)
	}
	return string(append(b, ']'))
}

func colorText(c schema.Color) string {
	if !c.Set {
		return "null"
	}
	return quoted(c.Hex())
}

func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// quoted returns a string as schema.JSON writes it.
func quoted(s string) string {
	text, err := schema.JSON(strings.ToValidUTF8(s, "\ufffd"), "", "")
	if err != nil {
		return `""`
	}
	return string(text)
}

// settings writes the draft's own settings: those of [project] first, then the
// yarns.
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
