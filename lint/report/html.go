package report

import (
	"bufio"
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"

	"fettle/formats/diagram"
	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/wording"
)

//go:embed html.tmpl
var htmlTemplate string

// page writes findings as one HTML page that needs no other files. It shows the drawing
// of each draft beside its findings, with their threads marked by number.
type page struct {
	out    *bufio.Writer
	parts  *template.Template
	err    error // of the template or of writing
	begun  bool
	files  int
	missed []Missed
	index  string // the page that leads to this one, "" for none; then files without findings are shown too
}

func newHTML(to io.Writer, _ Options) Writer {
	parts, err := template.New("report").Parse(htmlTemplate)
	return &page{out: bufio.NewWriter(to), parts: parts, err: err}
}

// put writes a part of the page, after the head.
func (p *page) put(part string, data any) {
	if !p.begun {
		p.begun = true
		p.put("head", p.index)
	}
	if p.err == nil {
		p.err = p.parts.ExecuteTemplate(p.out, part, data)
	}
}

func (p *page) File(f File) error {
	if len(f.Findings) > 0 || p.index != "" {
		p.files++
		p.put("file", p.shown(f))
	}
	if p.err == nil {
		p.err = p.out.Flush()
	}
	return p.err
}

// mostMissed is the most missed files that the page lists.
const mostMissed = 100

// Missed keeps a file for the end of the page.
func (p *page) Missed(m Missed) error {
	if len(p.missed) < mostMissed {
		p.missed = append(p.missed, Missed{Path: wording.PathName(m.Path), Reason: m.Reason})
	}
	return nil
}

func (p *page) Close(s Summary) error {
	p.put("foot", shownFoot{s.String(), p.missed, s.NotChecked - len(p.missed)})
	if p.err == nil {
		p.err = p.out.Flush()
	}
	return p.err
}

// shownFile, shownFinding and shownFoot are the data of the template.
type shownFile struct {
	Path     string
	Drawing  template.HTML
	Words    string // the caption of the drawing, or the text instead of one
	Findings []shownFinding
}

type shownFoot struct {
	Summary string
	Missed  []Missed
	More    int // number of missed files that the page doesn't list
}

type shownFinding struct {
	Number       int
	Severity     string
	Line, Column int
	Message      string
	Rule         string
	Text         string // the source line
	Drawn        bool   // the drawing marks its threads
}

func (p *page) shown(f File) shownFile {
	s := shownFile{Path: wording.PathName(f.Path)}
	var marks []diagram.Mark
	for i := range f.Findings {
		found := &f.Findings[i]
		line := ""
		if f.Source != nil {
			line = strings.TrimSpace(wording.Plain(string(f.Source.Line(found.Position.Line)), widestLine))
		}
		s.Findings = append(s.Findings, shownFinding{Number: i + 1, Severity: found.Severity.String(),
			Line: found.Position.Line, Column: found.Position.Column, Message: found.Message, Rule: found.Rule, Text: line})
		if found.Threads != nil {
			marks = append(marks, diagram.Mark{System: found.System, Threads: found.Threads, Number: i + 1})
		}
	}
	s.draw(f.Draft, marks, fmt.Sprintf("f%d-", p.files))
	return s
}

// mostDrawn is the most ends, or picks, in a drawing.
const mostDrawn = 400

// draw adds the drawing of a draft, or of one repeat if the draft is large.
func (s *shownFile) draw(d *schema.Draft, marks []diagram.Mark, name string) {
	if d == nil {
		s.Words = "No draft to draw."
		return
	}
	c := cloth.Of(d)
	ends, picks := c.Ends(), c.Picks()
	o := diagram.Options{Bare: true, Marks: marks}
	if max(ends, picks) > mostDrawn {
		ends, picks = c.Repeat()
		o.Repeat = true
		s.Words = fmt.Sprintf("One repeat: %d ends by %d picks.", ends, picks)
	}
	if max(ends, picks, d.HighestShaft(), d.HighestTreadle()) > mostDrawn {
		s.Words = "The draft is too large to draw here; fettle convert --to svg draws it."
		return
	}
	var b bytes.Buffer
	if err := diagram.SVG(&b, d, o, name); err != nil {
		s.Words = "No drawing: " + err.Error() + "."
		return
	}
	s.Drawing = template.HTML(b.String()) // the drawing escapes text from the draft
	for _, m := range marks {
		most := ends
		if m.System == schema.Weft {
			most = picks
		}
		s.Findings[m.Number-1].Drawn = slices.ContainsFunc(m.Threads, func(n int) bool { return n >= 1 && n <= most })
	}
}
