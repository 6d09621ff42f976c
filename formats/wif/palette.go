package wif

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// channels holds the red, green and blue of a row of COLOR TABLE. The zero value is a
// missing or unreadable row.
type channels struct {
	rgb  [3]int32
	read bool
	kept schema.Span // the value, if it is unreadable
}

// palette holds the values of COLOR PALETTE.
type palette struct {
	entries   int
	low, high int32
	ranged    bool
	symbolic  bool
}

func (r *reader) paletteKey(l line, key string) {
	p := &r.palette
	if key == keyEntries {
		r.count(l, &p.entries)
		return
	}
	at := r.plain(l)
	switch key {
	case keyForm:
		switch form := strings.ToLower(r.str(at)); form {
		case "rgb":
		case "symbolic":
			p.symbolic = true
			r.carry(l, key, at)
		default:
			r.badValue(l, "RGB or Symbolic")
		}
	case keyRange:
		low, high, ok := rangeOf(r.text[at.Start:at.End])
		if !ok {
			r.badValue(l, "the lowest and the highest number of a color, like 0,255")
			return
		}
		p.low, p.high, p.ranged = low, high, true
		if low != 0 || high != 255 {
			r.carry(l, key, at)
		}
	}
}

// rangeOf reads the range of a palette, such as 0,255.
func rangeOf(text []byte) (low, high int32, ok bool) {
	a, b, cut := bytes.Cut(text, []byte(","))
	x, errX := strconv.ParseInt(string(bytes.TrimSpace(a)), 10, 32)
	y, errY := strconv.ParseInt(string(bytes.TrimSpace(b)), 10, 32)
	if !cut || errX != nil || errY != nil || x >= y || y-x > maxNumber {
		return 0, 0, false
	}
	return int32(x), int32(y), true
}

// color reads a row of COLOR TABLE.
func (r *reader) color(index int32, l line) {
	if c, ok := r.separatedChannels(l); ok {
		r.colors = append(r.colors, entry[channels]{index, c, l.span()})
		return
	}
	at := r.plain(l)
	c, ok := channelsOf(r.text[at.Start:at.End])
	if !ok {
		if !r.palette.symbolic {
			r.badValue(l, "red, green and blue as three whole numbers, like 242,234,216")
			r.clearUnread()
		}
		c.kept = at
	}
	r.colors = append(r.colors, entry[channels]{index, c, l.span()})
}

// separatedChannels reads a color whose numbers have another separator than commas
// (255;128;0), and reports it. ok is false if the row isn't one.
func (r *reader) separatedChannels(l line) (c channels, ok bool) {
	p := listedNumbers(r.text, l.value, r.numbers[:0])
	r.numbers = p.numbers[:0]
	if p.separator == 0 || p.separator == ',' || p.separator == mixedSeparators || p.separator == '-' || len(p.numbers) != len(c.rgb) || p.hasWords || p.hasComment || p.spaced {
		return c, false
	}
	c = channels{rgb: [3]int32(p.numbers), read: true}
	edit := schema.Edit{Span: l.value, New: joined(p.numbers)}
	if r.merge(similar{schema.FileBadValue, r.kind, "separated by " + string(p.separator)}, l.span(), true, edit) {
		return c, true
	}
	value := r.str(l.value)
	r.report(schema.FileBadValue, l.span(),
		fmt.Sprintf("%s in COLOR TABLE has %s between its numbers, so other programs can't read it; write %s", wording.Quote(value), separatorName(p.separator), edit.New),
		valueData(r.kind, r.str(l.name), value, edit.New),
		schema.Fix{Title: "write " + edit.New, Edits: []schema.Edit{edit}})
	return c, true
}

func channelsOf(text []byte) (channels, bool) {
	var c channels
	for i := range c.rgb {
		part, rest, more := bytes.Cut(text, []byte(","))
		v, err := strconv.ParseInt(string(bytes.TrimSpace(part)), 10, 32)
		if err != nil || more != (i < 2) {
			return channels{}, false
		}
		c.rgb[i], text = int32(v), rest
	}
	c.read = true
	return c, true
}

