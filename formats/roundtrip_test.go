package formats

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/jsonschema"
)

// equal compares the content of drafts, not places.
var equal = cmp.Options{
	cmpopts.EquateEmpty(),
	cmpopts.IgnoreFields(schema.Ignore{}, "Span", "Section"),
}

// written returns a draft in a format.
func written(t interface{ Fatal(...any) }, format string, d *schema.Draft, o Options) []byte {
	text, _, err := Write(format, d, o)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func TestWrittenDraftsReadBackEqual(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDraft().Draw(t, "draft")
		for _, format := range Names() {
			for _, o := range []Options{{}, {LF: true}} {
				text := written(t, format, d, o)
				back := Read("draft", text)
				for _, f := range back.Findings {
					if f.Rule == schema.FileMissingSection {
						continue // the draft lacks it, so the text does too
					}
					t.Fatalf("%s: the text has a finding: %s %s\n%s", format, f.Rule, f.Message, text)
				}
				if diff := cmp.Diff(d, back.Draft, equal); diff != "" {
					t.Fatalf("%s reads a different draft:\n%s\n%s", format, diff, text)
				}
				if again := written(t, format, back.Draft, o); string(again) != string(text) {
					t.Fatalf("%s writes different bytes the second time:\n%s", format, cmp.Diff(string(text), string(again)))
				}
			}
		}
	})
}

// TestRoundTripThroughEveryFormat converts drafts to WIF, JSON, WIF and JSON, and compares
// drafts, cloth and bytes.
func TestRoundTripThroughEveryFormat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDraft().Draw(t, "draft")
		thereAndBack(t, written(t, "wif", d, Options{}), d)
	})
}

func TestCorpusRoundTrip(t *testing.T) {
	for _, path := range corpus(t) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			raw, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			doc := Read(path, raw)
			if doc.Draft == nil {
				t.Fatalf("this isn't a draft: %s", doc.Findings[0].Message)
			}
			first := written(t, "json", doc.Draft, Options{})
			text := written(t, "wif", Read("a", first).Draft, Options{})
			if second := written(t, "json", Read("b", text).Draft, Options{}); string(first) != string(second) {
				t.Errorf("JSON changes through WIF:\n%s", cmp.Diff(string(first), string(second)))
			}
			thereAndBack(t, written(t, "wif", doc.Draft, Options{}), doc.Draft)
		})
	}
}

func thereAndBack(t interface {
	Fatal(...any)
	Fatalf(string, ...any)
}, text []byte, d *schema.Draft) {
	json := written(t, "json", Read("a", text).Draft, Options{})
	textAgain := written(t, "wif", Read("b", json).Draft, Options{})
	jsonAgain := written(t, "json", Read("c", textAgain).Draft, Options{})
	if string(text) != string(textAgain) {
		t.Fatalf("WIF changes through JSON:\n%s", cmp.Diff(string(text), string(textAgain)))
	}
	if string(json) != string(jsonAgain) {
		t.Fatalf("JSON changes through WIF:\n%s", cmp.Diff(string(json), string(jsonAgain)))
	}
	if cloth.Of(d).Identity() != cloth.Of(Read("d", jsonAgain).Draft).Identity() {
		t.Fatal("the cloth is different")
	}
	if violations, err := jsonschema.Validate("draft", json); err != nil || len(violations) > 0 {
		t.Fatalf("the JSON breaks its schema: %v %v", violations, err)
	}
}

// corpus returns all drafts of the corpus.
func corpus(t *testing.T) []string {
	t.Helper()
	var paths []string
	for _, folder := range []string{"guild", "faulty", "wild"} {
		list, err := filepath.Glob("../corpus/" + folder + "/*.wif")
		if err != nil {
			t.Fatal(err)
		}
		paths = append(paths, list...)
	}
	if len(paths) < 40 {
		t.Fatalf("the corpus has only %d drafts", len(paths))
	}
	return paths
}

// FuzzReadWriteRead reads any text, writes it in both formats and reads that. The drafts
// must be the same, and writing again must return the same bytes.
func FuzzReadWriteRead(f *testing.F) {
	for _, s := range awkward {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		doc := Read("fuzz", raw)
		for _, x := range doc.Findings {
			soundFinding(t, doc, x)
		}
		if doc.Draft == nil || doc.Draft.Ends()+doc.Draft.Picks()+len(doc.Draft.Palette) > 10_000 {
			return // fettle believes it, but writing it often is too slow
		}
		for _, format := range Names() {
			text := written(t, format, doc.Draft, Options{})
			back := Read("back", text)
			if back.Draft == nil {
				t.Fatalf("the text isn't a draft: %q", text)
			}
			a, b := *doc.Draft, *back.Draft
			a.Carried, b.Carried = schema.Carried{}, schema.Carried{}
			if format == "wif" {
				a.Settings, a.Notes = nil, oneLine(a.Notes)
				b.Notes = oneLine(b.Notes)
				a.Texts, b.Texts = schema.Texts{}, schema.Texts{}
			}
			if diff := cmp.Diff(a, b, equal); diff != "" {
				t.Fatalf("%s reads a different draft:\n%s\n%q", format, diff, text)
			}
			for _, f := range back.Findings {
				if format == "json" && f.Rule != schema.FileIndex && f.Rule != schema.FileMissingSection {
					t.Fatalf("the JSON has a finding: %s %s\n%s", f.Rule, f.Message, text)
				}
			}
			if again := written(t, format, back.Draft, Options{}); string(again) != string(text) {
				t.Fatalf("%s writes different bytes the second time:\n%q\n%q", format, text, again)
			}
		}
	})
}

