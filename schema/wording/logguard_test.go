package wording

import (
	"bytes"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"
)

func guarded(pieces ...string) string {
	var b bytes.Buffer
	g := NewLogGuard(&b)
	for _, p := range pieces {
		_, _ = g.Write([]byte(p))
	}
	return b.String()
}

func TestLogGuard(t *testing.T) {
	for _, test := range []struct{ name, text, want string }{
		{"a command that begins a line", "::error::x", ": :error::x"},
		{"after blanks", " \t\u00a0\u3000::error::x", " \t\u00a0\u3000: :error::x"},
		{"after an invisible character", "\ufeff\u200b\x00::error::x", "\ufeff\u200b\x00: :error::x"},
		{"within a line", "a::error::x", "a::error::x"},
		{"one colon", ":error", ":error"},
		{"after each kind of line break", "a\n::\r::\v::\f::\u0085::\u2028::\u2029::", "a\n: :\r: :\v: :\f: :\u0085: :\u2028: :\u2029: :"},
		{"after color", "\x1b[1m\x1b[38;5;1m::error::x\x1b[0m", "\x1b[1m\x1b[38;5;1m: :error::x\x1b[0m"},
		{"brackets anywhere", "a ##vso[task]##[error]##teamcity[m]###[x]", "a ##vso [task]## [error]##teamcity [m]### [x]"},
		{"no marks", "# [x] ## tabby ##tabby, [x] ##a#[x]", "# [x] ## tabby ##tabby, [x] ##a#[x]"},
		{"a drawing", "##..##[1]", "##..## [1]"},
		{"nothing", "", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			if got := guarded(test.text); got != test.want {
				t.Errorf("got %q, want %q", got, test.want)
			}
			if got := HoldsLogCommand([]byte(test.text)); got != (test.want != test.text) {
				t.Errorf("holds a command: %v", got)
			}
		})
	}
}

func TestLogSafe(t *testing.T) {
	if got, want := LogSafe("::a ##vso[b]"), "::a ##vso [b]"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// commanded does what CI services do with a log: it splits it into lines, looks for two
// colons after blanks, and looks for marks anywhere.
func commanded(log string) bool {
	lines := strings.FieldsFunc(log, func(r rune) bool { return strings.ContainsRune("\n\r\v\f\x1c\x1d\x1e\u0085\u2028\u2029", r) })
	for _, line := range lines {
		plain := regexp.MustCompile("\x1b\\[[^@-~]*[@-~]").ReplaceAllString(line, "")
		for _, l := range []string{line, plain} {
			l = strings.TrimLeftFunc(l, func(r rune) bool { return unicode.IsSpace(r) || !unicode.IsGraphic(r) })
			if strings.HasPrefix(l, "::") || regexp.MustCompile(`##[A-Za-z]*\[`).MatchString(l) {
				return true
			}
		}
	}
	return false
}

// TestLogGuardLeavesNoCommand writes any text in pieces of any size. No command may remain,
// only spaces may be added, and text without commands must not change.
func TestLogGuardLeavesNoCommand(t *testing.T) {
	word := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"::", ":", "#", "##", "[", "vso", "error", " ", "\t", "\n", "\r", "\u2028", "\u0085",
		"\v", "\xff", "\xc2", "\x1b[1m", "\u200b", "é"}))
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(word, 0, 12).Draw(t, "words"), "")
		got := guarded(text)
		if commanded(got) {
			t.Fatalf("%q contains a command: %q", text, got)
		}
		if !commanded(text) && got != text {
			t.Fatalf("%q contains no command, but becomes %q", text, got)
		}
		if strings.ReplaceAll(got, " ", "") != strings.ReplaceAll(text, " ", "") {
			t.Fatalf("%q becomes %q", text, got)
		}
		var pieces []string
		for rest := text; rest != ""; {
			n := rapid.IntRange(1, len(rest)).Draw(t, "size")
			pieces, rest = append(pieces, rest[:n]), rest[n:]
		}
		if got := guarded(pieces...); got != guarded(text) {
			t.Fatalf("%q in pieces gives %q, and as a whole %q", pieces, got, guarded(text))
		}
		if again := guarded(got); again != got {
			t.Fatalf("%q, guarded again, is %q", got, again)
		}
	})
}

func FuzzLogGuard(f *testing.F) {
	f.Add("::error::a\r::b ##vso[x]\u2028 ::")
	f.Fuzz(func(t *testing.T, text string) {
		if got := guarded(text); commanded(got) {
			t.Errorf("%q contains a command: %q", text, got)
		}
	})
}
