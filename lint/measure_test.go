package lint

import (
	"strings"
	"testing"

	"fettle/schema"
)

func TestGrown(t *testing.T) {
	for _, test := range []struct {
		name     string
		measures []Measure
		was, is  baselineData
		grown    bool
	}{
		{"more", []Measure{{Key: "short"}}, baselineData{"short": 42.0}, baselineData{"short": 6588.0}, true},
		{"less", []Measure{{Key: "short"}}, baselineData{"short": 42.0}, baselineData{"short": 41.0}, false},
		{"as much", []Measure{{Key: "short"}}, baselineData{"short": 42.0}, baselineData{"short": 42.0}, false},
		{"what computers differ by", []Measure{{Key: "short"}}, baselineData{"short": 42.0}, baselineData{"short": 42.000000000001}, false},
		{"less than nothing", []Measure{{Key: "off"}}, baselineData{"off": -2.0}, baselineData{"off": -7.0}, false},
		{"in both directions", []Measure{{Key: "off", Both: true}}, baselineData{"off": -2.0}, baselineData{"off": -7.0}, true},
		{"in the other direction", []Measure{{Key: "off", Both: true}}, baselineData{"off": 2.0}, baselineData{"off": -7.0}, true},
		{"in both directions, less", []Measure{{Key: "off", Both: true}}, baselineData{"off": 7.0}, baselineData{"off": -2.0}, false},
		{"a smaller loom", []Measure{{Key: "needed", Over: "available"}}, baselineData{"needed": 10.0, "available": 8.0}, baselineData{"needed": 10.0, "available": 4.0}, true},
		{"a larger draft on a larger loom", []Measure{{Key: "needed", Over: "available"}}, baselineData{"needed": 10.0, "available": 8.0}, baselineData{"needed": 12.0, "available": 11.0}, false},
		{"the second of two", []Measure{{Key: "a"}, {Key: "b"}}, baselineData{"a": 1.0, "b": 1.0}, baselineData{"a": 1.0, "b": 2.0}, true},
		{"not known before", []Measure{{Key: "a"}, {Key: "b"}}, baselineData{"b": 1.0}, baselineData{"a": 5.0, "b": 1.0}, false},
		{"without a measure", nil, baselineData{"a": 1.0}, baselineData{"a": 2.0}, false},
		{"words from a damaged file", []Measure{{Key: "a"}}, baselineData{"a": "many"}, baselineData{"a": 2.0}, false},
	} {
		r := &Rule{ID: "a/b", Measures: test.measures}
		if got := r.grown(test.was, test.is) != nil; got != test.grown {
			t.Errorf("%s: grown %v", test.name, got)
		}
	}
	var unknown *Rule
	if unknown.grown(baselineData{"a": 1.0}, baselineData{"a": 2.0}) != nil {
		t.Error("a rule that isn't known has grown")
	}
}

func TestKnownData(t *testing.T) {
	r := &Rule{ID: "a/b", Keys: []string{"treadle"}, Measures: []Measure{{Key: "picks"}, {Key: "needed", Over: "available"}}}
	got := r.baselineData(schema.Data{{Key: "treadle", Value: 2}, {Key: "picks", Value: []int{4, 7, 9}}, {Key: "needed", Value: 10},
		{Key: "available", Value: 8.5}, {Key: "hint", Value: "not kept"}}).text()
	if want := `{"available":8.5,"needed":10,"picks":3,"treadle":2}`; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

func TestShowChange(t *testing.T) {
	r := &Rule{ID: "a/b", Measures: []Measure{{Key: "short_m"}}, Data: []Field{{Key: "short_m", Text: "metres that lack"}}}
	f := schema.Finding{Rule: "a/b", Message: "buy more", Data: schema.Data{{Key: "short_m", Value: 6588.0}}}
	before := f.Data
	Match{State: Known, rule: r, was: baselineData{"short_m": 42.0}, is: baselineData{"short_m": 6588.0}}.ShowChange(&f)
	if len(f.Data) != 1 || f.Message != "buy more" {
		t.Errorf("a known finding became %v", f)
	}
	Match{State: Worse, rule: r, was: baselineData{"short_m": 42.0}, is: baselineData{"short_m": 6588.0}}.ShowChange(&f)
	if got := f.Data.Get("known_short_m"); got != 42.0 || len(before) != 1 || f.Data.Get("short_m") != 6588.0 {
		t.Errorf("the data became %v", f.Data)
	}
	for _, number := range []string{"42", "6588", "metres that lack"} {
		if !strings.Contains(f.Message, number) {
			t.Errorf("%s is not in %q", number, f.Message)
		}
	}
}
