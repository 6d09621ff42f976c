package formats

import (
	"bytes"
	"fmt"
	"io"
	"slices"

	"fettle/formats/diagram"
	"fettle/schema"
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
	return fmt.Errorf("%s is not a format to write: say %s", schema.Quote(name), List())
}

// List is all that can be written, for a sentence.
func List() string { return schema.Either(append(Names(), Drawings()...)) }

// drawn is a draft as a drawing of that name, and whether there is such a one.
func drawn(name string, d *schema.Draft, o Options) (text []byte, is bool, err error) {
	for _, f := range drawings() {
		if f.name == name {
			var b bytes.Buffer
			err = f.write(&b, d, o)
			return b.Bytes(), true, err
		}
	}
	return nil, false, nil
}
