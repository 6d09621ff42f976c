package lint

import (
	"bytes"
	"fmt"

	"fettle/schema"
	"fettle/schema/wording"
)

// Describe lists rules as text, JSON or Markdown. If whole is set it explains one rule.
func Describe(rules []Rule, form string, whole bool) ([]byte, error) {
	switch {
	case form == "json":
		return describeJSON(rules)
	case form == "markdown" && whole:
		return Page(&rules[0], Markdown), nil
	case form == "markdown":
		return Book(rules), nil
	case form == "text" && whole:
		return Page(&rules[0], Text), nil
	case form == "text":
		return list(rules), nil
	}
	return nil, fmt.Errorf("--format takes text, json or markdown, not %s", wording.Quote(form))
}

// list returns one line per rule.
func list(rules []Rule) []byte {
	var b bytes.Buffer
	width := 0
	for i := range rules {
		width = max(width, len(rules[i].ID))
	}
	for i := range rules {
		r := &rules[i]
		fmt.Fprintf(&b, "%-*s  %-7s  %s\n", width, r.ID, r.Default, r.Title)
	}
	return b.Bytes()
}

type ruleFacts struct {
	Rule     string            `json:"rule"`
	Title    string            `json:"title"`
	Severity schema.Severity   `json:"severity"`
	Why      string            `json:"why"`
	Options  []optionFacts     `json:"options"`
	Data     map[string]string `json:"data"`
	SafeOff  string            `json:"safe_off"`
	Source   string            `json:"source"`
	Fixable  bool              `json:"fixable"`
}

type optionFacts struct {
	Name    string `json:"name"`
	Default string `json:"default"`
	Text    string `json:"text"`
}

func describeJSON(rules []Rule) ([]byte, error) {
	facts := make([]ruleFacts, len(rules))
	for i := range rules {
		r := &rules[i]
		f := ruleFacts{r.ID, r.Title, r.Default, r.Explanation(), []optionFacts{}, map[string]string{}, r.SafeOff, r.Source, r.Fixable}
		for _, o := range r.Options {
			f.Options = append(f.Options, optionFacts{o.Name, o.Example(), o.Text})
		}
		for _, d := range r.Data {
			f.Data[d.Key] = d.Text
		}
		facts[i] = f
	}
	text, err := wording.JSON(facts, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("can't write the rules as JSON: %w", err)
	}
	return append(text, '\n'), nil
}
