package draftjson

import (
	"bytes"
	"fmt"
	"slices"

	"github.com/go-json-experiment/json/jsontext"

	"fettle/schema"
)

// This file tells a JSON draft from other JSON, and from half a draft.

// Named says whether a text is a JSON object that is meant as a draft, so that
// other JSON in a folder can be told from it: one with the property that names
// this format, or with a table of a draft. What fettle itself reports of drafts
// names the format, too, and is none.
func Named(text []byte) bool {
	if !Is(text) {
		return false
	}
	if _, err := value(jsontext.NewDecoder(bytes.NewBuffer(text), lenient...), 0); err != nil {
		return mentions(text)
	}
	return foreign(members(text, schema.Span{End: len(text)}), text) == ""
}

// mentions says whether a text that is no sound JSON speaks of what only a draft
// has, so that it was most likely meant as one.
func mentions(text []byte) bool {
	for _, word := range append([]string{"fettle"}, tables...) {
		if bytes.Contains(text, []byte(word)) {
			return true
		}
	}
	return false
}

// foreign says what an object is that is no draft; "" for one that is.
func foreign(list []member, text []byte) string {
	has := func(name string) bool {
		return slices.ContainsFunc(list, func(m member) bool { return m.name == name })
	}
	switch {
	case slices.ContainsFunc(list, func(m member) bool { return isTable(m, text) }):
		return ""
	case has("files") && has("fettle"), has("sley") && has("path"):
		return "it is what fettle reports of drafts; name the drafts themselves"
	case has("fettle"):
		return ""
	case len(list) == 0:
		return "it is JSON, and an empty object"
	}
	return `it is JSON, but neither "fettle" nor a threading is in it`
}

// tables are the properties that only a draft has.
var tables = []string{"threading", "treadling", "tieup", "liftplan"}

// isTable says whether a property is a table that only a draft has, or seems to
// be meant as one.
func isTable(m member, text []byte) bool {
	return text[m.data.Start] == '[' && schema.Nearest(m.name, tables) != ""
}

// missing reports the tables without which a draft is none, and says whether
// the weave lacks any.
func (r *reader) missing(root schema.Span, top []member) (partial bool) {
	has := func(name string) bool {
		return slices.ContainsFunc(top, func(m member) bool { return m.name == name && r.text[m.data.Start] != 'n' }) // null says that there is none
	}
	tell := func(name, why string) {
		partial = true
		r.found = append(r.found, schema.Finding{Rule: schema.FileMissingSection, Span: schema.Span{Start: root.Start, End: root.Start + 1},
			Message: fmt.Sprintf("the draft has no %s: %s", name, why), Data: schema.Data{{Key: "section", Value: name}}})
	}
	if !has("threading") {
		tell("threading", "it says which shaft each end is threaded on, so nothing can be woven; write it in")
	}
	switch {
	case has("liftplan"):
	case !has("treadling"):
		tell("treadling", "neither it nor liftplan is there to say what each pick lifts, so nothing can be woven; write one of them in")
	case !has("tieup"):
		tell("tieup", "without it the treadles lift nothing; write it in, or a liftplan")
	}
	return partial
}
