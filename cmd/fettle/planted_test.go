package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fettle/corpus"
	"fettle/formats"
	"fettle/lint/report"
	"fettle/schema"
)

// planted writes a collection with planted faults. It returns the expected findings as
// "path rule", and for a duplicate how the cloths compare.
func planted(t *testing.T, groups int) map[string]bool {
	t.Helper()
	want := map[string]bool{}
	put := func(path string, d *schema.Draft) {
		text, _, err := formats.Write("wif", d, formats.Options{})
		if err != nil {
			t.Fatal(err)
		}
		writeFile(t, path, text)
	}
	for n := range groups {
		fresh := func() *schema.Draft { return corpus.Generate(uint64(n), corpus.GenOptions{Ends: 60, Picks: 40}) }
		path := func(name string) string { return fmt.Sprintf("drafts/%03d/%s.wif", n, name) }
		put(path("a"), fresh())
		put(path("b"), fresh())
		want[path("b")+" collection/duplicate identical"] = true
		put(path("c"), mirrored(fresh()))
		want[path("c")+" collection/duplicate mirrored"] = true
		put(path("d"), recolored(fresh()))
		want[path("d")+" collection/duplicate in other colors"] = true
		lying := corpus.Generate(uint64(n)+1e6, corpus.GenOptions{Ends: 60, Picks: 40})
		lying.Shafts--
		put(path("e"), lying)
		want[path("e")+" draft/shaft-count "] = true
		writeFile(t, path("f"), []byte("<html>\n"))
		want[path("f")+" file/unreadable "] = true
		put(path("G"), corpus.Generate(uint64(n)+2e6, corpus.GenOptions{Ends: 60, Picks: 40}))
		put(path("g"), corpus.Generate(uint64(n)+3e6, corpus.GenOptions{Ends: 60, Picks: 40}))
		want[path("g")+" collection/name "] = true
	}
	return want
}

func writeFile(t testing.TB, path string, text []byte) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
}

// mirrored returns a draft with its ends in reverse order.
func mirrored(d *schema.Draft) *schema.Draft {
	var rows schema.Rows
	for n := d.Threading.Len(); n > 0; n-- {
		rows.Append(d.Threading.Row(n)...)
	}
	d.Threading = rows
	slices.Reverse(d.Warp.Colors)
	return d
}

func recolored(d *schema.Draft) *schema.Draft {
	for i, c := range d.Palette {
		d.Palette[i] = schema.RGB(c.R^0x80, c.G, c.B)
	}
	return d
}

// TestPlantedFaults expects exactly the planted faults, with any number of workers.
func TestPlantedFaults(t *testing.T) {
	t.Chdir(t.TempDir())
	want := planted(t, 60)
	run := func(jobs string) string {
		status, out, told := lintOnce("--quiet", "--only", "collection,draft/shaft-count,file", "--format", "json", "--jobs", jobs, "drafts")
		if status != statusFound || told != "" {
			t.Fatalf("exit status %d: %s", status, told)
		}
		return out
	}
	one := run("1")
	if one != run("7") {
		t.Error("one worker and seven write other bytes")
	}
	var r struct {
		Files []struct {
			Path     string
			Findings []struct {
				Rule string
				Data map[string]any
			}
		}
	}
	if err := json.Unmarshal([]byte(one), &r); err != nil {
		t.Fatal(err)
	}
	got := map[string]bool{}
	for _, f := range r.Files {
		for _, x := range f.Findings {
			how, _ := x.Data["how"].(string)
			got[f.Path+" "+x.Rule+" "+how] = true
		}
	}
	if !maps.Equal(got, want) {
		t.Errorf("lacking %v, too many %v", difference(want, got), difference(got, want))
	}
}

// lintOnce runs lint and returns the exit status and both outputs.
func lintOnce(args ...string) (status int, out, told string) {
	var stdout, stderr bytes.Buffer
	p := &program{in: strings.NewReader(""), out: &stdout, err: &stderr}
	status = p.run(append([]string{"fettle", "lint"}, args...))
	return status, stdout.String(), stderr.String()
}

// TestHostileNames uses file names and titles that would control a terminal, break a
// report or look like a command for CI services. No output has such an effect.
func TestHostileNames(t *testing.T) {
	t.Chdir(t.TempDir())
	const nasty = "x\x1b[2J\n::error::y%0A'\"<b>&]]>\u202e"
	writeFile(t, "drafts/"+nasty+".wif", []byte("[WIF]\nVersion=1.1\n[TEXT]\nTitle="+strings.ReplaceAll(nasty, "\n", " ")+"\nstray\x1b[2J\n[THREADING]\n1=1\n[LIFTPLAN]\n1=1\n"))
	writeFile(t, "drafts/settings"+nasty+".wif", []byte("[WIF]\n"))
	writeFile(t, "drafts/settings"+nasty+".ini", []byte("[loom]\nshaftz = 3\n"))
	for _, form := range report.Names() {
		_, out, told := lintOnce("--format", form, "drafts", "no"+nasty)
		if !strings.Contains(told, "no file matches") || !strings.Contains(told, "shaftz") {
			t.Errorf("%s: the errors are missing: %q", form, told)
		}
		for _, text := range []string{out, told} {
			if strings.ContainsAny(text, "\x1b") {
				t.Errorf("%s: an escape gets through: %q", form, text)
			}
			if form != "annotations" && strings.Contains("\n"+text, "\n::") {
				t.Errorf("%s: a line begins like a command: %q", form, text)
			}
		}
		if form == "annotations" && (strings.Count(out, "\n") != strings.Count(out, ",title=") || strings.Contains(told, "\n::")) {
			t.Errorf("annotations: a line is none of ours: %q %q", out, told)
		}
	}
}
