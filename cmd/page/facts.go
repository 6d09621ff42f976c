package main

import (
	"strings"

	"fettle/formats"
	"fettle/lint/report"
	"fettle/schema/settings"
	"fettle/schema/wording"
)

// section and key are those of fettle.ini, for the form.
type section struct {
	Name    string `json:"name"`
	Named   bool   `json:"named"` // a heading may have a name
	Meaning string `json:"meaning"`
	Keys    []key  `json:"keys"`
}

type key struct {
	Name    string   `json:"name"`
	Type    string   `json:"type"`
	Example string   `json:"example"`
	Meaning string   `json:"meaning"`
	Advice  string   `json:"advice,omitempty"`
	Choices []string `json:"choices,omitempty"`
}

// facts returns what the page's scripts know of the program, as JSON: its settings, the
// formats that it writes, and those of its reports.
func facts() (string, error) {
	var sections []section
	for _, s := range settings.Known() {
		known := section{Name: s.Name, Named: s.MayBeNamed, Meaning: s.Description}
		for _, k := range s.Keys {
			known.Keys = append(known.Keys, key{k.Name, k.Type, k.Example, k.Description, k.Advice, k.Choices})
		}
		sections = append(sections, known)
	}
	text, err := wording.JSON(map[string]any{
		"settings": sections, "formats": formats.Names(), "drawings": formats.Drawings(), "reports": report.Names(),
	}, "", "")
	return strings.ReplaceAll(string(text), "<", `\u003c`), err
}
