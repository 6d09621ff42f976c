package draftjson

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"fettle/corpus/golden"
	"fettle/schema"
	"fettle/schema/jsonschema"
)

func TestMain(m *testing.M) { os.Exit(golden.M{M: m}.Run()) }

// TestFindings checks the rule, the place and the words of findings.
func TestFindings(t *testing.T) {
	for _, test := range []struct{ name, draft, want string }{
		{"sound", `{"fettle": 1, "threading": [1, 2]}`, ``},
		{"no version", `{"threading": [1]}`,
			`1:1 file/version `},
		{"another version", `{"fettle": 2}`,
			`1:2 file/version /fettle`},
		{"a misspelt property", `{"fettle": 1, "threadin": [1]}`,
			`1:15 file/unknown-key /threadin`},
		{"an unknown property", `{"fettle": 1, "knitting": [1]}`,
			`1:15 file/unknown-key /knitting`},
		{"a property of the warp", `{"fettle": 1, "warp": {"colour": 1}}`,
			`1:24 file/unknown-key /warp/colour`},
		{"a key of the project", `{"fettle": 1, "project": {"set": "8/cm"}}`,
			`1:27 file/unknown-key /project/set`},
		{"an end without a shaft number", "{\"fettle\": 1,\n \"title\": \"é\", \"threading\": [1, \"x\",\n  [2, -1]]}",
			"2:33 file/bad-value /threading/1\n3:7 file/bad-value /threading/2/1"},
		{"a shaft in quotation marks", `{"fettle": 1, "threading": [1, "2"]}`,
			`1:32 file/bad-value /threading/1`},
		{"a list of shafts in quotation marks", `{"fettle": 1, "threading": [1, "3, 4"]}`,
			`1:32 file/bad-value /threading/1`},
		{"a setting with a hyphen", `{"fettle": 1, "project": {"take-up": "10 %"}}`,
			`1:27 file/unknown-key /project/take-up`},
		{"a tie-up of zeros and ones", `{"fettle": 1, "tieup": [[1, 1, 0, 0], [0, 1, 1, 0]]}`,
			`1:15 file/bad-value /tieup`},
		{"a tie-up with only shaft 1", `{"fettle": 1, "tieup": [[1], [1]]}`, ``},
		{"the version in quotation marks", `{"fettle": "1"}`,
			`1:2 file/version /fettle`},
		{"a count in quotation marks", `{"fettle": 1, "shafts": "4"}`,
			`1:15 file/bad-value /shafts`},
		{"a spacing in quotation marks, with a comma", `{"fettle": 1, "warp": {"spacing": "0,2"}}`,
			`1:24 file/bad-value /warp/spacing`},
		{"a number with a sign in quotation marks", `{"fettle": 1, "shafts": "-4"}`,
			`1:15 file/bad-value /shafts`},
		{"a shaft that is far too high", `{"fettle": 1, "threading": [99999999999]}`,
			`1:29 file/bad-value /threading/0`},
		{"an absurd number", `{"fettle": 1, "shafts": 1e400}`,
			`1:25 file/bad-value `},
		{"a title that is a number", `{"fettle": 1, "title": 5}`,
			`1:15 file/bad-value /title`},
		{"a treadle", `{"fettle": 1, "treadling": [1.5]}`,
			`1:29 file/bad-value /treadling/0`},
		{"a number as a table", `{"fettle": 1, "liftplan": 5}`,
			`1:15 file/bad-value /liftplan`},
		{"a color", `{"fettle": 1, "palette": ["red", null]}`,
			`1:27 file/bad-value /palette/0`},
		{"a shed", `{"fettle": 1, "shed": "up"}`,
			`1:15 file/bad-value /shed`},
		{"a unit", `{"fettle": 1, "warp": {"unit": "ell"}}`,
			`1:24 file/bad-value /warp/unit`},
		{"a missing property", `{"fettle": 1, "ignore": [{"reason": "x"}]}`,
			`1:26 file/bad-value /ignore/0`},
		{"a duplicate property", `{"fettle": 1, "shafts": 4, "shafts": 5}`,
			`1:28 file/duplicate-key /shafts`},
		{"text after the end", "{\"fettle\": 1}\n\nmore",
			`3:1 file/stray-line `},
		{"a count that is far too high", `{"fettle": 1, "warp": {"threads": 2000000}}`,
			`1:24 file/index /warp/threads`},
		{"more colors than ends", `{"fettle": 1, "threading": [1], "warp": {"colors": [1, 1, 1]}}`,
			`1:56 file/index /warp/colors/1`},
	} {
		t.Run(test.name, func(t *testing.T) {
			doc := Read(&schema.Source{Text: []byte(test.draft)})
			if doc.Draft == nil {
				t.Fatal("there is no draft")
			}
			var got, words []string
			for _, f := range schema.SortFindings(doc.Findings) {
				if f.Rule == schema.FileMissingSection {
					continue // most of these drafts are incomplete
				}
				p := doc.Source.Position(f.Span)
				got = append(got, fmt.Sprintf("%d:%d %s %s", p.Line, p.Column, f.Rule, f.Pointer))
				words = append(words, f.Message)
			}
			if s := strings.Join(got, "\n"); s != test.want {
				t.Errorf("got\n%s\nwant\n%s", s, test.want)
			}
			if words != nil {
				golden.Words(t, strings.Join(words, "\n"))
			}
		})
	}
}

