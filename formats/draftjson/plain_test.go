package draftjson

import (
	"strings"
	"testing"

	"fettle/schema"
)

func TestPlain(t *testing.T) {
	for _, c := range []struct {
		value     string
		depth     int
		fractions bool
		want      bool
	}{
		{`[]`, 1, false, true}, {`[1, 2,3]`, 1, false, true}, {"[1,\n[2, 3], 0]", 2, false, true},
		{`[999999]`, 1, false, true}, {`[1000000]`, 1, false, false}, {`[0.127, 12]`, 1, true, true},
		{`[0.127]`, 1, false, false}, {`[[1]]`, 1, false, false}, {`[[[1]]]`, 2, false, false},
		{`[-1]`, 1, true, false}, {`[1e3]`, 1, true, false}, {`["1"]`, 1, true, false}, {`[null]`, 1, true, false},
		{`null`, 1, true, false}, {`1`, 1, true, false}, {`[{"a":1}]`, 2, true, false}, {`[1234567.5]`, 1, true, false},
	} {
		if got := plain([]byte(c.value), c.depth, c.fractions); got != c.want {
			t.Errorf("%s, depth %d, fractions %v: %v", c.value, c.depth, c.fractions, got)
		}
	}
}

func TestTooMuchToCheck(t *testing.T) {
	text := `{"fettle": 1, "threading": [1], "liftplan": [[1]], "title": "` + strings.Repeat("x", mostChecked) + `"}`
	doc := Read(&schema.Source{Text: []byte(text)})
	if len(doc.Findings) != 1 || doc.Findings[0].Rule != schema.FileBadValue || doc.Draft.Ends() != 1 {
		t.Errorf("%d findings, %d ends", len(doc.Findings), doc.Draft.Ends())
	}
}
