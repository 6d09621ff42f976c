// Package formats is the registry of the forms a draft comes in: it tells by
// content which one a file is in, and reads and writes it.
package formats

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"fettle/formats/diagram"
	"fettle/formats/draftjson"
	"fettle/formats/wif"
	"fettle/schema"
	"fettle/schema/wording"
)

// DefaultLimit is the largest file that is read unless asked otherwise, in
// bytes.
const DefaultLimit = 64 << 20

// format is a form of draft that can be read and written.
type format struct {
	name  string
	is    func(text []byte) bool
	read  func(*schema.Source) *schema.Document
	write func(*schema.Draft, Options) (text []byte, lost []string)
}

// Options say how a draft is written. The zero value is each format's canonical
// form.
type Options struct {
	LF        bool            // end lines of the text format in LF, not in CRLF
	Drawing   diagram.Options // how drawings are drawn
	ClothOnly bool            // print just the cloth, text drawings only
}

func registry() []format {
	return []format{
		{draftjson.Format, draftjson.Is, draftjson.Read,
			func(d *schema.Draft, _ Options) ([]byte, []string) { return draftjson.Write(d) }},
		{wif.Format, wif.Is, wif.Read,
			func(d *schema.Draft, o Options) ([]byte, []string) { return wif.Write(d, wif.Options{LF: o.LF}) }},
	}
}

// Names are the formats that are read and written, in the order a message lists
// them.
func Names() []string {
	var names []string
	for _, f := range registry() {
		names = append(names, f.name)
	}
	return names
}

// Read reads a draft from the bytes of a file. The path is only for messages;
// the format is told by the content. Where the file holds no draft the
// document's Draft is nil, and a finding says what the file looks like instead.
func Read(path string, raw []byte) *schema.Document { return ReadAs(path, raw, "") }

// ReadAs reads a draft like Read, from a file that is in the encoding stated, one
// of Encodings; "" tells it by the bytes. A finding says where the bytes show
// another encoding, or do not fit the one stated.
func ReadAs(path string, raw []byte, stated string) *schema.Document {
	e := encodingOf(raw, stated)
	src := &schema.Source{Path: path, Text: e.decode(raw), Raw: raw, Encoding: e.name, Stated: stated}
	doc := read(raw, src)
	if doc.Draft == nil {
		return doc
	}
	if !e.cut || !endReported(doc) {
		doc.Findings = append(doc.Findings, e.findings(src)...)
	}
	reportLineBreaks(doc)
	return doc
}

// reportLineBreaks notes how the lines of a file end, and reports where that is odd.
func reportLineBreaks(doc *schema.Document) {
	breaks := LineBreaks(doc.Source.Text)
	switch breaks {
	case "":
		doc.Source.Break = '\n'
		return
	case loneCR:
		doc.Source.Break = '\r'
	}
	doc.Findings = append(doc.Findings, schema.Finding{Rule: schema.FileEncoding,
		Message: "the file has " + breaks + "; other programs may take it for one long line, or lose some: end every line alike",
		Data:    schema.Data{{Key: "encoding", Value: breaks}}, Fixes: []schema.Fix{{Title: "end every line alike", Rewrite: schema.EndLinesAlike}}})
}

// endReported reports whether the reader has said that the file breaks off at its end.
func endReported(doc *schema.Document) bool {
	return slices.ContainsFunc(doc.Findings, func(f schema.Finding) bool {
		return f.Rule == schema.FileMissingSection && f.Span.End == len(doc.Source.Text)
	})
}

func read(raw []byte, src *schema.Source) *schema.Document {
	reason := looksLike(raw, src.Text)
	if reason == "" {
		for _, f := range registry() {
			if f.is(src.Text) {
				return f.read(src)
			}
		}
		reason = neither(src.Text)
	}
	return unreadable(src, reason)
}

// unreadable is the document of a file that holds no draft.
func unreadable(src *schema.Source, reason string) *schema.Document {
	return &schema.Document{Source: src, Locator: nowhere{}, Findings: []schema.Finding{schema.NoDraft(schema.Span{}, reason)}}
}

// TooLarge is the document of a file larger than the limit, in bytes. It was
// not read. A size of 0 is one that is not known, as of what comes through a pipe.
func TooLarge(path string, size, limit int64) *schema.Document {
	has := fmt.Sprintf("the file has %d bytes, more than the %d that are read", size, limit)
	if size == 0 {
		has = fmt.Sprintf("this goes on for more than the %d bytes that are read", limit)
	}
	return unreadable(&schema.Source{Path: path}, has+"; if it is a draft all the same, raise --max-size")
}

type nowhere struct{}

func (nowhere) Locate(schema.Place) (schema.Span, string) { return schema.Span{}, "" }

// Write writes a draft in the format, or as the drawing, of that name. What a
// format cannot hold, and what a drawing cannot show of its title, is told in lost,
// a line each.
func Write(name string, d *schema.Draft, o Options) (text []byte, lost []string, err error) {
	for _, f := range registry() {
		if f.name == name {
			text, lost = f.write(d, o)
			return text, lost, nil
		}
	}
	text, lost, is, err := drawn(name, d, o)
	if !is {
		err = CanWrite(name)
	}
	return text, lost, err
}

// Holds says whether a file is a draft, by its content: whether it has a section
// of the text format, or is a JSON object meant as a draft. It is for files met
// in a folder, where much else may lie.
func Holds(raw []byte) bool {
	e := encodingOf(raw, "")
	text := e.decode(raw)
	if looksLike(raw, text) != "" {
		return false
	}
	return draftjson.Named(text) || !draftjson.Is(text) && wif.Is(text)
}

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
