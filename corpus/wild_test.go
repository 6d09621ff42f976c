package corpus

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettle/formats"
	"fettle/schema"
)

// wildExpected holds the expected result for a wild draft, worked out by hand, from
// NAME.expected.json beside NAME.wif.
type wildExpected struct {
	Findings []wildFinding `json:"findings"`
	Read     *wildFacts    `json:"read"` // null where the file holds no draft
}

type wildFinding struct {
	Rule      string         `json:"rule"`
	Line      int            `json:"line"`
	Column    int            `json:"column"`
	EndLine   int            `json:"end_line"`
	EndColumn int            `json:"end_column"`
	Lines     []int          `json:"lines,omitempty"`
	Fix       string         `json:"fix,omitempty"` // certain or risky; empty where there is none
	Data      map[string]any `json:"data"`
}

// wildFacts holds all that is read from a draft. The cloth has a row for each pick and a
// character for each end, # for warp up.
type wildFacts struct {
	Title    string     `json:"title"`
	Ends     int        `json:"ends"`
	Picks    int        `json:"picks"`
	Shafts   int        `json:"shafts"`
	Treadles int        `json:"treadles"`
	Shed     string     `json:"shed"`
	Cloth    []string   `json:"cloth"`
	Palette  []string   `json:"palette,omitempty"`
	WarpMM   []float64  `json:"warp_spacing_mm,omitempty"`
	WeftMM   []float64  `json:"weft_spacing_mm,omitempty"`
	Notes    []string   `json:"notes,omitempty"`
	Comments []string   `json:"comments,omitempty"`
	Values   []string   `json:"values,omitempty"`   // carried: SECTION KEY=VALUE
	Carried  [][]string `json:"sections,omitempty"` // carried: the name, then the lines
}

func TestWildDraftsAreAsComposed(t *testing.T) {
	drafts := wildDrafts()
	seen := map[string]bool{}
	for _, d := range drafts {
		if seen[d.name] {
			t.Errorf("two drafts are called %s", d.name)
		}
		seen[d.name] = true
		path := filepath.Join("wild", filepath.FromSlash(d.name))
		compareText(t, path+".wif", d.raw)
		if d.meant != "" {
			compareText(t, path+".meant.wif", d.meant)
		}
	}
	for _, pattern := range []string{"wild/*.wif", "wild/no-draft/*.wif", "wild/*.json", "wild/no-draft/*.json"} {
		for _, path := range files(t, pattern) {
			name, _, _ := strings.Cut(strings.TrimPrefix(filepath.ToSlash(path), "wild/"), ".wif")
			if name = strings.TrimSuffix(strings.TrimSuffix(name, ".expected.json"), ".meant"); !seen[name] {
				t.Errorf("%s belongs to no draft", path)
			}
		}
	}
}

func TestWildDraftsReadAsExpected(t *testing.T) {
	for _, d := range wildDrafts() {
		t.Run(d.name, func(t *testing.T) {
			path := filepath.Join("wild", filepath.FromSlash(d.name))
			doc := formats.Read(path+".wif", []byte(d.raw))
			got := wildExpected{foundIn(doc), factsOf(doc.Draft)}
			text, err := json.MarshalIndent(got, "", " ")
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(wanted(t, path+".expected.json"), decoded(t, text)); diff != "" {
				t.Errorf("expected (-), found (+):\n%s", diff)
			}
		})
	}
}

func wanted(t *testing.T, path string) wildExpected {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return decoded(t, text)
}

func decoded(t *testing.T, text []byte) (x wildExpected) {
	t.Helper()
	if err := json.Unmarshal(text, &x); err != nil {
		t.Fatal(err)
	}
	return x
}

func foundIn(doc *schema.Document) []wildFinding {
	list := []wildFinding{}
	for _, f := range schema.SortFindings(doc.Findings) {
		p := doc.Source.Position(f.Span)
		data := map[string]any{}
		for _, d := range f.Data {
			data[d.Key] = d.Value
		}
		fix := ""
		switch {
		case len(f.Fixes) == 0 || len(f.Fixes[0].Edits) == 0: // those of the whole file have no edits
		case f.Fixable():
			fix = "certain"
		default:
			fix = "risky"
		}
		list = append(list, wildFinding{f.Rule, p.Line, p.Column, p.EndLine, p.EndColumn, f.Lines, fix, data})
	}
	return list
}

func factsOf(d *schema.Draft) *wildFacts {
	if d == nil {
		return nil
	}
	f := &wildFacts{Title: d.Texts.Title, Ends: d.Ends(), Picks: d.Picks(), Shafts: d.Shafts, Treadles: d.Treadles,
		Shed: d.Shed.String(), Cloth: clothRows(d), WarpMM: spacings(&d.Warp, d.Ends()), WeftMM: spacings(&d.Weft, d.Picks()),
		Notes: d.Notes}
	for _, c := range d.Palette {
		f.Palette = append(f.Palette, c.Hex())
	}
	for _, c := range d.Carried.Comments {
		f.Comments = append(f.Comments, c.Text)
	}
	for _, v := range d.Carried.Values {
		f.Values = append(f.Values, v.Section+" "+v.Key+"="+v.Value)
	}
	for _, s := range d.Carried.Sections {
		f.Carried = append(f.Carried, append([]string{s.Name}, s.Lines...))
	}
	return f
}

func clothRows(d *schema.Draft) []string {
	rows := []string{}
	for _, picked := range woven(d) {
		row := make([]byte, len(picked))
		for i, up := range picked {
			if row[i] = '.'; up {
				row[i] = '#'
			}
		}
		rows = append(rows, string(row))
	}
	return rows
}

// spacings returns the width of each thread in millimetres, none if nothing is stated.
func spacings(s *schema.System, threads int) []float64 {
	var list []float64
	stated := false
	for n := 1; n <= threads; n++ {
		list = append(list, s.SpacingOf(n))
		stated = stated || s.SpacingOf(n) != 0
	}
	if !stated {
		return nil
	}
	return list
}
