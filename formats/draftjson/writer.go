package draftjson

import (
	"bytes"
	"strconv"
	"strings"

	"fettle/schema"
)

// Write writes a draft in the canonical form: properties in one order, one row a
// line, nothing that says nothing. Changing one pick changes one line. Reading
// the result gives the same draft, and writing that gives the same bytes.
func Write(d *schema.Draft) (text []byte, lost []string) {
	w := &writer{}
	w.open('{')
	w.property("fettle", "1")
	for _, name := range []string{"title", "author", "address", "email", "telephone", "fax"} {
		w.text(name, *textOf(&d.Texts, name))
	}
	w.list("notes", len(d.Notes), func(i int) string { return quoted(d.Notes[i]) })
	w.count("shafts", d.Shafts)
	w.count("treadles", d.Treadles)
	if d.Shed == schema.Rising || d.Shed == schema.Sinking {
		w.text("shed", d.Shed.String())
	}
	if d.Profile != schema.Unsaid {
		w.property("profile", strconv.FormatBool(d.Profile == schema.Yes))
	}
	w.list("palette", len(d.Palette), func(i int) string { return colorText(d.Palette[i]) })
	w.rows("threading", &d.Threading, single)
	w.rows("tieup", &d.Tieup, several)
	w.rows("treadling", &d.Treadling, single)
	w.rows("liftplan", &d.LiftPlan, several)
	w.system("warp", &d.Warp)
	w.system("weft", &d.Weft)
	w.project(d.Settings)
	w.ignores(d.Ignores)
	w.carried(&d.Carried)
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

func (w *writer) property(name, value string) {
	w.name(name)
	w.out.WriteString(value)
}

func (w *writer) text(name, value string) {
	if value != "" {
		w.property(name, quoted(value))
	}
}

func (w *writer) count(name string, n int) {
	if n != 0 {
		w.property(name, strconv.Itoa(n))
	}
}

func (w *writer) measure(name string, v float64) {
	if v != 0 {
		w.property(name, decimal(v))
	}
}

func (w *writer) list(name string, count int, value func(i int) string) {
	if count == 0 {
		return
	}
	w.name(name)
	w.open('[')
	for i := range count {
		w.item()
		w.out.WriteString(value(i))
	}
	w.close(']')
}

func (w *writer) rows(name string, t *schema.Rows, form func([]int32) string) {
	w.list(name, t.Len(), func(i int) string { return form(t.Row(i + 1)) })
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

func (w *writer) system(name string, s *schema.System) {
	if s.Threads == 0 && s.Color == 0 && len(s.Colors)+len(s.Spacings)+len(s.Thicknesses) == 0 &&
		s.Unit == schema.UnitUnstated && s.Spacing == 0 && s.Thickness == 0 {
		return
	}
	w.name(name)
	w.open('{')
	w.count("threads", s.Threads)
	w.count("color", s.Color)
	w.list("colors", len(s.Colors), func(i int) string { return strconv.Itoa(int(s.Colors[i])) })
	w.text("unit", map[schema.Unit]string{schema.Decipoints: "decipoint", schema.Inches: "in", schema.Centimetres: "cm"}[s.Unit])
	w.measure("spacing", s.Spacing)
	w.list("spacings", len(s.Spacings), func(i int) string { return decimal(s.Spacings[i]) })
	w.measure("thickness", s.Thickness)
	w.list("thicknesses", len(s.Thicknesses), func(i int) string { return decimal(s.Thicknesses[i]) })
	w.close('}')
}

// project writes the draft's own settings: those of [project] first, then the
// yarns.
func (w *writer) project(settings []schema.Setting) {
	if len(settings) == 0 {
		return
	}
	w.name("project")
	w.open('{')
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
	if len(yarns) > 0 {
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
	w.close('}')
}

func (w *writer) setting(s schema.Setting) {
	w.property(strings.ReplaceAll(s.Key, " ", "_"), quoted(s.Value))
}

func (w *writer) ignores(list []schema.Ignore) {
	w.list("ignore", len(list), func(i int) string {
		text := `{"rule": ` + quoted(list[i].Rule)
		if list[i].Reason != "" {
			text += `, "reason": ` + quoted(list[i].Reason)
		}
		return text + "}"
	})
}

// carried writes what a text file brought along, a line each.
func (w *writer) carried(c *schema.Carried) {
	if len(c.Comments)+len(c.Values)+len(c.Sections) == 0 {
		return
	}
	w.name("carried")
	w.open('{')
	w.name("wif")
	w.open('{')
	w.list("comments", len(c.Comments), func(i int) string { return commentText(c.Comments[i]) })
	w.list("values", len(c.Values), func(i int) string {
		v := c.Values[i]
		return `{"section": ` + quoted(v.Section) + `, "key": ` + quoted(v.Key) + `, "value": ` + quoted(v.Value) + "}"
	})
	if len(c.Sections) > 0 {
		w.name("sections")
		w.open('[')
		for _, s := range c.Sections {
			w.item()
			w.open('{')
			w.property("name", quoted(s.Name))
			w.name("lines")
			w.open('[')
			for _, l := range s.Lines {
				w.item()
				w.out.WriteString(quoted(l))
			}
			w.close(']')
			w.close('}')
		}
		w.close(']')
	}
	w.close('}')
	w.close('}')
}

func commentText(m schema.Comment) string {
	text := "{"
	if m.Section != "" {
		text += `"section": ` + quoted(m.Section) + ", "
	}
	if m.Before != "" {
		text += `"before": ` + quoted(m.Before) + ", "
	}
	return text + `"text": ` + quoted(m.Text) + "}"
}
