package report

import (
	"encoding/json"
	"encoding/xml"
	"io"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"fettle/lint"
	"fettle/schema"
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

// suites is JUnit XML as its readers have it.
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
		t.Errorf("behind the end: %v %v", rest, err)
	}
	return s
}

func TestJUnit(t *testing.T) {
	files, s := sample()
	files = append(files, File{Path: "page.wif", Source: &schema.Source{}, Prints: printed("x"), Findings: []schema.Finding{{Rule: schema.FileUnreadable,
		Severity: schema.Error, Message: "this is no draft", Position: schema.Position{Line: 1, Column: 1, EndLine: 1, EndColumn: 1}}}})
	got := junitOf(t, render(t, "junit", options(), files, s)).Suites
	if len(got) != 3 {
		t.Fatalf("%d suites", len(got))
	}
	if x := got[0]; x.Name != "a.wif" || x.Tests != 3 || x.Failures != 1 || x.Skipped != 2 || x.Errors != 0 || len(x.Cases) != 3 ||
		x.Cases[1].Failure == nil || x.Cases[1].Failure.Message != "shaft 3 needs 112 heddles & has 100" ||
		x.Cases[1].Name != "loom/missing-heddles at 3:1" || x.Cases[0].Skipped == nil {
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

// TestEscaping puts anything into paths, messages and data. No report may break,
// hold a character that drives a terminal, or lose a finding.
func TestEscaping(t *testing.T) {
	nasty := rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.SampledFrom([]rune("\x00\x1b\x07\r\n\t%'\"<>&]:,;\\{}\u202e\u2028\u009b\ufeff"))))
	rapid.Check(t, func(rt *rapid.T) {
		text := nasty.Draw(rt, "text") + "\nx"
		src := &schema.Source{Text: []byte(text)}
		f := File{Path: "a" + nasty.Draw(rt, "path"), Format: "wif", Source: src}
		for range rapid.IntRange(1, 3).Draw(rt, "findings") {
			x := schema.Finding{Rule: "cloth/long-float", Severity: schema.Error, Message: "m" + schema.Plain(nasty.Draw(rt, "message"), 60),
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
		t.Errorf("%s is no UTF-8: %q", form, got)
	}
	for _, r := range got {
		if r != '\n' && r < 0x20 || (form == "text" || form == "annotations") && r != '\n' && schema.Printable(r) != r {
			t.Fatalf("%s holds %q: %q", form, r, got)
		}
	}
	count := 0
	switch form {
	case "json":
		if v, err := schema.Validate("findings", []byte(got)); err != nil || len(v) > 0 {
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

// TestTextIsNoCommand keeps a path from being taken for a command of a CI
// service.
func TestTextIsNoCommand(t *testing.T) {
	f := File{Path: "::error::x.wif", Source: &schema.Source{}, Findings: []schema.Finding{{Rule: "a/b", Severity: schema.Error, Message: "m"}}}
	if got := render(t, "text", Options{}, []File{f}, Summary{}); !strings.HasPrefix(got, "./::error::x.wif:") {
		t.Errorf("got %q", got)
	}
}
