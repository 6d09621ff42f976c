package wif

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/spelling"
	"fettle/schema/wording"
)

// kind is a kind of section, in the order of the canonical form.
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
	kinds // the number of kinds
)

// form is the form of the lines in a section.
type form uint8

const (
	formFields   form = iota // named keys
	formNumbers              // rows of whole numbers
	formColors               // rows of one color each
	formDecimals             // rows of one decimal each
	formText                 // rows of text
	formVerbatim             // lines that the model can't hold; they are carried unread
)

// sections gives the name, form, part and keys of each kind of section. Source: WIF
// 1.1 (1997) as fettle understands it, from memory; only the names of sections and
// keys are the standard's words.
var sections = [kinds]struct {
	name string
	form form
	part schema.Part
	keys []key
}{
	kindWIF:               {"WIF", formFields, schema.PartFile, namesOnly(keyVersion, "Date", "Developers", "Source Program", "Source Version")},
	kindContents:          {"CONTENTS", formFields, schema.PartFile, nil},
	kindColorPalette:      {"COLOR PALETTE", formFields, schema.PartPalette, namesOnly(keyEntries, keyForm, keyRange)},
	kindWarpSymbolPalette: {"WARP SYMBOL PALETTE", formVerbatim, schema.PartFile, namesOnly(keyEntries)},
	kindWeftSymbolPalette: {"WEFT SYMBOL PALETTE", formVerbatim, schema.PartFile, namesOnly(keyEntries)},
	kindText: {"TEXT", formFields, schema.PartText, []key{
		{"Title", schema.FieldTitle}, {"Author", schema.FieldAuthor}, {"Address", schema.FieldAddress},
		{"EMail", schema.FieldEMail}, {"Telephone", schema.FieldTelephone}, {"FAX", schema.FieldFax}}},
	kindWeaving: {"WEAVING", formFields, schema.PartWeaving, []key{
		{"Shafts", schema.FieldShafts}, {"Treadles", schema.FieldTreadles},
		{"Rising Shed", schema.FieldShed}, {"Profile", schema.FieldProfile}}},
	kindWarp:              {"WARP", formFields, schema.PartWarp, systemKeys},
	kindWeft:              {"WEFT", formFields, schema.PartWeft, systemKeys},
	kindBitmapImage:       {"BITMAP IMAGE", formVerbatim, schema.PartFile, nil},
	kindBitmapFile:        {"BITMAP FILE", formVerbatim, schema.PartFile, nil},
	kindNotes:             {"NOTES", formText, schema.PartNotes, nil},
	kindTieup:             {"TIEUP", formNumbers, schema.PartTieup, nil},
	kindColorTable:        {"COLOR TABLE", formColors, schema.PartPalette, nil},
	kindWarpSymbolTable:   {"WARP SYMBOL TABLE", formVerbatim, schema.PartFile, nil},
	kindWeftSymbolTable:   {"WEFT SYMBOL TABLE", formVerbatim, schema.PartFile, nil},
	kindThreading:         {"THREADING", formNumbers, schema.PartThreading, nil},
	kindWarpThickness:     {"WARP THICKNESS", formDecimals, schema.PartWarpThicknesses, nil},
	kindWarpThicknessZoom: {"WARP THICKNESS ZOOM", formVerbatim, schema.PartFile, nil},
	kindWarpSpacing:       {"WARP SPACING", formDecimals, schema.PartWarpSpacings, nil},
	kindWarpSpacingZoom:   {"WARP SPACING ZOOM", formVerbatim, schema.PartFile, nil},
	kindWarpColors:        {"WARP COLORS", formNumbers, schema.PartWarpColors, nil},
	kindWarpSymbols:       {"WARP SYMBOLS", formVerbatim, schema.PartFile, nil},
	kindTreadling:         {"TREADLING", formNumbers, schema.PartTreadling, nil},
	kindLiftPlan:          {"LIFTPLAN", formNumbers, schema.PartLiftPlan, nil},
	kindWeftThickness:     {"WEFT THICKNESS", formDecimals, schema.PartWeftThicknesses, nil},
	kindWeftThicknessZoom: {"WEFT THICKNESS ZOOM", formVerbatim, schema.PartFile, nil},
	kindWeftSpacing:       {"WEFT SPACING", formDecimals, schema.PartWeftSpacings, nil},
	kindWeftSpacingZoom:   {"WEFT SPACING ZOOM", formVerbatim, schema.PartFile, nil},
	kindWeftColors:        {"WEFT COLORS", formNumbers, schema.PartWeftColors, nil},
	kindWeftSymbols:       {"WEFT SYMBOLS", formVerbatim, schema.PartFile, nil},
	kindTranslations:      {"TRANSLATIONS", formVerbatim, schema.PartFile, nil},
	kindPrivate:           {"PRIVATE", formVerbatim, schema.PartFile, nil},
}

