package lint

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fettle/corpus/golden"
	"fettle/formats/wif"
	"fettle/schema"
	"fettle/schema/settings"
)

// testRules returns rules that find something in every draft, at known places.
func testRules() []Rule {
	report := func(part schema.Part) func(*Pass) {
		return func(p *Pass) { p.Report(schema.Place{Part: part}, nil, "found") }
	}
	return []Rule{
		{ID: "a/one", Default: schema.Error, Check: report(schema.PartThreading)},
		{ID: "a/two", Default: schema.Warning, Check: report(schema.PartLiftPlan),
			Options: []Option{{Name: "length", Kind: Length, Default: 12}, {Name: "threads", Kind: Threads, Default: 9}}},
		{ID: "b/off", Default: schema.Off, Check: report(schema.PartThreading)},
		{ID: schema.FileStrayLine, Default: schema.Warning},
		{ID: UnusedIgnore, Default: schema.Note},
	}
}

const draft = "[WIF]\nVersion=1.1\n[THREADING]\nstray\n1=1\n[LIFTPLAN]\n1=1\n"

// linted returns the findings of a draft in one line.
func linted(t *testing.T, rules []Rule, s Selection, text, ini string) string {
	t.Helper()
	l, err := New(rules, s)
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	if err := os.WriteFile(settings.FileName, []byte(ini), 0o644); err != nil {
		t.Fatal(err)
	}
	set, err := settings.NewFinder(settings.Options{}).ForFolder(".")
	if err != nil {
		t.Fatal(err)
	}
	doc := wif.Read(&schema.Source{Path: "drafts/a.wif", Text: []byte(text)})
	r, err := l.Lint(doc, set)
	if err != nil {
		return err.Error()
	}
	var lines []string
	for _, f := range r.Findings {
		lines = append(lines, f.Rule+" "+f.Severity.String())
	}
	if len(r.Suppressed) > 0 {
		lines = append(lines, strings.Repeat("ignored ", len(r.Suppressed)))
	}
	return strings.TrimSpace(strings.Join(lines, ", "))
}

func TestMain(m *testing.M) { os.Exit(golden.M{M: m}.Run()) }

func TestLint(t *testing.T) {
	for _, test := range []struct {
		name       string
		s          Selection
		draft, ini string
		want       string // the findings, or the place of an error
	}{
		{"defaults, by place", Selection{}, draft, "", "a/one error, file/stray-line warning, a/two warning"},
		{"only a family", Selection{Only: []string{"a"}}, draft, "", "a/one error, a/two warning"},
		{"only a rule", Selection{Only: []string{"a/two"}}, draft, "", "a/two warning"},
		{"without a family", Selection{Skip: []string{"a"}}, draft, "", "file/stray-line warning"},
		{"a family without a rule", Selection{Only: []string{"a"}, Skip: []string{"a/one"}}, draft, "", "a/two warning"},
		{"severities stated", Selection{}, draft, "[rules]\na/one = note\na/two = off\nb/off = error\nfile/stray-line = error\n",
			"a/one note, b/off error, file/stray-line error"},
		{"a rule that isn't selected", Selection{Only: []string{"a/two"}}, draft, "[rules]\na/one = error\n", "a/two warning"},
		{"a family", Selection{}, draft, "[rules]\na/two = note\na = off\n", "file/stray-line warning, a/two note"},
		{"a family for some drafts", Selection{}, draft, "[rules **]\na = note\n[rules]\na/two = error\n", "a/one note, file/stray-line warning, a/two note"},
		{"a family that isn't selected", Selection{Only: []string{"file"}}, draft, "[rules]\na = error\n", "file/stray-line warning"},
		{"an option of a family", Selection{}, draft, "[rules]\na = note, 12 mm\n",
			"fettle.ini:2: "},
		{"an unknown rule", Selection{}, draft, "[rules]\n\na/tow = off\n", "fettle.ini:3: "},
		{"an unknown option", Selection{}, draft, "[rules]\na/two = warning, 3 kg\n", "fettle.ini:2: "},
		{"a number without a unit", Selection{}, draft, "[rules]\na/two = warning, 15\n",
			"fettle.ini:2: "},
		{"a duplicate option", Selection{}, draft, "[rules]\na/two = 15 mm, 9 ends, 0.5 in\n",
			"fettle.ini:2: "},
		{"both options, in any order", Selection{}, draft, "[rules]\na/two = 9 ends, 15 mm\n",
			"a/one error, file/stray-line warning, a/two warning"},
		{"an option for a rule without options", Selection{}, draft, "[rules]\na/one = error, 5\n", "fettle.ini:2: "},
		{"ignored in the whole file", Selection{}, "; fettle: ignore a/one - meant\n" + draft, "", "file/stray-line warning, a/two warning, ignored"},
		{"ignored in its section", Selection{}, draft + "; fettle: ignore a/two\n", "", "a/one error, file/stray-line warning, ignored"},
		{"ignored in another section", Selection{}, draft + "; fettle: ignore a/one\n", "",
			"a/one error, file/stray-line warning, a/two warning, lint/unused-ignore note"},
		{"an ignore of a rule that doesn't run", Selection{Only: []string{"a/two", "lint"}}, "; fettle: ignore a/one\n" + draft, "", "a/two warning"},
	} {
		t.Run(test.name, func(t *testing.T) {
			got := linted(t, testRules(), test.s, test.draft, test.ini)
			if strings.HasSuffix(test.want, ": ") && strings.HasPrefix(got, test.want) {
				golden.Words(t, got)
			} else if got != test.want {
				t.Errorf("got  %s\nwant %s", got, test.want)
			}
		})
	}
}

