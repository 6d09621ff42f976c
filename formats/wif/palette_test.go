package wif

import (
	"testing"

	"fettle/schema"
)

// TestTo8Bits compares with ⌊(255v + ⌊M/2⌋)/M⌋, computed by hand.
func TestTo8Bits(t *testing.T) {
	for _, row := range []struct {
		low, high, in int32
		want          uint8
	}{
		{0, 999, 0, 0}, {0, 999, 1, 0}, {0, 999, 2, 1}, {0, 999, 128, 33}, {0, 999, 333, 85}, {0, 999, 499, 127},
		{0, 999, 500, 128}, {0, 999, 666, 170}, {0, 999, 997, 254}, {0, 999, 998, 255}, {0, 999, 999, 255},
		{0, 65535, 128, 0}, {0, 65535, 129, 1}, {0, 65535, 32767, 127}, {0, 65535, 32768, 128}, {0, 65535, 65280, 254},
		{0, 65535, 65406, 254}, {0, 65535, 65407, 255}, {0, 65535, 65535, 255},
		{0, 255, 0, 0}, {0, 255, 127, 127}, {0, 255, 255, 255},
		{0, 1, 1, 255}, {1, 256, 1, 0}, {1, 256, 256, 255}, {-100, 100, 0, 128}, // 255·100/200 = 127.5, rounded up
		{0, 255, -5, 0}, {0, 255, 300, 255}, // outside the range
	} {
		p := palette{low: row.low, high: row.high}
		if got := p.to8Bits(row.in); got != row.want {
			t.Errorf("%d of %d..%d is %d, want %d", row.in, row.low, row.high, got, row.want)
		}
	}
}

// TestWidenIsLossless checks that colors of 8 bits survive any range of 256 numbers
// or more.
func TestWidenIsLossless(t *testing.T) {
	for _, p := range []palette{{high: 255}, {high: 999}, {high: 65535}, {low: 7, high: 262}, {low: -500, high: 500}, {high: 1_000_000}} {
		for v := range 256 {
			c := schema.RGB(uint8(v), uint8(255-v), 0)
			if got := p.color(p.widen(c)); got != c || !p.holds(p.widen(c)) {
				t.Errorf("%v in %d..%d comes back as %v", c, p.low, p.high, got)
			}
		}
	}
}

func TestRangeOf(t *testing.T) {
	for _, row := range []struct {
		text      string
		low, high int32
		ok        bool
	}{
		{"0,255", 0, 255, true}, {" 0 , 999 ", 0, 999, true}, {"-5,5", -5, 5, true}, {"1,2", 1, 2, true},
		{"5,5", 0, 0, false}, {"9,5", 0, 0, false}, {"0", 0, 0, false}, {"", 0, 0, false}, {"0,a", 0, 0, false},
		{"0,255,3", 0, 0, false}, {"0,4294967296", 0, 0, false}, {"-2147483648,2147483647", 0, 0, false},
	} {
		low, high, ok := rangeOf([]byte(row.text))
		if low != row.low || high != row.high || ok != row.ok {
			t.Errorf("%q: %d..%d %v", row.text, low, high, ok)
		}
	}
}

func TestChannelsOf(t *testing.T) {
	for _, row := range []struct {
		text string
		want string
	}{
		{"1,2,3", "1,2,3"}, {" 1 , 2 , 3 ", "1,2,3"}, {"-1,2,3", "-1,2,3"}, {"1,2", ""}, {"1,2,3,4", ""}, {"", ""}, {"a,b,c", ""}, {"1,,3", ""},
	} {
		c, ok := channelsOf([]byte(row.text))
		if ok != (row.want != "") || ok && c.String() != row.want {
			t.Errorf("%q: %v %v", row.text, c, ok)
		}
	}
}
