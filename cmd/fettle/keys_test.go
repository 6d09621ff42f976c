package main

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"fettle/formats/draftjson"
	"fettle/schema"
	"fettle/schema/jsonschema"
	"fettle/schema/settings"
)

// TestDraftsAcceptAllSettings checks that JSON drafts accept all settings: each key of
// [project] and [yarn] is in the schema and is read.
func TestDraftsAcceptAllSettings(t *testing.T) {
	text, err := jsonschema.Text("draft")
	if err != nil {
		t.Fatal(err)
	}
	type object struct{ Properties, AdditionalProperties json.RawMessage }
	properties := func(text json.RawMessage) map[string]object {
		var o object
		var list map[string]object
		if err := errors.Join(json.Unmarshal(text, &o), json.Unmarshal(o.Properties, &list)); err != nil {
			t.Fatal(err)
		}
		return list
	}
	var inProject map[string]object
	if err := json.Unmarshal(properties(text)["project"].Properties, &inProject); err != nil {
		t.Fatal(err)
	}
	inYarn := properties(inProject["yarns"].AdditionalProperties)
	keys := 0
	for _, s := range settings.Known() {
		for _, k := range s.Keys {
			name, frame := strings.NewReplacer(" ", "_", "-", "_").Replace(k.Name), ""
			known := false
			switch s.Name {
			case "project":
				_, known = inProject[name]
				frame = `{"fettle": 1, "threading": [1], "tieup": [1], "treadling": [1], "project": {"KEY": "1"}}`
			case "yarn":
				_, known = inYarn[name]
				frame = `{"fettle": 1, "threading": [1], "tieup": [1], "treadling": [1], "project": {"yarns": {"a": {"KEY": "1"}}}}`
			default:
				continue
			}
			keys++
			if !known {
				t.Errorf("[%s] %s isn't in the JSON Schema draft as %s", s.Name, k.Name, name)
			}
			doc := draftjson.Read(&schema.Source{Path: "a.json", Text: []byte(strings.ReplaceAll(frame, "KEY", name))})
			if len(doc.Findings) > 0 || doc.Draft == nil || len(doc.Draft.Settings) != 1 || doc.Draft.Settings[0].Key != k.Name {
				t.Errorf("[%s] %s is read from a JSON draft as %+v", s.Name, k.Name, doc.Findings)
			}
		}
	}
	if keys < 20 {
		t.Errorf("only %d keys", keys)
	}
}
