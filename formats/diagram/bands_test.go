package diagram

import (
	"image"
	"image/draw"
	"testing"

	"pgregory.net/rapid"
)

// TestBandsMakeUpThePicture compares pictures in bands of a few rows with whole pictures.
func TestBandsMakeUpThePicture(t *testing.T) {
	drafts, options := rapid.Custom(anyDraft), rapid.Custom(anyOptions)
	for seed := range 6 {
		l, err := newLayout(drafts.Example(seed), options.Example(seed), 2)
		if err != nil {
			t.Fatal(err)
		}
		picture := func(most int) *image.RGBA {
			p, err := newPixels(l, 2, 25.4)
			if err != nil {
				t.Fatal(err)
			}
			drawn := rect{0, 0, l.width, l.height}
			b := &bands{pixels: p, part: drawn, draw: func() { l.draw(p, drawn) }, maxPixels: most}
			whole := image.NewRGBA(b.Bounds())
			draw.Draw(whole, whole.Rect, b, image.Point{}, draw.Src)
			return whole
		}
		all := picture(maxBandPixels)
		for _, rows := range []int{all.Rect.Dy()/2 + 1, 37} {
			if banded := picture(rows * all.Rect.Dx()); string(banded.Pix) != string(all.Pix) {
				t.Errorf("draft %d in bands of %d rows is a different picture", seed, rows)
			}
		}
	}
}
