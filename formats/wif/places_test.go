package wif

import (
	"encoding/json"
	"fettle/corpus/golden"
	"fettle/formats/draftjson"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
)

// probes holds values that can be found again in the JSON draft. Other keys take "7".
var probes = map[string]string{
	"COLOR PALETTE/Form": "Symbolic", "COLOR PALETTE/Range": "0,999", "WEAVING/Rising Shed": "false", "WEAVING/Profile": "true",
	"WARP/Units": "Inches", "WEFT/Units": "Inches", "COLOR TABLE": "10,20,30", "TIEUP": "1,3", "LIFTPLAN": "1,3",
	"CONTENTS": "", "WIF/Version": "", "WIF/Date": "", "WIF/Developers": "", "WIF/Source Program": "", "WIF/Source Version": "",
}

// TestPlacesInJSON finds the place in the JSON draft of every section and key of WIF,
// and checks or writes the table in schema/jsonschema/README.md.
func TestPlacesInJSON(t *testing.T) {
	var table strings.Builder
	table.WriteString("| section | key | in the JSON draft |\n| --- | --- | --- |\n")
	for _, s := range sections[kindWIF:kindPrivate] {
		keys := s.keys
		if len(keys) == 0 {
			keys = []key{{name: "N"}}
		}
		for _, key := range keys {
			fmt.Fprintf(&table, "| %s | %s | %s |\n", s.name, key.name, placeOf(t, s.name, key.name))
		}
	}
	fmt.Fprintf(&table, "| PRIVATE source | any | %s |\n", placeOf(t, "PRIVATE loom room", "any"))
	const path = "../../schema/jsonschema/README.md"
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	head, rest, _ := strings.Cut(string(text), "<!-- places -->\n")
	_, tail, ok := strings.Cut(rest, "<!-- end -->")
	if !ok {
		t.Fatal("the marks around the table are missing")
	}
	want := head + "<!-- places -->\n" + table.String() + "<!-- end -->" + tail
	switch {
	case want == string(text):
	case !*golden.Update:
		t.Fatalf("the table in %s is out of date; go test ./formats/wif -update writes it:\n%s", path, table.String())
	default:
		if err := golden.WriteFile(path, []byte(want)); err != nil {
			t.Fatal(err)
		}
	}
}

// placeOf returns the pointers at which the JSON drafts with and without a key differ.
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
		t.Errorf("JSON loses [%s] %s", section, key)
	}
	return strings.Join(places, ", ")
}

// base is the smallest draft in which rows of other sections count.
const base = "[WIF]\nVersion=1.1\n[THREADING]\n2=3\n[TREADLING]\n2=3\n"

// flat returns the values of the JSON draft of a text by their pointers, with N for row
// numbers. Each carried piece is one value.
func flat(t *testing.T, text string) map[string]bool {
	draft, _ := draftjson.Write(read(text).Draft)
	var v any
	if err := json.Unmarshal(draft, &v); err != nil {
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
				case pointer == "/threading", pointer == "/treadling": // the base already has rows here
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
