package report

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"fettle/schema"
)

// pages keeps the pages of a folder report in memory.
type pages map[string]*closed

type closed struct {
	bytes.Buffer
	done bool
}

func (c *closed) Close() error { c.done = true; return nil }

func (p pages) create(name string) (io.WriteCloser, error) {
	if p[name] != nil {
		return nil, errors.New(name + " is created twice")
	}
	p[name] = &closed{}
	return p[name], nil
}

func TestFolder(t *testing.T) {
	files := []File{
		{Path: "a/towel.wif", Findings: []schema.Finding{{Rule: "x/one", Severity: schema.Error, Message: "bad & <b>"}, {Rule: "x/one"}, {Rule: "x/two"}}},
		{Path: "a-towel.wif", Findings: []schema.Finding{{Rule: "x/two", Severity: schema.Warning}}},
		{Path: "A/TOWEL.wif"},
		{Path: "<script>.wif"},
		{Path: "con"},
		{Path: "index"},
		{Path: strings.Repeat("long/", 100) + "a.wif"},
		{Path: "../..", Findings: nil},
	}
	written, index := pages{}, &bytes.Buffer{}
	w := NewFolder(index, written.create, Options{})
	var sum Summary
	for _, f := range files {
		if err := w.File(f); err != nil {
			t.Fatal(err)
		}
		sum.Add(f)
	}
	if err := errors.Join(w.Missed(Missed{Path: "gone.wif", Reason: "it is <gone>"}), w.Close(sum)); err != nil {
		t.Fatal(err)
	}
	if len(written) != len(files) {
		t.Errorf("%d pages", len(written))
	}
	lower := map[string]bool{"index.html": true}
	for name, page := range written {
		switch key := strings.ToLower(name); {
		case lower[key], strings.Trim(key, "abcdefghijklmnopqrstuvwxyz0123456789._-") != "", len(name) > 150, strings.HasPrefix(key, "con."):
			t.Errorf("the name %s is taken or bad", name)
		case !page.done, !strings.Contains(page.String(), `href="index.html"`), !strings.Contains(page.String(), "</html>"):
			t.Errorf("%s isn't whole", name)
		case !strings.Contains(index.String(), `href="`+name+`"`):
			t.Errorf("the index has no link to %s", name)
		default:
			lower[key] = true
		}
	}
	for _, want := range []string{
		`<tr><td>x/one</td><td class="number">2</td><td class="number">1</td></tr>`,
		`<tr><td>x/two</td><td class="number">2</td><td class="number">2</td></tr>`,
		"&lt;script&gt;.wif", "it is &lt;gone&gt;", "x/one, x/two", sum.String(),
	} {
		if !strings.Contains(index.String(), want) {
			t.Errorf("the index lacks %s", want)
		}
	}
	if text := index.String() + written["a-towel.wif.html"].String(); strings.Contains(text, "<b>") || strings.Contains(text, "<script>.wif") {
		t.Error("text from files isn't escaped")
	}
}

// TestFolderNames makes many names that are equal once they are plain.
func TestFolderNames(t *testing.T) {
	w := NewFolder(io.Discard, pages{}.create, Options{}).(*folder)
	seen := map[string]bool{}
	for n := range 20_000 {
		name := w.nameFor(fmt.Sprintf("%c.wif", 0x4e00+n))
		if seen[name] {
			t.Fatalf("%s is taken", name)
		}
		seen[name] = true
	}
}

func TestFolderReportsErrors(t *testing.T) {
	broken := errors.New("no room")
	w := NewFolder(io.Discard, func(string) (io.WriteCloser, error) { return nil, broken }, Options{})
	if err := w.File(File{Path: "a"}); !errors.Is(err, broken) {
		t.Error(err)
	}
	if err := w.Close(Summary{}); !errors.Is(err, broken) {
		t.Error(err)
	}
}
