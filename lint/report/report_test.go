package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/jsonschema"
)

// sample returns two files: one with findings, one clean.
func sample() ([]File, Summary) {
	text := "[WIF]\nTitle=\x1b[2Jé\tx\n12=3\n" + strings.Repeat("y", 300) + "=1\n"
	src := &schema.Source{Path: "a.wif", Text: []byte(text)}
	at := func(s string) schema.Span {
		i := strings.Index(text, s)
		return schema.Span{Start: i, End: i + len(s)}
	}
	findings := []schema.Finding{
		{Rule: "file/stray-line", Severity: schema.Note, Message: "a note", Span: at("Title=\x1b[2Jé\tx"),
			Fixes: []schema.Fix{{Title: "take it away", Risky: true, Edits: []schema.Edit{{Span: at("Title=\x1b[2Jé\tx")}}}}},
		{Rule: "loom/missing-heddles", Severity: schema.Error, Message: "shaft 3 needs 112 heddles & has 100", Span: at("12=3"),
			Data:  schema.Data{{Key: "shaft", Value: 3}, {Key: "short", Value: 12}},
			Fixes: []schema.Fix{{Title: "x"}, {Title: "say 4", Edits: []schema.Edit{{Span: schema.Span{Start: at("12=3").End - 1, End: at("12=3").End}, New: "4"}}}}},
		{Rule: "cloth/long-float", Severity: schema.Warning, Message: "far to the right", Span: at("=1"), Pointer: "/warp"},
	}
	for i := range findings {
		findings[i].Position = src.Position(findings[i].Span)
	}
	files := []File{{Path: "a.wif", Format: "wif", Source: src, Findings: findings, Prints: printed(new(lint.Linter).Fingerprints(src, findings)...),
		Suppressed: []lint.Suppressed{{Finding: ignored("cloth/layers", 3), Reason: "a bag"}, {Finding: ignored("draft/empty-pick", 4)}}, SuppressedPrints: printed("a:1", "b:1")}, {Path: "b <x>.json", Format: "json"}}
	var s Summary
	for _, f := range files {
		s.Add(f)
	}
	return files, s
}

