package diagram

import (
	"fmt"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/norm"

	"fettle/schema/wording"
)

// Sizes of type in millimetres.
const (
	titleType  = 5.0
	factType   = 3.2
	numberType = 2.4
)

// Regular and Bold are the fonts that drawings and sheets are set in: Go
// Regular and Go Bold, which cover Latin, Greek and Cyrillic. Their licence
// stands in LICENSE.fonts beside this file. The bytes must not be changed.
func Regular() []byte { return goregular.TTF }
func Bold() []byte    { return gobold.TTF }

// faces measure text. They are made when a drawing is begun.
type faces struct{ regular, bold font.Face }

// measured is how many pixels high an em is when text is measured.
const measured = 1000

func newFaces() (f faces, err error) {
	if f.regular, err = face(Regular(), measured); err != nil {
		return f, err
	}
	f.bold, err = face(Bold(), measured)
	return f, err
}

// face is a font at a size in pixels.
func face(ttf []byte, pixels float64) (font.Face, error) {
	f, err := opentype.Parse(ttf)
	if err != nil {
		return nil, fmt.Errorf("the font of drawings cannot be read: %w", err)
	}
	return opentype.NewFace(f, &opentype.FaceOptions{Size: pixels, DPI: 72, Hinting: font.HintingNone})
}

// width is how wide a text is, in ems.
func (f faces) width(text string, bold bool) float64 {
	face := f.regular
	if bold {
		face = f.bold
	}
	return float64(font.MeasureString(face, text)) / 64 / measured
}

// Legible returns a text fit for a drawing: on one line, of that many characters
// at most. Letters with separate accents become one character where there is one.
func Legible(text string, most int) string {
	text = norm.NFC.String(text)
	return wording.Plain(strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Variation_Selector, r) { // they only choose between looks
			return -1
		}
		return r
	}, text), most)
}

// Settable returns a legible text as Regular and Bold can set it. A character that
// they lack becomes the replacement character.
func Settable(text string) string {
	return strings.Map(func(r rune) rune {
		if lacks(r) {
			return unicode.ReplacementChar
		}
		return r
	}, text)
}

// Unset returns the characters of legible texts that Regular and Bold lack, each
// once, in the order in which they first come. A PDF or PNG cannot show them.
func Unset(texts ...string) []rune {
	var list []rune
	known := map[rune]bool{}
	for _, text := range texts {
		for _, r := range text {
			if lacks(r) && !known[r] {
				known[r] = true
				list = append(list, r)
			}
		}
	}
	return list
}

// ListUnset names a few of the characters that Unset gave: "'ש' (U+05E9), 'ל'
// (U+05DC) and 3 more".
func ListUnset(list []rune) string {
	const few = 5
	var names []string
	for i, r := range list {
		if i == few {
			return fmt.Sprintf("%s and %d more", strings.Join(names, ", "), len(list)-few)
		}
		names = append(names, fmt.Sprintf("%s (%U)", wording.Quote(string(r)), r))
	}
	return strings.Join(names, ", ")
}

// regular is the font that characters are looked up in.
var regular = sync.OnceValues(func() (*sfnt.Font, error) { return sfnt.Parse(Regular()) })

// lacks reports whether Regular does not have a character. Bold and Go Mono have
// the same ones.
func lacks(r rune) bool {
	if r >= ' ' && r <= '~' {
		return false
	}
	f, err := regular()
	if err != nil {
		return false // the drawing says that the font cannot be read
	}
	glyph, err := f.GlyphIndex(nil, r)
	return err != nil || glyph == 0
}
