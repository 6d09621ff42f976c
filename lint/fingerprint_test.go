package lint

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

// at returns a finding at the first place of a text in a source.
func at(src *schema.Source, rule, text string, data schema.Data) schema.Finding {
	i := strings.Index(string(src.Text), text)
	f := schema.Finding{Rule: rule, Span: schema.Span{Start: i, End: i + len(text)}, Data: data}
	f.Position = src.Position(f.Span)
	return f
}

func source(text string) *schema.Source { return &schema.Source{Path: "a.wif", Text: []byte(text)} }

func TestFingerprint(t *testing.T) {
	l, err := New([]Rule{
		{ID: "a/keyed", Keys: []string{"shaft", "side"}, Measures: []Measure{{Key: "short"}}, Data: []Field{{Key: "shaft"}}},
		{ID: "a/text", ByText: true, Keys: []string{"name"}},
	}, Selection{})
	if err != nil {
		t.Fatal(err)
	}
	data := func(list ...any) (d schema.Data) {
		for i := 0; i < len(list); i += 2 {
			d = append(d, schema.Datum{Key: list[i].(string), Value: list[i+1]})
		}
		return d
	}
	type finding struct {
		text, rule, stands string
		data               schema.Data
	}
	keyed := finding{"[WARP]\nThreads=8\n", "a/keyed", "Threads=8", data("shaft", 3, "side", "face", "short", 12)}
	text := finding{"[WARP]\nThreads=8\n", "a/text", "Threads=8", data("name", "x")}
	unknown := finding{"[WARP]\nThreads=8\n", "b/other", "Threads=8", data("side", "face", "threads", 12)}
	for _, test := range []struct {
		name     string
		was, now finding
		same     bool
	}{
		{"again", keyed, keyed, true},
		{"another place and text", keyed, finding{"; x\n[WARP]\nThreads=9\n", "a/keyed", "Threads=9", keyed.data}, true},
		{"another measure", keyed, finding{keyed.text, "a/keyed", "Threads=8", data("shaft", 3, "side", "face", "short", 99)}, true},
		{"another number among the keys", keyed, finding{keyed.text, "a/keyed", "Threads=8", data("shaft", 4, "side", "face", "short", 12)}, false},
		{"another word among the keys", keyed, finding{keyed.text, "a/keyed", "Threads=8", data("shaft", 3, "side", "back", "short", 12)}, false},
		{"another rule", keyed, finding{keyed.text, "a/text", "Threads=8", keyed.data}, false},
		{"that the rule failed", keyed, finding{keyed.text, "a/keyed", "Threads=8", nil}, false},
		{"lines above", text, finding{"; one\n; two\n[WARP]\nThreads=8\n", "a/text", "Threads=8", text.data}, true},
		{"spaces and capitals", text, finding{"[WARP]\nTHREADS = 8\n", "a/text", "THREADS = 8", text.data}, true},
		{"another text", text, finding{"[WARP]\nThreads=9\n", "a/text", "Threads=9", text.data}, false},
		{"another name", text, finding{text.text, "a/text", "Threads=8", data("name", "y")}, false},
		{"unknown rule, another number", unknown, finding{unknown.text, "b/other", "Threads=8", data("side", "face", "threads", 13)}, true},
		{"unknown rule, another word", unknown, finding{unknown.text, "b/other", "Threads=8", data("side", "back", "threads", 12)}, false},
	} {
		t.Run(test.name, func(t *testing.T) {
			print := func(f finding) string {
				src := source(f.text)
				return l.fingerprint(src, new(at(src, f.rule, f.stands, f.data)))
			}
			if was, now := print(test.was), print(test.now); (was == now) != test.same {
				t.Errorf("%s, and %s before", now, was)
			}
		})
	}
}

// TestFingerprintBetween checks that a finding between two characters uses its line.
func TestFingerprintBetween(t *testing.T) {
	src := source("one\ntwo\n")
	print := func(offset int) string {
		f := schema.Finding{Rule: "a/one", Span: schema.Span{Start: offset, End: offset}}
		f.Position = src.Position(f.Span)
		return new(Linter).Fingerprints(src, []schema.Finding{f})[0]
	}
	if print(1) != print(2) || print(1) == print(5) {
		t.Errorf("got %s %s %s", print(1), print(2), print(5))
	}
}

// TestFingerprintsDiffer checks that equal findings get different fingerprints.
func TestFingerprintsDiffer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := source(rapid.String().Draw(t, "text"))
		findings := rapid.SliceOf(rapid.Custom(func(t *rapid.T) schema.Finding {
			f := schema.Finding{Rule: rapid.SampledFrom([]string{"a/one", "a/two"}).Draw(t, "rule"),
				Span: schema.Span{Start: rapid.IntRange(-2, 40).Draw(t, "start"), End: rapid.IntRange(-2, 40).Draw(t, "end")}}
			f.Position = src.Position(f.Span)
			return f
		})).Draw(t, "findings")
		seen := map[string]bool{}
		for _, p := range new(Linter).Fingerprints(src, findings) {
			if seen[p] {
				t.Fatalf("%s twice", p)
			}
			seen[p] = true
		}
	})
}
