package draftjson

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettle/schema"
)

// full is a canonical draft with every property of the table.
const full = `{
  "fettle": 1,
  "title": "Harbour <towel> \"é\"",
  "author": "A",
  "address": "B",
  "email": "C",
  "telephone": "D",
  "fax": "E",
  "notes": [
    "one",
    "two"
  ],
  "shafts": 4,
  "treadles": 2,
  "shed": "sinking",
  "profile": false,
  "palette": [
    "#f2ead8",
    null
  ],
  "threading": [
    1,
    0,
    [2, 4]
  ],
  "tieup": [
    [1],
    [],
    [2, 3]
  ],
  "treadling": [
    1,
    [1, 3]
  ],
  "liftplan": [
    [1],
    []
  ],
  "warp": {
    "threads": 5,
    "color": 1,
    "colors": [
      1,
      0,
      2
    ],
    "unit": "cm",
    "spacing": 0.125,
    "spacings": [
      0,
      0.1
    ],
    "thickness": 2,
    "thicknesses": [
      1.5
    ]
  },
  "weft": {
    "unit": "decipoint"
  },
  "project": {
    "finished_length": "2 m",
    "yarns": {
      "grey": {
        "grist": "8/2 cotton"
      }
    }
  },
  "ignore": [
    {"rule": "cloth/long-float", "reason": "meant"},
    {"rule": "cloth/layers"}
  ],
  "carried": {
    "wif": {
      "comments": [
        {"section": "WARP", "before": "Units", "text": "; a"},
        {"text": ""}
      ],
      "values": [
        {"section": "WEFT", "key": "x", "value": "y"}
      ],
      "sections": [
        {
          "name": "PRIVATE",
          "lines": [
            "a=1"
          ]
        },
        {
          "name": "EMPTY",
          "lines": []
        }
      ]
    }
  }
}
`

// TestCanonicalFormIsStable reads a full draft without findings and writes the same
// bytes.
func TestCanonicalFormIsStable(t *testing.T) {
	for _, text := range []string{full, "{\n  \"fettle\": 1\n}\n"} {
		doc := Read(&schema.Source{Text: []byte(text)})
		for _, f := range doc.Findings {
			if f.Rule != schema.FileMissingSection {
				t.Errorf("%s at %s: %s", f.Rule, f.Pointer, f.Message)
			}
		}
		got, lost := Write(doc.Draft)
		if diff := cmp.Diff(text, string(got)); diff != "" || len(lost) > 0 {
			t.Errorf("lost %q\n%s", lost, diff)
		}
	}
}

// TestEveryPropertyReachesTheModel checks that the full draft has every property.
func TestEveryPropertyReachesTheModel(t *testing.T) {
	d := Read(&schema.Source{Text: []byte(full)}).Draft
	var visit func(v *value, holder any)
	visit = func(v *value, holder any) {
		for _, p := range v.properties {
			if p.kind == kindVersion || p.kind == kindSetting || p.kind == kindNamed {
				continue
			}
			to := p.target(holder)
			if _, isWeft := holder.(*schema.System); isWeft && holder == any(&d.Weft) {
				continue
			}
			says := true
			switch to := to.(type) {
			case anyEntryList:
				says = to.len() > 0
				visit(p.each, to.at(0))
			case *schema.Rows:
				says = to.Len() > 0
			case *[]string:
				says = len(*to) > 0
			case *[]int32:
				says = len(*to) > 0
			case *[]float64:
				says = len(*to) > 0
			case *[]schema.Color:
				says = len(*to) > 0
			case *[]schema.Setting:
				says = len(*to) == 2
			default:
				if p.kind == kindObject {
					visit(p, to)
				} else {
					says = scalarText(&value{kind: p.kind, words: p.words}, to) != ""
				}
			}
			if !says {
				t.Errorf("%s did not reach the model", p.name)
			}
		}
	}
	visit(table, d)
}

func TestLosses(t *testing.T) {
	_, lost := Write(&schema.Draft{Ignores: []schema.Ignore{{Rule: "a/b", Section: schema.Span{End: 1}}, {Rule: "c/d"}}})
	if len(lost) != 1 {
		t.Errorf("lost %q", lost)
	}
}
