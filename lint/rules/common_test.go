package rules

import (
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"fettle/corpus/golden"
	"fettle/formats"
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/settings"
	"fettle/schema/wording"
)

// sound is the draft that examples change: 2/2 twill on a straight draw of four shafts,
// with ten ends and ten picks per centimetre. No rule finds anything in it.
const sound = `[WIF]
Version=1.1
Date=April 20, 1997
Developers=wif@mhsoft.com
[COLOR PALETTE]
Entries=2
Form=RGB
Range=0,255
[WEAVING]
Shafts=4
Treadles=4
Rising Shed=true
[WARP]
Threads=8
Color=1
Units=Centimeters
Spacing=0.1
[WEFT]
Threads=8
Color=1
Units=Centimeters
Spacing=0.1
[COLOR TABLE]
1=242,234,216
2=34,49,63
[TIEUP]
1=1,2
2=2,3
3=3,4
4=1,4
[THREADING]
1=1
2=2
3=3
4=4
5=1
6=2
7=3
8=4
[TREADLING]
1=1
2=2
3=3
4=4
5=1
6=2
7=3
8=4
`

type part struct{ name, text string }

// parts splits a draft into sections. Lines before the first get a part without a name.
func parts(text string) []part {
	var list []part
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "[") || list == nil {
			name, _, _ := strings.Cut(strings.TrimPrefix(line, "["), "]")
			if !strings.HasPrefix(line, "[") {
				name = ""
			}
			list = append(list, part{name: name})
		}
		list[len(list)-1].text += line
	}
	return list
}

// composed returns the whole text of an example: the sound draft with the example's
// sections in place of its own, and a matching CONTENTS.
func composed(e lint.Example) string {
	if e.Whole {
		return e.Draft
	}
	own := parts(e.Draft)
	named := func(name string) func(part) bool { return func(p part) bool { return p.name == name } }
	var list []part
	for _, p := range parts(sound) {
		if !slices.ContainsFunc(own, named(p.name)) {
			list = append(list, p)
			continue
		}
		for _, o := range own {
			if o.name == p.name {
				list = append(list, o)
			}
		}
	}
	for _, o := range own {
		if !slices.ContainsFunc(list, named(o.name)) {
			list = append(list, o)
		}
	}
	if !slices.ContainsFunc(own, named("CONTENTS")) {
		list = slices.Insert(list, 1, listing(list[1:]))
	}
	var b strings.Builder
	for _, p := range list {
		b.WriteString(p.text)
	}
	return b.String()
}

func listing(list []part) part {
	var text strings.Builder
	text.WriteString("[CONTENTS]\n")
	told := map[string]bool{}
	for _, p := range list {
		if p.name != "" && !told[p.name] {
			told[p.name] = true
			fmt.Fprintf(&text, "%s=true\n", p.name)
		}
	}
	return part{"CONTENTS", text.String()}
}

// settingsOf returns the settings in a text.
func settingsOf(t *testing.T, text string) *settings.Settings {
	t.Helper()
	before, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	defer t.Chdir(before)
	if err := os.WriteFile(settings.FileName, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := settings.NewFinder(settings.Options{}).ForFolder(".")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// look reads an example and runs all rules on it, like the command.
func look(t *testing.T, e lint.Example) (*schema.Document, []schema.Finding) {
	t.Helper()
	s := settingsOf(t, e.Settings)
	doc := formats.Read("example.wif", []byte(composed(e)))
	return doc, run(t, doc, s)
}

func run(t *testing.T, doc *schema.Document, s *settings.Settings) []schema.Finding {
	t.Helper()
	linter, err := lint.New(All(), lint.Selection{})
	if err != nil {
		t.Fatal(err)
	}
	result, err := linter.Lint(doc, s)
	if err != nil {
		t.Fatal(err)
	}
	return result.Findings
}

// told returns a finding as the tables write it: severity, line and data, with six
// decimal places.
func told(t *testing.T, doc *schema.Document, f schema.Finding) string {
	t.Helper()
	rounded := slices.Clone(f.Data)
	for i, d := range rounded {
		if v, ok := d.Value.(float64); ok {
			rounded[i].Value = json.RawMessage(wording.Decimal(v, 6))
		}
	}
	data, err := json.Marshal(rounded)
	if err != nil {
		t.Fatal(err)
	}
	line := string(doc.Source.Line(f.Position.Line))
	if f.Position.Column != 1 || f.Position.EndLine != f.Position.Line || f.Position.EndColumn != len([]rune(line))+1 {
		t.Errorf("%s is at %+v, not at the whole line %q", f.Rule, f.Position, line)
	}
	return fmt.Sprintf("%s %s %s", f.Severity, line, data)
}

// row is a draft and the findings that a rule must report in it.
type row struct {
	name, draft, settings string
	want                  []string // as told writes it
	fix                   string   // certain or risky; "" is not checked
}

func TestMain(m *testing.M) { os.Exit(golden.M{M: m}.Run()) }

func check(t *testing.T, rule string, rows []row) {
	t.Helper()
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			doc, findings := look(t, lint.Example{Draft: r.draft, Settings: r.settings})
			var got, words []string
			for _, f := range findings {
				if f.Rule != rule {
					continue
				}
				words = append(words, f.Message)
				for _, fix := range f.Fixes {
					words = append(words, "fix: "+fix.Title)
				}
				if r.fix != "" && (len(f.Fixes) == 0 || f.Fixable() != (r.fix == "certain")) {
					t.Errorf("wrong kind of fixes %v; one is certain: %v", f.Fixes, f.Fixable())
				}
				got = append(got, told(t, doc, f))
			}
			if !slices.Equal(got, r.want) {
				t.Errorf("found\n  %s\nwant\n  %s", strings.Join(got, "\n  "), strings.Join(r.want, "\n  "))
			}
			if words != nil {
				golden.Words(t, strings.Join(words, "\n"))
			}
		})
	}
}

// table writes a section with numbered rows, from 1.
func table(section string, values ...any) string {
	var b strings.Builder
	fmt.Fprintf(&b, "[%s]\n", section)
	for i, v := range values {
		fmt.Fprintf(&b, "%d=%v\n", i+1, v)
	}
	return b.String()
}
