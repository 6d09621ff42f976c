package main

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fettle/corpus"
	"fettle/lint/report"
)

// TestSeededCollection lints drafts with known faults. Every report format lists exactly
// those, and has the same bytes with one worker and with many.
func TestSeededCollection(t *testing.T) {
	t.Chdir(t.TempDir())
	want := map[string]bool{} // "path rule"
	drafts := 200
	if *long {
		drafts = 2_000
	}
	for n := range drafts {
		raw, facts := corpus.Dirty(uint64(n))
		path := fmt.Sprintf("drafts/%02d/dräft %04d.wif", n/100, n)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, raw, 0o644); err != nil {
			t.Fatal(err)
		}
		for _, rule := range facts.Rules {
			want[path+" "+rule] = true
		}
	}
	findings := 0
	for _, form := range report.Names() {
		if form == "html" {
			continue // it draws every draft and has its own tests
		}
		one, many := lintAll(t, form, "1"), lintAll(t, form, "7")
		if one != many {
			t.Errorf("%s: one worker and seven write other bytes", form)
		}
		got, count := toldBy(t, form, one)
		if findings == 0 {
			findings = count
		}
		if count != findings {
			t.Errorf("%s tells %d findings, the first form %d", form, count, findings)
		}
		if missing := difference(want, got); len(missing) > 0 {
			t.Errorf("%s lacks %d findings: %v", form, len(missing), missing[:min(len(missing), 3)])
		}
		if more := difference(got, want); len(more) > 0 {
			t.Errorf("%s has %d findings too many: %v", form, len(more), more[:min(len(more), 3)])
		}
	}
	if findings < drafts {
		t.Errorf("only %d findings in %d drafts", findings, drafts)
	}
}

func difference(a, b map[string]bool) []string {
	var list []string
	for _, x := range slices.Sorted(maps.Keys(a)) {
		if !b[x] {
			list = append(list, x)
		}
	}
	return list
}

// lintAll returns the report on all drafts, without the rules across files.
func lintAll(t *testing.T, form, jobs string) string {
	t.Helper()
	var out, told bytes.Buffer
	p := &program{in: strings.NewReader(""), out: &out, err: &told}
	status := p.run([]string{"fettle", "lint", "--quiet", "--only", "file", "--format", form, "--jobs", jobs, "drafts"})
	if status != statusFound || told.Len() > 0 {
		t.Fatalf("%s: exit status %d: %s", form, status, told.String())
	}
	return out.String()
}

// toldBy returns the findings in a report as "path rule", and their number.
func toldBy(t *testing.T, form, text string) (map[string]bool, int) {
	t.Helper()
	got, count := map[string]bool{}, 0
	add := func(path, rule string) {
		got[path+" "+rule] = true
		count++
	}
	var err error
	switch form {
	case "text":
		for _, m := range regexp.MustCompile(`(?m)^(drafts/.*?\.wif):\d+:\d+: [a-z]+: .* \[(.*)\]$`).FindAllStringSubmatch(text, -1) {
			add(m[1], m[2])
		}
	case "annotations":
		for _, m := range regexp.MustCompile(`(?m)^::[a-z]+ file=(.*?),line=.*?,title=(.*?)::.+$`).FindAllStringSubmatch(text, -1) {
			add(m[1], m[2])
		}
	case "json":
		var r struct {
			Files []struct {
				Path     string
				Findings []struct{ Rule string }
			}
		}
		err = json.Unmarshal([]byte(text), &r)
		for _, f := range r.Files {
			for _, x := range f.Findings {
				add(f.Path, x.Rule)
			}
		}
	case "sarif":
		var r struct {
			Runs []struct {
				Results []struct {
					RuleID    string
					Locations []struct {
						PhysicalLocation struct{ ArtifactLocation struct{ URI string } }
					}
				}
			}
		}
		err = json.Unmarshal([]byte(text), &r)
		for _, x := range r.Runs[0].Results {
			path := strings.NewReplacer("%C3%A4", "ä", "%20", " ").Replace(x.Locations[0].PhysicalLocation.ArtifactLocation.URI)
			add(path, x.RuleID)
		}
	case "quality":
		var r []struct {
			Check    string `json:"check_name"`
			Location struct{ Path string }
		}
		err = json.Unmarshal([]byte(text), &r)
		for _, x := range r {
			add(x.Location.Path, x.Check)
		}
	case "junit":
		var r struct {
			Suites []struct {
				Name  string `xml:"name,attr"`
				Cases []struct {
					Name    string    `xml:"name,attr"`
					Failure *struct{} `xml:"failure"`
					Error   *struct{} `xml:"error"`
				} `xml:"testcase"`
			} `xml:"testsuite"`
		}
		err = xml.Unmarshal([]byte(text), &r)
		for _, s := range r.Suites {
			for _, c := range s.Cases {
				if rule, _, _ := strings.Cut(c.Name, " "); strings.HasPrefix(rule, "file/") {
					add(s.Name, rule)
				}
			}
		}
	default:
		t.Fatalf("%s is looked at by no test", form)
	}
	if err != nil {
		t.Fatalf("%s: %v", form, err)
	}
	return got, count
}
