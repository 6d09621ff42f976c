package draftjson

import (
	"bytes"
	"fmt"
	"slices"

	"fettle/schema"
	"fettle/schema/spelling"
)

// This file tells a JSON draft from other JSON, and from half a draft.

// Is reports whether a text may be a JSON draft: whether it begins as an object
// does.
func Is(text []byte) bool {
	start := bytes.TrimLeft(text, " \t\r\n")
	return len(start) > 0 && start[0] == '{'
}

// Named reports whether a text is a JSON object that is meant as a draft, so that
// other JSON in a folder can be told from it: one with the property that names
// this format, or with a table of a draft. Reports that fettle itself writes name
// the format too, and are not drafts.
func Named(text []byte) bool {
	if !Is(text) {
		return false
	}
	at, err := sound(text)
	if err != nil {
		return mentions(text)
	}
	var c contents
	for m := range members(text, at) {
		c.note(m.name, text[m.data.Start])
	}
	return c.foreign() == ""
}

// mentions reports whether a text that is not sound JSON contains a word that
// only a draft has, so that it was most likely meant as one.
func mentions(text []byte) bool {
	for _, word := range append([]string{"fettle"}, tables...) {
		if bytes.Contains(text, []byte(word)) {
			return true
		}
	}
	return false
}

// tables are the properties that only a draft has.
var tables = []string{"threading", "treadling", "tieup", "liftplan"}

// contents is what the properties of a JSON object show about what it is.
type contents struct {
	filled, table bool
	there         map[string]bool // the telling properties that are there, and whether any is more than null
}

// telling are the properties by which a draft is told from a report.
var telling = append([]string{"fettle", "files", "sley", "path"}, tables...)

// note takes a property into account, by its name and the first byte of its
// value.
func (c *contents) note(name string, first byte) {
	c.filled = true
	// A list whose name is close to a table's is most likely meant as one.
	c.table = c.table || first == '[' && spelling.Nearest(name, tables) != ""
	if slices.Contains(telling, name) {
		if c.there == nil {
			c.there = map[string]bool{}
		}
		c.there[name] = c.there[name] || first != 'n'
	}
}

func (c *contents) has(name string) bool {
	_, has := c.there[name]
	return has
}

// foreign says what an object is that is not a draft; "" for a draft.
func (c *contents) foreign() string {
	switch {
	case c.table:
		return ""
	case c.has("files") && c.has("fettle"), c.has("sley") && c.has("path"):
		return "it is what fettle reports of drafts; name the drafts themselves"
	case c.has("fettle"):
		return ""
	case !c.filled:
		return "it is JSON, and an empty object"
	}
	return `it is JSON, but neither "fettle" nor a threading is in it`
}

// missing reports the tables without which nothing can be woven.
func (c *contents) missing(root schema.Span) (found []schema.Finding) {
	tell := func(name, why string) {
		found = append(found, schema.Finding{Rule: schema.FileMissingSection, Span: schema.Span{Start: root.Start, End: root.Start + 1},
			Message: fmt.Sprintf("the draft has no %s: %s", name, why), Data: schema.Data{{Key: "section", Value: name}}})
	}
	if !c.there["threading"] {
		tell("threading", "it says which shaft each end is threaded on, so nothing can be woven; write it in")
	}
	switch {
	case c.there["liftplan"]:
	case !c.there["treadling"]:
		tell("treadling", "neither it nor liftplan is there to say what each pick lifts, so nothing can be woven; write one of them in")
	case !c.there["tieup"]:
		tell("tieup", "without it the treadles lift nothing; write it in, or a liftplan")
	}
	return found
}