func render(t *testing.T, form string, o Options, files []File, s Summary) string {
	t.Helper()
	var b bytes.Buffer
	w, err := New(form, &b, o)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if err := w.File(f); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(s); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestText(t *testing.T) {
	files, s := sample()
	want := `a.wif:2:1: note: a note [file/stray-line]
2 | Title= [2Jé x
  | ^^^^^^^^^^^^^
a.wif:3:1: error: shaft 3 needs 112 heddles & has 100 [loom/missing-heddles]
3 | 12=3
  | ^^^^
a.wif:4:301: warning: far to the right [cloth/long-float]
4 | yyyyyyyyyyyyyyyyyyyyyyyyy=1
  |                          ^^
`
	if got := render(t, "text", Options{}, files, s); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if got := render(t, "text", Options{}, files[1:], s); got != "" {
		t.Errorf("a clean file gives %q", got)
	}
	if got := render(t, "text", Options{Color: true}, files, s); !strings.Contains(got, "\x1b[") || strings.Contains(got, "\x1b[2J") {
		t.Errorf("in colors it is %q", got)
	}
}

// TestExcerptOfUnreadable checks that reports show a line of a text file, but not of a picture.
func TestExcerptOfUnreadable(t *testing.T) {
	for content, want := range map[string]string{"<html>\n": "1 | <html>\n  | ^\n", "\u00ff\x00\x10JFIF\n": ""} {
		f := schema.Finding{Rule: schema.FileUnreadable, Severity: schema.Error, Message: "not a draft", Position: schema.Position{Line: 1, Column: 1}}
		files := []File{{Path: "a.wif", Source: &schema.Source{Path: "a.wif", Text: []byte(content)}, Findings: []schema.Finding{f}}}
		if got := render(t, "text", Options{}, files, Summary{}); got != "a.wif:1:1: error: not a draft [file/unreadable]\n"+want {
			t.Errorf("%q: %q", content, got)
		}
		if page := render(t, "html", Options{}, files, Summary{}); strings.Contains(page, "<code>&lt;html&gt;</code>") != (want != "") || strings.Contains(page, "JFIF") {
			t.Errorf("%q: the page is %s", content, page)
		}
	}
}

func TestJSON(t *testing.T) {
	files, s := sample()
	got := render(t, "json", Options{}, files, s)
	if violations, err := jsonschema.Validate("findings", []byte(got)); err != nil || len(violations) > 0 {
		t.Errorf("against its schema: %v %v\n%s", violations, err, got)
	}
	var back struct {
		Files []struct {
			Path       string
			Suppressed []map[string]any
			Findings   []struct {
				Rule, Severity, Pointer string
				Line, Column            int
				EndColumn               int `json:"end_column"`
				Fixable                 bool
				Data                    map[string]any
				Fixes                   []struct {
					jsonFix
					Edits []jsonEdit
				}
			}
		}
		Summary Summary
	}
	if err := json.Unmarshal([]byte(got), &back); err != nil {
		t.Fatal(err)
	}
	f := back.Files[0].Findings[1]
	if len(back.Files) != 2 || back.Files[1].Path != "b <x>.json" || f.Rule != "loom/missing-heddles" || f.Line != 3 ||
		f.EndColumn != 5 || !f.Fixable || f.Data["short"] != 12.0 || back.Summary != s {
		t.Errorf("got %+v", back)
	}
	if got := fmt.Sprint(back.Files[0].Suppressed, back.Files[1].Suppressed); got !=
		"[map[line:3 reason:a bag rule:cloth/layers] map[line:4 reason: rule:draft/empty-pick]] []" {
		t.Errorf("left out: %s", got)
	}
	start := strings.Index(string(files[0].Source.Text), "12=3") + 3
	if len(f.Fixes) != 1 || f.Fixes[0].Title != "say 4" || f.Fixes[0].Risky || f.Fixes[0].Edits[0] != (jsonEdit{start, start + 1, 3, 4, 3, 5, "4"}) {
		t.Errorf("the fixes are %+v", f.Fixes)
	}
	if risky := back.Files[0].Findings[0].Fixes; len(risky) != 1 || !risky[0].Risky || back.Files[0].Findings[2].Fixes != nil {
		t.Errorf("the fixes are %+v", back.Files[0].Findings)
	}
	empty := render(t, "json", Options{}, nil, Summary{})
	if violations, err := jsonschema.Validate("findings", []byte(empty)); err != nil || len(violations) > 0 {
		t.Errorf("without files, against its schema: %v %v\n%s", violations, err, empty)
	}
}

func TestSummary(t *testing.T) {
	_, s := sample()
	if s != (Summary{Files: 2, Errors: 1, Warnings: 1, Notes: 1, Suppressed: 2}) {
		t.Errorf("got %+v", s)
	}
	if got := s.String(); got != "2 files: 1 error, 1 warning, 1 note, 2 ignored" {
		t.Errorf("got %q", got)
	}
	if got := (Summary{Files: 1}).String(); got != "1 file: nothing found" {
		t.Errorf("got %q", got)
	}
	if got := (Summary{Files: 1, NotChecked: 327}).String(); got != "1 file: nothing found, 327 not checked" {
		t.Errorf("got %q", got)
	}
	if got := (Summary{NotChecked: 2}).String(); got != "0 files, 2 not checked" {
		t.Errorf("got %q", got)
	}
	for least, want := range map[schema.Severity]int{schema.Off: 0, schema.Error: 1, schema.Warning: 2, schema.Note: 3} {
		if got := s.AtOrAbove(least); got != want {
			t.Errorf("%d at or above %s, want %d", got, least, want)
		}
	}
}

func TestUnknownForm(t *testing.T) {
	if _, err := New("csv", nil, Options{}); err == nil || err.Error() != "unknown report format 'csv'; use text, json, sarif, junit, annotations, quality or html" {
		t.Errorf("got %v", err)
	}
}

// ignored returns a finding that the draft ignores.
func ignored(rule string, line int) schema.Finding {
	return schema.Finding{Rule: rule, Severity: schema.Warning, Message: "two layers", Position: schema.Position{Line: line, Column: 1, EndLine: line, EndColumn: 2}}
}

func printed(prints ...string) func() []string { return func() []string { return prints } }
