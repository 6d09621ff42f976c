package report

import (
	"encoding/json"
	"encoding/xml"
	"io"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/jsonschema"
	"fettle/schema/wording"
)

func TestAnnotations(t *testing.T) {
	files, s := sample()
	want := `::notice file=a.wif,line=2,col=1,endLine=2,endColumn=14,title=file/stray-line::a note
::error file=a.wif,line=3,col=1,endLine=3,endColumn=5,title=loom/missing-heddles::shaft 3 needs 112 heddles & has 100
::warning file=a.wif,line=4,col=301,endLine=4,endColumn=303,title=cloth/long-float::far to the right
`
	if got := render(t, "annotations", options(), files, s); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	f := File{Path: "a,b:c%.wif", Source: &schema.Source{}, Prints: printed("x"), Findings: []schema.Finding{{Rule: "a/b",
		Severity: schema.Error, Message: "50 % of\r\n::error::it", Position: schema.Position{Line: 1, Column: 4, EndLine: 2, EndColumn: 2}}}}
	want = "::error file=a%2Cb%3Ac%25.wif,line=1,endLine=2,title=a/b::50 %25 of%0D%0A::error::it\n"
	if got := render(t, "annotations", options(), []File{f}, Summary{}); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestQuality(t *testing.T) {
	files, s := sample()
	got := qualityOf(t, render(t, "quality", options(), files, s))
	if len(got) != 3 {
		t.Fatalf("got %+v", got)
	}
	x := got[1]
	if x.Description != "shaft 3 needs 112 heddles & has 100" || x.CheckName != "loom/missing-heddles" || x.Severity != "critical" ||
		x.Location != (qualityLocation{"a.wif", qualityLines{3, 3}}) {
		t.Errorf("got %+v", x)
	}
	if got[0].Severity != "info" || got[2].Severity != "major" {
		t.Errorf("severities %s %s", got[0].Severity, got[2].Severity)
	}
	if empty := render(t, "quality", options(), files[1:], s); len(qualityOf(t, empty)) != 0 {
		t.Errorf("of a clean file: %s", empty)
	}
	if uniquePrint("a.wif", "1:1") == uniquePrint("b.wif", "1:1") {
		t.Error("findings of two files have one fingerprint")
	}
}

func qualityOf(t *testing.T, text string) (issues []qualityIssue) {
	t.Helper()
	if err := json.Unmarshal([]byte(text), &issues); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return issues
}

// suites is JUnit XML as programs read it.
type suites struct {
	XMLName xml.Name     `xml:"testsuites"`
	Suites  []junitSuite `xml:"testsuite"`
}

func junitOf(t *testing.T, text string) suites {
	t.Helper()
	var s suites
	d := xml.NewDecoder(strings.NewReader(text))
	if err := d.Decode(&s); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	if rest, err := d.Token(); err != io.EOF && strings.TrimSpace(string(rest.(xml.CharData))) != "" {
		t.Errorf("after the end: %v %v", rest, err)
	}
	return s
}

func TestJUnit(t *testing.T) {
	files, s := sample()
	files = append(files, File{Path: "page.wif", Source: &schema.Source{}, Prints: printed("x"), Findings: []schema.Finding{{Rule: schema.FileUnreadable,
		Severity: schema.Error, Message: "this is not a draft", Position: schema.Position{Line: 1, Column: 1, EndLine: 1, EndColumn: 1}}}})
	got := junitOf(t, render(t, "junit", options(), files, s)).Suites
	if len(got) != 3 {
		t.Fatalf("%d suites", len(got))
	}
	if x := got[0]; x.Name != "a.wif" || x.Tests != 3 || x.Failures != 1 || x.Skipped != 2 || x.Errors != 0 || len(x.Cases) != 3 ||
		x.Cases[1].Failure == nil || x.Cases[1].Failure.Message != "shaft 3 needs 112 heddles & has 100" ||
		x.Cases[1].Name != "loom/missing-heddles (shaft 3)" || x.Cases[0].Skipped == nil {
		t.Errorf("with findings: %+v", x)
	}
	if x := got[1]; x.Name != "b <x>.json" || x.Tests != 1 || x.Failures+x.Skipped+x.Errors != 0 || x.Cases[0].Failure != nil {
		t.Errorf("a clean file: %+v", x)
	}
	if x := got[2]; x.Errors != 1 || x.Failures != 0 || x.Cases[0].Error == nil {
		t.Errorf("no draft: %+v", x)
	}
	strict := options()
	strict.FailOn = schema.Note
	if x := junitOf(t, render(t, "junit", strict, files, s)).Suites[0]; x.Failures != 3 {
		t.Errorf("where notes fail the run: %+v", x)
	}
	if x := junitOf(t, render(t, "junit", options(), nil, Summary{})).Suites; len(x) != 0 {
		t.Errorf("of no files: %+v", x)
	}
}

// TestCaseNames checks that the name of a case stays the same if its line or measure
// changes.
func TestCaseNames(t *testing.T) {
	finding := func(rule string, line int, data schema.Data) schema.Finding {
		return schema.Finding{Rule: rule, Data: data, Position: schema.Position{Line: line}}
	}
	float := func(side string, length float64) schema.Data {
		return schema.Data{{Key: "system", Value: "warp"}, {Key: "side", Value: side}, {Key: "length_mm", Value: length}, {Key: "thread", Value: 7}}
	}
	heddles := func(shaft, short int) schema.Data {
		return schema.Data{{Key: "shaft", Value: shaft}, {Key: "short", Value: short}}
	}
	j := newJUnit(io.Discard, options()).(*junit)
	list := []schema.Finding{finding("file/stray-line", 1, nil), finding("file/stray-line", 9, nil), finding("cloth/long-float", 2, float("face", 20)),
		finding("cloth/long-float", 2, float("back", 14)), finding("loom/missing-heddles", 3, heddles(1, 12)), finding("loom/missing-heddles", 3, heddles(2, 12)),
		finding("file/unknown-key", 4, schema.Data{{Key: "name", Value: "a\nb"}, {Key: "suggestion", Value: "c"}})}
	want := []string{"file/stray-line", "file/stray-line #2", "cloth/long-float (warp, face)", "cloth/long-float (warp, back)",
		"loom/missing-heddles (shaft 1)", "loom/missing-heddles (shaft 2)", "file/unknown-key (a b)"}
	if got := j.caseNames(list); !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	for i := range list { // moved, and worse
		list[i].Position.Line += 10
	}
	list[2].Data, list[4].Data = float("face", 31), heddles(1, 90)
	if got := j.caseNames(list); !slices.Equal(got, want) {
		t.Errorf("after an edit: got %q, want %q", got, want)
	}
}

func TestCaseNamesDiffer(t *testing.T) {
	j := newJUnit(io.Discard, Options{Rules: []lint.Rule{{ID: "a/b", Keys: []string{"section", "key"}}, {ID: "a/b-c"}}}).(*junit)
	value := rapid.SampledFrom([]string{"a", "a) #2", "a #2", "", "x, y", "x"})
	rapid.Check(t, func(t *rapid.T) {
		var list []schema.Finding
		for range rapid.IntRange(0, 12).Draw(t, "findings") {
			list = append(list, schema.Finding{Rule: rapid.SampledFrom([]string{"a/b", "a/b-c"}).Draw(t, "rule"),
				Data: schema.Data{{Key: "section", Value: value.Draw(t, "section")}, {Key: "key", Value: value.Draw(t, "key")}}})
		}
		names := j.caseNames(list)
		slices.Sort(names)
		if len(slices.Compact(names)) != len(list) {
			t.Fatalf("names: %q", names)
		}
	})
}

// TestEscaping puts random text into paths, messages and data. No report may break,
// contain a control character for a terminal, or lose a finding.
func TestEscaping(t *testing.T) {
	nasty := rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.SampledFrom([]rune("\x00\x1b\x07\r\n\t%'\"<>&]:,;\\{}\u202e\u2028\u009b\ufeff"))))
	rapid.Check(t, func(rt *rapid.T) {
		text := nasty.Draw(rt, "text") + "\nx"
		src := &schema.Source{Text: []byte(text)}
		f := File{Path: "a" + nasty.Draw(rt, "path"), Format: "wif", Source: src}
		for range rapid.IntRange(1, 3).Draw(rt, "findings") {
			x := schema.Finding{Rule: "cloth/long-float", Severity: schema.Error, Message: "m" + wording.Plain(nasty.Draw(rt, "message"), 60),
				Span:  schema.Span{Start: 0, End: rapid.IntRange(0, len(text)).Draw(rt, "end")},
				Data:  schema.Data{{Key: "word", Value: nasty.Draw(rt, "word")}},
				Fixes: []schema.Fix{{Title: "t", Edits: []schema.Edit{{Span: schema.Span{End: 1}, New: nasty.Draw(rt, "new")}}}}}
			x.Position = src.Position(x.Span)
			f.Findings = append(f.Findings, x)
		}
		f.Prints = printed(new(lint.Linter).Fingerprints(src, f.Findings)...)
		n := len(f.Findings)
		for _, form := range Names() {
			checkEscaped(t, form, render(t, form, options(), []File{f}, Summary{Files: 1, Errors: n}), n)
		}
	})
}

