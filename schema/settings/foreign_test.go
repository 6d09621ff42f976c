package settings

import (
	"os"
	"reflect"
	"strings"
	"testing"
	"unicode/utf16"

	"fettle/corpus/golden"
)

// inUTF16 returns a text in little-endian UTF-16 with a byte order mark.
func inUTF16(text string) string {
	b := []byte{0xff, 0xfe}
	for _, u := range utf16.Encode([]rune(text)) {
		b = append(b, byte(u), byte(u>>8))
	}
	return string(b)
}

func TestForeignFilesBesideADraft(t *testing.T) {
	const desktop = "[.ShellClassInfo]\r\nIconResource=C:\\x.dll,3\r\n"
	for _, test := range []struct {
		name, text string
		foreign    bool
		wrong      string // the mistake, if the file is ours
	}{
		{"a desktop's", desktop, true, ""},
		{"in UTF-16", inUTF16(desktop), true, ""},
		{"a game's", "fullscreen=1\n[Graphics]\nwidth=1024\nGamma=0.5\n", true, ""},
		{"without sections", "fullscreen=1\ngamma=2\n", true, ""},
		{"words", "to do: warp the loom\n", true, ""},
		{"binary", "\x7fELF\x01\x00[\x00\xff\xfe]=\n", true, ""},
		{"a huge one", "[Graphics]\n" + strings.Repeat("width=1024\n", mostBytes/8), true, ""},
		{"one line without an end", strings.Repeat("[", 2*mostBytes), true, ""},
		{"empty", "", false, ""},
		{"comments", "; [loom]\n# later\n", false, ""},
		{"ours", "[loom]\nshafts = 8\n", false, ""},
		{"ours with a slip in a key", "[loom]\nshfts = 8\n", false, "'shfts'"},
		{"a near miss", "[Graphics]\nwidth=1\n[projct]\nsett = 20/in\n", false, "[projct]"},
		{"ours among others", "[Graphics]\nwidth=1\n[Yarn grey]\ngrist = 8/2 cotton\n", false, "[Graphics]"},
		{"ours in UTF-16", inUTF16("[loom]\nshafts = 8\n"), false, "UTF-16"},
		{"a key without its section", "sett = 20/in\n", false, "'sett'"},
		{"an include alone", "include = none.ini\n[Graphics]\n", false, "none.ini"},
		{"ours, and huge", "[loom]\nshafts = 8\n" + strings.Repeat("; x\n", mostBytes/4), false, "1 MiB"},
	} {
		t.Run(test.name, func(t *testing.T) {
			tree(t, map[string]string{"fettle.ini": "[loom]\ntreadles = 3", "towel.ini": test.text})
			f := NewFinder(Options{})
			s, err := f.For("towel.wif", nil)
			switch {
			case test.wrong == "" && (err != nil || s.Loom.Treadles != 3):
				t.Errorf("stops the draft: %v", err)
			case test.wrong != "" && (err == nil || !strings.Contains(err.Error(), test.wrong)):
				t.Errorf("wrong is %v, want %q", err, test.wrong)
			case test.wrong != "":
				golden.Words(t, err.Error())
			}
			_, _ = f.For("towel.json", nil)
			var want []string
			if test.foreign {
				want = []string{"towel.ini"}
			}
			if got := f.Foreign(); !reflect.DeepEqual(got, want) {
				t.Errorf("foreign are %q", got)
			}
		})
	}
}

// TestForeignThingsBesideADraft checks that anything but a file is skipped, except a link,
// which may lead to settings.
func TestForeignThingsBesideADraft(t *testing.T) {
	tree(t, map[string]string{"d/settings": "[loom]\nshafts = 8"})
	if err := os.Mkdir("d/towel.ini", 0o700); err != nil {
		t.Fatal(err)
	}
	f := NewFinder(Options{})
	if _, err := f.For("d/towel.wif", nil); err != nil || len(f.Foreign()) != 1 {
		t.Errorf("a folder: %v, foreign %q", err, f.Foreign())
	}
	if err := os.Symlink("settings", "d/scarf.ini"); err != nil {
		t.Skip("no symbolic links here")
	}
	if got := wrongFor(t, Options{}, "d/scarf.wif"); !strings.Contains(got, string(errLink)) {
		t.Errorf("a link: %q", got)
	}
}

func FuzzOurs(f *testing.F) {
	for _, seed := range []string{"", "[loom]\nshafts = 4\n", "[x]\ny=1", "include = a.ini", "\xff\xfe[\x00l\x00", "a=b\r[Projekt]"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		// A file that reads without error must count as ours, so that no setting is skipped.
		s, err := parse("towel.ini", text)
		says := err == nil && (len(s.Given) > 0 || len(s.Rules) > 0 || len(s.Exclude) > 0)
		if says && !isSettings(text) {
			t.Errorf("%q counts as another program's", text)
		}
	})
}
