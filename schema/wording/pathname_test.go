package wording

import (
	"testing"

	"pgregory.net/rapid"
)

func TestPathName(t *testing.T) {
	for _, c := range []struct{ path, name string }{
		{"drafts/towel.wif", "drafts/towel.wif"},
		{"räven 'n' co.wif", "räven 'n' co.wif"},
		{"\ufffd.wif", "\ufffd.wif"}, // the character itself, in valid UTF-8
		{"a\xff.wif", `"a\377.wif"`},
		{"a\xfe.wif", `"a\376.wif"`},
		{"a\nb.wif", `"a\nb.wif"`},
		{"a\x1b[2J.wif", `"a\033[2J.wif"`},
		{`say "a".wif`, `"say \"a\".wif"`},
		{`a\b.wif`, `"a\\b.wif"`},
		{"a\u202eb.wif", `"a\342\200\256b.wif"`},
		{"a\u0085b.wif", `"a\302\205b.wif"`},
		{"", ""},
	} {
		if got := PathName(c.path); got != c.name {
			t.Errorf("%q is shown as %s, want %s", c.path, got, c.name)
		}
		if got, err := ParsePathName(c.name); err != nil || got != c.path {
			t.Errorf("%s reads back as %q (%v), want %q", c.name, got, err, c.path)
		}
	}
	for _, damaged := range []string{`"`, `"a`, `"a\"`, `"\8"`, `"\400"`, `"\12"`, `"a"b"`} {
		if got, err := ParsePathName(damaged); err == nil {
			t.Errorf("%s reads as %q", damaged, got)
		}
	}
}

func TestPathNameReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		path := string(rapid.SliceOf(rapid.Byte()).Draw(t, "path"))
		name := PathName(path)
		if back, err := ParsePathName(name); err != nil || back != path {
			t.Fatalf("%q becomes %q and reads back as %q (%v)", path, name, back, err)
		}
		for _, r := range name {
			if Printable(r) != r {
				t.Fatalf("%q becomes a name with %q", path, r)
			}
		}
	})
}
