package sheet

import (
	"bytes"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/jsonschema"
	"fettle/schema/wording"
)

// Plans of all drafts in the corpus follow the schema, and so does one with nothing
// known.
func TestPlansFollowTheSchema(t *testing.T) {
	for _, path := range corpusDrafts(t) {
		t.Run(path, func(t *testing.T) {
			valid(t, fromCorpus(t, path, dressing.Options{}).plan)
		})
	}
	t.Run("nothing known", func(t *testing.T) {
		valid(t, planOf(t, &schema.Draft{}, &schema.Setup{}, dressing.Options{}))
	})
}

func TestAnyPlanFollowsTheSchema(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		valid(t, planOf(t, anyDraft(t), anySetup(t), dressing.Options{}))
	})
}

func valid(t rapid.TB, p *dressing.Plan) {
	t.Helper()
	text, err := JSON(p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	wrong, err := jsonschema.Validate("plan", text)
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range wrong {
		t.Errorf("%s: %s %s", strings.Join(v.Path, "."), v.Kind, v.Property)
	}
}

// The schema rejects each of these invalid plans.
func TestSchemaRefuses(t *testing.T) {
	d, s := towel()
	text, err := JSON(planOf(t, d, s, dressing.Options{}), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct{ name, old, with string }{
		{"another version", `"fettle": 1`, `"fettle": 2`},
		{"an unknown key", `"title":`, `"extra": 1, "title":`},
		{"a fraction of an end", `"ends": 400`, `"ends": 400.5`},
		{"no sett", `"sett_per_cm": 8`, `"sett_per_cm": 0`},
		{"a shaft 0", `"shaft": 1`, `"shaft": 0`},
		{"a shaft that is no number", `"tally": {"1"`, `"tally": {"one"`},
		{"an order with a half end", `"order": [2]`, `"order": [1.5]`},
		{"null", `"lashing_cord_cm": 160`, `"lashing_cord_cm": null`},
	} {
		t.Run(row.name, func(t *testing.T) {
			changed := strings.Replace(string(text), row.old, row.with, 1)
			if changed == string(text) {
				t.Fatalf("no %s in %s", row.old, text)
			}
			if wrong, err := jsonschema.Validate("plan", []byte(changed)); err != nil || len(wrong) == 0 {
				t.Errorf("%v, %v", wrong, err)
			}
		})
	}
}

// shape lists the keys that other programs rely on, and the type of each. The numbers
// themselves don't matter.
const shape = `{"fettle": 1, "path": "a.wif", "title": "...",
 "warp": {"ends": 384, "sett_per_cm": 7.874, "width_cm": 48.77, "length_m": 3.78,
   "by_color": [{"color": 1, "hex": "#f2ead8", "yarn": "natural", "ends": 300, "metres": 1134.0, "grams": 167.4}]},
 "weft": {"picks_per_cm": 7.087, "picks": 1900, "metres": 975.0,
   "by_color": [{"color": 2, "hex": "#22313f", "yarn": "indigo", "picks": 1900, "metres": 975.0, "grams": 143.9}]},
 "sley": {"dents_per_cm": 3.937, "order": [2], "sett_per_cm": 7.874, "off_percent": 0, "dents": 192,
   "from_centre": {"first_half": [2], "second_half": [2]}},
 "heddles": [{"shaft": 1, "needed": 48, "first_half": 24, "second_half": 24, "available": 140, "short": 0}],
 "groups": [{"from": 1, "to": 12, "shafts": [[1], [2]], "tally": {"1": 2, "2": 2}}],
 "winding": {"bouts": [{"ends": 96, "colors": [{"color": 1, "ends": 96}]}]},
 "lashing_cord_cm": 156}`

func TestShapeIsStable(t *testing.T) {
	d, s := towel()
	text, err := JSON(planOf(t, d, s, dressing.Options{Path: "a.wif"}), Options{})
	if err != nil {
		t.Fatal(err)
	}
	var want, got any
	if err := json.Unmarshal([]byte(shape), &want); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	for _, miss := range lacks(want, got, "") {
		t.Error(miss)
	}
}

// lacks lists the keys that one document has and the other lacks, or has with another
// type. The first element of a list stands for all.
func lacks(want, got any, at string) (list []string) {
	if kind := fmt.Sprintf("%T", want); kind != fmt.Sprintf("%T", got) {
		return []string{fmt.Sprintf("%s is %T, want %s", at, got, kind)}
	}
	switch want := want.(type) {
	case map[string]any:
		for key, v := range want {
			list = append(list, lacks(v, got.(map[string]any)[key], at+"."+key)...)
		}
	case []any:
		if len(got.([]any)) == 0 {
			return []string{at + " is empty"}
		}
		list = lacks(want[0], got.([]any)[0], at+"[0]")
	}
	slices.Sort(list)
	return list
}

// All properties in the schema have a description.
func TestSchemaIsDescribed(t *testing.T) {
	text, err := jsonschema.Text("plan")
	if err != nil {
		t.Fatal(err)
	}
	var root any
	if err := json.Unmarshal(text, &root); err != nil {
		t.Fatal(err)
	}
	if n := undescribed(t, root, "plan"); n < 60 {
		t.Errorf("only %d properties were looked at", n)
	}
}

func undescribed(t *testing.T, v any, at string) (looked int) {
	switch v := v.(type) {
	case map[string]any:
		for _, group := range []string{"properties", "patternProperties"} {
			properties, _ := v[group].(map[string]any)
			for name, p := range properties {
				looked++
				if text, _ := p.(map[string]any)["description"].(string); !strings.HasSuffix(text, ".") {
					t.Errorf("%s.%s is not described", at, name)
				}
			}
		}
		if v["properties"] != nil && v["additionalProperties"] != false {
			t.Errorf("%s takes anything", at)
		}
		for key, inner := range v {
			looked += undescribed(t, inner, at+"."+key)
		}
	case []any:
		for _, inner := range v {
			looked += undescribed(t, inner, at)
		}
	}
	return looked
}

func TestInRows(t *testing.T) {
	for in, want := range map[string]string{
		`{}`:                       "{}",
		`{"a":1,"b":[]}`:           "{\n  \"a\": 1,\n  \"b\": []\n}",
		`{"a":[1,2]}`:              "{\n  \"a\": [\n    1,\n    2\n  ]\n}",
		`{"a":{"b":[1,2]}}`:        "{\n  \"a\": {\n    \"b\": [1, 2]\n  }\n}",
		`{"a":{"b":[{"c":1},{}]}}`: "{\n  \"a\": {\n    \"b\": [\n      {\"c\": 1},\n      {}\n    ]\n  }\n}",
		`{"a":"x\",{\\"}`:          "{\n  \"a\": \"x\\\",{\\\\\"\n}",
	} {
		if got := string(inRows([]byte(in))); got != want {
			t.Errorf("%s gives\n%s\nwant\n%s", in, got, want)
		}
	}
}

// Breaking JSON into rows only changes white space.
func TestInRowsIsTheSameJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := planOf(t, anyDraft(t), anySetup(t), dressing.Options{Path: anyName(t, "path")})
		text, err := JSON(p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		var compact bytes.Buffer
		if err := json.Compact(&compact, text); err != nil {
			t.Fatal(err)
		}
		want, err := wording.JSON(inWords(p, Options{}), "", "")
		if err != nil {
			t.Fatal(err)
		}
		if compact.String() != string(want) {
			t.Fatalf("%s\nis not\n%s", compact.String(), want)
		}
	})
}

