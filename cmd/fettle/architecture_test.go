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

// rooms reads the table of packages in DEVELOPERS.md: their order, and what each may
// import.
func rooms(t *testing.T) (order []string, imports map[string]string) {
	text, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, table, _ := strings.Cut(string(text), "| room | what lives there | imports |\n| --- | --- | --- |\n")
	imports = map[string]string{}
	for row := range strings.Lines(table) {
		cells := strings.Split(strings.Trim(row, "| \n"), " | ")
		if len(cells) != 3 {
			break
		}
		name := strings.Trim(cells[0], "`")
		order = append(order, name)
		imports[name] = cells[2]
	}
	return order, imports
}

// TestArrowsPointDown compares the table with the code: it lists every package and its
// imports, and each package imports only those above it.
func TestArrowsPointDown(t *testing.T) {
	order, stated := rooms(t)
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports", "fettle/...").Output()
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	for d := json.NewDecoder(strings.NewReader(string(out))); d.More(); {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := d.Decode(&p); err != nil {
			t.Fatal(err)
		}
		name := strings.TrimPrefix(p.ImportPath, "fettle/")
		found = append(found, name)
		place := slices.Index(order, name)
		if place < 0 {
			t.Errorf("%s isn't in the table of rooms in DEVELOPERS.md", name)
			continue
		}
		var ours []string
		for _, i := range p.Imports {
			if i, ok := strings.CutPrefix(i, "fettle/"); ok {
				ours = append(ours, "`"+i+"`")
				if !slices.Contains(order[:place], i) {
					t.Errorf("%s imports %s, which isn't above it in the table of rooms in DEVELOPERS.md", name, i)
				}
			}
		}
		imports := strings.Join(ours, ", ")
		if imports == "" {
			imports = "nothing of ours"
		}
		if stated[name] != imports && stated[name] != "all above" {
			t.Errorf("%s imports %s; DEVELOPERS.md says %s", name, imports, stated[name])
		}
	}
	for _, name := range order {
		if !slices.Contains(found, name) {
			t.Errorf("DEVELOPERS.md lists %s, which isn't a package", name)
		}
	}
}

// TestTopFolder checks that the top folder has only the known files and folders.
func TestTopFolder(t *testing.T) {
	entries, err := os.ReadDir("../..")
	if err != nil {
		t.Fatal(err)
	}
	allowed := []string{"cmd", "formats", "lint", "schema", "corpus", "go.mod", "go.sum", "README.md", "DEVELOPERS.md"}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && !slices.Contains(allowed, e.Name()) {
			t.Errorf("%s stands at the top of the house, where it has no place", e.Name())
		}
	}
}

// TestOneJSONWriter checks that all JSON is written by wording.JSON, which escapes
// characters that control terminals and CI services.
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
