package lint

import (
	"encoding/json"
	"strings"
	"testing"

	"fettle/schema"
)

// full returns a rule with all its fields.
func full() Rule {
	return Rule{ID: "loom/length", Title: "the loom is too short", Why: strings.Repeat("A long paragraph says why. ", 10), Default: schema.Warning,
		Options: []Option{{Name: "length", Kind: Length, Default: 12.7, Text: "the longest"}, {Name: "threads", Kind: Threads, Default: 9, Text: "the most"}},
		Faulty:  Example{Draft: "[TEXT]\nTitle=Faulty\n", Settings: "[loom]\nshafts = 4\n"}, Fixed: Example{Draft: "[TEXT]\nTitle=Fixed\n"},
		SafeOff: "where the loom is long", Source: "common practice, no source", Data: []Field{{"shaft", "the shaft that lacks"}}, Keys: []string{"shaft"},
		Measures: []Measure{{Key: "short"}}, Fixable: true}
}

// TestPage checks that a page has all texts of its rule, in both styles.
func TestPage(t *testing.T) {
	r := full()
	for name, page := range map[string]string{"text": string(Page(&r, Text)), "markdown": string(Page(&r, Markdown)), "book": string(Book([]Rule{r}))} {
		for _, want := range []string{r.ID, r.Title[1:], "warning", "length", "threads", "the longest", "Title=Faulty", "Title=Fixed", "shafts = 4", r.SafeOff[1:], r.Source[1:], "the shaft that lacks"} {
			if !strings.Contains(page, want) {
				t.Errorf("%s lacks %q:\n%s", name, want, page)
			}
		}
	}
	for line := range strings.Lines(string(Page(&r, Text))) {
		if len(strings.TrimSuffix(line, "\n")) > 80 {
			t.Errorf("too long: %q", line)
		}
	}
}

func TestDescribe(t *testing.T) {
	rules := []Rule{full(), {ID: "a/b", Title: "b", Default: schema.Off}}
	for _, c := range []struct {
		form  string
		whole bool
		want  string
	}{
		{"text", false, "loom/length  warning  the loom is too short\na/b          off      b\n"},
		{"text", true, string(Page(&rules[0], Text))},
		{"markdown", false, string(Book(rules))},
		{"markdown", true, string(Page(&rules[0], Markdown))},
	} {
		if got, err := Describe(rules, c.form, c.whole); err != nil || string(got) != c.want {
			t.Errorf("%s %v: %v\n%s", c.form, c.whole, err, got)
		}
	}
	text, err := Describe(rules, "json", false)
	var facts []map[string]any
	if wrong := json.Unmarshal(text, &facts); err != nil || wrong != nil || len(facts) != 2 || facts[0]["rule"] != "loom/length" ||
		facts[0]["data"].(map[string]any)["shaft"] != "the shaft that lacks" || len(facts[0]["options"].([]any)) != 2 || facts[1]["severity"] != "off" {
		t.Errorf("%v %v\n%s", err, wrong, text)
	}
	if _, err := Describe(rules, "xml", false); err == nil {
		t.Error("no error for an unknown form")
	}
}

// TestRulebook checks names of rules and families, as in settings.
func TestRulebook(t *testing.T) {
	book := Rulebook{full(), {ID: "loom/b"}}
	for _, c := range []struct {
		name    string
		options []string
		known   bool
		takes   bool
	}{
		{"loom/length", nil, true, true},
		{"loom/length", []string{"5 mm"}, true, true},
		{"loom/length", []string{"wide"}, true, false},
		{"loom", nil, true, true},
		{"loom", []string{"5 mm"}, true, false},
		{"loom/lenght", nil, false, false},
		{"nothing", nil, false, false},
	} {
		if err := book.Known(c.name); (err == nil) != c.known {
			t.Errorf("%s is known: %v", c.name, err)
		}
		if err := book.Takes(c.name, c.options); (err == nil) != c.takes {
			t.Errorf("%s takes %q: %v", c.name, c.options, err)
		}
	}
	if err := book.Known("loom/lenght"); err == nil || !strings.Contains(err.Error(), "loom/length") {
		t.Errorf("the nearest is not named: %v", err)
	}
	for id, found := range map[string]bool{"loom/b": true, "loom": false, "loom/c": false} {
		if r, err := Find(book, id); (err == nil) != found || found && r.ID != id {
			t.Errorf("%s: %v, %v", id, r, err)
		}
	}
}
