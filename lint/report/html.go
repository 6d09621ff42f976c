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
	Drawings []shownDrawing
	Findings []shownFinding
}

// shownDrawing is a drawing with a caption, or a text instead of one.
type shownDrawing struct {
	Drawing template.HTML
	Words   string
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
			if text := f.Source.Line(found.Position.Line); isShown(text, found.Rule) {
				line = strings.TrimSpace(wording.Plain(string(text), widestLine))
			}
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

// Sizes of drawings, in threads.
const (
	mostDrawn = 400 // on a side
	mostWhole = 100 // on a side of a draft that is drawn whole; in a larger one, cells are too small
	cutOut    = 40  // ends and picks around the place of a finding
	mostCuts  = 6   // drawings of a draft
)

// draw adds the drawing of a draft. Of a large draft, it draws what is around the threads of
// each finding instead, or the whole or one repeat if no finding has threads.
func (s *shownFile) draw(d *schema.Draft, marks []diagram.Mark, name string) {
	if d == nil {
		s.say("No draft to draw.")
		return
	}
	c := cloth.Of(d)
	ends, picks := c.Ends(), c.Picks()
	large := max(ends, picks) > mostWhole
	o := diagram.Options{Bare: true, Marks: marks}
	switch {
	case max(d.HighestShaft(), d.HighestTreadle()) > mostDrawn:
		s.say("The draft is too large to draw here; fettle convert --to svg draws it.")
		return
	case large && s.cut(d, ends, picks, marks, name):
		return
	case max(ends, picks) > mostDrawn:
		ends, picks = c.Repeat()
		o.Repeat = true
	}
	if max(ends, picks) > mostDrawn {
		s.say("The draft is too large to draw here; fettle convert --to svg draws it.")
		return
	}
	words := ""
	if o.Repeat {
		words = fmt.Sprintf("One repeat: %d ends by %d picks.", ends, picks)
	}
	s.add(d, o, name, words)
	s.mark(marks, o, ends, picks)
}

// cut draws what is around the first thread of each finding that no earlier drawing shows. It
// reports whether it drew anything.
func (s *shownFile) cut(d *schema.Draft, ends, picks int, marks []diagram.Mark, name string) bool {
	for _, m := range marks {
		most := ends
		if m.System == schema.Weft {
			most = picks
		}
		i := slices.IndexFunc(m.Threads, func(n int) bool { return n >= 1 && n <= most })
		if i < 0 || s.Findings[m.Number-1].Drawn {
			continue
		}
		if len(s.Drawings) == mostCuts {
			s.say("Other places aren't drawn; the list names them.")
			break
		}
		o := diagram.Options{Bare: true, Marks: marks, FirstEnd: 1, FirstPick: 1, Ends: min(ends, cutOut), Picks: min(picks, cutOut)}
		if m.System == schema.Weft {
			o.FirstPick = around(m.Threads[i], picks)
		} else {
			o.FirstEnd = around(m.Threads[i], ends)
		}
		s.add(d, o, fmt.Sprintf("%sc%d-", name, len(s.Drawings)), fmt.Sprintf("Part of the draft: ends %d to %d, picks %d to %d.",
			o.FirstEnd, o.FirstEnd+o.Ends-1, o.FirstPick, o.FirstPick+o.Picks-1))
		s.mark(marks, o, o.Ends, o.Picks)
	}
	return len(s.Drawings) > 0
}

// around returns the first of a few threads around one.
func around(thread, threads int) int {
	return max(min(thread-cutOut/2, threads-cutOut+1), 1)
}

func (s *shownFile) say(words string) { s.Drawings = append(s.Drawings, shownDrawing{Words: words}) }

// add adds a drawing, or the reason why there is none.
func (s *shownFile) add(d *schema.Draft, o diagram.Options, name, words string) {
	var b bytes.Buffer
	if err := diagram.SVG(&b, d, o, name); err != nil {
		s.say("No drawing: " + err.Error() + ".")
		return
	}
	s.Drawings = append(s.Drawings, shownDrawing{template.HTML(b.String()), words}) // the drawing escapes text from the draft
}

// mark records which findings have a thread in a drawing of so many ends and picks.
func (s *shownFile) mark(marks []diagram.Mark, o diagram.Options, ends, picks int) {
	if last := s.Drawings[len(s.Drawings)-1]; last.Drawing == "" {
		return
	}
	for _, m := range marks {
		first, count := max(o.FirstEnd, 1), ends
		if m.System == schema.Weft {
			first, count = max(o.FirstPick, 1), picks
		}
		if slices.ContainsFunc(m.Threads, func(n int) bool { return n >= first && n < first+count }) {
			s.Findings[m.Number-1].Drawn = true
		}
	}
}
