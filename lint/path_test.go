package lint

import (
	"testing"

	"pgregory.net/rapid"
)

func TestPlainestPath(t *testing.T) {
	for _, test := range []struct {
		a, b string
		same bool
	}{
		{"Towel.wif", "towel.WIF", true},
		{"ra\u0308ven.wif", "R\u00c4VEN.wif", true},
		{"a\xff.wif", "A\xff.WIF", true},
		{"a\xff.wif", "a\xfe.wif", false},
		{"a\xff\u00c4\xfe.wif", "a\xffa\u0308\xfe.wif", true},
		{"a\xff.wif", "a\ufffd.wif", false},
		{"a\xff.wif", "a\xff\xff.wif", false},
		{"towel.wif", "towels.wif", false},
	} {
		if got := PlainestPath(test.a) == PlainestPath(test.b); got != test.same {
			t.Errorf("%q and %q are the same: %v", test.a, test.b, got)
		}
	}
}

// TestPlainestPathTellsBytesApart changes a byte of a name that isn't UTF-8.
func TestPlainestPathTellsBytesApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := "\xff" + string(rapid.SliceOf(rapid.ByteRange(0xf8, 0xff)).Draw(t, "name"))
		other := []byte(name)
		i := rapid.IntRange(0, len(other)-1).Draw(t, "place")
		other[i] = 0xf8 + (other[i]-0xf8+1)%8
		if PlainestPath(name) == PlainestPath(string(other)) {
			t.Fatalf("%q and %q are one", name, other)
		}
	})
}
