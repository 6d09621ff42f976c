package draftjson

import (
	"testing"

	"fettle/schema"
)

func TestEdits(t *testing.T) {
	const text = `{"fettle": 1, "shafts": 4, "threading": [1, [2, 3]], "warp": {"spacing": 2}}`
	l := Read(&schema.Source{Text: []byte(text)}).Locator.(schema.Editor)
	for _, test := range []struct {
		name  string
		edits []schema.Edit
		want  string // "" for no edit
	}{
		{"a value", l.Set(schema.Place{Part: schema.PartWeaving, Field: schema.FieldShafts}, "8"),
			`{"fettle": 1, "shafts": 8, "threading": [1, [2, 3]], "warp": {"spacing": 2}}`},
		{"a value of the warp", l.Set(schema.Place{Part: schema.PartWarp, Field: schema.FieldSpacing}, "0.2"),
			`{"fettle": 1, "shafts": 4, "threading": [1, [2, 3]], "warp": {"spacing": 0.2}}`},
		{"a missing value", l.Set(schema.Place{Part: schema.PartWeaving, Field: schema.FieldTreadles}, "8"), ""},
		{"a missing shed", l.Set(schema.Place{Part: schema.PartWeaving, Field: schema.FieldShed}, "rising"),
			`{"fettle": 1, "shed": "rising", "shafts": 4, "threading": [1, [2, 3]], "warp": {"spacing": 2}}`},
		{"an end", l.SetRow(schema.EndPlace(1), []int32{4}),
			`{"fettle": 1, "shafts": 4, "threading": [4, [2, 3]], "warp": {"spacing": 2}}`},
		{"an end on two shafts", l.SetRow(schema.EndPlace(1), []int32{4, 5}),
			`{"fettle": 1, "shafts": 4, "threading": [[4, 5], [2, 3]], "warp": {"spacing": 2}}`},
		{"an end in a list", l.SetRow(schema.EndPlace(2), []int32{4}),
			`{"fettle": 1, "shafts": 4, "threading": [1, [4]], "warp": {"spacing": 2}}`},
		{"a missing end", l.SetRow(schema.EndPlace(3), []int32{4}), ""},
		{"a part", l.Drop(schema.Place{Part: schema.PartThreading}),
			`{"fettle": 1, "shafts": 4, "threading": [], "warp": {"spacing": 2}}`},
		{"a row", l.Drop(schema.EndPlace(1)), ""},
		{"a row's number", l.Renumber(schema.EndPlace(1), 2), ""},
	} {
		got := ""
		for _, e := range test.edits {
			got = text[:e.Span.Start] + e.New + text[e.Span.End:]
		}
		if got != test.want {
			t.Errorf("%s: got %s", test.name, got)
		}
	}
}

// TestPlacesOfSettings locates the draft's own settings.
func TestPlacesOfSettings(t *testing.T) {
	const text = `{"fettle": 1, "threading": [1], "project": {"finished_length": "2 m", "yarns": {"a/b": {"grist": "x"}}, "take-up": "5 %"}}`
	l := Read(&schema.Source{Text: []byte(text)}).Locator
	for row, want := range map[int]string{0: "/project", 1: "/project/finished_length", 2: "/project/yarns/a~1b/grist", 3: "/project/take-up", 4: "/project"} {
		if _, pointer := l.Locate(schema.Place{Part: schema.PartSettings, Row: row}); pointer != want {
			t.Errorf("setting %d is at %s", row, pointer)
		}
	}
}
