package main

import (
	"encoding/json"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// mayImport says which of our own packages each package may import, apart from
// itself and what lies below it. It is the house as DEVELOPERS.md draws it.
var mayImport = map[string][]string{
	"schema":            {},
	"schema/settings":   {"schema"},
	"schema/cloth":      {"schema"},
	"schema/dressing":   {"schema", "schema/cloth"},
	"formats":           {"schema", "formats/wif", "formats/draftjson", "formats/diagram"},
	"formats/wif":       {"schema"},
	"formats/draftjson": {"schema"},
	"formats/diagram":   {"schema", "schema/cloth"},
	"formats/sheet":     {"schema", "schema/cloth", "schema/dressing", "schema/settings", "formats/diagram"},
	"lint":              {"schema", "schema/cloth", "schema/dressing", "schema/settings"},
	"lint/clean":        {"lint", "formats", "schema", "schema/cloth"},
	"lint/rules":        {"lint", "schema", "schema/cloth", "schema/dressing", "schema/settings"},
	"lint/report":       {"lint", "schema", "schema/cloth", "formats/diagram"},
	"lint/collection":   {"lint", "formats", "schema"},
	"corpus":            {"*"},
	"cmd/fettle":        {"*"},

	"cmd/fettle/safefile": {},
}

// neverImported are the packages that no other may import outside its tests.
var neverImported = []string{"corpus", "cmd/fettle"}

func TestArrowsPointDown(t *testing.T) {
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports", "fettle/...").Output()
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for d := json.NewDecoder(strings.NewReader(string(out))); d.More(); {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := d.Decode(&p); err != nil {
			t.Fatal(err)
		}
		seen++
		name := strings.TrimPrefix(p.ImportPath, "fettle/")
		allowed, known := mayImport[name]
		if !known {
			t.Errorf("%s has no place in the house: give it one here and in DEVELOPERS.md", name)
		}
		for _, i := range p.Imports {
			i, ours := strings.CutPrefix(i, "fettle/")
			if !ours {
				continue
			}
			if slices.Contains(neverImported, i) {
				t.Errorf("%s imports %s, which only tests may", name, i)
			}
			if !slices.Contains(allowed, i) && !slices.Contains(allowed, "*") {
				t.Errorf("%s may not import %s", name, i)
			}
		}
	}
	if seen < 10 {
		t.Errorf("only %d packages were looked at", seen)
	}
}

// TestTopOfTheHouse keeps the top folder to what the house has.
func TestTopOfTheHouse(t *testing.T) {
	entries, err := os.ReadDir("../..")
	if err != nil {
		t.Fatal(err)
	}
	rooms := []string{"cmd", "formats", "lint", "schema", "corpus", "go.mod", "go.sum", "README.md", "DEVELOPERS.md"}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && !slices.Contains(rooms, e.Name()) {
			t.Errorf("%s stands at the top of the house, where it has no place", e.Name())
		}
	}
}

// TestOneJSONWriter has all JSON written by wording.JSON, which escapes what drives
// terminals and CI services.
func TestOneJSONWriter(t *testing.T) {
	looked := 0
	err := filepath.WalkDir("../..", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		looked++
		for _, call := range []string{"json.Marshal(", "json.MarshalIndent(", "json.NewEncoder("} {
			if strings.Contains(string(text), call) && filepath.ToSlash(path) != "../../schema/wording/json.go" {
				t.Errorf("%s calls %s: use wording.JSON", path, call)
			}
		}
		return nil
	})
	if err != nil || looked < 100 {
		t.Errorf("%d files were looked at: %v", looked, err)
	}
}
