package wif

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettle/formats/draftjson"
	"fettle/schema"
)

// valuesOfKeys returns a value for every key, with its section where sections differ.
// Section WIF has the values that fettle writes.
func valuesOfKeys() map[string]string {
	return map[string]string{
		"WIF Version": "1.1", "WIF Date": "April 20, 1997", "WIF Developers": "wif@mhsoft.com",
		"WIF Source Program": "fettle", "WIF Source Version": "1",
		"Entries": "2", "Form": "RGB", "Range": "0,999",
		"Title": "Café; [x] = y", "Author": "Ada of Quarrow", "Address": "Quay 1, Quarrow", "EMail": "ada@example.org",
		"Telephone": "+00 1", "FAX": "+00 2",
		"Shafts": "2", "Treadles": "2", "Rising Shed": "false", "Profile": "true",
		"Threads": "2", "Color": "1,999,500,1", "Symbol": "'#'", "Symbol Number": "7", "Units": "Inches",
		"Spacing": "0.1", "Thickness": "0.05", "Spacing Zoom": "3", "Thickness Zoom": "4",
	}
}

// rowsOfForm returns rows for a section of a form.
func rowsOfForm(f form) []string {
	switch f {
	case formNumbers:
		return []string{"1=1", "2=2"}
	case formColors:
		return []string{"1=999,500,1", "2=2,128,333"}
	case formDecimals:
		return []string{"1=0.25", "2=1.5"}
	case formText:
		return []string{"1=Sett close.", "2=Full; warm = soft"}
	}
	return []string{"1=verbatim", "Entries = 2", "", "loose words", "2='x' ; after"}
}

// everything returns a text with all sections and keys in canonical order, and a
// comment before each line and at the end of each section.
func everything(t *testing.T) string {
	t.Helper()
	values := valuesOfKeys()
	var b strings.Builder
	b.WriteString("; of the whole file\n")
	for k := kindWIF; k < kinds; k++ {
		var body []string
		for _, key := range sections[k].keys {
			value, ok := values[sections[k].name+" "+key.name]
			if !ok {
				value = values[key.name]
			}
			if value == "" {
				t.Fatalf("add a value for %s of %s", key.name, sections[k].name)
			}
			body = append(body, key.name+"="+value)
		}
		switch {
		case k == kindContents:
			for other := kindColorPalette; other < kinds; other++ {
				body = append(body, nameFor(other)+"=true")
			}
		case sections[k].form != formFields:
			body = append(body, rowsOfForm(sections[k].form)...)
		}
		if k > kindWIF {
			b.WriteByte('\n')
		}
		fmt.Fprintf(&b, "[%s]\n", nameFor(k))
		for i, line := range body {
			fmt.Fprintf(&b, "; %s, line %d: é\n%s\n", strings.ToLower(sections[k].name), i, line)
		}
		b.WriteString("; the end of " + sections[k].name + "\n")
	}
	return b.String()
}

// nameFor returns the name of a section, or an example of a private one.
func nameFor(k kind) string {
	if k == kindPrivate {
		return "PRIVATE LOOM ROOM"
	}
	return sections[k].name
}

// TestNothingIsLostThroughJSON converts a text to JSON and back, with every section,
// key, value and comment.
func TestNothingIsLostThroughJSON(t *testing.T) {
	text := everything(t)
	doc := read(text)
	for _, f := range doc.Findings {
		t.Errorf("Read reports %s: %s", f.Rule, f.Message)
	}
	json, lost := draftjson.Write(doc.Draft)
	if len(lost) > 0 {
		t.Errorf("JSON loses %q", lost)
	}
	back := draftjson.Read(&schema.Source{Text: json})
	for _, f := range back.Findings {
		t.Errorf("reading the JSON reports %s: %s", f.Rule, f.Message)
	}
	again, lost := Write(back.Draft, Options{LF: true})
	if diff := cmp.Diff(text, string(again)); diff != "" || len(lost) > 0 {
		t.Errorf("lost %q; text (-), through JSON (+)\n%s", lost, diff)
	}
}
