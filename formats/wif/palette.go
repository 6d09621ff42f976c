package wif

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// channels are the red, green and blue of a row of COLOR TABLE, as they stand.
// The zero value is a row left out, or one that cannot be read.
type channels struct {
	rgb  [3]int32
	read bool
	kept schema.Span // what stands there, where it cannot be read
}

// palette is what COLOR PALETTE says.
type palette struct {
	entries   int
	low, high int32
	ranged    bool
	symbolic  bool
}

func (r *reader) paletteKey(l line, key string) {
	p := &r.palette
	if key == "Entries" {
		r.count(l, &p.entries)
		return
	}
	at := r.plain(l)
	switch key {
	case "Form":
		switch form := strings.ToLower(string(r.text[at.Start:at.End])); form {
		case "rgb":
		case "symbolic":
			p.symbolic = true
			r.carry(l, key, at)
		default:
			r.badValue(l, "RGB or Symbolic")
		}
	case "Range":
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

// rangeOf reads the range of a palette's numbers: "0,255".
func rangeOf(text []byte) (low, high int32, ok bool) {
	a, b, cut := bytes.Cut(text, []byte(","))
	x, errX := strconv.ParseInt(string(bytes.TrimSpace(a)), 10, 32)
	y, errY := strconv.ParseInt(string(bytes.TrimSpace(b)), 10, 32)
	if !cut || errX != nil || errY != nil || x >= y || y-x > highestNumber {
		return 0, 0, false
	}
	return int32(x), int32(y), true
}

// color takes a row of COLOR TABLE.
func (r *reader) color(index int32, l line) {
	if c, ok := r.partedChannels(l); ok {
		r.colors = append(r.colors, entry[channels]{index, c, l.span()})
		return
	}
	at := r.plain(l)
	c, ok := channelsOf(r.text[at.Start:at.End])
	if !ok {
		if !r.palette.symbolic {
			r.badValue(l, "red, green and blue as three whole numbers, like 242,234,216")
			r.kept()
		}
		c.kept = at
	}
	r.colors = append(r.colors, entry[channels]{index, c, l.span()})
}

// partedChannels reads a color whose three numbers are parted by something other than
// commas, as in 255;128;0, and reports it; ok only where it is one.
func (r *reader) partedChannels(l line) (c channels, ok bool) {
	p := partedNumbers(r.text, l.value, r.numbers[:0])
	r.numbers = p.numbers[:0]
	if p.mark == 0 || p.mark == ',' || p.mark == severalMarks || p.mark == '-' || len(p.numbers) != len(c.rgb) || p.words || p.comment || p.apart {
		return c, false
	}
	c = channels{rgb: [3]int32(p.numbers), read: true}
	edit := schema.Edit{Span: l.value, New: joined(p.numbers)}
	if r.extend(alike{schema.FileBadValue, r.kind, "parted " + string(p.mark)}, l.span(), true, edit) {
		return c, true
	}
	value, name := string(r.text[l.value.Start:l.value.End]), string(r.text[l.name.Start:l.name.End])
	r.report(schema.FileBadValue, l.span(),
		fmt.Sprintf("%s in COLOR TABLE parts its numbers with %s, and other programs cannot read it; write %s", wording.Quote(value), markName(p.mark), edit.New),
		schema.Data{{Key: "section", Value: sections[r.kind].name}, {Key: "key", Value: wording.Plain(name, 60)},
			{Key: "value", Value: wording.Plain(value, 60)}, {Key: "expected", Value: edit.New}},
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

// finishPalette turns the rows of COLOR TABLE into colors, now that their
// range is known.
func (r *reader) finishPalette() {
	p := &r.palette
	var rows []channels
	var standing []entry[channels]
	if len(r.colors) > 0 {
		slots := place(r.colors, 0, r.problems(kindColorTable), sameValue(r.colors))
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

// beyondEntries reports the colors beyond the number that the palette says it
// has.
func (r *reader) beyondEntries(rows int) {
	p := &r.palette
	if p.entries == 0 || rows <= p.entries {
		return
	}
	l := r.locator()
	number := strconv.Itoa(rows)
	raise := schema.Fix{Title: "write Entries=" + number, Edits: l.setKey(kindColorPalette, "Entries", number),
		Risky: len(r.colors) < rows} // a row left out may be the one that has a wrong number
	for _, e := range r.colors {
		if int(e.index) > p.entries && int(e.index) <= rows {
			r.outside(kindColorTable, int(e.index), e.at, p.entries, raise)
		}
	}
}

// guessRange is for a palette that does not say its range: 0 to 255, or where a
// number is above that the least range in use that holds it.
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
	r.rangeUnstated(top, p.high)
	r.draft.Carried.Values = append(r.draft.Carried.Values, schema.Setting{
		Section: sections[kindColorPalette].name, Key: "Range", Value: "0," + strconv.Itoa(int(p.high))})
}

func (p *palette) holds(c channels) bool {
	return min(c.rgb[0], c.rgb[1], c.rgb[2]) >= p.low && max(c.rgb[0], c.rgb[1], c.rgb[2]) <= p.high
}

// color brings a color to 8 bits a channel.
func (p *palette) color(c channels) schema.Color {
	if !c.read {
		return schema.Color{}
	}
	return schema.RGB(p.eight(c.rgb[0]), p.eight(c.rgb[1]), p.eight(c.rgb[2]))
}

// eight is a channel as 0 to 255, rounded to the nearest and up from a half.
func (p *palette) eight(v int32) uint8 {
	v = min(max(v, p.low), p.high)
	span := int64(p.high) - int64(p.low)
	return uint8((255*(int64(v)-int64(p.low)) + span/2) / span)
}

// wide is the channel in the palette's range that 8 bits become.
func (p *palette) wide(c schema.Color) channels {
	span := int64(p.high) - int64(p.low)
	widen := func(v uint8) int32 { return int32((int64(v)*span+127)/255) + p.low }
	return channels{rgb: [3]int32{widen(c.R), widen(c.G), widen(c.B)}, read: true}
}

// carryColors keeps rows that say more than 8 bits a channel do, and those that
// cannot be read.
func (r *reader) carryColors(rows []channels) {
	p := &r.palette
	for n, c := range rows {
		value := ""
		switch {
		case c.read && p.holds(c) && c != p.wide(p.color(c)):
			value = c.String()
		case c.kept.End > 0:
			value = string(r.text[c.kept.Start:c.kept.End])
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
