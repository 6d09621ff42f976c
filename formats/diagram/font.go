package diagram

import (
	"fmt"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"

	"fettle/schema"
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

// Legible is a text fit for a drawing: on one line, of that many characters at
// most. Characters beyond the basic plane, which the fonts have none of, become
// the replacement character.
func Legible(text string, most int) string {
	runes := []rune(schema.Plain(text, most))
	for i, r := range runes {
		if r > 0xffff {
			runes[i] = 0xfffd
		}
	}
	return string(runes)
}
