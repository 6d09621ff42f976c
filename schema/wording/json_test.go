package wording

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestJSON(t *testing.T) {
	for _, test := range []struct{ name, text, want string }{
		{"plain", `é <b> & "x"`, `"é <b> & \"x\""`},
		{"C1 and DEL", "\u0080\u009b2J\u009f\x7f", `"\u0080\u009b2J\u009f\u007f"`},
		{"direction", "\u202e\u2066\u200f\u061c", `"\u202e\u2066\u200f\u061c"`},
		{"hidden", "\u200b\ufeff\u00ad\u2028\U000e0041", `"\u200b\ufeff\u00ad\u2028\udb40\udc41"`},
		{"no characters", "\ufffe\uffff\ufdd0\U0001ffff", `"\ufffe\uffff\ufdd0\ud83f\udfff"`},
		{"a mark", "##vso[x] ## [", `"##vso\u005bx] ## ["`},
		{"color", "#f2ead8", `"#f2ead8"`},
	} {
		t.Run(test.name, func(t *testing.T) {
			if got, err := JSON(test.text, "", ""); err != nil || string(got) != test.want {
				t.Errorf("got %s %v, want %s", got, err, test.want)
			}
		})
	}
	got, err := JSON(map[string]any{"a": []int{1}}, "  ", "  ")
	if want := "{\n    \"a\": [\n      1\n    ]\n  }"; err != nil || string(got) != want {
		t.Errorf("got %s %v", got, err)
	}
	if _, err := JSON(func() {}, "", ""); err == nil {
		t.Error("JSON wrote a function")
	}
}

// TestJSONKeepsData writes any text. It must read back the same, without anything that a
// terminal or a CI service obeys.
func TestJSONKeepsData(t *testing.T) {
	text := rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.SampledFrom([]rune("#[v\\\"\u0085\u009b\u200b\u202e\u2028\ufffe\uffff\U0010ffff"))))
	rapid.Check(t, func(t *rapid.T) {
		in := map[string][]string{text.Draw(t, "key"): {text.Draw(t, "first"), text.Draw(t, "second")}}
		got, err := JSON(in, "", rapid.SampledFrom([]string{"", "  "}).Draw(t, "indent"))
		if err != nil {
			t.Fatal(err)
		}
		var back map[string][]string
		if err := json.Unmarshal(got, &back); err != nil {
			t.Fatalf("%v: %s", err, got)
		}
		for k, v := range in {
			if b := back[strings.ToValidUTF8(k, "\ufffd")]; len(b) != 2 || b[0] != v[0] || b[1] != v[1] {
				t.Fatalf("%q reads back as %q", in, back)
			}
		}
		for _, r := range string(got) {
			if r != '\n' && Printable(r) != r {
				t.Fatalf("%q contains %U", got, r)
			}
		}
		if regexp.MustCompile(`##[A-Za-z]*\[`).Match(got) {
			t.Fatalf("%q contains a mark", got)
		}
	})
}