func TestSelectionOfNothing(t *testing.T) {
	for _, name := range []string{"a/won", "quilt"} {
		t.Run(name, func(t *testing.T) {
			_, err := New(testRules(), Selection{Skip: []string{name}})
			if err == nil {
				t.Fatal("no error")
			}
			golden.Words(t, err.Error())
		})
	}
}

func TestSelectionThatLeavesNone(t *testing.T) {
	for _, s := range []Selection{{Only: []string{"a"}, Skip: []string{"a"}}, {Only: []string{"a/one"}, Skip: []string{"a"}}, {Skip: withFamilies(testRules())}} {
		if l, err := New(testRules(), s); err != nil || !l.None() {
			t.Errorf("%v leaves some rules, or %v", s, err)
		}
	}
	if l, err := New(testRules(), Selection{Only: []string{"a"}, Skip: []string{"a/one"}}); err != nil || l.None() {
		t.Errorf("None is true, but a rule is left, or %v", err)
	}
}

// TestFailingRule checks that a rule that panics becomes a finding, and that the others
// still run.
func TestFailingRule(t *testing.T) {
	rules := append(testRules(), Rule{ID: "x/bad", Default: schema.Note, Check: func(p *Pass) {
		p.Report(schema.Place{}, nil, "half done")
		panic("index\nout of range")
	}})
	l, err := New(rules, Selection{})
	if err != nil {
		t.Fatal(err)
	}
	doc := wif.Read(&schema.Source{Text: []byte(draft)})
	r, err := l.Lint(doc, &settings.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	var bad, rest int
	for _, f := range r.Findings {
		switch {
		case f.Rule == "x/bad" && f.Severity == schema.Error && strings.Contains(f.Message, "index out of range"):
			bad++
		case f.Rule != "x/bad":
			rest++
		}
	}
	if bad != 1 || rest != 3 {
		t.Errorf("got %v", r.Findings)
	}
}

func TestOptions(t *testing.T) {
	for _, test := range []struct {
		name  string
		o     Option
		text  string
		value float64
		ok    bool
	}{
		{"a length", Option{Kind: Length}, "0.5 in", 12.7, true},
		{"no length", Option{Kind: Length}, "0 mm", 0, false},
		{"threads", Option{Kind: Threads}, "9 threads", 9, true},
		{"one thread", Option{Kind: Threads}, "1 thread", 1, true},
		{"a bare number of threads", Option{Kind: Threads}, "9", 0, false},
		{"half a thread", Option{Kind: Threads}, "0.5 threads", 0, false},
		{"picks", Option{Kind: Threads}, "9 picks", 9, true},
		{"ends", Option{Kind: Threads}, "9 ends", 9, true},
		{"no threads", Option{Kind: Threads}, "9 mm", 0, false},
		{"percent", Option{Kind: Percent}, "105 %", 105, true},
		{"no percent", Option{Kind: Percent}, "105", 0, false},
		{"named", Option{Name: "k", Kind: Number}, "k = 0.92", 0.92, true},
		{"named, without equals", Option{Name: "k", Kind: Number}, "k 0.92", 0.92, true},
		{"not named", Option{Name: "k", Kind: Number}, "0.92", 0, false},
		{"a density", Option{Kind: PerCm}, "20/in", 20 / 2.54, true},
	} {
		t.Run(test.name, func(t *testing.T) {
			v, ok := test.o.read(test.text)
			if ok != test.ok || ok && (v-test.value > 1e-9 || test.value-v > 1e-9) {
				t.Errorf("got %v %v", v, ok)
			}
		})
	}
}

// TestExamplesAreOptions checks that the examples on rule pages can be read.
func TestExamplesAreOptions(t *testing.T) {
	for kind := Length; kind <= PerCm; kind++ {
		o := Option{Name: "k", Kind: kind, Default: 12}
		if v, ok := o.read(o.Example()); !ok || v-12 > 1e-9 || 12-v > 1e-9 {
			t.Errorf("%s is read as %v %v", o.Example(), v, ok)
		}
	}
}

// TestMostSingly checks how many findings of one rule are reported singly, and that the
// last has the lines of the others.
func TestMostSingly(t *testing.T) {
	const rows = mostSingly + 20
	text := "[WIF]\nVersion=1.1\n[THREADING]\n"
	for n := range rows {
		text += fmt.Sprintf("%d=1\n", n+1)
	}
	for _, test := range []struct {
		name    string
		fixable bool
		ignored string
		want    int
	}{
		{"many", false, "", mostSingly},
		{"all have a fix", true, "", rows},
		{"some may be ignored", false, "; fettle: ignore a/each\n", rows},
	} {
		t.Run(test.name, func(t *testing.T) {
			each := Rule{ID: "a/each", Default: schema.Note, Fixable: test.fixable, Check: func(p *Pass) {
				for end := 1; end <= p.Draft.Ends(); end++ {
					p.Report(schema.Place{Part: schema.PartThreading, Row: end}, nil, "end %d", end)
					p.Mark(schema.Warp, end)
				}
			}}
			l, err := New([]Rule{each}, Selection{})
			if err != nil {
				t.Fatal(err)
			}
			r, err := l.Lint(wif.Read(&schema.Source{Path: "a.wif", Text: []byte(test.ignored + text)}), &settings.Settings{})
			if err != nil {
				t.Fatal(err)
			}
			var found []schema.Finding
			for _, f := range r.Findings {
				if f.Rule == each.ID {
					found = append(found, f)
				}
			}
			for _, f := range r.Suppressed {
				found = append(found, f.Finding)
			}
			if len(found) != test.want {
				t.Fatalf("%d findings, want %d", len(found), test.want)
			}
			last := found[len(found)-1]
			if n := rows - test.want; n > 0 && (len(last.Lines) != n+1 || !strings.Contains(last.Message, strconv.Itoa(n))) {
				t.Errorf("the last stands for lines %v: %s", last.Lines, last.Message)
			}
			if !slices.Equal(last.Threads, []int{test.want}) {
				t.Errorf("the last is about ends %v", last.Threads)
			}
		})
	}
}
