package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fettle/schema/jsonschema"
)

const goodDraft = `[WIF]
Version=1.1
[WEAVING]
Shafts=2
Treadles=2
Rising Shed=true
[WARP]
Threads=2
[WEFT]
Threads=2
[TIEUP]
1=1
2=2
[THREADING]
1=1
2=2
[TREADLING]
1=1
2=2
`

// TestJSONFollowsItsSchema runs each command that prints JSON, successfully and with
// errors, and checks the output against the command's schema.
func TestJSONFollowsItsSchema(t *testing.T) {
	t.Chdir(t.TempDir())
	for path, text := range map[string]string{
		"good.wif": goodDraft, "page.wif": "<html>", "empty.wif": "[WIF]\nVersion=1.1\n[WARP]\nThreads=0\n",
		"unwoven.wif":    strings.Replace(goodDraft, "1=1\n2=2\n[TREADLING]", "1=1\n2=7\n[TREADLING]", 1),
		"own.wif":        strings.Replace(goodDraft, "[WEAVING]", "[TEXT]\nTitle=布\n[WEAVING]", 1),
		"bad/fettle.ini": "[loom]\nshafts = many\n", "bad/good.wif": goodDraft, "nothing/x.md": "",
		"unsure/fettle.ini": "[files]\nexclude = [\n", "unsure/good.wif": goodDraft,
	} {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	forms := map[string]string{"info": "info", "plan": "plan", "rules": "rules", "lint": "findings", "convert": "losses", "settings": "settings"}
	for _, row := range []struct {
		args   string
		status int
		fails  string // the path in the failure, "-" for one without a path, "" for no failure
	}{
		{"info good.wif", 0, ""},
		{"settings good.wif", 0, ""},
		{"settings page.wif", 2, "page.wif"},
		{"settings gone/gone.wif good.wif", 2, "-"},
		{"info", 2, "-"},
		{"info gone.wif", 2, "gone.wif"},
		{"info page.wif good.wif", 2, "page.wif"},
		{"info nothing", 2, "nothing"},
		{"info nothing --allow-empty", 0, ""},
		{"info unsure", 2, "unsure/fettle.ini"},
		{"info good.wif --max-size 0", 2, "-"},
		{"info good.wif --max-size big", 2, "-"},
		{"info good.wif --frmat", 2, "-"},
		{"--nope info good.wif", 2, "-"},

		{"plan good.wif", 0, ""},
		{"plan", 2, "-"},
		{"plan good.wif page.wif", 2, "-"},
		{"plan gone.wif", 2, "gone.wif"},
		{"plan page.wif", 2, "page.wif"},
		{"plan empty.wif", 2, "empty.wif"},
		{"plan bad/good.wif", 2, "bad/fettle.ini"},
		{"plan good.wif --k none", 2, "-"},
		{"plan good.wif --sett much", 2, "-"},
		{"plan good.wif --page a9", 2, "-"},
		{"plan good.wif --loom gone.ini", 2, "gone.ini"},

		{"rules", 0, ""},
		{"rules cloth/long-float", 0, ""},
		{"rules cloth/long-flot", 2, "-"},
		{"rules a b", 2, "-"},

		{"lint good.wif", 0, ""},
		{"lint good.wif gone.wif", 2, ""}, // the report lists unchecked files
		{"lint page.wif", 1, ""},
		{"lint bad", 2, ""},
		{"lint good.wif --only no/such", 2, "-"},
		{"lint good.wif --fail-on sometimes", 2, "-"},
		{"lint good.wif --baseline gone.json", 2, "-"},
		{"lint good.wif --report csv=a.csv", 2, "-"},
		{"lint good.wif --jobs", 2, "-"},

		{"convert good.wif --output -", 2, "-"},
		{"convert good.wif --to svg", 0, ""},
		{"convert own.wif --to pdf --output own.pdf", 0, ""},
		{"convert own.wif --to pdf --output strict.pdf --strict", 1, ""},
		{"convert good.wif own.wif --to json", 2, "-"},
		{"convert gone.wif --to json", 2, ""},
		{"convert page.wif --to json", 2, ""},
		{"convert nothing --to json", 2, ""},
		{"convert nothing --to json --allow-empty", 0, ""},
		{"convert good.wif --to docx", 2, "-"},
		{"convert good.wif --output x.docx", 2, "-"},
		{"convert good.wif --to svg --cell none", 2, "-"},
	} {
		t.Run(row.args, func(t *testing.T) {
			args := strings.Fields("fettle " + row.args + " --format json")
			if strings.HasSuffix(row.args, "--jobs") { // the flag without its value comes last
				args = strings.Fields("fettle lint good.wif --format json --jobs")
			}
			var out, errs bytes.Buffer
			p := &program{in: strings.NewReader(""), out: &out, err: &errs}
			if status := p.run(args); status != row.status {
				t.Errorf("exit status %d, want %d: %s", status, row.status, errs.String())
			}
			command := strings.Fields(strings.TrimPrefix(row.args, "--nope "))[0]
			name, text := forms[command], out.Bytes()
			if name == "losses" {
				text = errs.Bytes()
			}
			wrong, err := jsonschema.Validate(name, text)
			if err != nil || len(wrong) > 0 {
				t.Fatalf("%s: %v %v\n%s", command, wrong, err, text)
			}
			if got := failurePath(t, text); got != row.fails {
				t.Errorf("it fails at %q, want %q\n%s", got, row.fails, text)
			}
			if name != "losses" && row.fails != "" && !strings.HasPrefix(errs.String(), "fettle: ") {
				t.Errorf("a person is told %q", errs.String())
			}
		})
	}
}

// failurePath returns the path of the first failure in a document, "-" if it has no path,
// "" if nothing failed.
func failurePath(t *testing.T, text []byte) string {
	t.Helper()
	type document struct{ Error *trouble }
	var list []document
	if json.Unmarshal(text, &list) != nil {
		var one document
		if err := json.Unmarshal(text, &one); err != nil {
			t.Fatal(err)
		}
		list = []document{one}
	}
	for _, d := range list {
		switch {
		case d.Error == nil:
		case d.Error.Path == "":
			return "-"
		default:
			return d.Error.Path
		}
	}
	return ""
}

// TestJSONAsked checks whether arguments, valid or not, ask for JSON.
func TestJSONAsked(t *testing.T) {
	for _, row := range []struct {
		args string
		want request
	}{
		{"lint a.wif", request{json: false, command: "lint"}},
		{"lint a.wif --format json", request{json: true, command: "lint"}},
		{"--format=json lint", request{json: true, command: "lint"}},
		{"lint --format json --format text", request{json: false, command: "lint"}},
		{"lint --format json -o x.json", request{json: false, command: "lint"}},
		{"lint --format json --output=-", request{json: true, command: "lint"}},
		{"convert --format json -o x.json", request{json: true, command: "convert", draft: true}},
		{"fit a.wif --format json -o x.wif", request{json: true, command: "fit"}},
		{"fit a.wif --format json -o -", request{json: true, command: "fit", draft: true}},
		{"info -- --format json", request{json: false, command: "info"}},
		{"info --format", request{json: false, command: "info"}},
		{"", request{}},
	} {
		if got := requestOf((&program{}).app(), strings.Fields("fettle "+row.args)); got != row.want {
			t.Errorf("%s: %v, want %v", row.args, got, row.want)
		}
	}
}
