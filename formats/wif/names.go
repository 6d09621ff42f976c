package wif

import (
	"bytes"
	"fmt"
	"strings"

	"fettle/schema"
	"fettle/schema/spelling"
	"fettle/schema/wording"
)

// kind is a section of the format, in the order the canonical form writes them.
type kind uint8

const (
	kindUnknown kind = iota
	kindWIF
	kindContents
	kindColorPalette
	kindWarpSymbolPalette
	kindWeftSymbolPalette
	kindText
	kindWeaving
	kindWarp
	kindWeft
	kindBitmapImage
	kindBitmapFile
	kindNotes
	kindTieup
	kindColorTable
	kindWarpSymbolTable
	kindWeftSymbolTable
	kindThreading
	kindWarpThickness
	kindWarpThicknessZoom
	kindWarpSpacing
	kindWarpSpacingZoom
	kindWarpColors
	kindWarpSymbols
	kindTreadling
	kindLiftPlan
	kindWeftThickness
	kindWeftThicknessZoom
	kindWeftSpacing
	kindWeftSpacingZoom
	kindWeftColors
	kindWeftSymbols
	kindTranslations
	kindPrivate
	kinds // how many there are
)

// form is how a section's lines are read.
type form uint8

const (
	fields   form = iota // named keys
	numbers              // rows of whole numbers
	colors               // rows of one color each
	decimals             // rows of one decimal each
	lines                // rows of text
	verbatim             // rows the model has no place for: carried as they stand
)

// sections says of each kind what it is called, how it is read, which keys it
// has, and which part of a draft it holds. From memory of the published 1.1
// standard of 20 April 1997, in our own words; its section and key names are
// its own.
var sections = [kinds]struct {
	name string
	form form
	part schema.Part
	keys []key
}{
	kindWIF:               {"WIF", fields, schema.PartFile, []key{{name: "Version"}, {name: "Date"}, {name: "Developers"}, {name: "Source Program"}, {name: "Source Version"}}},
	kindContents:          {"CONTENTS", fields, schema.PartFile, nil},
	kindColorPalette:      {"COLOR PALETTE", fields, schema.PartPalette, []key{{name: "Entries"}, {name: "Form"}, {name: "Range"}}},
	kindWarpSymbolPalette: {"WARP SYMBOL PALETTE", verbatim, schema.PartFile, []key{{name: "Entries"}}},
	kindWeftSymbolPalette: {"WEFT SYMBOL PALETTE", verbatim, schema.PartFile, []key{{name: "Entries"}}},
	kindText: {"TEXT", fields, schema.PartText, []key{
		{"Title", schema.FieldTitle}, {"Author", schema.FieldAuthor}, {"Address", schema.FieldAddress},
		{"EMail", schema.FieldEMail}, {"Telephone", schema.FieldTelephone}, {"FAX", schema.FieldFax}}},
	kindWeaving: {"WEAVING", fields, schema.PartWeaving, []key{
		{"Shafts", schema.FieldShafts}, {"Treadles", schema.FieldTreadles},
		{"Rising Shed", schema.FieldShed}, {"Profile", schema.FieldProfile}}},
	kindWarp:              {"WARP", fields, schema.PartWarp, systemKeys},
	kindWeft:              {"WEFT", fields, schema.PartWeft, systemKeys},
	kindBitmapImage:       {"BITMAP IMAGE", verbatim, schema.PartFile, nil},
	kindBitmapFile:        {"BITMAP FILE", verbatim, schema.PartFile, nil},
	kindNotes:             {"NOTES", lines, schema.PartNotes, nil},
	kindTieup:             {"TIEUP", numbers, schema.PartTieup, nil},
	kindColorTable:        {"COLOR TABLE", colors, schema.PartPalette, nil},
	kindWarpSymbolTable:   {"WARP SYMBOL TABLE", verbatim, schema.PartFile, nil},
	kindWeftSymbolTable:   {"WEFT SYMBOL TABLE", verbatim, schema.PartFile, nil},
	kindThreading:         {"THREADING", numbers, schema.PartThreading, nil},
	kindWarpThickness:     {"WARP THICKNESS", decimals, schema.PartWarpThicknesses, nil},
	kindWarpThicknessZoom: {"WARP THICKNESS ZOOM", verbatim, schema.PartFile, nil},
	kindWarpSpacing:       {"WARP SPACING", decimals, schema.PartWarpSpacings, nil},
	kindWarpSpacingZoom:   {"WARP SPACING ZOOM", verbatim, schema.PartFile, nil},
	kindWarpColors:        {"WARP COLORS", numbers, schema.PartWarpColors, nil},
	kindWarpSymbols:       {"WARP SYMBOLS", verbatim, schema.PartFile, nil},
	kindTreadling:         {"TREADLING", numbers, schema.PartTreadling, nil},
	kindLiftPlan:          {"LIFTPLAN", numbers, schema.PartLiftPlan, nil},
	kindWeftThickness:     {"WEFT THICKNESS", decimals, schema.PartWeftThicknesses, nil},
	kindWeftThicknessZoom: {"WEFT THICKNESS ZOOM", verbatim, schema.PartFile, nil},
	kindWeftSpacing:       {"WEFT SPACING", decimals, schema.PartWeftSpacings, nil},
	kindWeftSpacingZoom:   {"WEFT SPACING ZOOM", verbatim, schema.PartFile, nil},
	kindWeftColors:        {"WEFT COLORS", numbers, schema.PartWeftColors, nil},
	kindWeftSymbols:       {"WEFT SYMBOLS", verbatim, schema.PartFile, nil},
	kindTranslations:      {"TRANSLATIONS", verbatim, schema.PartFile, nil},
	kindPrivate:           {"PRIVATE", verbatim, schema.PartFile, nil},
}

