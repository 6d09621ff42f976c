package draftjson

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
	"fettle/schema/jsonschema"
)

// skeletonOf reads a text and returns its skeleton.
func skeletonOf(text string) (s *skeleton, right bool) {
	r := &reader{cursor: cursor{text: []byte(text)}, draft: &schema.Draft{}}
	r.peek()
	right = r.object(table, r.draft)
	return &r.skeleton, right
}

// awkward holds drafts with every kind of mistake.
var awkward = []string{
	`{"fettle": 1, "threading": [1, 2, [3, 4], 0, []], "tieup": [[1], []], "liftplan": null}`,
	`{"fettle": 1, "threading": [1, "x", [3, "y", -1], 0, 1.5, 1e3, 1.0, 1000001, null, {}, true], "treadling": {}}`,
	`{"fettle": 1, "palette": ["#f2ead8", null, "red", 5, "#F2EAD80", "\u0023000000"], "notes": ["a", 1, null, ["b"]]}`,
	`{"fettle": 1, "warp": {"colors": [1, -1, "2", 0], "spacings": [0.5, -0.1, "x", 1e7], "colour": 1}, "weft": {"thicknesses": null, "colors": null}}`,
	`{"fettle": 1, "warp": [1], "weft": {"colors": {"a": 1}, "unit": "ell", "color": 1.5, "spacing": "1", "threads": 2000001}}`,
	`{"fettle": 1, "carried": {"wif": {"comments": [{"text": "; a"}, {"section": "X"}, {"text": 1}, {"text": "a", "b": "c"}, 5],
		"values": [{"section": "a", "key": "b", "value": "c"}, {"section": "a", "key": "b"}],
		"sections": [{"name": "a", "lines": ["x"]}, {"name": "a", "lines": ["x", 1]}, {"name": "a"}, {"name": 1, "lines": []}]}, "other": 1}}`,
	`{"fettle": 1, "ignore": [{"rule": "a/b"}, {"rule": "a b"}, {"reason": "x"}, {"rule": "a/b", "reason": 1}, {"rule": ""}]}`,
	`{"fettle": 2, "shafts": "x", "project": {"set": 1, "sett": null, "items": 2.0, "hem": 1.5, "wrap": true,
		"yarns": {"a": {"grit": 1}, "b": {"grist": "x"}, "c": []}}, "threadin": []}`,
	`{"shed": "up", "profile": 1, "title": 7}`,
	`{"fettle": 1, "shed": "sinking", "profile": false, "liftplan": {}, "project": [], "carried": {"wif": {"comments": 1}}}`,
}

// TestSkeletonHasSameViolations validates whole drafts and their skeletons, and
// compares the schema with the table.
func TestSkeletonHasSameViolations(t *testing.T) {
	for _, text := range awkward {
		sameViolations(t, text)
	}
}

