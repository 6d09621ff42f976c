package settings

import (
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"fettle/corpus/golden"
	"fettle/schema"
)

// walked returns a Finder that was asked for these paths, as in a walk from the working
// folder, and the paths that it doesn't exclude.
func walked(t *testing.T, paths ...string) (f *Finder, left []string) {
	t.Helper()
	f = NewFinder(Options{})
	for _, path := range paths {
		if f.Excluded(path, ".") {
			continue
		}
		left = append(left, path)
	}
	return f, left
}

func all(string) bool { return true }

func TestExcludeFromAbove(t *testing.T) {
	root := tree(t, map[string]string{
		"fettle.ini":         "[files]\nexclude = old/**, new/*/x.wif",
		"old/fettle.ini":     "[loom]\nshafts = 8",
		"new/fettle.ini":     "[files]\nexclude = y.wif",
		"broken/fettle.ini":  "[loom]\nshaft = 8",
		"old/deep/draft.wif": "",
	})
	f := NewFinder(Options{})
	for _, test := range []struct {
		path, named string
		want        bool
	}{
		{"old/a.wif", "", true},
		{"old/deep/a.wif", "", true},
		{filepath.Join(root, "old/a.wif"), ".", true},
		{"old/a.wif", "old", false}, // the folder was named
		{"old/deep/a.wif", "old/deep", false},
		{"new/d/x.wif", "new/d", true}, // the folder was named, not what is in it
		{"new/y.wif", "new", true},
		{"y.wif", "", false}, // a pattern reaches below its folder alone
		{"broken/a.wif", "", false},
		{"-", "", false},
	} {
		if got := f.Excluded(test.path, test.named); got != test.want {
			t.Errorf("%s below %q: excluded %v, want %v", test.path, test.named, got, test.want)
		}
	}
}

func TestAFolderDoesNotExcludeItself(t *testing.T) {
	tree(t, map[string]string{"fettle.ini": "[files]\nexclude = **"})
	if !NewFinder(Options{}).Excluded("a.wif", ".") {
		t.Error("a pattern for everything passes nothing over")
	}
}

func TestUnused(t *testing.T) {
	tree(t, map[string]string{
		"fettle.ini": "[files]\nexclude = attic/**, Attic/**\n[rules guild/**]\na/b = off\nc/d = off\n[rules gilud/**]\na/b = off\nc/d = off\n" +
			"[rules old/**]\na/b = off\n[rules]\na/b = off",
		"old/fettle.ini": "include = ../shared.txt\n[rules *.wif]\na/b = off",
		"new/fettle.ini": "include = ../shared.txt",
		"shared.txt":     "[rules x/**]\na/b = off\n[rules y/**]\na/b = off\n[files]\nexclude = bin, tmp",
	})
	f, left := walked(t, "a.wif", "attic/b.wif", "guild/c.wif", "old/d.wif", "new/tmp", "new/y/e.wif", "old/q.wif")
	at := func(path string, line int) schema.Origin { return schema.Origin{Path: path, Line: line} }
	want := []UnusedPattern{
		{Origin: at("fettle.ini", 2), Pattern: "Attic/**"},
		{Origin: at("fettle.ini", 7), Pattern: "gilud/**", Rules: true},
		{Origin: at("fettle.ini", 10), Pattern: "old/**", Rules: true, Nearer: filepath.FromSlash("old/fettle.ini")},
		{Origin: at("shared.txt", 2), Pattern: "x/**", Rules: true},
		{Origin: at("shared.txt", 6), Pattern: "bin"},
	}
	if got := f.Unused(left, all); !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
	if got := f.Unused(left, func(folder string) bool {
		return !strings.HasSuffix(folder, "old") && !strings.HasSuffix(folder, "new")
	}); len(got) != 3 {
		t.Errorf("of the folder at the top alone: %+v", got)
	}
}

func TestImpossiblePatterns(t *testing.T) {
	for pattern, meant := range map[string]bool{
		`"a/**"`: false, `'a/**'`: false, `a/b"`: false, `a\b`: false, "/a": false, "weaver's/**": true, "Old drafts/**": true, `a"b`: true,
	} {
		t.Run(pattern, func(t *testing.T) {
			_, err := parsePattern(pattern)
			if (err == nil) != meant {
				t.Error(err)
			}
			if err != nil {
				golden.Words(t, err.Error())
			}
		})
	}
}