// key is a key of a section with fixed keys, and the value of a draft it holds.
type key struct {
	name  string
	field schema.Field
}

var systemKeys = []key{
	{"Threads", schema.FieldThreads}, {"Color", schema.FieldColor}, {"Symbol", schema.NoField},
	{"Symbol Number", schema.NoField}, {"Units", schema.FieldUnit}, {"Spacing", schema.FieldSpacing},
	{"Thickness", schema.FieldThickness}, {"Spacing Zoom", schema.NoField}, {"Thickness Zoom", schema.NoField},
}

// longest is the length of the longest section name.
const longest = len("WARP SYMBOL PALETTE")

var byName = func() map[string]kind {
	m := make(map[string]kind, kinds)
	for k := kindWIF; k < kindPrivate; k++ {
		m[sections[k].name] = k
	}
	return m
}()

// named says whether a section of the kind is called by the kind's own name.
func (k kind) named() bool { return k != kindUnknown && k != kindPrivate }

// kindOf finds the section of a name as written: in any case, with any white
// space between words.
func kindOf(name []byte) kind {
	var buf [longest]byte
	upper, ok := foldCase(buf[:0], name)
	if ok {
		if k, known := byName[string(upper)]; known {
			return k
		}
	}
	if len(name) >= 7 && bytes.EqualFold(name[:7], []byte("PRIVATE")) && (len(name) == 7 || blank(name[7])) {
		return kindPrivate
	}
	return kindUnknown
}

// foldCase writes a name in upper case with single spaces, as far as it fits into
// the capacity of dst.
func foldCase(dst, name []byte) ([]byte, bool) {
	space := false
	for i := 0; i < len(name); i++ {
		c := name[i]
		if blank(c) {
			space = true
			continue
		}
		if c >= 0x80 {
			if n := wideAt(name[i:]); n > 0 {
				space, i = true, i+n-1
				continue
			}
		}
		if space && len(dst) > 0 {
			if len(dst) == cap(dst) {
				return dst, false
			}
			dst = append(dst, ' ')
		}
		space = false
		if len(dst) == cap(dst) {
			return dst, false
		}
		if 'a' <= c && c <= 'z' {
			c -= 'a' - 'A'
		}
		dst = append(dst, c)
	}
	return dst, true
}

// foldedCase is a name in upper case with single spaces, whatever its length.
func foldedCase(name []byte) string {
	return strings.ToUpper(strings.Join(strings.FieldsFunc(string(name), func(r rune) bool { return r < 0x80 && blank(byte(r)) }), " "))
}

func blank(c byte) bool { return c == ' ' || c == '\t' || c == '\f' }

// near finds the one known name that is a single slip away from a misspelt one. It
// returns -1 if there is none or more than one.
func near(name []byte, count int, known func(int) string) int {
	found := -1
	upper, ok := foldCase(make([]byte, 0, 64), name)
	if !ok {
		return -1
	}
	for i := range count {
		var room [longest]byte
		if k, ok := foldCase(room[:0], []byte(known(i))); ok && len(k) > 0 && spelling.OneSlip(upper, k) {
			if found >= 0 {
				return -1
			}
			found = i
		}
	}
	return found
}

// nearSection is the section that a misspelt name stands for, or kindUnknown.
func nearSection(name []byte) kind {
	i := near(name, int(kindPrivate), func(i int) string { return sections[i].name })
	if i >= 0 {
		return kind(i)
	}
	cut := bytes.IndexAny(name, "/,(:|;=-")
	if cut < 0 {
		return kindUnknown
	}
	k, rest := kindOf(bytes.TrimSpace(name[:cut])), bytes.Trim(name[cut:], "/,(:|;=-) ")
	if !k.named() || kindOf(rest) != kindUnknown {
		return kindUnknown
	}
	return k // TIEUP / Anbindung: the name, and what it is in another language
}

// keyOf finds a key of a section by name, in any case and with any white space
// between words; -1 for none.
func (k kind) keyOf(name []byte) int {
	for i := range sections[k].keys {
		if string(name) == sections[k].keys[i].name { // nearly always
			return i
		}
	}
	for i := range sections[k].keys {
		if sameName(name, sections[k].keys[i].name) {
			return i
		}
	}
	return -1
}

