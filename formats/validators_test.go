package formats

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/xeipuuv/gojsonschema"
	"pgregory.net/rapid"

	"fettle/schema"
	"fettle/schema/jsonschema"
)

// TestValidatorsAgree compares our validator, the reader and an independent JSON Schema
// validator, on valid documents and ones with a random change.
func TestValidatorsAgree(t *testing.T) {
	other := independent(t, "draft")
	valid, invalid := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		document := any(nil)
		if err := json.Unmarshal(written(t, "json", anyDraft().Draw(t, "draft"), Options{}), &document); err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(0, 3).Draw(t, "changes") {
			document = changed(t, document)
		}
		text, err := json.Marshal(document)
		if err != nil {
			t.Fatal(err)
		}
		violations, err := jsonschema.Validate("draft", text)
		if err != nil {
			t.Fatal(err)
		}
		theirs, err := other.Validate(gojsonschema.NewBytesLoader(text))
		if err != nil {
			t.Fatal(err)
		}
		if (len(violations) == 0) != theirs.Valid() {
			t.Fatalf("we find %v, the other %v in\n%s", violations, theirs.Errors(), text)
		}
		if doc := Read("draft.json", text); doc.Draft != nil && complains(doc) == theirs.Valid() {
			t.Fatalf("the reader finds %v, the other %v in\n%s", doc.Findings, theirs.Errors(), text)
		}
		if theirs.Valid() {
			valid++
		} else {
			invalid++
		}
	})
	if !testing.Short() && (valid < 10 || invalid < 10) {
		t.Errorf("only %d valid and %d invalid documents were compared", valid, invalid)
	}
}

// complains reports whether a reader has found a violation of the schema.
func complains(doc *schema.Document) bool {
	return slices.ContainsFunc(doc.Findings, func(f schema.Finding) bool {
		return f.Rule == schema.FileBadValue && f.Unread || f.Rule == schema.FileUnknownKey || f.Rule == schema.FileVersion
	})
}

func independent(t *testing.T, name string) *gojsonschema.Schema {
	t.Helper()
	text, err := jsonschema.Text(name)
	if err != nil {
		t.Fatal(err)
	}
	s, err := gojsonschema.NewSchema(gojsonschema.NewBytesLoader(text))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// changed returns a document with one value replaced, removed or given another property.
func changed(t *rapid.T, v any) any {
	switch v := v.(type) {
	case map[string]any:
		names := []string{"shafts", "color"}
		for _, n := range []string{"warp", "palette", "threading", "weft", "carried", "notes", "fettle", "title", "wif", "sections", "colors", "unit", "liftplan"} {
			if _, ok := v[n]; ok {
				names = append(names, n, n)
			}
		}
		name := rapid.SampledFrom(names).Draw(t, "property")
		old, there := v[name]
		switch {
		case !there:
			v[name] = junk(t)
		case rapid.IntRange(0, 4).Draw(t, "taken away") == 0:
			delete(v, name)
		default:
			v[name] = changed(t, old)
		}
		return v
	case []any:
		if len(v) == 0 || rapid.IntRange(0, 3).Draw(t, "longer") == 0 {
			return append(v, junk(t))
		}
		i := rapid.IntRange(0, len(v)-1).Draw(t, "element")
		v[i] = changed(t, v[i])
		return v
	}
	return junk(t)
}

func junk(t *rapid.T) any {
	return rapid.SampledFrom([]any{nil, true, 0, 1, -1, 1.5, 2.0, 1000001, "x", "#00ff00", "rising", "cm",
		[]any{}, []any{1, 2}, []any{"x"}, map[string]any{}, map[string]any{"name": "a", "lines": []any{}}}).Draw(t, "junk")
}
