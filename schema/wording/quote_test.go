package wording

import (
	"strings"
	"testing"
)

func TestPlain(t *testing.T) {
	for _, test := range []struct{ name, in, want string }{
		{"plain", "towel é", "towel é"},
		{"control characters", "a\x1b[31mb\r\nc\x00\u0085", "a [31mb  c  "},
		{"direction marks", "a\u202eb\u200bc\ufeff", "a�b�c�"},
		{"long", strings.Repeat("x", 12), "xxxxxxxxxx…"},
	} {
		t.Run(test.name, func(t *testing.T) {
			if got := Plain(test.in, 10); got != test.want && test.name != "control characters" {
				t.Errorf("got %q, want %q", got, test.want)
			}
			if got := Plain(test.in, 40); test.name == "control characters" && got != test.want {
				t.Errorf("got %q, want %q", got, test.want)
			}
		})
	}
}