// After a sample that is cut off come tying on again, the tension and a heading. Their
// boxes have names of their own.
func TestStepsAfterASample(t *testing.T) {
	d, s := towel()
	s.Project.Sample, s.Project.CutOffSample, s.Project.Items = 400, true, 3
	p := planOf(t, d, s, dressing.Options{})
	var ids []string
	for _, row := range workOf(p, Options{}).stepRows() {
		ids = append(ids, row.Step)
	}
	if got := strings.Join(ids, " "); !strings.HasSuffix(got, "tension tie-up heading check-shafts weave tie-front tension heading weave") {
		t.Errorf("%s", got)
	}
	text := string(Text(p, Options{}))
	for _, want := range []string{"Weave the sample\n", "40 cm: 280 picks", "Tie the warp on again\n", "25 cm of warp", "Even the tension again\n", "Weave 5040 picks at 7/cm: 7.2 m,", "240 cm        1960"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in:\n%s", want, text)
		}
	}
	var b strings.Builder
	if err := HTML(&b, p, Options{}); err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, id := range regexp.MustCompile(`<input[^>]* id="([^"]+)"`).FindAllStringSubmatch(b.String(), -1) {
		if seen[id[1]] {
			t.Fatalf("two boxes are called %s", id[1])
		}
		seen[id[1]] = true
	}
	if !seen["weave-1"] || !seen["weave2-1"] {
		t.Error("a step to weave has no boxes")
	}
}

// The steps are in the order of dressing, and each tells the weaver to do something.
func TestSteps(t *testing.T) {
	for backToFront, want := range map[bool]string{
		false: "heddles wind cross chain lease cut-loops sley thread check-threading tie-back beam tie-front tension tie-up heading check-shafts weave",
		true:  "heddles wind cross chain tie-back lease raddle beam cut-loops thread check-threading sley tie-front tension tie-up heading check-shafts weave",
	} {
		d, s := towel()
		s.Project.BackToFront = backToFront
		var ids []string
		for _, row := range workOf(planOf(t, d, s, dressing.Options{}), Options{}).stepRows() {
			ids = append(ids, row.Step)
			if row.Text == "" {
				t.Errorf("%s says nothing", row.Step)
			}
		}
		if got := strings.Join(ids, " "); got != want {
			t.Errorf("%s\nwant\n%s", got, want)
		}
	}
}

// aboutPaper matches words that mean nothing without the sheet.
var aboutPaper = regexp.MustCompile(`(?i)\bsheet\b|\bthe table\b|\bboxe?s?\b|\btick\b|\bcolumn\b|last step|lines above|:$`)

// Without the sheet, the steps don't mention it. The rest of their words stay.
func TestStepsAtLoom(t *testing.T) {
	check := func(t rapid.TB, p *dressing.Plan) (onPaper bool) {
		for _, step := range workOf(p, Options{}).stepRows() {
			about := aboutPaper.MatchString(step.Text)
			onPaper = onPaper || about
			if found := aboutPaper.FindString(step.AtLoom); found != "" || (step.AtLoom == "") == about {
				t.Errorf("%s: %q in %q instead of %q", step.Step, found, step.AtLoom, step.Text)
			}
		}
		return onPaper
	}
	d, s := towel()
	if !check(t, planOf(t, d, s, dressing.Options{})) {
		t.Error("no step of the towel mentions the sheet")
	}
	for _, path := range corpusDrafts(t) {
		check(t, fromCorpus(t, path, dressing.Options{}).plan)
	}
	rapid.Check(t, func(t *rapid.T) { check(t, planOf(t, anyDraft(t), anySetup(t), dressing.Options{})) })
}
