package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/owenrumney/go-sarif/v3/pkg/report/v210/sarif"
	"github.com/xeipuuv/gojsonschema"

	"fettle/lint"
	"fettle/schema"
)

func testRules() []lint.Rule {
	return []lint.Rule{
		{ID: "cloth/long-float", Title: "a float is too long", Why: "It catches.", Default: schema.Warning, Keys: []string{"system", "side"}},
		{ID: "file/stray-line", Title: "a line is stray", Why: "It is lost.", Default: schema.Off},
		{ID: "loom/missing-heddles", Title: "heddles are missing", Why: "They run out.", Default: schema.Error, Keys: []string{"shaft"}},
		{ID: "file/unknown-key", Title: "a key is unknown", Why: "It is lost.", Default: schema.Warning, Keys: []string{"name"}},
	}
}

func options() Options {
	return Options{Rules: testRules(), Version: "v1.2.3", FailOn: schema.Error}
}

// published returns the published schema of SARIF 2.1.0, from the source of the module
// of SARIF types.
var published = sync.OnceValues(func() (*gojsonschema.Schema, error) {
	folder, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/owenrumney/go-sarif/v3").Output()
	if err != nil {
		return nil, err
	}
	source, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(folder)), "pkg/report/v210/sarif/schema.go"))
	if err != nil {
		return nil, err
	}
	_, text, _ := strings.Cut(string(source), "`")
	text, _, _ = strings.Cut(text, "`")
	return gojsonschema.NewSchema(gojsonschema.NewStringLoader(text))
})

// valid checks a SARIF report against the published schema, and against the library's
// types, which refuse unknown properties.
func valid(t *testing.T, text string) {
	t.Helper()
	d := json.NewDecoder(strings.NewReader(text))
	d.DisallowUnknownFields()
	var form sarif.Report
	if err := d.Decode(&form); err != nil {
		t.Fatalf("not in SARIF: %v\n%s", err, text)
	}
	s, err := published()
	if err != nil {
		t.Fatal(err)
	}
	result, err := s.Validate(gojsonschema.NewStringLoader(text))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range result.Errors() {
		t.Errorf("against the published schema: %v\n%s", e, text)
	}
}

// sarifLog is the part of a report that the tests read.
type sarifLog struct {
	Version string
	Runs    []struct {
		ColumnKind         string
		AutomationDetails  struct{ ID string }
		OriginalURIBaseIDs map[string]struct{ URI string }
		Invocations        []struct {
			ExecutionSuccessful        bool
			ToolExecutionNotifications []struct {
				Level     string
				Message   struct{ Text string }
				Locations []struct {
					PhysicalLocation struct {
						ArtifactLocation struct{ URI string }
					}
				}
			}
		}
		Tool struct {
			Driver struct {
				Name, Version string
				Rules         []struct {
					ID, Name             string
					ShortDescription     struct{ Text string }
					FullDescription      struct{ Text string }
					Help                 struct{ Text, Markdown string }
					DefaultConfiguration struct {
						Enabled bool
						Level   string
					}
				}
			}
		}
		Results []struct {
			RuleID              string
			RuleIndex           *int
			Level               string
			Message             struct{ Text string }
			PartialFingerprints map[string]string
			BaselineState       string
			Suppressions        []struct{ Kind, Justification string }
			Locations           []struct {
				PhysicalLocation struct {
					ArtifactLocation struct{ URI, URIBaseID string }
					Region           struct{ StartLine, StartColumn, EndLine, EndColumn int }
				}
			}
			Fixes []struct {
				Description     struct{ Text string }
				ArtifactChanges []struct {
					Replacements []struct {
						DeletedRegion   struct{ StartLine, StartColumn, EndLine, EndColumn int }
						InsertedContent struct{ Text string }
					}
				}
			}
		}
	}
}

func parseSARIF(t *testing.T, text string) sarifLog {
	t.Helper()
	valid(t, text)
	var log sarifLog
	if err := json.Unmarshal([]byte(text), &log); err != nil {
		t.Fatal(err)
	}
	return log
}

