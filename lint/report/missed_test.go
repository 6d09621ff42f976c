package report

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"fettle/schema/jsonschema"
)

// withMissed returns a report on one clean file and two missed files.
func withMissed(t *testing.T, form string) string {
	t.Helper()
	var b bytes.Buffer
	w, err := New(form, &b, options())
	if err != nil {
		t.Fatal(err)
	}
	w = All(w) // like a run with several reports
	for _, err := range []error{
		w.Missed(Missed{Path: "attic <1>", Reason: "it may not be opened"}),
		w.File(File{Path: "a.wif", Format: "wif"}),
		w.Missed(Missed{Path: "old/b c.wif", Reason: "old/fettle.ini:2:1: there is no key 'shaft'"}),
		w.Close(Summary{Files: 1, NotChecked: 2}),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	return b.String()
}

func TestMissedInJSON(t *testing.T) {
	got := withMissed(t, "json")
	if violations, err := jsonschema.Validate("findings", []byte(got)); err != nil || len(violations) > 0 {
		t.Errorf("against its schema: %v %v\n%s", violations, err, got)
	}
	var back struct {
		Missed  []Missed `json:"not_looked_at"`
		Summary Summary
	}
	if err := json.Unmarshal([]byte(got), &back); err != nil {
		t.Fatal(err)
	}
	want := []Missed{{Path: "attic <1>", Reason: "it may not be opened"}, {Path: "old/b c.wif", Reason: "old/fettle.ini:2:1: there is no key 'shaft'"}}
	if !slices.Equal(back.Missed, want) || back.Summary != (Summary{Files: 1, NotChecked: 2}) {
		t.Errorf("got %+v", back)
	}
}

func TestMissedInJUnit(t *testing.T) {
	suites := junitOf(t, withMissed(t, "junit")).Suites
	if len(suites) != 3 || suites[0].Errors != 1 || suites[1].Errors != 0 || suites[2].Errors != 1 {
		t.Fatalf("got %+v", suites)
	}
	if c := suites[2].Cases[0]; c.Error == nil || c.Error.Message != "old/fettle.ini:2:1: there is no key 'shaft'" || c.File != "old/b c.wif" {
		t.Errorf("got %+v", c)
	}
}

func TestMissedInSARIF(t *testing.T) {
	log := parseSARIF(t, withMissed(t, "sarif"))
	run := log.Runs[0].Invocations[0]
	if run.ExecutionSuccessful || len(run.ToolExecutionNotifications) != 2 {
		t.Fatalf("got %+v", run)
	}
	n := run.ToolExecutionNotifications[1]
	if n.Level != "error" || n.Message.Text != "not checked: old/fettle.ini:2:1: there is no key 'shaft'" ||
		n.Locations[0].PhysicalLocation.ArtifactLocation.URI != "old/b%20c.wif" {
		t.Errorf("got %+v", n)
	}
	if whole := parseSARIF(t, render(t, "sarif", options(), nil, Summary{})).Runs[0].Invocations; len(whole) != 1 || !whole[0].ExecutionSuccessful {
		t.Errorf("of a whole run: %+v", whole)
	}
}

func TestMissedInOtherForms(t *testing.T) {
	for form, want := range map[string][]string{
		"annotations": {"::error file=attic <1>,title=not checked::it may not be opened\n"},
		"quality":     {`"check_name":"not-checked"`, `"severity":"blocker","location":{"path":"attic <1>"`},
		"html": {"<li>attic &lt;1&gt;: it may not be opened</li>", "<li>old/b c.wif: old/fettle.ini:2:1: there is no key &#39;shaft&#39;</li>\n</ul>",
			"1 file: nothing found, 2 not checked"},
	} {
		got := withMissed(t, form)
		for _, w := range want {
			if !strings.Contains(got, w) {
				t.Errorf("%s is without %q:\n%s", form, w, got)
			}
		}
	}
	if !json.Valid([]byte(withMissed(t, "quality"))) {
		t.Error("the quality report is not JSON")
	}
}

// TestManyMissedOnAPage checks that a page names some missed files and counts the rest.
func TestManyMissedOnAPage(t *testing.T) {
	var b bytes.Buffer
	w, err := New("html", &b, options())
	if err != nil {
		t.Fatal(err)
	}
	for range mostMissed + 7 {
		if err := w.Missed(Missed{Path: "a.wif", Reason: "gone"}); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(Summary{NotChecked: mostMissed + 7}); err != nil {
		t.Fatal(err)
	}
	if got := b.String(); strings.Count(got, "<li>a.wif: gone</li>") != mostMissed || !strings.Contains(got, "<li>and 7 more</li>") {
		t.Error(got[len(got)-300:])
	}
}
