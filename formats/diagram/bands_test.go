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
	compared := 0
	for seed := range 12 {
		l, err := newLayout(drafts.Example(seed), options.Example(seed), 2)
		if err != nil {
			continue // the draft lacks a part
		}
		compared++
		picture := func(most int) *image.RGBA {
			p := newPixels(2, 25.4)
			drawn := rect{0, 0, l.width, l.height}
			b := &bands{pixels: p, part: p.area(drawn), draw: func() { l.draw(p, drawn) }, maxPixels: most}
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
	if compared < 6 {
		t.Errorf("only %d drafts were compared", compared)
	}
}
