package draftjson

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

// TestThinnedDraftsAreAsWrong validates drafts whole and thinned: the same places
// are wrong, and what is plainly right is not looked at.
func TestThinnedDraftsAreAsWrong(t *testing.T) {
	for _, text := range []string{
		`{"fettle": 1, "threading": [1, 2, [3, 4], 0, []], "tieup": [[1], []], "liftplan": null}`,
		`{"fettle": 1, "threading": [1, "x", [3, "y", -1], 0, 1.5, 1e3, 1.0, 1000001, null, {}, true], "treadling": {}}`,
		`{"fettle": 1, "palette": ["#f2ead8", null, "red", 5, "#F2EAD80"], "notes": ["a", 1, null, ["b"]]}`,
		`{"fettle": 1, "warp": {"colors": [1, -1, "2", 0], "spacings": [0.5, -0.1, "x", 1e7], "colour": 1}, "weft": {"thicknesses": null, "colors": null}}`,
		`{"fettle": 1, "warp": [1], "weft": {"colors": {"a": 1}}}`,
		`{"fettle": 1, "carried": {"wif": {"comments": [{"text": "; a"}, {"section": "X"}, {"text": 1}, {"text": "a", "b": "c"}, 5],
			"values": [{"section": "a", "key": "b", "value": "c"}, {"section": "a", "key": "b"}],
			"sections": [{"name": "a", "lines": ["x"]}, {"name": "a", "lines": ["x", 1]}, {"name": "a"}, {"name": 1, "lines": []}]}, "other": 1}}`,
		`{"fettle": 1, "ignore": [{"rule": "a/b"}, {"rule": "a b"}, {"reason": "x"}, {"rule": "a/b", "reason": 1}]}`,
		`{"fettle": 2, "shafts": "x", "project": {"set": 1, "yarns": {"a": {"grit": 1}}}, "threadin": []}`,
		`{"shed": "up", "profile": 1}`,
	} {
		full, err := schema.Validate("draft", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		small := thin([]byte(text), schema.Span{End: len(text)})
		some, err := schema.Validate("draft", small.out.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		for i := range some {
			some[i].Path = small.whole(some[i].Path)
		}
		if got, want := placesOf(some), placesOf(full); !slices.Equal(got, want) || small.more > 0 {
			t.Errorf("%s\nthinned to %s\ngives\n  %s\nwant\n  %s", text, small.out.Bytes(), strings.Join(got, "\n  "), strings.Join(want, "\n  "))
		}
	}
}

// TestThinnedAtRandom compares what the schema says of drafts with what it says of
// them thinned.
func TestThinnedAtRandom(t *testing.T) {
	value := rapid.SampledFrom([]string{"1", "0", "1000000", "1000001", "0.25", "-1", `"2"`, "[1,2]", "[[1]]", "null", "true", "1e5"})
	rapid.Check(t, func(t *rapid.T) {
		list := func() string {
			return "[" + strings.Join(rapid.SliceOfN(value, 0, 4).Draw(t, "list"), ", ") + "]"
		}
		text := []byte(`{"fettle": 1, "threading": ` + list() + `, "liftplan": ` + list() +
			`, "warp": {"colors": ` + list() + `, "spacings": ` + list() + `, "colours": 1}}`)
		all, err := schema.Validate("draft", text)
		if err != nil {
			t.Fatal(err)
		}
		few, err := schema.Validate("draft", thin(text, schema.Span{End: len(text)}).out.Bytes())
		if err != nil || len(few) != len(all) {
			t.Fatalf("%s: %d violations, thinned %d (%v)", text, len(all), len(few), err)
		}
	})
}

func placesOf(list []schema.Violation) (places []string) {
	for _, v := range list {
		places = append(places, fmt.Sprint(v))
	}
	slices.Sort(places)
	return places
}

// TestThinnedDraftsAreSmall leaves of a great many rows only the first that are
// wrong, and counts the others.
func TestThinnedDraftsAreSmall(t *testing.T) {
	text := `{"fettle": 1, "threading": [` + strings.Repeat("1, ", 50_000) + strings.Repeat(`"x", `, 500) + `1]` + strings.Repeat(`, "y": 1`, 5) + "}"
	small := thin([]byte(text), schema.Span{End: len(text)})
	if small.out.Len() > 500 || small.more != 500-mostLeft {
		t.Errorf("%d bytes are left and %d places more", small.out.Len(), small.more)
	}
	if got := small.whole([]string{"threading", "1", "0"}); !slices.Equal(got, []string{"threading", "50001", "0"}) {
		t.Errorf("the second of them is at %v", got)
	}
}

func TestManyPropertiesTwice(t *testing.T) {
	doc := Read(&schema.Source{Text: []byte(`{"fettle": 1, "threading": [1], "liftplan": [[1]]` + strings.Repeat(`, "fettle": 1`, 500) + "}")})
	last := doc.Findings[len(doc.Findings)-1]
	if len(doc.Findings) != mostComplaints || !strings.HasSuffix(last.Message, "; so do 480 more properties behind it") {
		t.Errorf("%d findings, the last: %s", len(doc.Findings), last.Message)
	}
}
