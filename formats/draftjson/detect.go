package draftjson

import (
	"bytes"
	"fmt"
	"slices"

	"fettle/schema"
	"fettle/schema/spelling"
)

// This file tells a JSON draft from other JSON and from an incomplete draft.

// Is reports whether a text may be a JSON draft, because it begins with a brace.
func Is(text []byte) bool {
	start := bytes.TrimLeft(text, " \t\r\n")
	return len(start) > 0 && start[0] == '{'
}

// Named reports whether a JSON text is meant as a draft: it has the property that
// names this format, or a table of a draft. Reports that fettle writes name the format
// too, but aren't drafts.
func Named(text []byte) bool {
	if !Is(text) {
		return false
	}
	at, err := parse(text)
	if err != nil {
		return mentions(text)
	}
	var c contents
	for m := range members(text, at) {
		c.add(m.name, text[m.data.Start])
	}
	return c.notDraft() == ""
}

// mentions reports whether invalid JSON has a word that only drafts have. Then it is
// probably meant as one.
func mentions(text []byte) bool {
	for _, word := range append([]string{"fettle"}, tables...) {
		if bytes.Contains(text, []byte(word)) {
			return true
		}
	}
	return false
}

// tables lists the properties that only drafts have.
var tables = []string{"threading", "treadling", "tieup", "liftplan"}

// contents tells a draft from other objects by the properties of the object.
type contents struct {
	filled, table bool
	properties    map[string]bool // the properties in signature that it has, and whether they aren't null
}

// signature lists the properties that tell drafts and reports apart.
var signature = append([]string{"fettle", "files", "sley", "path"}, tables...)

// add adds a property with its name and the first byte of its value.
func (c *contents) add(name string, first byte) {
	c.filled = true
	// A list with a misspelt name of a table is probably meant as one.
	c.table = c.table || first == '[' && spelling.Nearest(name, tables) != ""
	if slices.Contains(signature, name) {
		if c.properties == nil {
			c.properties = map[string]bool{}
		}
		c.properties[name] = c.properties[name] || first != 'n'
	}
}

func (c *contents) hasProperty(name string) bool {
	_, has := c.properties[name]
	return has
}

// notDraft says why the object isn't a draft, "" if it is one.
func (c *contents) notDraft() string {
	switch {
	case c.table:
		return ""
	case c.hasProperty("files") && c.hasProperty("fettle"), c.hasProperty("sley") && c.hasProperty("path"):
		return "it is a report by fettle; give the drafts themselves"
	case c.hasProperty("fettle"):
		return ""
	case !c.filled:
		return "it is an empty JSON object"
	}
	return `it is JSON without "fettle" or a threading`
}

// missing reports the tables of the weave that the draft lacks.
func (c *contents) missing(root schema.Span) (found []schema.Finding) {
	tell := func(name, why string) {
		found = append(found, schema.Finding{Rule: schema.FileMissingSection, Span: schema.Span{Start: root.Start, End: root.Start + 1},
			Message: fmt.Sprintf("the draft lacks %s: %s", name, why), Data: schema.Data{{Key: "section", Value: name}}})
	}
	if !c.properties["threading"] {
		tell("threading", "without it the draft can't be woven; write it")
	}
	switch {
	case c.properties["liftplan"]:
	case !c.properties["treadling"]:
		tell("treadling", "without it or liftplan the draft can't be woven; write one of them")
	case !c.properties["tieup"]:
		tell("tieup", "without it the treadles lift nothing; write it or liftplan")
	}
	return found
}
