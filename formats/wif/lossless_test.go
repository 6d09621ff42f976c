package wif

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettle/formats/draftjson"
	"fettle/schema"
)

// valuesOfKeys is a value for every key of the format, by section where sections
// differ. Those of WIF are the standard's and the writing program's own.
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

// rowsOfForm are rows of a numbered section, by the form it has.
func rowsOfForm(f form) []string {
	switch f {
	case numbers:
		return []string{"1=1", "2=2"}
	case colors:
		return []string{"1=999,500,1", "2=2,128,333"}
	case decimals:
		return []string{"1=0.25", "2=1.5"}
	case lines:
		return []string{"1=Sett close.", "2=Full; warm = soft"}
	}
	return []string{"1=as it stands", "Entries = 2", "", "loose words", "2='x' ; behind"}
}

// everything is a text with every section and key of the format, a comment before
// each line and at the end of each section, in the canonical order.
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
				t.Fatalf("say what to write for %s of %s", key.name, sections[k].name)
			}
			body = append(body, key.name+"="+value)
		}
		switch {
		case k == kindContents:
			for other := kindColorPalette; other < kinds; other++ {
				body = append(body, nameFor(other)+"=true")
			}
		case sections[k].form != fields:
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

// nameFor is a section's name, of a private one an instance.
func nameFor(k kind) string {
	if k == kindPrivate {
		return "PRIVATE LOOM ROOM"
	}
	return sections[k].name
}

// TestNothingIsLostThroughJSON: text to JSON and back is the same text, with every
// section, key, value and comment in its place.
func TestNothingIsLostThroughJSON(t *testing.T) {
	text := everything(t)
	doc := read(text)
	for _, f := range doc.Findings {
		t.Errorf("reading finds %s: %s", f.Rule, f.Message)
	}
	json, lost := draftjson.Write(doc.Draft)
	if len(lost) > 0 {
		t.Errorf("JSON loses %q", lost)
	}
	back := draftjson.Read(&schema.Source{Text: json})
	for _, f := range back.Findings {
		t.Errorf("reading the JSON finds %s: %s", f.Rule, f.Message)
	}
	again, lost := Write(back.Draft, Options{LF: true})
	if diff := cmp.Diff(text, string(again)); diff != "" || len(lost) > 0 {
		t.Errorf("lost %q; text (-), through JSON (+)\n%s", lost, diff)
	}
}
