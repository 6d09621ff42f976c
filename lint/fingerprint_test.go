package lint

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema"
)

// at is a finding that stands at the first place of a text in a source.
func at(src *schema.Source, rule, text string, data schema.Data) schema.Finding {
	i := strings.Index(string(src.Text), text)
	f := schema.Finding{Rule: rule, Span: schema.Span{Start: i, End: i + len(text)}, Data: data}
	f.Position = src.Position(f.Span)
	return f
}

func source(text string) *schema.Source { return &schema.Source{Path: "a.wif", Text: []byte(text)} }

func TestFingerprint(t *testing.T) {
	side := func(word string) schema.Data {
		return schema.Data{{Key: "side", Value: word}, {Key: "threads", Value: 12}}
	}
	base := source("[WARP]\nThreads=8\n")
	want := fingerprint(base, new(at(base, "a/one", "Threads=8", side("face"))))
	for _, test := range []struct {
		name, text, rule, stands string
		data                     schema.Data
		same                     bool
	}{
		{"again", "[WARP]\nThreads=8\n", "a/one", "Threads=8", side("face"), true},
		{"lines above", "; one\n; two\n[WARP]\nThreads=8\n", "a/one", "Threads=8", side("face"), true},
		{"spaces and capitals", "[WARP]\nTHREADS = 8\n", "a/one", "THREADS = 8", side("face"), true},
		{"another figure in the data", "[WARP]\nThreads=8\n", "a/one", "Threads=8",
			schema.Data{{Key: "side", Value: "face"}, {Key: "threads", Value: 13}}, true},
		{"the path of another file", "[WARP]\nThreads=8\n", "a/one", "Threads=8",
			append(side("face"), schema.Datum{Key: "path", Value: "b.wif"}), true},
		{"how it is like another file", "[WARP]\nThreads=8\n", "a/one", "Threads=8",
			append(side("face"), schema.Datum{Key: "how", Value: "mirrored"}), true},
		{"another rule", "[WARP]\nThreads=8\n", "a/two", "Threads=8", side("face"), false},
		{"another value", "[WARP]\nThreads=9\n", "a/one", "Threads=9", side("face"), false},
		{"another word in the data", "[WARP]\nThreads=8\n", "a/one", "Threads=8", side("back"), false},
	} {
		t.Run(test.name, func(t *testing.T) {
			src := source(test.text)
			got := fingerprint(src, new(at(src, test.rule, test.stands, test.data)))
			if (got == want) != test.same {
				t.Errorf("%s, and %s before", got, want)
			}
		})
	}
}

// TestFingerprintBetween takes the line where a finding stands between two
// characters.
func TestFingerprintBetween(t *testing.T) {
	src := source("one\ntwo\n")
	print := func(offset int) string {
		f := schema.Finding{Rule: "a/one", Span: schema.Span{Start: offset, End: offset}}
		f.Position = src.Position(f.Span)
		return Fingerprints(src, []schema.Finding{f})[0]
	}
	if print(1) != print(2) || print(1) == print(5) {
		t.Errorf("got %s %s %s", print(1), print(2), print(5))
	}
}

// TestFingerprintsDiffer gives findings alike in everything names of their own.
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
		for _, p := range Fingerprints(src, findings) {
			if seen[p] {
				t.Fatalf("%s twice", p)
			}
			seen[p] = true
		}
	})
}