func sameViolations(t interface {
	Errorf(string, ...any)
	Fatal(...any)
}, text string) {
	full, err := jsonschema.Validate("draft", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	s, right := skeletonOf(text)
	some, err := jsonschema.Validate("draft", s.out)
	if err != nil {
		t.Fatal(err)
	}
	for i := range some {
		some[i].Path = s.draftPath(some[i].Path)
	}
	if got, want := placesOf(some), placesOf(full); !slices.Equal(got, want) || s.dropped > 0 {
		t.Errorf("%s\nwith the skeleton %s\ngives\n  %s\nwant\n  %s", text, s.out, strings.Join(got, "\n  "), strings.Join(want, "\n  "))
	}
	if right != (len(full) == 0) {
		t.Errorf("%s\nthe table accepts it: %v; the schema finds %d violations", text, right, len(full))
	}
}

func placesOf(list []jsonschema.Violation) (places []string) {
	for _, v := range list {
		places = append(places, fmt.Sprint(v))
	}
	slices.Sort(places)
	return places
}

// TestTableAgreesWithSchema tries values of every kind in every place of the table.
func TestTableAgreesWithSchema(t *testing.T) {
	values := []string{"1", "0", "-1", "1.0", "1.5", "2e0", "0.25", "1000000", "1000001", "2000000", "2000001", "123456789012", "-0", "1e6",
		`""`, `"2"`, `"x"`, `"a b"`, `"a\tb"`, `"#00ff00"`, `"#00FF0g"`, `"#00ff00 "`, `"rising"`, `"cm"`, `"\u0063m"`,
		"null", "true", "false", "[]", "{}", "[[]]", "[1, 2]", `["x"]`, `[null]`, `{"x": 1}`}
	var visit func(v *value, document func(string) string)
	visit = func(v *value, document func(string) string) {
		for _, x := range values {
			if text := document(x); v.kind != kindVersion || x != "1.0" && x != "1e0" {
				sameViolations(t, text)
			}
		}
		for _, p := range v.properties {
			others := ""
			for _, o := range v.properties {
				switch {
				case !o.required || o == p:
				case o.kind == kindVersion:
					others += `, "fettle": 1`
				case o.kind == kindList:
					others += `, "` + o.name + `": []`
				default:
					others += `, "` + o.name + `": "a"`
				}
			}
			visit(p, func(x string) string { return document(`{"` + p.name + `": ` + x + others + `}`) })
		}
		switch v.kind {
		case kindList:
			visit(v.each, func(x string) string { return document(`[` + x + `]`) })
		case kindNamed:
			visit(v.each, func(x string) string { return document(`{"a": ` + x + `}`) })
		}
	}
	for _, p := range table.properties[1:] {
		visit(p, func(x string) string { return `{"fettle": 1, "` + p.name + `": ` + x + `}` })
	}
}

// TestSkeletonAtRandom compares the violations of random drafts and their skeletons.
func TestSkeletonAtRandom(t *testing.T) {
	value := rapid.SampledFrom([]string{"1", "0", "1000000", "1000001", "0.25", "-1", `"2"`, "[1,2]", "[[1]]", "null", "true", "1e5"})
	rapid.Check(t, func(t *rapid.T) {
		list := func() string {
			return "[" + strings.Join(rapid.SliceOfN(value, 0, 4).Draw(t, "list"), ", ") + "]"
		}
		sameViolations(t, `{"fettle": 1, "threading": `+list()+`, "liftplan": `+list()+
			`, "warp": {"colors": `+list()+`, "spacings": `+list()+`, "colours": 1}}`)
	})
}

// TestSkeletonsAreSmall checks that skeletons keep only the first of many wrong values.
func TestSkeletonsAreSmall(t *testing.T) {
	const n = 5000
	for _, test := range []struct {
		name, text string
		more       int
	}{
		{"right rows", `{"fettle": 1, "threading": [` + strings.Repeat("1, ", n) + `1]}`, 0},
		{"wrong rows", `{"fettle": 1, "threading": [` + strings.Repeat("1, ", n) + strings.Repeat(`"x", `, n) + `1]}`, n - maxKept},
		{"a property many times", `{"fettle": 1` + strings.Repeat(`, "shafts": 1`, n) + "}", 0},
		{"unknown properties", `{"fettle": 1` + many(`, "x%d": [1, 2, {"a": 3}]`, n) + "}", n - maxKept},
		{"right yarns", `{"fettle": 1, "project": {"yarns": {"a": {}` + many(`, "x%d": {"grist": "8/2"}`, n) + "}}}", 0},
		{"wrong yarns", `{"fettle": 1, "project": {"yarns": {"a": {}` + many(`, "x%d": {"grits": "8/2"}`, n) + "}}}", n - maxKept},
		{"wrong entries", `{"fettle": 1, "carried": {"wif": {"sections": [{"name": "a", "lines": []}` + strings.Repeat(`, {"name": "a", "lines": [1, 2]}`, n) + "]}}}", n - maxKept},
		{"wrong lines", `{"fettle": 1, "carried": {"wif": {"sections": [{"name": "a", "lines": ["a"` + strings.Repeat(`, 1`, n) + "]}]}}}", n - maxKept},
	} {
		if s, _ := skeletonOf(test.text); len(s.out) > 1000 || s.dropped != test.more {
			t.Errorf("%s: %d bytes, and %d more wrong values", test.name, len(s.out), s.dropped)
		}
	}
}

func many(format string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i)
	}
	return b.String()
}

func TestDraftPath(t *testing.T) {
	s, _ := skeletonOf(`{"threading": [1, 1, "x", [1, "y"]], "carried": {"wif": {"sections": [{"name": "a", "lines": []}, {"name": "a", "lines": ["a", 1, "b", 2]}]}}}`)
	for path, want := range map[string]string{
		"threading/0":                    "threading/2",
		"threading/1/1":                  "threading/3/1",
		"threading/9":                    "threading/9",
		"carried/wif/sections/0/lines/1": "carried/wif/sections/1/lines/3",
		"carried/wif/sections/0/lines/x": "carried/wif/sections/1/lines/x",
		"title":                          "title",
	} {
		if got := strings.Join(s.draftPath(strings.Split(path, "/")), "/"); got != want {
			t.Errorf("%s is at %s, want %s", path, got, want)
		}
	}
}
