package lint

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fettle/formats/draftjson"
	"fettle/formats/wif"
	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/settings"
)

const (
	twill  = "[WIF]\nVersion=1.1\n[WEAVING]\nShafts=4\nTreadles=4\n[WARP]\nThreads=8\n[WEFT]\nThreads=8\n[COLOR PALETTE]\nEntries=2\nRange=0,255\n[COLOR TABLE]\n1=0,0,0\n2=255,0,0\n"
	twillA = "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n[LIFTPLAN]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n5=1,2\n6=2,3\n7=3,4\n8=1,4\n"
	inRed  = "[WARP COLORS]\n1=2\n2=2\n3=2\n4=2\n5=2\n6=2\n7=2\n8=2\n"
)

// check lints a draft with the rules across files and the settings beside it.
func check(t *testing.T, rules []Rule, path, text string) Result {
	t.Helper()
	l, err := New(rules, Selection{})
	if err != nil {
		t.Fatal(err)
	}
	c := Checker{Linter: l, Finder: settings.NewFinder(settings.Options{Rules: Rulebook(rules)})}
	result, err := c.Check(wif.Read(&schema.Source{Path: path, Text: []byte(text)}))
	if err != nil {
		t.Fatal(err)
	}
	return result
}

// TestAcross compares drafts of the same cloth, in the same or other colors, seen from
// different sides.
func TestAcross(t *testing.T) {
	rules := []Rule{{ID: Duplicate, Default: schema.Note}, {ID: NameClash, Default: schema.Warning}}
	folder := t.TempDir()
	turned := strings.NewReplacer("1=1,2\n2=2,3\n3=3,4\n4=1,4\n5=1,2\n6=2,3\n7=3,4\n8=1,4", "1=1,4\n2=3,4\n3=2,3\n4=1,2\n5=1,4\n6=3,4\n7=2,3\n8=1,2").Replace(twillA)
	across := NewAcross()
	for _, c := range []struct{ path, text, other, how string }{
		{"a.wif", twill + twillA, "", ""},
		{"b.wif", twill + twillA, "a.wif", "identical"},
		{"c.wif", twill + twillA + inRed, "a.wif", "in other colors"},
		{"d.wif", twill + turned, "a.wif", ""},
		{"e.wif", twill + "[THREADING]\n1=1\n[LIFTPLAN]\n1=1\n", "", ""},
		{"f.wif", "[WIF]\nVersion=1.1\n", "", ""},
	} {
		result := check(t, rules, filepath.Join(folder, c.path), c.text)
		found, _ := across.Add(c.path, across.Traits(&result))
		switch {
		case c.other == "" && len(found) > 0:
			t.Errorf("%s: %+v", c.path, found)
		case c.other != "" && (len(found) != 1 || found[0].Data.Get("path") != c.other || c.how != "" && found[0].Data.Get("how") != c.how):
			t.Errorf("%s: %+v", c.path, found)
		}
	}
	result := check(t, rules, filepath.Join(folder, "A.wif"), "[WIF]\nVersion=1.1\n")
	if found, _ := across.Add("A.wif", across.Traits(&result)); len(found) != 1 || found[0].Rule != NameClash {
		t.Errorf("capitals alone: %+v", found)
	}
	ignoring := check(t, rules, filepath.Join(folder, "z.wif"), "; fettle: ignore collection/duplicate - the pupils' copy\n"+twill+twillA)
	found, left := across.Add("z.wif", across.Traits(&ignoring))
	if len(found) != 0 || len(left) != 1 || left[0].Reason != "the pupils' copy" {
		t.Errorf("ignored: %+v %+v", found, left)
	}
}

// TestOnlyAcross checks that no rule for single files runs.
func TestOnlyAcross(t *testing.T) {
	l, err := New(append(testRules(), Rule{ID: Duplicate, Default: schema.Note}), Selection{})
	if err != nil {
		t.Fatal(err)
	}
	if only := l.OnlyAcross(); !only.mayRun(Duplicate) || only.mayRun("a/one") || only.None() {
		t.Errorf("%+v", only.chosen)
	}
}

// TestChecker runs rules with the settings beside a draft, and with those in the draft, one
// of which is wrong.
func TestChecker(t *testing.T) {
	folder := t.TempDir()
	ini := "[loom]\nshafts = 4\n[rules]\nloom/length = error, 30 mm\n"
	if err := os.WriteFile(filepath.Join(folder, settings.FileName), []byte(ini), 0o644); err != nil {
		t.Fatal(err)
	}
	rule := full()
	rule.Check = func(p *Pass) {
		length, stated := p.Option("length")
		floats := p.Floats(cloth.Measure{}, cloth.Measure{})
		if _, there := p.Option("no such option"); there || length != 30 || !stated || p.Setup.Loom.Shafts != 4 || p.Runs("b/off") {
			t.Errorf("length %v %v, %+v, %v", length, stated, p.Setup.Loom, floats)
		}
		if p.Editor() == nil || p.Cloth().Ends() != 8 {
			t.Errorf("editor %v, %d ends", p.Editor(), p.Cloth().Ends())
		}
		_ = p.Units()
		p.Report(schema.Place{Part: schema.PartThreading, Row: 1}, schema.Data{{Key: "shaft", Value: 1}}, "found")
		p.Fix(schema.Fix{Title: "mend"})
	}
	rules := []Rule{rule, {ID: "b/off", Default: schema.Off}, {ID: schema.FileBadValue, Default: schema.Error}}
	own := `{"fettle":1,"threading":[1,2,3,4,1,2,3,4],"liftplan":[[1,2],[2,3]],"project":{"sett":"fast"}}`
	l, err := New(rules, Selection{})
	if err != nil {
		t.Fatal(err)
	}
	c := Checker{Linter: l, Finder: settings.NewFinder(settings.Options{Rules: Rulebook(rules)})}
	result, err := c.Check(draftjson.Read(&schema.Source{Path: filepath.Join(folder, "a.json"), Text: []byte(own)}))
	if err != nil || len(result.Findings) != 2 {
		t.Fatalf("%+v, %v", result.Findings, err)
	}
	for _, f := range result.Findings {
		switch {
		case f.Rule == "loom/length" && f.Severity == schema.Error && len(f.Fixes) == 1 && f.Position.Line == 1:
		case f.Rule == schema.FileBadValue && f.Pointer == "/project/sett" && f.Data.Get("value") == "fast":
		default:
			t.Errorf("%+v", f)
		}
	}
}