// nearKey is the key that a misspelt name stands for, or -1.
func (k kind) nearKey(name []byte) int {
	return near(name, len(sections[k].keys), func(i int) string { return sections[k].keys[i].name })
}

// sameName compares names without regard to case and to the white space between
// words.
func sameName(a []byte, b string) bool {
	if len(a) == len(b) && bytes.EqualFold(a, []byte(b)) {
		return true
	}
	var x, y [64]byte
	p, ok := foldCase(x[:0], a)
	q, also := foldCase(y[:0], []byte(b))
	return ok && also && bytes.Equal(p, q)
}

// Section is a section of the format by its name, with its keys; Rows is set
// where they are row numbers instead.
type Section struct {
	Name string
	Keys []string
	Rows bool
}

// Sections are the sections of the format in canonical order, private ones
// apart.
func Sections() []Section {
	var list []Section
	for k := kindWIF; k < kindPrivate; k++ {
		s := Section{Name: sections[k].name, Rows: sections[k].form != fields && len(sections[k].keys) == 0}
		for _, key := range sections[k].keys {
			s.Keys = append(s.Keys, key.name)
		}
		list = append(list, s)
	}
	return list
}

// unknownSection reports a section that the format does not have, and gives the
// one it is read as: the only one whose name is a single slip away, unless the
// file has that one too.
func (r *reader) unknownSection(l line, name []byte) kind {
	k := nearSection(name)
	said := wording.Quote(string(name))
	data := func(suggestion string) schema.Data {
		return schema.Data{{Key: "name", Value: wording.Plain(string(name), 60)}, {Key: "suggestion", Value: suggestion}}
	}
	switch {
	case (k == kindUnknown || r.first[k] != 0 || r.present(k)) && r.extend(alike{schema.FileUnknownSection, k, ""}, l.span(), false):
		k = kindUnknown
	case k == kindUnknown:
		r.report(schema.FileUnknownSection, l.span(),
			"the format has no section "+said+"; it is kept but not read: if it is a program's own, its name begins with PRIVATE", data(""))
	case r.first[k] != 0 || r.present(k):
		r.report(schema.FileUnknownSection, l.span(),
			fmt.Sprintf("the format has no section %s; it is kept but not read, since the file has %s as well: put both together", said, sections[k].name),
			data(sections[k].name))
		k = kindUnknown
	default:
		r.report(schema.FileUnknownSection, l.span(),
			fmt.Sprintf("the format has no section %s; it is read as %s: write that", said, sections[k].name), data(sections[k].name),
			mend("write "+sections[k].name, l.name, sections[k].name))
	}
	return k
}

// present says whether the file has a section of a kind under its right name.
// All names are looked through once, and only where one is misspelt.
func (r *reader) present(k kind) bool {
	if r.spelt == 0 {
		r.spelt = r.spellings()
	}
	return r.spelt&(1<<k) != 0
}

// spellings is which kinds of section the file names as they should be, a bit
// each, kindUnknown's always set.
func (r *reader) spellings() uint64 {
	found := uint64(1) << kindUnknown
	for at := 0; at < len(r.text); {
		l := lex(r.text, at)
		if l.sort == sortSection {
			found |= 1 << kindOf(r.text[l.name.Start:l.name.End])
		}
		at = l.next
	}
	return found
}

func (r *reader) unknownKey(l line, name []byte, near int) {
	if kindWeaving.keyOf(name) >= 0 {
		r.doubt(schema.FileUnknownKey) // the shed or the shafts may be what it says
	}
	if r.extend(alike{schema.FileUnknownKey, r.kind, "unknown"}, l.span(), r.inTable(r.kind) || rowOf(r.text, l) > 0) {
		return
	}
	section, suggestion := sections[r.kind].name, ""
	message := fmt.Sprintf("section %s has no key %s; it is kept but not read: see whether it is misspelt", section, wording.Quote(string(name)))
	if near >= 0 {
		suggestion = sections[r.kind].keys[near].name
		message = fmt.Sprintf("section %s has no key %s; it is kept but not read, since the section has %s as well: take one out", section, wording.Quote(string(name)), suggestion)
	}
	if sections[r.kind].form != fields {
		message = fmt.Sprintf("%s is not a row number of section %s; the line is kept but not read: number it, or begin it with a semicolon", wording.Quote(string(name)), section)
	}
	r.report(schema.FileUnknownKey, l.span(), message,
		schema.Data{{Key: "name", Value: wording.Plain(string(name), 60)}, {Key: "suggestion", Value: suggestion}})
}

func (r *reader) misspeltKey(l line, name []byte, i int) {
	right := sections[r.kind].keys[i].name
	if r.extend(alike{schema.FileUnknownKey, r.kind, right}, l.span(), true, mend("", l.name, right).Edits...) {
		return
	}
	r.report(schema.FileUnknownKey, l.span(),
		fmt.Sprintf("section %s has no key %s; it is read as %s: write that", sections[r.kind].name, wording.Quote(string(name)), right),
		schema.Data{{Key: "name", Value: wording.Plain(string(name), 60)}, {Key: "suggestion", Value: right}},
		mend("write "+right, l.name, right))
}
