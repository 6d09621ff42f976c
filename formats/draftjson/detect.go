package draftjson

import (
	"bytes"
	"fmt"
	"slices"

	"fettle/schema"
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
	any, table                bool
	fettle, files, sley, path bool
	threading, treadling      bool // there, and not null; so below
	tieup, liftplan           bool
}

// note takes a property into account, by its name and the first byte of its
// value.
func (c *contents) note(name string, first byte) {
	c.any = true
	// A list whose name is close to a table's is most likely meant as one.
	c.table = c.table || first == '[' && (slices.Contains(tables, name) || schema.Nearest(name, tables) != "")
	there := first != 'n'
	switch name {
	case "fettle":
		c.fettle = true
	case "files":
		c.files = true
	case "sley":
		c.sley = true
	case "path":
		c.path = true
	case "threading":
		c.threading = c.threading || there
	case "treadling":
		c.treadling = c.treadling || there
	case "tieup":
		c.tieup = c.tieup || there
	case "liftplan":
		c.liftplan = c.liftplan || there
	}
}

// foreign says what an object is that is not a draft; "" for a draft.
func (c *contents) foreign() string {
	switch {
	case c.table:
		return ""
	case c.files && c.fettle, c.sley && c.path:
		return "it is what fettle reports of drafts; name the drafts themselves"
	case c.fettle:
		return ""
	case !c.any:
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
	if !c.threading {
		tell("threading", "it says which shaft each end is threaded on, so nothing can be woven; write it in")
	}
	switch {
	case c.liftplan:
	case !c.treadling:
		tell("treadling", "neither it nor liftplan is there to say what each pick lifts, so nothing can be woven; write one of them in")
	case !c.tieup:
		tell("tieup", "without it the treadles lift nothing; write it in, or a liftplan")
	}
	return found
}