// key is a named key of a section, and the value of the draft that it gives.
type key struct {
	name  string
	field schema.Field
}

// The keys that reader and writer call by name, because no field stands for them.
const (
	keyVersion = "Version"
	keyEntries = "Entries"
	keyForm    = "Form"
	keyRange   = "Range"
	keySymbol  = "Symbol"
)

func namesOnly(names ...string) []key {
	keys := make([]key, len(names))
	for i, name := range names {
		keys[i].name = name
	}
	return keys
}

// nameOf returns the name of the key that holds a field in a section.
func (k kind) nameOf(f schema.Field) string {
	for _, key := range sections[k].keys {
		if f != schema.NoField && key.field == f {
			return key.name
		}
	}
	return ""
}

var systemKeys = []key{
	{"Threads", schema.FieldThreads}, {"Color", schema.FieldColor}, {keySymbol, schema.NoField},
	{"Symbol Number", schema.NoField}, {"Units", schema.FieldUnit}, {"Spacing", schema.FieldSpacing},
	{"Thickness", schema.FieldThickness}, {"Spacing Zoom", schema.NoField}, {"Thickness Zoom", schema.NoField},
}

const maxName = len("WARP SYMBOL PALETTE")

var byName = func() map[string]kind {
	m := make(map[string]kind, kinds)
	for k := kindWIF; k < kindPrivate; k++ {
		m[sections[k].name] = k
	}
	return m
}()

// named reports whether all sections of the kind have the same name.
func (k kind) named() bool { return k != kindUnknown && k != kindPrivate }