func checkEscaped(t *testing.T, form, got string, findings int) {
	t.Helper()
	if !utf8.ValidString(got) {
		t.Errorf("%s is not UTF-8: %q", form, got)
	}
	for _, r := range got {
		if r != '\n' && r < 0x20 || (form == "text" || form == "annotations") && r != '\n' && wording.Printable(r) != r {
			t.Fatalf("%s holds %q: %q", form, r, got)
		}
	}
	count := 0
	switch form {
	case "json":
		if v, err := jsonschema.Validate("findings", []byte(got)); err != nil || len(v) > 0 {
			t.Fatalf("json: %v %v %s", v, err, got)
		}
		count = strings.Count(got, `"rule": "cloth/long-float"`)
	case "sarif":
		count = len(parseSARIF(t, got).Runs[0].Results)
	case "junit":
		count = len(junitOf(t, got).Suites[0].Cases)
	case "quality":
		count = len(qualityOf(t, got))
	case "annotations":
		count = strings.Count("\n"+got, "\n::error ")
		if lines := strings.Count(got, "\n"); lines != findings {
			t.Fatalf("annotations in %d lines: %q", lines, got)
		}
	case "text":
		count = strings.Count(got, " [cloth/long-float]\n")
	default:
		count = findings
	}
	if count != findings {
		t.Fatalf("%s has %d findings of %d: %q", form, count, findings, got)
	}
}
