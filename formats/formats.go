// Package formats detects the format of a file by its content, and reads and writes
// drafts in all formats.
package formats

import (
	"bytes"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"fettle/formats/diagram"
	"fettle/formats/draftjson"
	"fettle/formats/wif"
	"fettle/schema"
	"fettle/schema/wording"
)

// DefaultLimit is the default for the largest file that fettle reads, in bytes.
const DefaultLimit = 64 << 20

type format struct {
	name  string
	is    func(text []byte) bool
	read  func(*schema.Source) *schema.Document
	write func(*schema.Draft, Options) (text []byte, lost []string)
}

// Options sets how a draft is written. The zero value is the canonical form.
type Options struct {
	LF        bool            // end lines of WIF with LF, not CRLF
	Drawing   diagram.Options // options for drawings
	ClothOnly bool            // draw only the cloth; for text drawings
}

func registry() []format {
	return []format{
		{draftjson.Format, draftjson.Is, draftjson.Read,
			func(d *schema.Draft, _ Options) ([]byte, []string) { return draftjson.Write(d) }},
		{wif.Format, wif.Is, wif.Read,
			func(d *schema.Draft, o Options) ([]byte, []string) { return wif.Write(d, wif.Options{LF: o.LF}) }},
	}
}

// Names returns the formats that fettle reads and writes, in the order of messages.
func Names() []string {
	var names []string
	for _, f := range registry() {
		names = append(names, f.name)
	}
	return names
}

// Read reads a draft from the bytes of a file. The path is only for messages. If the
// file isn't a draft, the document has no draft and a finding says what the file is.
func Read(path string, raw []byte) *schema.Document { return ReadAs(path, raw, "") }

// ReadAs reads a draft from a file in a stated encoding, one of Encodings; with "" it
// detects the encoding. A finding says if the bytes contradict the stated encoding.
func ReadAs(path string, raw []byte, stated string) *schema.Document {
	e := encodingOf(raw, stated)
	src := &schema.Source{Path: path, Text: e.decode(raw), Raw: raw, Encoding: e.name, Stated: stated}
	doc := readText(raw, src)
	if doc.Draft == nil {
		return doc
	}
	if !e.truncated || !reportsTruncation(doc) {
		doc.Findings = append(doc.Findings, e.findings(src)...)
	}
	reportLineBreaks(doc)
	return doc
}

// reportLineBreaks records how the lines end, and reports endings that cause problems.
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
		Message: "the file has " + breaks + "; other programs may read them as one line, or lose some; end all lines alike",
		Data:    schema.Data{{Key: "encoding", Value: breaks}}, Fixes: []schema.Fix{{Title: "end all lines alike", Rewrite: schema.EndLinesAlike}}})
}

// reportsTruncation reports whether the reader has found that the file is truncated.
func reportsTruncation(doc *schema.Document) bool {
	return slices.ContainsFunc(doc.Findings, func(f schema.Finding) bool {
		return f.Rule == schema.FileMissingSection && f.Span.End == len(doc.Source.Text)
	})
}

func readText(raw []byte, src *schema.Source) *schema.Document {
	reason := knownReason(raw, src.Text)
	if reason == "" {
		for _, f := range registry() {
			if f.is(src.Text) {
				return f.read(src)
			}
		}
		reason = unknownReason(src.Text)
	}
	return unreadable(src, reason)
}

// unreadable returns the document for a file that isn't a draft.
func unreadable(src *schema.Source, reason string) *schema.Document {
	return &schema.Document{Source: src, Locator: noPlaces{}, Findings: []schema.Finding{schema.NoDraft(schema.Span{}, reason)}}
}

// TooLarge returns the document for a file above the limit, in bytes. The size of a
// stream is unknown: 0.
func TooLarge(path string, size, limit int64) *schema.Document {
	has := fmt.Sprintf("the file has %d bytes, but fettle reads at most %d", size, limit)
	if size == 0 {
		has = fmt.Sprintf("the input has more than %d bytes, the most that fettle reads", limit)
	}
	return unreadable(&schema.Source{Path: path}, has+"; if it is a draft, raise --max-size")
}

type noPlaces struct{}

func (noPlaces) Locate(schema.Place) (schema.Span, string) { return schema.Span{}, "" }

// Write writes a draft in a format or as a drawing. lost has a line for everything that
// the format can't hold or the drawing can't show. Write returns an error for an unknown
// name.
func Write(name string, d *schema.Draft, o Options) (text []byte, lost []string, err error) {
	for _, f := range registry() {
		if f.name == name {
			text, lost = f.write(d, o)
			return text, lost, nil
		}
	}
	text, lost, is, err := draw(name, d, o)
	if !is {
		err = CanWrite(name)
	}
	return text, lost, err
}

// Holds reports whether the content of a file in a folder is a draft: it has a section
// of WIF, or is a JSON object meant as a draft.
func Holds(raw []byte) bool {
	e := encodingOf(raw, "")
	text := e.decode(raw)
	if knownReason(raw, text) != "" {
		return false
	}
	return draftjson.Named(text) || !draftjson.Is(text) && wif.Is(text)
}

// drawing is a format that fettle writes but doesn't read.
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

// Drawings returns the formats of drawings, in the order of messages.
func Drawings() []string {
	var names []string
	for _, f := range drawings() {
		names = append(names, f.name)
	}
	return names
}

// CanWrite returns an error for a name that isn't a format or a drawing.
func CanWrite(name string) error {
	if slices.Contains(append(Names(), Drawings()...), name) {
		return nil
	}
	return fmt.Errorf("%s isn't a format that fettle writes; choose %s", wording.Quote(name), List())
}

// List returns all formats that fettle writes, for a sentence.
func List() string { return wording.Either(append(Names(), Drawings()...)) }

// draw returns a draft as a drawing, and what the drawing can't show. is reports whether
// there is a drawing with this name.
func draw(name string, d *schema.Draft, o Options) (text []byte, lost []string, is bool, err error) {
	for _, f := range drawings() {
		if f.name == name {
			var b bytes.Buffer
			err = f.write(&b, d, o)
			return b.Bytes(), missingGlyphs(name, d, o), true, err
		}
	}
	return nil, nil, false, nil
}

// missingGlyphs says which characters of the title and the names of yarns aren't in the font
// of a drawing.
func missingGlyphs(name string, d *schema.Draft, o Options) []string {
	if name != "png" && name != "pdf" || o.Drawing.Bare {
		return nil
	}
	texts := []string{diagram.Title(d)}
	for _, n := range slices.Sorted(maps.Keys(o.Drawing.Yarns)) {
		texts = append(texts, diagram.Legible(o.Drawing.Yarns[n], 60))
	}
	list := diagram.Unset(texts...)
	if len(list) == 0 {
		return nil
	}
	return []string{fmt.Sprintf("%s can't show these characters of its texts: %s; SVG can", strings.ToUpper(name), diagram.ListUnset(list))}
}

// Handout adds a draft to a PDF of several drafts. It returns what the drawing can't show, and
// an error if the draft can't be drawn on a page. name is the draft's file.
func Handout(h *diagram.Handouts, d *schema.Draft, name string, o Options) (lost []string, err error) {
	return missingGlyphs("pdf", d, o), h.Add(d, name, o.Drawing)
}