// TestOtherJSON reads other JSON and incomplete drafts.
func TestOtherJSON(t *testing.T) {
	for _, test := range []struct {
		name, text string
		notDraft   bool
		missing    string
	}{
		{"an empty object", "{}", true, ""},
		{"another program's file", `{"name": "x", "version": "1.2"}`, true, ""},
		{"a property with the name of a table", `{"threading": true}`, true, ""},
		{"a report of findings", `{"fettle": 1, "files": [], "summary": {}}`, true, ""},
		{"a plan", `{"fettle": 1, "path": "a.wif", "sley": {}}`, true, ""},
		{"without a version", `{"threading": [1], "liftplan": [[1]]}`, false, ""},
		{"only a version", `{"fettle": 1}`, false, "threading treadling"},
		{"no lift plan and no treadling", `{"fettle": 1, "threading": [1], "liftplan": null}`, false, "treadling"},
		{"no tie-up", `{"fettle": 1, "threading": [1], "treadling": [1]}`, false, "tieup"},
		{"a lift plan", `{"fettle": 1, "threading": [1], "liftplan": [[1]]}`, false, ""},
		{"a tie-up", `{"fettle": 1, "threading": [1], "tieup": [[1]], "treadling": [1]}`, false, ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			doc := Read(&schema.Source{Text: []byte(test.text)})
			if (doc.Draft == nil) != test.notDraft || Named([]byte(test.text)) == test.notDraft {
				t.Fatalf("draft %v, named %v", doc.Draft, Named([]byte(test.text)))
			}
			var missing []string
			messages := ""
			for _, f := range doc.Findings {
				messages += f.Message + "\n"
				if f.Rule == schema.FileMissingSection {
					missing = append(missing, fmt.Sprint(f.Data.Get("section")))
				}
			}
			if got := strings.Join(missing, " "); got != test.missing || doc.Partial != (test.missing != "") {
				t.Errorf("missing %q, partial %v", got, doc.Partial)
			}
			if messages != "" {
				golden.Words(t, messages)
			}
		})
	}
}

func TestInvalidJSON(t *testing.T) {
	for _, test := range []struct{ name, draft, at string }{
		{"truncated", `{"fettle": 1, "threading": [1, 2`, "1:33"},
		{"an extra comma", "{\"fettle\": 1,\n \"threading\": [1,, 2]}", "2:18"},
		{"a missing quotation mark", `{"fettle": 1, title": "x"}`, "1:15"},
		{"nested too deep", `{"fettle": ` + strings.Repeat("[", 20000) + strings.Repeat("]", 20000) + "}", "1:10011"},
	} {
		t.Run(test.name, func(t *testing.T) {
			doc := Read(&schema.Source{Text: []byte(test.draft)})
			if doc.Draft != nil || len(doc.Findings) != 1 || doc.Findings[0].Rule != schema.FileUnreadable {
				t.Fatalf("got %v", doc.Findings)
			}
			p := doc.Source.Position(doc.Findings[0].Span)
			if at := fmt.Sprintf("%d:%d", p.Line, p.Column); at != test.at {
				t.Errorf("at %s, want %s", at, test.at)
			}
			golden.Words(t, doc.Findings[0].Message)
		})
	}
}

