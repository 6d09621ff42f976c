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

// titleType, factType and numberType return sizes of type in millimetres. Large numbers are
// twice as high as those that an eye with normal sight just reads at two metres: a letter of
// five minutes of arc (ISO 8596) is 2.9 mm high there, and capitals are 0.72 of the size.
func (l *layout) titleType() float64  { return l.size(5, 9) }
func (l *layout) factType() float64   { return l.size(3.2, 5.5) }
func (l *layout) numberType() float64 { return l.size(2.4, 8.1) }

// barMM returns the width of the bars in the colors of the yarn, in millimetres.
func (l *layout) barMM() float64 { return l.size(3.2, 6.4) }

func (l *layout) size(usual, large float64) float64 {
	if l.options.Large {
		return large
	}
	return usual
}

// Regular and Bold return the fonts of drawings and sheets: Go Regular and Go Bold, which
// cover Latin, Greek and Cyrillic. Their licence is in LICENSE.fonts in this folder. Don't
// change the bytes.
func Regular() []byte { return goregular.TTF }
func Bold() []byte    { return gobold.TTF }

// faces measures text.
type faces struct{ regular, bold font.Face }

// emPixels is the size at which text is measured.
const emPixels = 1000

func newFaces() (f faces, err error) {
	if f.regular, err = face(Regular(), emPixels); err != nil {
		return f, err
	}
	f.bold, err = face(Bold(), emPixels)
	return f, err
}

// face returns a font at a size in pixels.
func face(ttf []byte, pixels float64) (font.Face, error) {
	f, err := opentype.Parse(ttf)
	if err != nil {
		return nil, fmt.Errorf("fettle can't read its font: %w", err)
	}
	return opentype.NewFace(f, &opentype.FaceOptions{Size: pixels, DPI: 72, Hinting: font.HintingNone})
}

// width returns the width of a text in ems.
func (f faces) width(text string, bold bool) float64 {
	face := f.regular
	if bold {
		face = f.bold
	}
	return float64(font.MeasureString(face, text)) / 64 / emPixels
}

// Legible returns a text for a drawing: on one line, of at most so many characters. Letters
// with separate accents become one character if there is one.
func Legible(text string, most int) string {
	text = norm.NFC.String(text)
	return wording.Plain(strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Variation_Selector, r) { // they only select a style
			return -1
		}
		return r
	}, text), most)
}

// Settable returns a legible text for Regular and Bold. Characters that they lack become
// replacement characters.
func Settable(text string) string {
	return strings.Map(func(r rune) rune {
		if isMissing(r) {
			return unicode.ReplacementChar
		}
		return r
	}, text)
}

// Unset returns the characters of legible texts that Regular and Bold lack, without
// duplicates, in order of appearance. A PDF or PNG can't show them.
func Unset(texts ...string) []rune {
	var list []rune
	known := map[rune]bool{}
	for _, text := range texts {
		for _, r := range text {
			if isMissing(r) && !known[r] {
				known[r] = true
				list = append(list, r)
			}
		}
	}
	return list
}

// ListUnset lists a few of these characters: "'ש' (U+05E9), 'ל' (U+05DC) and 3 more".
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

// regularFont is the font in which characters are looked up.
var regularFont = sync.OnceValues(func() (*sfnt.Font, error) { return sfnt.Parse(Regular()) })

// isMissing reports whether Regular lacks a character. Bold and Go Mono lack the same ones.
func isMissing(r rune) bool {
	if r >= ' ' && r <= '~' {
		return false
	}
	f, err := regularFont()
	if err != nil {
		return false // the drawing reports that the font is unreadable
	}
	glyph, err := f.GlyphIndex(nil, r)
	return err != nil || glyph == 0
}
