package formats

import (
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"fettle/corpus/golden"
	"fettle/formats/wif"
)

var long = flag.Bool("long", false, "try many more drafts, texts and words")

// probes are values that show, once they are in a draft, where in the JSON draft
// they went. Keys not named here take "7".
var probes = map[string]string{
	"COLOR PALETTE/Form": "Symbolic", "COLOR PALETTE/Range": "0,999", "WEAVING/Rising Shed": "false", "WEAVING/Profile": "true",
	"WARP/Units": "Inches", "WEFT/Units": "Inches", "COLOR TABLE": "10,20,30", "TIEUP": "1,3", "LIFTPLAN": "1,3",
	"CONTENTS": "", "WIF/Version": "", "WIF/Date": "", "WIF/Developers": "", "WIF/Source Program": "", "WIF/Source Version": "",
}

// TestPlacesInJSON finds out, for every section and key of the text format, where
// the JSON draft keeps it, and keeps the table in schema/jsonschema/README.md so.
func TestPlacesInJSON(t *testing.T) {
	var table strings.Builder
	table.WriteString("| section | key | in the JSON draft |\n| --- | --- | --- |\n")
	for _, s := range wif.Sections() {
		keys := s.Keys
		if s.Rows || len(keys) == 0 {
			keys = []string{"N"}
		}
		for _, key := range keys {
			fmt.Fprintf(&table, "| %s | %s | %s |\n", s.Name, key, placeOf(t, s.Name, key))
		}
	}
	fmt.Fprintf(&table, "| PRIVATE source | any | %s |\n", placeOf(t, "PRIVATE loom room", "any"))
	const path = "../schema/jsonschema/README.md"
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	head, rest, _ := strings.Cut(string(text), "<!-- places -->\n")
	_, tail, ok := strings.Cut(rest, "<!-- end -->")
	if !ok {
		t.Fatal("the marks that the table stands between are not there")
	}
	want := head + "<!-- places -->\n" + table.String() + "<!-- end -->" + tail
	switch {
	case want == string(text):
	case !*golden.Update:
		t.Fatalf("%s does not say where things go; go test ./formats -update mends it:\n%s", path, table.String())
	default:
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// placeOf compares the JSON of a draft with and without a key, and gives the
// pointers at which they differ.
func placeOf(t *testing.T, section, key string) string {
	probe, special := probes[section+"/"+key]
	if key == "N" || key == "any" {
		probe, special = probes[section]
		key = map[bool]string{true: "1", false: "any"}[key == "N"]
	}
	if special && probe == "" {
		return "not kept: fettle writes its own"
	}
	if !special {
		probe = "7"
	}
	before, after := flat(t, base), flat(t, base+"["+section+"]\n"+key+"="+probe+"\n")
	var places []string
	for pointer := range after {
		if _, there := before[pointer]; !there {
			pointer, _, _ = strings.Cut(pointer, "=")
			places = append(places, "`"+pointer+"`")
		}
	}
	slices.Sort(places)
	if len(places) == 0 {
		t.Errorf("[%s] %s is lost on the way to JSON", section, key)
	}
	return strings.Join(places, ", ")
}

// base is a draft with as little in it as the rows of others need.
const base = "[WIF]\nVersion=1.1\n[THREADING]\n2=3\n[TREADLING]\n2=3\n"

// flat is the JSON draft of a text, by pointers to its single values, with N for
// the number of a row; of what is carried, to each piece as a whole.
func flat(t *testing.T, text string) map[string]bool {
	var v any
	if err := json.Unmarshal(written(t, "json", Read("probe", []byte(text)).Draft, Options{}), &v); err != nil {
		t.Fatal(err)
	}
	found := map[string]bool{}
	var walk func(pointer string, v any)
	walk = func(pointer string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for _, name := range slices.Sorted(maps.Keys(v)) {
				walk(pointer+"/"+name, v[name])
			}
		case []any:
			for _, e := range v {
				switch {
				case pointer == "/threading", pointer == "/treadling": // the base has rows of these already
					found[fmt.Sprintf("%s/N=%v", pointer, e)] = true
				case strings.HasPrefix(pointer, "/carried/wif/"):
					found[pointer+"/N"] = true
				default:
					walk(pointer+"/N", e)
				}
			}
		default:
			found[pointer] = true
		}
	}
	walk("", v)
	return found
}

// TestExampleInReadme makes sure that the draft shown in schema/jsonschema/README.md is in
// canonical form and without a fault.
func TestExampleInReadme(t *testing.T) {
	text, err := os.ReadFile("../schema/jsonschema/README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(text), "```json\n")
	example, _, _ := strings.Cut(rest, "```")
	doc := Read("example.json", []byte(example))
	if doc.Draft == nil || len(doc.Findings) > 0 {
		t.Fatalf("the example has findings: %v", doc.Findings)
	}
	if again := string(written(t, "json", doc.Draft, Options{})); again != example {
		t.Errorf("the example is not as it would be written:\n%s", again)
	}
}