func TestSARIF(t *testing.T) {
	files, s := sample()
	log := parseSARIF(t, render(t, "sarif", options(), files, s))
	run := log.Runs[0]
	if log.Version != "2.1.0" || len(log.Runs) != 1 || run.ColumnKind != "unicodeCodePoints" ||
		run.Tool.Driver.Name != "fettle" || run.Tool.Driver.Version != "v1.2.3" {
		t.Errorf("got %+v", log)
	}
	rules := run.Tool.Driver.Rules
	if r := rules[2]; len(rules) != 4 || r.ID != "loom/missing-heddles" || r.ShortDescription.Text != "heddles are missing" ||
		r.FullDescription.Text != "They run out." || !strings.Contains(r.Help.Text, "They run out.") ||
		!strings.Contains(r.Help.Markdown, "## loom/missing-heddles") || r.DefaultConfiguration.Level != "error" {
		t.Errorf("the rule is %+v", r)
	}
	if r := rules[1].DefaultConfiguration; r.Enabled || r.Level != "none" {
		t.Errorf("a rule that is off is %+v", r)
	}
	if r := rules[2]; r.Name != "LoomMissingHeddles" || run.AutomationDetails.ID != "fettle/" {
		t.Errorf("names are %q and %q", r.Name, run.AutomationDetails.ID)
	}
	if base, ok := run.OriginalURIBaseIDs["%SRCROOT%"]; !ok || base.URI != "" {
		t.Errorf("the root is %v", run.OriginalURIBaseIDs)
	}
	var lines []string
	for _, r := range run.Results[:3] {
		lines = append(lines, r.RuleID+" "+r.Level+" "+rules[*r.RuleIndex].ID)
		if r.Suppressions != nil || r.BaselineState != "" {
			t.Errorf("%s is suppressed by %v, %s", r.RuleID, r.Suppressions, r.BaselineState)
		}
	}
	var ignored []string
	for _, r := range run.Results[3:] {
		ignored = append(ignored, fmt.Sprint(r.RuleID, " ", r.Level, " ", r.Suppressions, r.PartialFingerprints["primaryLocationLineHash"], r.RuleIndex))
	}
	if got := strings.Join(ignored, ", "); got != "cloth/layers warning [{inSource a bag}]a:1<nil>, draft/empty-pick warning [{inSource }]b:1<nil>" {
		t.Errorf("ignored: %s", got)
	}
	want := "loom/missing-heddles error loom/missing-heddles, cloth/long-float warning cloth/long-float, file/stray-line note file/stray-line"
	if got := strings.Join(lines, ", "); got != want {
		t.Errorf("results: %s, want %s", got, want)
	}
	first := run.Results[0]
	place := first.Locations[0].PhysicalLocation
	if r := place.Region; place.ArtifactLocation.URI != "a.wif" || place.ArtifactLocation.URIBaseID != "%SRCROOT%" || r.StartLine != 3 || r.StartColumn != 1 || r.EndLine != 3 || r.EndColumn != 5 {
		t.Errorf("the place is %+v", place)
	}
	if first.Message.Text != "shaft 3 needs 112 heddles & has 100" || first.PartialFingerprints["primaryLocationLineHash"] != files[0].Prints()[1] {
		t.Errorf("got %+v", first)
	}
	if len(first.Fixes) != 1 || first.Fixes[0].Description.Text != "say 4" {
		t.Fatalf("fixes: %+v", first.Fixes)
	}
	edit := first.Fixes[0].ArtifactChanges[0].Replacements[0]
	if d := edit.DeletedRegion; edit.InsertedContent.Text != "4" || d.StartLine != 3 || d.StartColumn != 4 || d.EndColumn != 5 {
		t.Errorf("the fix is %+v", edit)
	}
	if title := run.Results[2].Fixes[0].Description.Text; title != "take it away (risky: the draft may mean something else)" {
		t.Errorf("the title of a risky fix is %q", title)
	}
}

func TestSARIFOfNothing(t *testing.T) {
	log := parseSARIF(t, render(t, "sarif", Options{}, nil, Summary{}))
	if r := log.Runs[0].Results; r == nil || len(r) != 0 {
		t.Errorf("results of nothing are %v", r)
	}
}

