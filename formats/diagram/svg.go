package diagram

import (
	"bufio"
	"crypto/sha256"
	"fmt"
	"html"
	"image/color"
	"io"
	"strconv"

	"fettle/schema"
	"fettle/schema/wording"
)

// SVG draws a draft as an SVG picture. Titles and numbers are text in the viewer's sans-serif
// font. name comes before the ids in the picture, so that a page can have several pictures;
// "" for a single one. It returns an error if the draft can't be drawn or written.
func SVG(w io.Writer, d *schema.Draft, o Options, name string) error {
	l, err := newLayout(d, o, 0)
	if err != nil {
		return err
	}
	page := pageLayout{width: float64(l.width) * l.mm, height: float64(l.height) * l.mm}
	if o.FitPage {
		if page, err = l.onOnePage(); err != nil {
			return err
		}
	}
	return writeSVG(w, l, page, name)
}

func writeSVG(w io.Writer, l *layout, on pageLayout, name string) error {
	s := &svg{out: bufio.NewWriterSize(w, 1<<16), mm: l.mm, name: name, known: map[[32]byte]knownRow{}}
	s.open(l, on)
	l.draw(s, l.bounds())
	s.put("</svg>\n")
	return flush(s.out)
}

// svg is the current picture. Its unit is the cell. By default, a path is a stroke of ink as
// thick as a row. A row that recurs refers to the first one.
type svg struct {
	out   *bufio.Writer // keeps the first error until flush
	mm    float64
	name  string
	known map[[32]byte]knownRow // by hash of the row
}

// knownRow is a row that the picture already has, with the number of its id.
type knownRow struct{ id, y int }

func (s *svg) put(format string, args ...any) { fmt.Fprintf(s.out, format, args...) }

// open begins the picture of a drawing in the middle of a page.
func (s *svg) open(l *layout, on pageLayout) {
	wide, high := on.width/l.mm, on.height/l.mm
	left := (float64(l.width) - wide) / 2
	s.put(`<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="%smm" height="%smm" viewBox="%s 0 %s %s" role="img"`+
		` fill="none" stroke="%s" shape-rendering="crispEdges" font-family="Go, 'DejaVu Sans', Verdana, Arial, sans-serif">`+"\n",
		number(on.width), number(on.height), number(left), number(wide), number(high), hex(ink()))
	s.put("<title>%s</title>\n", html.EscapeString(Title(l.draft)))
	s.put(`<rect x="%s" y="0" width="%s" height="%s" fill="%s" stroke="none"/>`+"\n", number(left), number(wide), number(high), hex(paper()))
}

// number returns a number with at most three decimal places.
func number(v float64) string { return wording.Decimal(v, 3) }

func hex(c color.RGBA) string { return schema.RGB(c.R, c.G, c.B).Hex() }

func (s *svg) row(y, high int, runs []run) {
	lists := byColor(runs)
	key := rowKey(high, lists)
	if first, again := s.known[key]; again {
		s.put(`<use xlink:href="#%sr%d" y="%d"/>`+"\n", s.name, first.id, y-first.y)
		return
	}
	first := knownRow{len(s.known), y}
	s.known[key] = first
	id := fmt.Sprintf(`id="%sr%d"`, s.name, first.id)
	if len(lists) == 1 {
		s.drawRuns(id+" ", y, high, lists[0])
		return
	}
	s.put("<g %s>", id)
	for _, list := range lists {
		s.drawRuns("", y, high, list)
	}
	s.put("</g>\n")
}

// rowKey returns a hash of a row, without its place.
func rowKey(high int, lists [][]run) [32]byte {
	b := strconv.AppendInt(nil, int64(high), 10)
	for _, list := range lists {
		b = append(append(b, hex(list[0].color)...), ' ')
		b = append(strconv.AppendInt(b, int64(list[0].from), 10), rowPath(list)...)
	}
	return sha256.Sum256(b)
}

func (s *svg) drawRuns(id string, y, high int, runs []run) {
	style := ""
	if c := runs[0].color; c != ink() {
		style = fmt.Sprintf(`stroke="%s" `, hex(c))
	}
	if high != 1 {
		style += fmt.Sprintf(`stroke-width="%d" `, high)
	}
	s.put(`<path %s%sd="M%d %s%s"/>`+"\n", id, style, runs[0].from, number(float64(y)+float64(high)/2), rowPath(runs))
}

// rowPath returns the path of runs, with gaps between them.
func rowPath(runs []run) []byte {
	var text []byte
	at := runs[0].from
	for _, r := range runs {
		if r.from > at {
			text = append(strconv.AppendInt(append(text, 'm'), int64(r.from-at), 10), " 0"...)
		}
		text = strconv.AppendInt(append(text, 'h'), int64(r.to-r.from), 10)
		at = r.to
	}
	return text
}

func (s *svg) fill(r rect, c color.RGBA) {
	s.put(`<rect x="%d" y="%d" width="%d" height="%d" fill="%s" stroke="none"/>`+"\n", r.x, r.y, r.w, r.h, hex(c))
}

func (s *svg) lines(list []line, p pen) {
	if len(list) == 0 {
		return
	}
	s.put(`<path stroke="%s" stroke-width="%s" d="`, hex(p.color), number(p.mm/s.mm))
	for _, l := range list {
		if l.h == 0 {
			s.put("M%d %dh%d", l.x, l.y, l.w)
		} else {
			s.put("M%d %dv%d", l.x, l.y, l.h)
		}
	}
	s.put("\"/>\n")
}

func (s *svg) strokes(list []stroke, p pen) {
	if len(list) == 0 {
		return
	}
	s.put(`<path stroke="%s" stroke-width="%s" shape-rendering="auto" d="`, hex(p.color), number(p.mm/s.mm))
	for _, l := range list {
		s.put("M%s %sL%s %s", number(l.x1), number(l.y1), number(l.x2), number(l.y2))
	}
	s.put("\"/>\n")
}

func (s *svg) text(t label) {
	s.put(`<text x="%s" y="%s" font-size="%s" fill="%s" stroke="none"`, number(t.x), number(t.y), number(t.size), hex(t.color))
	if t.anchor != atStart {
		s.put(` text-anchor="%s"`, [...]string{"start", "middle", "end"}[t.anchor])
	}
	if t.bold {
		s.put(` font-weight="bold"`)
	}
	s.put(">%s</text>\n", html.EscapeString(t.words))
}
