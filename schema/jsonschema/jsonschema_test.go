package jsonschema

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// TestSchemasAreDescribed checks that all properties of all schemas have descriptions.
func TestSchemasAreDescribed(t *testing.T) {
	for _, name := range Names() {
		text, err := Text(name)
		if err != nil {
			t.Fatal(err)
		}
		var root map[string]any
		if err := json.Unmarshal(text, &root); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if root["$schema"] != "http://json-schema.org/draft-07/schema#" {
			t.Errorf("%s is not draft-07", name)
		}
		count := 0
		described(t, name, root, &count)
		if count < 5 {
			t.Errorf("%s has only %d properties", name, count)
		}
	}
}

// TestFailuresHaveOneForm checks that all schemas of commands allow the same error, alone or
// in a list.
func TestFailuresHaveOneForm(t *testing.T) {
	const (
		bare  = `{"fettle": 1, "error": {"message": "there is no such file"}}`
		whole = `{"fettle": 1, "error": {"message": "shafts is a number", "path": "looms/fettle.ini", "line": 3}}`
		both  = `{"fettle": 1, "error": {"message": "no"}, "path": "a.wif"}`
		empty = `{"fettle": 1, "error": {"message": ""}}`
	)
	for _, name := range Names() {
		frame := map[string]string{"draft": "", "info": "[%s]", "fit": "[%s]", "rules": "[%s]"}
		form, listed := frame[name]
		switch {
		case name == "draft", name == "baseline": // no command writes these
			continue
		case !listed:
			form = "%s"
		}
		for text, valid := range map[string]bool{bare: true, whole: true, both: false, empty: false, `{"fettle": 1}`: false} {
			wrong, err := Validate(name, fmt.Appendf(nil, form, text))
			if err != nil || (len(wrong) == 0) != valid {
				t.Errorf("%s: %s: %v %v", name, text, wrong, err)
			}
		}
	}
}

// described reports properties without a description, and objects that allow unknown
// properties.
func described(t *testing.T, path string, node any, count *int) {
	switch n := node.(type) {
	case map[string]any:
		if properties, ok := n["properties"].(map[string]any); ok {
			if _, closed := n["additionalProperties"]; !closed {
				t.Errorf("%s takes any property", path)
			}
			for name, p := range properties {
				*count++
				if d, _ := p.(map[string]any)["description"].(string); d == "" {
					t.Errorf("%s/%s has no description", path, name)
				}
			}
		}
		for key, v := range n {
			described(t, path+"/"+key, v, count)
		}
	case []any:
		for _, v := range n {
			described(t, path, v, count)
		}
	}
}

func TestValidate(t *testing.T) {
	for _, test := range []struct {
		name, document string
		want           []string // kind path
	}{
		{"sound", `{"fettle": 1, "threading": [1, [1, 2], 0]}`, nil},
		{"no version", `{}`, []string{"required "}},
		{"another version", `{"fettle": 2}`, []string{"const fettle"}},
		{"unknown property", `{"fettle": 1, "shaft": 4}`, []string{"additionalProperties "}},
		{"wrong type", `{"fettle": 1, "shafts": "4"}`, []string{"type shafts"}},
		{"too small", `{"fettle": 1, "warp": {"color": -1}}`, []string{"minimum warp/color"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			list, err := Validate("draft", []byte(test.document))
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, v := range list {
				got = append(got, v.Kind+" "+strings.Join(v.Path, "/"))
			}
			if !slices.Equal(got, test.want) {
				t.Errorf("got %q, want %q", got, test.want)
			}
		})
	}
	if _, err := Validate("draft", []byte(`{`)); err == nil {
		t.Error("broken JSON is valid")
	}
	if _, err := Validate("drafts", []byte(`{}`)); err == nil {
		t.Error("a schema drafts exists")
	}
}