// TestRestIsRead checks that a mistake doesn't keep the rest from being read.
func TestRestIsRead(t *testing.T) {
	doc := Read(&schema.Source{Text: []byte(`{"fettle": 1, "shafts": "four", "threading": [1, "x", [2, 3]], "palette": ["red", "#000000"],
		"warp": {"spacing": -1, "colors": [2, 1]}, "treadling": {"a": 1}, "liftplan": [[1]], "title": 7}`)})
	d := doc.Draft
	if !d.Threading.Equal(schema.RowsOf([]int32{1}, nil, []int32{2, 3})) || d.LiftPlan.Len() != 1 ||
		len(d.Palette) != 2 || d.Palette[0].Set || d.Palette[1] != schema.RGB(0, 0, 0) || len(d.Warp.Colors) != 2 ||
		d.Shafts != 0 || d.Warp.Spacing != 0 || d.Treadling.Len() != 0 || d.Texts.Title != "" {
		t.Errorf("got %+v", d)
	}
}

func TestManyFindingsAreCounted(t *testing.T) {
	doc := Read(&schema.Source{Text: []byte(`{"fettle": 1, "threading": [` + strings.Repeat(`"x", `, 500) + `1], "liftplan": [[1]]}`)})
	if n := len(doc.Findings); n != maxReported+1 {
		t.Fatalf("%d findings", n)
	}
	if last := doc.Findings[maxReported]; !strings.Contains(last.Message, "480 more") || last.Pointer != "/threading/20" {
		t.Errorf("the last is at %s: %s", last.Pointer, last.Message)
	}
}

func TestSettingsAndIgnores(t *testing.T) {
	doc := Read(&schema.Source{Text: []byte(`{"fettle": 1, "project": {"finished_length": "2 m", "items": 3, "wrap": true,
		"yarns": {"grey wool": {"grist": "30 tex"}}}, "ignore": [{"rule": "cloth/layers", "reason": "meant"}]}`)})
	want := []schema.Setting{{Section: "project", Key: "finished length", Value: "2 m"}, {Section: "project", Key: "items", Value: "3"},
		{Section: "project", Key: "wrap", Value: "true"}, {Section: "yarn grey wool", Key: "grist", Value: "30 tex"}}
	for i, s := range doc.Draft.Settings {
		if s != want[i] {
			t.Errorf("setting %d is %v", i, s)
		}
	}
	if g := doc.Draft.Ignores; len(doc.Draft.Settings) != 4 || len(g) != 1 || g[0].Rule != "cloth/layers" || g[0].Reason != "meant" {
		t.Errorf("got %v, %v", doc.Draft.Settings, g)
	}
}

func TestLocate(t *testing.T) {
	const text = "{\n \"fettle\": 1,\n \"threading\": [1,\n  [2, 3]],\n \"warp\": {\"spacing\": 2, \"colors\": [1, 2]}\n}"
	l := Read(&schema.Source{Text: []byte(text)}).Locator
	for _, test := range []struct {
		name          string
		place         schema.Place
		text, pointer string
	}{
		{"an end", schema.EndPlace(1), "1", "/threading/0"},
		{"an end on two shafts", schema.EndPlace(2), "[2, 3]", "/threading/1"},
		{"a missing end", schema.EndPlace(9), `"threading": [1,`, "/threading"},
		{"a value", schema.Place{Part: schema.PartWarp, Field: schema.FieldSpacing}, `"spacing": 2`, "/warp/spacing"},
		{"a missing value", schema.Place{Part: schema.PartWarp, Field: schema.FieldThreads}, `"warp": {"spacing": 2, "colors": [1, 2]}`, "/warp"},
		{"a thread's color", schema.Place{Part: schema.PartWarpColors, Row: 2}, "2", "/warp/colors/1"},
		{"a missing part", schema.Place{Part: schema.PartLiftPlan, Row: 1}, "{", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			at, pointer := l.Locate(test.place)
			if got := text[at.Start:at.End]; got != test.text || pointer != test.pointer {
				t.Errorf("got %q at %q, want %q at %q", got, pointer, test.text, test.pointer)
			}
		})
	}
}

