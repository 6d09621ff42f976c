package report

import (
	"bufio"
	"bytes"
	"io"

	"fettle/schema/wording"
)

// jsonWriter writes JSON a part at a time, so that no long list is held whole.
type jsonWriter struct {
	*bufio.Writer
	encoder wording.JSONEncoder
}

func newJSONWriter(to io.Writer) *jsonWriter { return &jsonWriter{Writer: bufio.NewWriter(to)} }

// value writes a whole value.
func (w *jsonWriter) value(v any, l layout) error {
	text, err := w.encoder.Encode(v, l.prefix, l.indent)
	if err != nil {
		return err
	}
	_, err = w.Write(text)
	return err
}

// layout is how JSON is laid out: the beginning of each line, and what each level
// adds to it. The zero value is one line without spaces.
type layout struct{ prefix, indent string }

func (l layout) deeper() layout { return layout{l.prefix + l.indent, l.indent} }

// list is a key of an object that holds a list. write writes an element.
type list struct {
	key   string
	n     int
	write func(i int, l layout) error
}

// object writes an object with its lists last, an element at a time. start holds the
// other keys, at least one.
func (w *jsonWriter) object(start any, l layout, lists ...list) error {
	text, err := w.encoder.Encode(start, l.prefix, l.indent)
	if err != nil {
		return err
	}
	w.Write(bytes.TrimRight(text[:len(text)-1], "\n ")) // the brace comes last
	for _, x := range lists {
		w.WriteByte(',')
		w.line(l.deeper())
		w.WriteString(`"` + x.key + `":`)
		if l.indent != "" {
			w.WriteByte(' ')
		}
		if err := w.list(x, l.deeper()); err != nil {
			return err
		}
	}
	w.line(l)
	return w.WriteByte('}')
}

func (w *jsonWriter) list(x list, l layout) error {
	inside := l.deeper()
	w.WriteByte('[')
	for i := range x.n {
		if i > 0 {
			w.WriteByte(',')
		}
		w.line(inside)
		if err := x.write(i, inside); err != nil {
			return err
		}
	}
	if x.n > 0 {
		w.line(l)
	}
	return w.WriteByte(']')
}

// line begins a new line, where the layout has any.
func (w *jsonWriter) line(l layout) {
	if l.indent != "" {
		w.WriteByte('\n')
		w.WriteString(l.prefix)
	}
}
