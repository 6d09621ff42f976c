package main

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"fettle/schema/wording"
)

// oddCharacters control a terminal, are invisible, or need escaping in XML or JSON.
var oddCharacters = []rune{0x01, 0x07, 0x08, 0x0b, 0x0c, 0x1b, 0x1f, 0x7f, 0x80, 0x85, 0x9b, 0x9d, 0x9f, 0xad, 0x61c, 0x180e, 0x200b, 0x200e, 0x200f, 0x2028, 0x2029,
	0x202a, 0x202e, 0x2060, 0x2066, 0x2069, 0xfdd0, 0xfeff, 0xfff9, 0xfffd, 0xfffe, 0xffff, 0x1fffe, 0xe0041, 0x10ffff, '<', '&', '"', '\'', '\\', ']'}

// TestOddCharacters puts each odd character into all texts of a draft and, if the system
// allows it, into the file name. Every output stays valid, none controls a terminal, and
// JSON contains the original text.
func TestOddCharacters(t *testing.T) {
	for _, c := range oddCharacters {
		text := "a" + string(c) + "b"
		t.Run(strings.ToUpper(strings.Trim(string(json.RawMessage(quotedJSON(t, text))), `"`)), func(t *testing.T) {
			t.Chdir(t.TempDir())
			draft := "[WIF]\nVersion=1.1\nDeveloper=" + text + "\n[CONTENTS]\nTHREADING=true\n[TEXT]\nTitle=" + text + "\nAuthor=" + text + "\n[NOTES]\n1=" + text +
				"\n[WEAVING]\nShafts=" + text + "\nRising Shed=" + text + "\n[" + text + "]\n" + text + "=" + text + "\n[THREADING]\n1=1\n2=2\n[LIFTPLAN]\n1=1\n2=2\n"
			name := text + ".wif"
			if err := os.WriteFile(name, []byte(draft), 0o644); err != nil {
				name = "plain.wif"
				writeFile(t, name, []byte(draft))
			}
			var title struct{ Title string }
			isJSON(t, &title, "convert", name, "--to", "json")
			if title.Title != text {
				t.Errorf("in the JSON draft the title is %q", title.Title)
			}
			var facts []struct{ Path, Title string }
			isJSON(t, &facts, "info", name, "--format", "json")
			if len(facts) != 1 || facts[0].Title != text || facts[0].Path != filepath.ToSlash(name) && facts[0].Path != wording.PathName(name) {
				t.Errorf("the facts are %q", facts)
			}
			isJSON(t, &title, "plan", name, "--format", "json")
			if title.Title != text {
				t.Errorf("in the plan the title is %q", title.Title)
			}
			var any any
			isJSON(t, &any, "lint", name, "--format", "json")
			isJSON(t, &any, "lint", name, "--format", "sarif")
			isJSON(t, &any, "lint", name, "--format", "quality")
			isJSON(t, &any, "convert", name, "--to", "svg", "--output", "x.svg", "--format", "json")
			isJSON(t, &any, "lint", name, "--write-baseline", "known.json", "--format", "json")
			isXML(t, "convert", name, "--to", "svg")
			isXML(t, "lint", name, "--format", "junit")
			for _, args := range [][]string{{"lint", name, "--format", "html"}, {"plan", name, "--format", "html"}} {
				if out := printedBy(t, args); !strings.HasPrefix(out, "<!DOCTYPE html>") {
					t.Errorf("%q prints %.60q", args, out)
				}
			}
			for _, args := range [][]string{{"lint", name}, {"info", name}, {"plan", name}, {"convert", name, "--to", "txt"}, {"lint", name, "--format", "annotations"}} {
				printedBy(t, args)
			}
		})
	}
}

func quotedJSON(t *testing.T, text string) []byte {
	out, err := wording.JSON(text, "", "")
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// printedBy runs a command and checks that its outputs have no control or invisible
// characters.
func printedBy(t *testing.T, args []string) string {
	t.Helper()
	var out, told bytes.Buffer
	p := &program{in: strings.NewReader(""), out: &out, err: &told}
	p.run(append([]string{"fettle"}, args...))
	for name, text := range map[string]string{"standard output": out.String(), "standard error": told.String()} {
		if !utf8.ValidString(text) {
			t.Errorf("%q prints no UTF-8 on %s", args, name)
		}
		for _, r := range text {
			if r != '\n' && wording.Printable(r) != r {
				t.Errorf("%q prints %U on %s", args, r, name)
				break
			}
		}
	}
	if out.Len() == 0 {
		return told.String()
	}
	return out.String()
}

func isJSON(t *testing.T, into any, args ...string) {
	t.Helper()
	if out := printedBy(t, args); json.Unmarshal([]byte(out), into) != nil {
		t.Errorf("%q prints no JSON: %q", args, out)
	}
}

func isXML(t *testing.T, args ...string) {
	t.Helper()
	out := printedBy(t, args)
	elements := 0
	for d := xml.NewDecoder(strings.NewReader(out)); ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("%q prints no XML: %v\n%q", args, err, out)
		}
		if _, is := token.(xml.StartElement); is {
			elements++
		}
	}
	if elements < 3 {
		t.Errorf("%q prints %d elements", args, elements)
	}
}
