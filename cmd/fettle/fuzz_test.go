package main

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"

	"fettle/corpus"
	"fettle/formats/draftjson"
	"fettle/formats/wif"
)

// FuzzCommand runs whole command lines on any draft with any settings.
func FuzzCommand(f *testing.F) {
	var list []commandLine
	for _, c := range commandLines() {
		if !slices.Contains(c.args, "png") && !slices.Contains(c.args, "pdf") { // slow to make
			list = append(list, c)
		}
	}
	draft := corpus.Generate(1, corpus.GenOptions{Ends: 12, Picks: 10, Shafts: 4})
	text, _ := wif.Write(draft, wif.Options{})
	object, _ := draftjson.Write(draft)
	for i := range list {
		f.Add(uint8(i), text, []byte(worstRoom))
		f.Add(uint8(i), object, []byte("[project]\nfinished length = 2 m\n"))
	}
	for i, w := range worstFiles() {
		settings := []byte(worstRoom)
		if w.settings != nil {
			settings = w.settings(300)
		}
		f.Add(uint8(i), w.text(600), settings)
	}
	f.Fuzz(func(t *testing.T, which uint8, draft, settings []byte) {
		if len(draft)+len(settings) > 20_000 {
			t.Skip("larger files are what the tests of growth are for")
		}
		runOver(t, list[int(which)%len(list)], draft, settings)
	})
}

// FuzzPlanSettings plans a draft with any settings.
func FuzzPlanSettings(f *testing.F) {
	draft, _ := wif.Write(corpus.Generate(1, corpus.GenOptions{Ends: 24, Picks: 20, Shafts: 4}), wif.Options{})
	for _, folder := range []string{"guild", "looms", "faulty"} {
		paths, err := filepath.Glob(filepath.Join("../../corpus", folder, "*.ini"))
		if err != nil {
			f.Fatal(err)
		}
		for _, path := range paths {
			text, err := os.ReadFile(path)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
		}
	}
	f.Add([]byte(worstRoom))
	f.Fuzz(func(t *testing.T, settings []byte) {
		for _, form := range []string{"text", "html", "json"} {
			runOver(t, commandLine{args: []string{"plan", "--format", form}}, draft, settings)
		}
	})
}

// runOver runs a command on a draft with settings beside it, and checks its exit status
// and its output.
func runOver(t *testing.T, c commandLine, draft, settings []byte) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.wif")
	writeFile(t, path, draft)
	writeFile(t, filepath.Join(folder, "fettle.ini"), settings)
	var out, complaints bytes.Buffer
	p := &program{in: bytes.NewReader(nil), out: &out, err: &complaints}
	args := append(append([]string{"fettle"}, c.args...), path)
	status := p.run(args)
	if status < statusFine || status > statusFailed {
		t.Errorf("%s: exit status %d", c, status)
	}
	if out.Len() > 100_000_000 {
		t.Errorf("%s: a draft of %d bytes makes %d bytes", c, len(draft), out.Len())
	}
	form := c.args[len(c.args)-1]
	if out.Len() > 0 && c.args[0] != "clean" {
		switch form {
		case "json", "sarif", "quality":
			if !json.Valid(out.Bytes()) {
				t.Errorf("%s: this is not JSON: %q", c, out.String())
			}
		case "junit", "svg":
			if err := wellFormed(out.Bytes()); err != nil {
				t.Errorf("%s: this is not XML: %v: %q", c, err, out.String())
			}
		}
	}
	if c.args[0] == "lint" || c.args[0] == "plan" || c.args[0] == "info" {
		if at := strings.IndexFunc(out.String(), unprintable); at >= 0 {
			t.Errorf("%s: a control character: %q", c, out.String()[max(at-20, 0):min(at+20, out.Len())])
		}
	}
	if at := strings.IndexFunc(complaints.String(), unprintable); at >= 0 {
		t.Errorf("%s: a control character on standard error: %q", c, complaints.String()[max(at-20, 0):])
	}
}

// unprintable reports whether a character can control a terminal. Line feeds are allowed.
func unprintable(r rune) bool { return r != '\n' && r != '\t' && unicode.IsControl(r) }

// wellFormed returns what is wrong with XML.
func wellFormed(text []byte) error {
	for d := xml.NewDecoder(bytes.NewReader(text)); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
	}
}
