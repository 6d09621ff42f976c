package draftjson

import (
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

// TestNumbersAreExact compares numbers with those of the standard library, bit by bit.
func TestNumbersAreExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		raw := rapid.StringMatching(`(0|[1-9][0-9]{0,17})(\.[0-9]{1,18})?`).Draw(t, "number")
		want, err := strconv.ParseFloat(raw, 64)
		if err != nil {
			t.Fatal(err)
		}
		right := want <= schema.MostExtraRows
		if !right {
			want = 0
		}
		c := cursor{text: []byte(raw + ",")}
		if got, ok := c.measure(); got != want || ok != right || c.at != len(raw) {
			t.Fatalf("%s is read as %v, right %v, up to %d", raw, got, ok, c.at)
		}
		whole := right && want == float64(int(want))
		if !whole {
			want = 0
		}
		c = cursor{text: []byte(raw + "]")}
		if got, ok := c.number(); float64(got) != want || ok != whole || c.at != len(raw) {
			t.Fatalf("%s is read as %v, right %v, up to %d", raw, got, ok, c.at)
		}
	})
}

func TestNumbersNoDraftCanMean(t *testing.T) {
	for raw, want := range map[string]bool{
		"1": false, "-1e3": false, "123456789012345678901234567890": false, "0.0000000000000000000000000001": false,
		"1e30": false, "1e31": true, "1e-31": true, "0e99999": false, "1e99999999": true, "-1e400": true,
		strings.Repeat("1", 32): true, "0." + strings.Repeat("0", 35) + "1": true, "1" + strings.Repeat("0", 40): true, `"1e400"`: false,
	} {
		for _, text := range []string{`{"fettle": 1, "threading": [2, [` + raw + `]]}`, `{"fettle": 1, "warp": {"spacings": [` + raw + `]}}`,
			`{"fettle": 1, "shafts": ` + raw + `}`, `{"fettle": 1, "other": [{"a": [` + raw + `]}]}`} {
			doc := Read(&schema.Source{Text: []byte(text)})
			got := false
			for _, f := range doc.Findings {
				got = got || f.Data.Get("expected") == "a number of fewer digits"
			}
			if got != want {
				t.Errorf("%s: %v", text, got)
			}
		}
	}
}

func TestStrings(t *testing.T) {
	for raw, want := range map[string]string{
		`"abc"`: "abc", `"a\"b\\"`: `a"b\`, `"\u00e9"`: "é", `"\ud83e\uddf6"`: "🧶", `"a\ud800b"`: "a\ufffdb", "\"a\xffb\"": "a\ufffdb",
		`5`: "", `null`: "", `""`: "", `[`: "",
	} {
		if got := unquoted([]byte(raw)); got != want {
			t.Errorf("%s is read as %q", raw, got)
		}
	}
}

// TestValueEnds skips values of every kind.
func TestValueEnds(t *testing.T) {
	for _, raw := range []string{`1`, `"a]}\"\\"`, `[]`, `{}`, `{"a": [1, {"b": "]"}], "c": "}"}`, `[[["\\"]]]`, `null`, `-1.5e3`} {
		c := cursor{text: []byte(" \n" + raw + " ,9")}
		if at := c.value(); string(c.text[at.Start:at.End]) != raw {
			t.Errorf("%s ends as %s", raw, c.text[at.Start:at.End])
		}
	}
	for _, raw := range []string{``, `"`, `"a\`, `[1`, `{"a"`, `]`, `:`} { // in invalid JSON, a cursor must stop
		c := cursor{text: []byte(raw)}
		if at := c.value(); at.End > len(raw) {
			t.Errorf("%s ends at %d", raw, at.End)
		}
	}
}