func oneLine(notes []string) []string {
	var list []string
	for _, n := range notes {
		list = append(list, strings.Join(strings.Fields(n), " "))
	}
	return list
}

func soundFinding(t *testing.T, doc *schema.Document, f schema.Finding) {
	size := len(doc.Source.Text)
	if f.Span.Start < 0 || f.Span.End < f.Span.Start || f.Span.End > size {
		t.Fatalf("%s is at %v of %d bytes", f.Rule, f.Span, size)
	}
	if f.Message == "" || strings.ContainsAny(f.Message, "\n\r\x1b") {
		t.Fatalf("%s has the message %q", f.Rule, f.Message)
	}
	p := doc.Source.Position(f.Span)
	if p.Line < 1 || p.Column < 1 || p.EndLine < p.Line || p.EndLine == p.Line && p.EndColumn < p.Column {
		t.Fatalf("%s is at %+v", f.Rule, p)
	}
	for _, fix := range f.Fixes {
		for _, e := range fix.Edits {
			if e.Span.Start < 0 || e.Span.End < e.Span.Start || e.Span.End > size {
				t.Fatalf("%s edits %v of %d bytes", f.Rule, e.Span, size)
			}
		}
	}
}

// awkward holds texts that are hard on a reader.
var awkward = []string{
	"", " ", "\x00", "[", "[]", "[WIF]", "[WIF", "=", "[THREADING]\n1=1", "[THREADING]\r1=1\r2=2\r",
	"[WIF]\nVersion=1.1\n[CONTENTS]\nTHREADING=true\nTEXT=maybe\n[THREADING]\n1=1,2,\n3=0\n2=\n2=4\n999999999=1\n0=1\n-1=2\nx=3\n1000005=2\n",
	"[THREDING]\n1=1\n[WEAVING]\nShaft=4 ; four\nShafts=5\nRising Shed=perhaps\n[WARP]\nThreads=2000000000\nSpacing=0,5\nUnits=ells\nColor=1,2,3,4\n",
	"[COLOR TABLE]\n1=1,2,3\n2=999,0,0\n[COLOR PALETTE]\nEntries=1\nForm=RGB\nRange=0,999\n",
	"[COLOR PALETTE]\nForm=Symbolic\nEntries=2\n[COLOR TABLE]\n1=red\n2=1,2\n", "[COLOR PALETTE]\nRange=5,5\n[COLOR TABLE]\n1=70000,-1,0\n",
	"Subject: a draft\n\n[WIF]\nVersion=9\n; fettle: ignore cloth/long-float - wanted\n[TREADLING]\n1=1\n[TREADLING]\n1=2\n2=2\n[PRIVATE x]\na=b\n\n[private X]\nc\n",
	"[NOTES]\n1=one\n3=three\n2=\n[TEXT]\nTitle= a ; b \nTitle=c\nFoo=bar\n[WARP SPACING]\n1=1.5\n7=2,5\n[WARP SYMBOLS]\n5=a\n[WARP SYMBOL PALETTE]\nEntries=1\n[WARP SYMBOL TABLE]\n2='x'\n",
	"\xef\xbb\xbf[WIF]\n[TEXT]\nTitle=caf\xc3\xa9\n", "\xff\xfe[\x00W\x00I\x00F\x00]\x00\n\x00", "[TEXT]\nTitle=caf\xe9\n", "[TEXT]\rTitle=caf\x8e\r",
	`{"fettle": 1}`, `{"fettle": 2, "threading": [1, [1,2], 0, -1, "x"]}`, `{"fettle":1,"shafts":1e400}`, `{"fettle":1`, `{"fettle":1} x`, `{"a":{"a":1},"fettle":1,"fettle":1}`,
	`{"fettle":1,"palette":["#ff0000",null],"warp":{"threads":2000000,"colors":[1,2,3],"spacings":[0.5]},"ignore":[{"rule":"a/b","reason":"c"}],"project":{"sett":"8/cm","yarns":{"a b":{"grist":"8/2 cotton"}}}}`,
	`{"fettle":1,"carried":{"wif":{"comments":[{"section":"WARP","before":"Color","text":"no\nmark"}],"values":[{"section":"WARP","key":"a=b","value":" c "},{"section":"COLOR TABLE","key":"1","value":"1,2,3"}],"sections":[{"name":"a]b\n","lines":["[x]","\r"]},{"name":"THREADING","lines":["1=5"]}]}},"notes":["a\nb"," c "],"title":"t\u0000\u2028"}`,
	"<!DOCTYPE html><html>", "\x89PNG\r\n\x1a\n", "PK\x03\x04",
}
