package draftjson

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

func TestPlain(t *testing.T) {
	for _, c := range []struct {
		value     string
		depth     int
		fractions bool
		want      bool
	}{
		{`[]`, 1, false, true}, {`[1, 2,3]`, 1, false, true}, {"[1,\n[2, 3], 0]", 2, false, true},
		{`[999999]`, 1, false, true}, {`[1000000]`, 1, false, false}, {`[0.127, 12]`, 1, true, true},
		{`[0.127]`, 1, false, false}, {`[[1]]`, 1, false, false}, {`[[[1]]]`, 2, false, false},
		{`[-1]`, 1, true, false}, {`[1e3]`, 1, true, false}, {`["1"]`, 1, true, false}, {`[null]`, 1, true, false},
		{`null`, 1, true, false}, {`1`, 1, true, false}, {`[{"a":1}]`, 2, true, false}, {`[1234567.5]`, 1, true, false},
	} {
		if got := plain([]byte(c.value), c.depth, c.fractions); got != c.want {
			t.Errorf("%s, depth %d, fractions %v: %v", c.value, c.depth, c.fractions, got)
		}
	}
}

// TestToCheck compares what the schema says of drafts with what it says of them
// as they are checked.
func TestToCheck(t *testing.T) {
	value := rapid.SampledFrom([]string{"1", "0", "1000000", "1000001", "0.25", "-1", `"2"`, "[1,2]", "[[1]]", "null", "true", "1e5"})
	rapid.Check(t, func(t *rapid.T) {
		list := func() string {
			return "[" + strings.Join(rapid.SliceOfN(value, 0, 4).Draw(t, "list"), ", ") + "]"
		}
		text := []byte(`{"fettle": 1, "threading": ` + list() + `, "liftplan": ` + list() +
			`, "warp": {"colors": ` + list() + `, "spacings": ` + list() + `, "colours": 1}, "threading": ` + list() + `}`)
		all, err := schema.Validate("draft", text)
		if err != nil {
			t.Fatal(err)
		}
		few, err := schema.Validate("draft", toCheck(text, schema.Span{End: len(text)}))
		if err != nil || len(few) != len(all) {
			t.Fatalf("%s: %d violations, as checked %d (%v)", text, len(all), len(few), err)
		}
	})
}

func TestTooMuchToCheck(t *testing.T) {
	text := `{"fettle": 1, "threading": [1], "notes": ["` + strings.Repeat("x", mostChecked) + `"]}`
	doc := Read(&schema.Source{Text: []byte(text)})
	if len(doc.Findings) != 1 || doc.Findings[0].Rule != schema.FileBadValue || doc.Draft.Ends() != 1 {
		t.Errorf("%d findings, %d ends", len(doc.Findings), doc.Draft.Ends())
	}
}