// kindOf returns the kind of section with a name, in any case and with any white space
// between words.
func kindOf(name []byte) kind {
	var buf [maxName]byte
	upper, ok := appendUpper(buf[:0], name)
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

// appendUpper appends a name in upper case with single spaces. It returns false if dst
// has too little capacity.
func appendUpper(dst, name []byte) ([]byte, bool) {
	space := false
	for i := 0; i < len(name); i++ {
		c := name[i]
		if blank(c) {
			space = true
			continue
		}
		if c >= 0x80 {
			if n := oddSpaceAt(name[i:]); n > 0 {
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

// upperName returns a name in upper case with single spaces.
func upperName(name []byte) string {
	var room [64]byte
	if upper, ok := appendUpper(room[:0], name); ok && !slices.ContainsFunc(name, func(c byte) bool { return c >= 0x80 }) {
		return string(upper)
	}
	return strings.ToUpper(strings.Join(strings.FieldsFunc(string(name), func(r rune) bool { return r < 0x80 && blank(byte(r)) }), " "))
}

func blank(c byte) bool { return c == ' ' || c == '\t' || c == '\f' }

// near returns the only known name that is one slip away from a misspelt one, -1 for
// none.
func near(name []byte, count int, known func(int) string) int {
	found := -1
	upper, ok := appendUpper(make([]byte, 0, 64), name)
	if !ok {
		return -1
	}
	for i := range count {
		var room [maxName]byte
		if k, ok := appendUpper(room[:0], []byte(known(i))); ok && len(k) > 0 && spelling.OneSlip(upper, k) {
			if found >= 0 {
				return -1
			}
			found = i
		}
	}
	return found
}

// nearSection returns the section that a misspelt name means, or kindUnknown.
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
	return k // TIEUP / Anbindung: the name and its translation
}

// keyOf returns the key of a section with a name, in any case and with any white space
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

// nearKey returns the key that a misspelt name means, -1 for none.
func (k kind) nearKey(name []byte) int {
	return near(name, len(sections[k].keys), func(i int) string { return sections[k].keys[i].name })
}

// sameName reports whether names are equal except for case and white space.
func sameName(a []byte, b string) bool {
	if len(a) == len(b) && bytes.EqualFold(a, []byte(b)) {
		return true
	}
	var x, y [64]byte
	p, ok := appendUpper(x[:0], a)
	q, also := appendUpper(y[:0], []byte(b))
	return ok && also && bytes.Equal(p, q)
}

// unknownSection reports a section that WIF doesn't have, and returns the one that
// fettle reads it as: the only one whose name is one slip away, unless the file has
// that one too.
func (r *reader) unknownSection(l line, name []byte) kind {
	k := nearSection(name)
	right, said := sections[k].name, wording.Quote(string(name))
	taken := r.first[k] != 0 || r.exactlyNamed(k)
	switch {
	case (k == kindUnknown || taken) && r.merge(similar{schema.FileUnknownSection, k, ""}, l.span(), false):
		return kindUnknown
	case k == kindUnknown:
		r.report(schema.FileUnknownSection, l.span(),
			"section "+said+" isn't part of WIF, so fettle keeps it unread; if it belongs to a program, begin its name with PRIVATE", nameData(string(name), ""))
	case taken:
		r.report(schema.FileUnknownSection, l.span(),
			fmt.Sprintf("section %s isn't part of WIF, and the file also has %s, so fettle keeps %s unread; join them", said, right, said), nameData(string(name), right))
		return kindUnknown
	default:
		r.report(schema.FileUnknownSection, l.span(), fmt.Sprintf("section %s isn't part of WIF, so fettle reads it as %s; write that", said, right),
			nameData(string(name), right), replacement("write "+right, l.name, right))
	}
	return k
}

// exactlyNamed reports whether the file has a section of a kind, spelt correctly.
func (r *reader) exactlyNamed(k kind) bool {
	if r.exactNames == 0 {
		r.exactNames = r.exactSections()
	}
	return r.exactNames&(1<<k) != 0
}

// exactSections returns the kinds of section that the file spells correctly, a bit
// each. The bit of kindUnknown is always set.
func (r *reader) exactSections() uint64 {
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

func (r *reader) unknownKey(l line, name []byte, meant int) {
	if kindWeaving.keyOf(name) >= 0 {
		r.markUnclear(schema.FileUnknownKey) // it may give the shed or the shafts
	}
	if r.merge(similar{schema.FileUnknownKey, r.kind, "unknown"}, l.span(), r.inTable(r.kind) || rowOf(r.text, l) > 0) {
		return
	}
	section, suggestion := sections[r.kind].name, ""
	said := wording.Quote(string(name))
	message := fmt.Sprintf("section %s has no key %s, so fettle keeps it unread; check its spelling", section, said)
	if meant >= 0 {
		suggestion = sections[r.kind].keys[meant].name
		message = fmt.Sprintf("section %s has no key %s, but it has %s, so fettle keeps %s unread; delete one", section, said, suggestion, said)
	}
	if sections[r.kind].form != formFields {
		message = fmt.Sprintf("%s isn't a row number of section %s, so fettle keeps the line unread; number it, or begin it with a semicolon", said, section)
	}
	r.report(schema.FileUnknownKey, l.span(), message, nameData(string(name), suggestion))
}

func (r *reader) misspeltKey(l line, name []byte, i int) {
	right := sections[r.kind].keys[i].name
	if r.merge(similar{schema.FileUnknownKey, r.kind, right}, l.span(), true, replacement("", l.name, right).Edits...) {
		return
	}
	r.report(schema.FileUnknownKey, l.span(),
		fmt.Sprintf("section %s has no key %s, so fettle reads it as %s; write that", sections[r.kind].name, wording.Quote(string(name)), right),
		nameData(string(name), right),
		replacement("write "+right, l.name, right))
}