func TestManyDuplicateProperties(t *testing.T) {
	doc := Read(&schema.Source{Text: []byte(`{"fettle": 1, "threading": [1], "liftplan": [[1]]` + strings.Repeat(`, "fettle": 1`, 500) + "}")})
	last := doc.Findings[len(doc.Findings)-1]
	if len(doc.Findings) != maxReported || !strings.Contains(last.Message, "480 more") {
		t.Errorf("%d findings, the last: %s", len(doc.Findings), last.Message)
	}
}

func TestTooMuchToCheck(t *testing.T) {
	text := `{"fettle": 1, "threading": [1], "liftplan": [[1]], "title": "` + strings.Repeat("x", maxChecked) + `"}`
	doc := Read(&schema.Source{Text: []byte(text)})
	if len(doc.Findings) != 1 || doc.Findings[0].Rule != schema.FileBadValue || doc.Draft.Ends() != 1 {
		t.Errorf("%d findings, %d ends", len(doc.Findings), doc.Draft.Ends())
	}
}

// TestFirstDuplicateWins reads duplicate names in all kinds of objects.
func TestFirstDuplicateWins(t *testing.T) {
	doc := Read(&schema.Source{Text: []byte(`{"fettle": 1, "threading": [1], "liftplan": [[1]], "threading": [2, 2],
		"project": {"sett": "8/cm", "sett": 1, "take-up": "5 %", "take_up": "6 %"},
		"ignore": [{"rule": "a/b"}, {"rule": "c/d", "rule": 5}], "warp": {"color": 1, "color": "x"}}`)})
	d := doc.Draft
	if d.Threading.Len() != 1 || len(d.Settings) != 2 || d.Settings[0].Value != "8/cm" || d.Settings[1].Value != "5 %" ||
		len(d.Ignores) != 2 || d.Ignores[1].Rule != "c/d" || d.Warp.Color != 1 {
		t.Errorf("got %+v", d)
	}
	var got []string
	for _, f := range schema.SortFindings(doc.Findings) {
		got = append(got, f.Rule+" "+f.Pointer)
	}
	want := "file/duplicate-key /threading, file/duplicate-key /project/sett, file/unknown-key /project/take-up, " +
		"file/duplicate-key /project/take_up, file/duplicate-key /ignore/1/rule, file/duplicate-key /warp/color"
	if s := strings.Join(got, ", "); s != want {
		t.Errorf("got  %s\nwant %s", s, want)
	}
}

// TestUnreadMisspeltSettings checks which misspelt settings count as lost.
func TestUnreadMisspeltSettings(t *testing.T) {
	for text, unread := range map[string]bool{`"5 %"`: false, `5`: false, `5.0`: false, `[5]`: true, `null`: true, `5.5`: true} {
		doc := Read(&schema.Source{Text: []byte(`{"fettle": 1, "threading": [1], "liftplan": [[1]], "project": {"take-up": ` + text + `}}`)})
		if len(doc.Findings) != 1 || doc.Findings[0].Unread != unread || (len(doc.Draft.Settings) == 0) != unread {
			t.Errorf("%s: %+v, settings %v", text, doc.Findings, doc.Draft.Settings)
		}
	}
}

// FuzzRead reads any text. The table and the schema must agree on what the writer
// writes, and reading and writing that must not change it.
func FuzzRead(f *testing.F) {
	for _, text := range append(awkward, full, `{"fettle": 1, "fettle": 2}`, `{"project": {"take-up": 1e2, "take_up": true}}`) {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		doc := Read(&schema.Source{Text: text})
		if doc.Draft == nil {
			return
		}
		for _, x := range doc.Findings {
			if x.Span.Start < 0 || x.Span.End < x.Span.Start || x.Span.End > len(text) || x.Message == "" {
				t.Fatalf("%s is at %v: %q", x.Rule, x.Span, x.Message)
			}
		}
		once, _ := Write(doc.Draft)
		again, _ := Write(Read(&schema.Source{Text: once}).Draft)
		if string(once) != string(again) {
			t.Fatalf("%s\nis written\n%s\nand then\n%s", text, once, again)
		}
		s, right := skeletonOf(string(once))
		violations, err := jsonschema.Validate("draft", once)
		if err != nil || right != (len(violations) == 0) || len(s.out) > len(once) {
			t.Fatalf("the table accepts it: %v; the schema finds %v in\n%s", right, violations, once)
		}
	})
}