// TestSARIFWithBaseline checks the baseline state of each result.
func TestSARIFWithBaseline(t *testing.T) {
	files, s := sample()
	files[0].Worse = []int{2}
	files[0].Known, files[0].KnownPrints = []schema.Finding{ignored("cloth/long-float", 4)}, []string{"k:1"}
	o := options()
	o.Baseline = true
	var got []string
	for _, r := range parseSARIF(t, render(t, "sarif", o, files, s)).Runs[0].Results {
		got = append(got, fmt.Sprint(r.RuleID, " ", r.BaselineState, r.Suppressions))
	}
	want := "loom/missing-heddles new[], cloth/long-float updated[], file/stray-line new[], cloth/long-float unchanged[{external it is in the baseline}], " +
		"cloth/layers [{inSource a bag}], draft/empty-pick [{inSource }]"
	if got := strings.Join(got, ", "); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// TestArtifact checks that only files below the root are relative to it.
func TestArtifact(t *testing.T) {
	for path, want := range map[string]string{"a/b.wif": rootBase, "a:b.wif": rootBase, "../b.wif": "", "/b.wif": "", "C:/b.wif": "", "-": ""} {
		if got := artifactOf(path).Base; got != want {
			t.Errorf("%s begins at %q, want %q", path, got, want)
		}
	}
}

func TestURI(t *testing.T) {
	for path, want := range map[string]string{
		"a.wif":               "a.wif",
		"deep/a b.wif":        "deep/a%20b.wif",
		"été.wif":             "%C3%A9t%C3%A9.wif",
		"100%.wif":            "100%25.wif",
		"a?b#c.wif":           "a%3Fb%23c.wif",
		"a:b.wif":             "./a:b.wif",
		"x\x1b[2J\n\".wif":    "x%1B%5B2J%0A%22.wif",
		"bad\xff.wif":         "bad%FF.wif",
		"/home/drafts/a.wif":  "file:///home/drafts/a.wif",
		"C:/drafts/a b.wif":   "file:///C:/drafts/a%20b.wif",
		"../a.wif":            "../a.wif",
		"it's <here> [1].wif": "it%27s%20%3Chere%3E%20%5B1%5D.wif",
	} {
		if got := uriOf(path); got != want {
			t.Errorf("%q is %s, want %s", path, got, want)
		}
	}
}

func TestCrowded(t *testing.T) {
	for _, test := range []struct {
		form     string
		findings int
		says     string
	}{
		{"sarif", 5000, ""}, {"sarif", 5001, "first 5,000"}, {"sarif", 25000, "first 5,000"}, {"sarif", 25001, "refuse"}, {"json", 99999, ""},
	} {
		got := Crowded(test.form, Summary{Notes: test.findings})
		if (got == "") != (test.says == "") || !strings.Contains(got, test.says) {
			t.Errorf("%d results as %s: %q", test.findings, test.form, got)
		}
	}
	if got := Crowded("sarif", Summary{Notes: 4999, Suppressed: 1, Known: 1}); !strings.Contains(got, "5001 results") {
		t.Errorf("with ignored and known findings: %q", got)
	}
}

// TestSARIFKeepsAll checks that a large report keeps all findings.
func TestSARIFKeepsAll(t *testing.T) {
	const n = 30000
	src := &schema.Source{Text: []byte("x\n")}
	f := File{Path: "a.wif", Source: src}
	for range n {
		f.Findings = append(f.Findings, schema.Finding{Rule: "cloth/long-float", Severity: schema.Note, Message: "m", Position: src.Position(schema.Span{})})
	}
	f.Prints = printed(new(lint.Linter).Fingerprints(src, f.Findings)...)
	var b bytes.Buffer
	w, err := New("sarif", &b, options())
	if err != nil {
		t.Fatal(err)
	}
	if err := w.File(f); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(Summary{}); err != nil {
		t.Fatal(err)
	}
	if got := strings.Count(b.String(), `"ruleId"`); got != n {
		t.Errorf("%d of %d", got, n)
	}
}

// TestPublishedSchemaRefuses checks that the test has the schema, and that it refuses a
// wrong report.
func TestPublishedSchemaRefuses(t *testing.T) {
	s, err := published()
	if err != nil {
		t.Fatal(err)
	}
	result, err := s.Validate(gojsonschema.NewStringLoader(`{"version": "2.0", "runs": []}`))
	if err != nil || result.Valid() {
		t.Errorf("another version is accepted: %v", err)
	}
}
