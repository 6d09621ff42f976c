package schema

import (
	"fmt"
	"strconv"

	"fettle/schema/wording"
)

// Color is an entry of a draft's palette. The zero value is an entry that the
// palette leaves out.
type Color struct {
	R, G, B uint8
	Set     bool
}

// RGB returns a color that is set.
func RGB(r, g, b uint8) Color { return Color{r, g, b, true} }

// Hex returns the color as #rrggbb, or "" if the palette leaves it out.
func (c Color) Hex() string {
	if !c.Set {
		return ""
	}
	return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B)
}

// ParseColor reads a color written #rrggbb.
func ParseColor(s string) (Color, error) {
	if len(s) == 7 && s[0] == '#' {
		if v, err := strconv.ParseUint(s[1:], 16, 32); err == nil {
			return RGB(uint8(v>>16), uint8(v>>8), uint8(v)), nil
		}
	}
	return Color{}, fmt.Errorf("%s is not a color like #f2ead8", wording.Quote(s))
}
