package report

import (
	"bufio"
	"bytes"
	"io"

	"fettle/schema/wording"
)

// jsonWriter writes JSON in parts, so no long list is ever in memory.
type jsonWriter struct {
	*bufio.Writer
	encoder wording.JSONEncoder
}

func newJSONWriter(to io.Writer) *jsonWriter { return &jsonWriter{Writer: bufio.NewWriter(to)} }

func (w *jsonWriter) value(v any, l layout) error {
	text, err := w.encoder.Encode(v, l.prefix, l.indent)
	if err != nil {
		return err
	}
	_, err = w.Write(text)
	return err
}

// layout is the indentation of JSON: the start of each line, and what each level adds.
// The zero value is one line without spaces.
type layout struct{ prefix, indent string }

func (l layout) deeper() layout { return layout{l.prefix + l.indent, l.indent} }

// list is a key of an object with n elements. write writes element i.
type list struct {
	key   string
	n     int
	write func(i int, l layout) error
}

// object writes an object with its lists last, one element at a time. start has the
// other keys, at least one.
func (w *jsonWriter) object(start any, l layout, lists ...list) error {
	text, err := w.encoder.Encode(start, l.prefix, l.indent)
	if err != nil {
		return err
	}
	w.Write(bytes.TrimRight(text[:len(text)-1], "\n ")) // without its closing brace
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

// line starts a new line, unless the layout is a single line.
func (w *jsonWriter) line(l layout) {
	if l.indent != "" {
		w.WriteByte('\n')
		w.WriteString(l.prefix)
	}
}