// finishPalette turns the rows of COLOR TABLE into colors when their range is known.
func (r *reader) finishPalette() {
	p := &r.palette
	var rows []channels
	var standing []entry[channels]
	if len(r.colors) > 0 {
		slots := arrange(r.colors, 0, r.problems(kindColorTable), sameValue(r.colors))
		rows = make([]channels, len(slots))
		for n, i := range slots {
			if i >= 0 {
				rows[n] = r.colors[i].value
				standing = append(standing, r.colors[i])
			}
		}
	}
	if !p.ranged {
		r.guessRange(standing)
	}
	for _, e := range r.colors {
		if e.value.read && !p.holds(e.value) {
			r.badValue(lex(r.text, e.at.Start),
				"numbers from "+strconv.Itoa(int(p.low))+" to "+strconv.Itoa(int(p.high))+", the range of the palette")
		}
	}
	colors := make([]schema.Color, max(len(rows), p.entries))
	for n, c := range rows {
		colors[n] = p.color(c)
	}
	r.beyondEntries(len(rows))
	if len(colors) > 0 {
		r.draft.Palette = colors
	}
	r.carryColors(rows)
}

// beyondEntries reports colors beyond the number that COLOR PALETTE declares.
func (r *reader) beyondEntries(rows int) {
	p := &r.palette
	if p.entries == 0 || rows <= p.entries {
		return
	}
	l := r.locator()
	number := strconv.Itoa(rows)
	raise := schema.Fix{Title: "write " + keyEntries + "=" + number, Edits: l.setKey(kindColorPalette, keyEntries, number),
		Risky: len(r.colors) < rows} // a row may be missing because another has its number
	for _, e := range r.colors {
		if int(e.index) > p.entries && int(e.index) <= rows {
			r.reportBeyond(kindColorTable, int(e.index), e.at, p.entries, raise)
		}
	}
}

// guessRange sets the range of a palette that doesn't state one: 0 to 255 or, if a
// number is higher, the next common range.
func (r *reader) guessRange(rows []entry[channels]) {
	top := schema.Span{}
	highest := int32(255)
	for _, e := range rows {
		for _, v := range e.value.rgb {
			if v > highest {
				highest, top = v, e.at
			}
		}
	}
	p := &r.palette
	switch {
	case highest == 255:
		p.high = 255
		return
	case highest <= 999:
		p.high = 999
	default:
		p.high = 65535
	}
	r.reportMissingRange(top, p.high)
	r.draft.Carried.Values = append(r.draft.Carried.Values, schema.Setting{
		Section: sections[kindColorPalette].name, Key: keyRange, Value: "0," + strconv.Itoa(int(p.high))})
}

func (p *palette) holds(c channels) bool {
	return min(c.rgb[0], c.rgb[1], c.rgb[2]) >= p.low && max(c.rgb[0], c.rgb[1], c.rgb[2]) <= p.high
}

// color returns a color in 8 bits a channel.
func (p *palette) color(c channels) schema.Color {
	if !c.read {
		return schema.Color{}
	}
	return schema.RGB(p.to8Bits(c.rgb[0]), p.to8Bits(c.rgb[1]), p.to8Bits(c.rgb[2]))
}

// to8Bits scales a channel to 0 to 255. It rounds half up.
func (p *palette) to8Bits(v int32) uint8 {
	v = min(max(v, p.low), p.high)
	span := int64(p.high) - int64(p.low)
	return uint8((255*(int64(v)-int64(p.low)) + span/2) / span)
}

// widen scales a color of 8 bits a channel to the range of the palette.
func (p *palette) widen(c schema.Color) channels {
	span := int64(p.high) - int64(p.low)
	widen := func(v uint8) int32 { return int32((int64(v)*span+127)/255) + p.low }
	return channels{rgb: [3]int32{widen(c.R), widen(c.G), widen(c.B)}, read: true}
}

// carryColors keeps colors of more than 8 bits a channel, and unreadable ones.
func (r *reader) carryColors(rows []channels) {
	p := &r.palette
	for n, c := range rows {
		value := ""
		switch {
		case c.read && p.holds(c) && c != p.widen(p.color(c)):
			value = c.String()
		case c.kept.End > 0:
			value = r.str(c.kept)
		default:
			continue
		}
		r.draft.Carried.Values = append(r.draft.Carried.Values, schema.Setting{
			Section: sections[kindColorTable].name, Key: strconv.Itoa(n + 1), Value: value})
	}
}

func (c channels) String() string {
	return strconv.Itoa(int(c.rgb[0])) + "," + strconv.Itoa(int(c.rgb[1])) + "," + strconv.Itoa(int(c.rgb[2]))
}
