package formats

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"fettle/formats/diagram"
	"fettle/schema"
	"fettle/schema/wording"
)

// drawing is a form of drawing that a draft can be written as. It is not read
// back.
type drawing struct {
	name  string
	write func(io.Writer, *schema.Draft, Options) error
}

func drawings() []drawing {
	return []drawing{
		{"svg", func(w io.Writer, d *schema.Draft, o Options) error { return diagram.SVG(w, d, o.Drawing, "") }},
		{"png", func(w io.Writer, d *schema.Draft, o Options) error { return diagram.PNG(w, d, o.Drawing) }},
		{"pdf", func(w io.Writer, d *schema.Draft, o Options) error { return diagram.PDF(w, d, o.Drawing) }},
		{"txt", writeText},
	}
}

func writeText(w io.Writer, d *schema.Draft, o Options) error {
	if o.ClothOnly {
		return diagram.Cloth(w, d)
	}
	return diagram.Text(w, d, o.Drawing)
}

// Drawings are the forms of drawing, in the order a message lists them.
func Drawings() []string {
	var names []string
	for _, f := range drawings() {
		names = append(names, f.name)
	}
	return names
}

// CanWrite is an error for a name that is neither a format nor a drawing.
func CanWrite(name string) error {
	if slices.Contains(append(Names(), Drawings()...), name) {
		return nil
	}
	return fmt.Errorf("%s is not a format to write: say %s", wording.Quote(name), List())
}

// List is all that can be written, for a sentence.
func List() string { return wording.Either(append(Names(), Drawings()...)) }

// drawn is a draft as a drawing of that name, what the drawing cannot show, and
// whether there is such a one.
func drawn(name string, d *schema.Draft, o Options) (text []byte, lost []string, is bool, err error) {
	for _, f := range drawings() {
		if f.name == name {
			var b bytes.Buffer
			err = f.write(&b, d, o)
			return b.Bytes(), unset(name, d, o), true, err
		}
	}
	return nil, nil, false, nil
}

// unset says which characters of the title a drawing cannot show, for want of
// them in the font that it brings along.
func unset(name string, d *schema.Draft, o Options) []string {
	if name != "png" && name != "pdf" || o.Drawing.Bare {
		return nil
	}
	list := diagram.Unset(diagram.Title(d))
	if len(list) == 0 {
		return nil
	}
	return []string{fmt.Sprintf("%s can't show these characters of the title: %s; SVG can", strings.ToUpper(name), diagram.ListUnset(list))}
}
