package settings

import (
	"errors"
	"math"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"fettle/corpus/golden"
	"fettle/schema"
	"fettle/schema/measure"
	"fettle/schema/spelling"
)

// manualExample is the example of the manual without its include.
const manualExample = `[loom]
name = Studio dobby
shafts = 16
treadles = 0            ; 0: lifts come from a lift plan
weaving width = 110 cm
shed = rising           ; rising | sinking | balanced

[heddles]
each = 100              ; on every shaft, unless named below
1 = 140
2 = 140

[reed]
dents = 10/in           ; N/in, N/cm or N/10cm
width = 110 cm

[project]
sett = 20/in
picks = 18/in
finished length = 2.4 m
finished width = 48 cm
items = 3
hem = 2 cm
take-up = 10 %
shrinkage = 8 %
weft take-up = 5 %
loom waste = 70 cm
sample = 15 cm
wrap = yes
repeats = 2
balance = 4
floating selvedges = yes
fringe = 12 cm
draw-in = 6 %
bout = 60
dressing = back to front

[yarn natural]
grist = 8/2 cotton
color = #f2ead8, #ffffff
palette = 1, 4
stock = 2 x 250 g
use = warp, weft

[rules]
cloth/long-float = warning, 12 mm
draft/unused-shaft = off

[files]
exclude = attic/**, *.bak.wif
`

func TestExtraWarps(t *testing.T) {
	s := mustParse(t, "[warp Pile]\nends = 3-399/3, 401\nshafts = 9-16\npalette = 1, 2\ntake-up = 3 %\nloom waste = 50 cm\nbeam = second beam\n")
	want := schema.ExtraWarp{Name: "Pile", Ends: []schema.Steps{{From: 3, To: 399, Step: 3}, {From: 401, To: 401, Step: 1}},
		Shafts: []schema.Steps{{From: 9, To: 16, Step: 1}}, Palette: []int{1, 2}, TakeUp: 0.03, LoomWaste: 500, Beam: "second beam"}
	if len(s.Warps) != 1 || !reflect.DeepEqual(s.Warps[0], want) || !s.Has("warp Pile.take-up") {
		t.Errorf("%+v", s.Warps)
	}
	for _, row := range []struct {
		text string
		line int
		key  string
	}{
		{"[warp]\nends = 1-4\n", 2, "ends"},
		{"[warp Main]\nends = 1-4\n", 2, "ends"},
		{"[warp pile]\nbeam = second\n", 2, "beam"},
		{"[warp pile]\nends = 4-1\n", 2, "ends"},
		{"[warp pile]\nends = 1-4/0\n", 2, "ends"},
		{"[warp pile]\nends = 0-4\n", 2, "ends"},
		{"[warp pile]\nends = 1-\n", 2, "ends"},
		{"[warp pile]\nends = 1-4/\n", 2, "ends"},
		{"[warp pile]\nshafts = some\n", 2, "shafts"},
	} {
		_, err := parse("fettle.ini", []byte(row.text))
		var all Errors
		if !errors.As(err, &all) || len(all) != 1 || all[0].Line != row.line || all[0].Key != row.key || all[0].Section == "" {
			t.Errorf("%q: %v", row.text, err)
		}
	}
}

func TestParseReadsEveryKey(t *testing.T) {
	s := mustParse(t, manualExample)
	checks := []struct {
		name      string
		got, want any
	}{
		{"loom", s.Loom, schema.Loom{Name: "Studio dobby", Shafts: 16, WeavingWidth: 1100, Shed: schema.Rising}},
		{"heddles", s.Heddles, schema.Heddles{Each: 100, ByShaft: map[int]int{1: 140, 2: 140}, Known: true}},
		{"reed width", s.Reeds[0].Width, measure.Length(1100)},
		{"length", s.Project.FinishedLength, measure.Length(2400)},
		{"width", s.Project.FinishedWidth, measure.Length(480)},
		{"items", s.Project.Items, 3},
		{"hem", s.Project.Hem, measure.Length(20)},
		{"take-up", s.Project.TakeUp, 0.1},
		{"shrinkage warp", s.Project.ShrinkageWarp, 0.08},
		{"shrinkage weft", s.Project.ShrinkageWeft, 0.08},
		{"weft take-up", s.Project.WeftTakeUp, 0.05},
		{"loom waste", s.Project.LoomWaste, measure.Length(700)},
		{"sample", s.Project.Sample, measure.Length(150)},
		{"wrap", s.Project.Wrap, true},
		{"repeats", s.Project.Repeats, 2},
		{"balance", s.Project.Balance, 4},
		{"floating selvedges", s.Project.FloatingSelvedge, true},
		{"fringe", s.Project.Fringe, measure.Length(120)},
		{"draw-in", s.Project.DrawIn, 0.06},
		{"bout", s.Project.Bout, 60},
		{"dressing", s.Project.BackToFront, true},
		{"yarn", s.Yarns[0].Name, "natural"},
		{"grist", s.Yarns[0].Grist.Text, "8/2 cotton"},
		{"colors", s.Yarns[0].Colors, []schema.Color{schema.RGB(0xf2, 0xea, 0xd8), schema.RGB(255, 255, 255)}},
		{"palette", s.Yarns[0].Palette, []int{1, 4}},
		{"stock", s.Yarns[0].Stock, measure.Stock{Packages: 2, Grams: 250, Text: "2 x 250 g"}},
		{"use", [2]bool{s.Yarns[0].ForWarp, s.Yarns[0].ForWeft}, [2]bool{true, true}},
		{"rule", s.Rules[0].Rule, "cloth/long-float"},
		{"severity", s.Rules[0].Severity, schema.Warning},
		{"options", s.Rules[0].Options, []string{"12 mm"}},
		{"rule origin", s.Rules[1].Origin, schema.Origin{Path: "fettle.ini", Line: 47}},
		{"off", [2]any{s.Rules[1].Stated, s.Rules[1].Severity}, [2]any{true, schema.Off}},
		{"exclude", []string{s.Exclude[0].Pattern, s.Exclude[1].Pattern}, []string{"attic/**", "*.bak.wif"}},
		{"units", s.Units, measure.UnitsOf(false, true)},
		{"origin", s.Given["project.sett"], schema.Origin{Path: "fettle.ini", Line: 18}},
		{"origin of a yarn", s.Given["yarn natural.stock"], schema.Origin{Path: "fettle.ini", Line: 42}},
		{"origin of a shaft", s.Given["heddles.2"], schema.Origin{Path: "fettle.ini", Line: 11}},
		{"origin of both ways", s.Given["project.shrinkage weft"], schema.Origin{Path: "fettle.ini", Line: 25}},
		{"files", s.Files, []string{"fettle.ini"}},
	}
	for _, c := range checks {
		if !reflect.DeepEqual(c.got, c.want) {
			t.Errorf("%s: got %v, want %v", c.name, c.got, c.want)
		}
	}
	near(t, "dents", float64(s.Reeds[0].Dents), 10/2.54)
	near(t, "sett", float64(s.Project.Sett), 20/2.54)
	near(t, "picks", float64(s.Project.Picks), 18/2.54)
	near(t, "grist", s.Yarns[0].Grist.Tex, 147.635) // 590.54125 · 2 ÷ 8, ASTM D2260
}

func near(t *testing.T, name string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-3 {
		t.Errorf("%s: got %v, want %v", name, got, want)
	}
}

// parse reads a text as a settings file, without the files it includes.
func parse(path string, text []byte) (*Settings, error) {
	folder, err := filepath.Abs(filepath.Dir(path))
	if err != nil {
		return nil, Errors{{Path: path, Message: "the working folder is unknown; change to a folder that exists"}}
	}
	r := read(file{path: path, folder: folder, text: text})
	l := layer{r.found, []string{path}}
	if err := append(r.errs, l.contradictions()...).orNil(); err != nil {
		return nil, err
	}
	b := newBuilder()
	b.apply(l)
	return b.finish()
}

func mustParse(t *testing.T, text string) *Settings {
	t.Helper()
	s, err := parse("fettle.ini", []byte(text))
	if err != nil {
		t.Fatalf("%v\nin\n%s", err, text)
	}
	return s
}

func TestParseReadsAsWritten(t *testing.T) {
	name := func(s *Settings) any { return s.Loom.Name }
	shafts := func(s *Settings) any { return s.Loom.Shafts }
	tests := []struct {
		name, text string
		got        func(*Settings) any
		want       any
	}{
		{"a number sign within a value", "[loom]\nname = No #2 loom", name, "No #2 loom"},
		{"a semicolon within a word", "[loom]\nname = a;b", name, "a;b"},
		{"a comment after a tab", "[loom]\nname = a\t; b", name, "a"},
		{"quotation marks", `[loom]` + "\nname = \"Old Nell\"", name, `"Old Nell"`},
		{"a backslash at the end", "[loom]\nname = a\\\nshafts = 4", name, `a\`},
		{"the line after a backslash", "[loom]\nname = a\\\nshafts = 4", shafts, 4},
		{"an equals sign in a value", "[loom]\nname = a = b", name, "a = b"},
		{"a colon in a value", "[loom]\nname: x = a", func(s *Settings) any { return nil }, nil},
		{"a percent sign and brackets", "[loom]\nname = %(shafts)s\nshafts = 4", name, "%(shafts)s"},
		{"capitals", "[LOOM]\nShafts = 4", shafts, 4},
		{"spaces about", " [ loom ] ; mine\n   shafts   =   4   ", shafts, 4},
		{"a space that does not break", "[loom]\nshafts\u00a0=\u00a04", shafts, 4},
		{"a byte order mark", "\ufeff[loom]\nshafts = 4", shafts, 4},
		{"lines that end CRLF", "[loom]\r\nshafts = 4\r\n", shafts, 4},
		{"lines that end CR", "[loom]\rshafts = 4\r", shafts, 4},
		{"comments of both kinds", "# a\n; b\n[loom]\n  # c\nshafts = 4", shafts, 4},
		{"an underscore for a space", "[project]\nloom_waste = 1 m", func(s *Settings) any { return s.Project.LoomWaste }, measure.Length(1000)},
		{"a space for a hyphen", "[project]\ntake up = 5 %", func(s *Settings) any { return s.Project.TakeUp }, 0.05},
		{"one way of shrinking, the general key last", "[project]\nshrinkage weft = 3 %\nshrinkage = 9 %",
			func(s *Settings) any { return [2]float64{s.Project.ShrinkageWarp, s.Project.ShrinkageWeft} }, [2]float64{0.09, 0.03}},
		{"heddles by shaft only", "[heddles]\n3 = 7", func(s *Settings) any { n, ok := s.Heddles.On(4); return [2]any{n, ok} }, [2]any{0, false}},
		{"no heddles on a shaft", "[heddles]\n3 = 0", func(s *Settings) any { n, ok := s.Heddles.On(3); return [2]any{n, ok} }, [2]any{0, true}},
		{"a yarn without a use is for both", "[yarn]\nstock = 1 km", func(s *Settings) any { return [2]bool{s.Yarns[0].ForWarp, s.Yarns[0].ForWeft} }, [2]bool{true, true}},
		{"a yarn for the weft", "[yarn]\nuse = Weft", func(s *Settings) any { return [2]bool{s.Yarns[0].ForWarp, s.Yarns[0].ForWeft} }, [2]bool{false, true}},
		{"an empty yarn is none", "[yarn natural]", func(s *Settings) any { return len(s.Yarns) }, 0},
		{"braces in a pattern", "[files]\nexclude = {a,b}/**, c", func(s *Settings) any { return []string{s.Exclude[0].Pattern, s.Exclude[1].Pattern} }, []string{"{a,b}/**", "c"}},
		{"options without a severity", "[rules]\ncloth/long-float = 12 mm, 7 threads", func(s *Settings) any { return [2]any{s.Rules[0].Stated, s.Rules[0].Options} }, [2]any{false, []string{"12 mm", "7 threads"}}},
		{"nothing", "", func(s *Settings) any { return len(s.Given) }, 0},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if test.want == nil {
				if _, err := parse("fettle.ini", []byte(test.text)); err == nil {
					t.Fatal("read without an error")
				}
				return
			}
			if got := test.got(mustParse(t, test.text)); !reflect.DeepEqual(got, test.want) {
				t.Errorf("got %#v, want %#v", got, test.want)
			}
		})
	}
}

func TestParseErrors(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"unknown section", "\n  [lom]\nx = 1", "a.ini:2:3"},
		{"unknown section, none near", "[spindle]", "a.ini:1:1"},
		{"unknown key", "[loom]\nshaft = 4", "a.ini:2:1"},
		{"unknown key, none near", "[loom]\nwheels = 4", "a.ini:2:1"},
		{"include in a section", "[loom]\ninclude = a.ini", "a.ini:2:1"},
		{"a word of a key, though another section has that key", "[loom]\nwidth = 90 cm", "a.ini:2:1"},
		{"a word of two keys", "[project]\nweft = 5 %", "a.ini:2:1"},
		{"words the other way round", "[project]\nWarp_Shrinkage = 5 %", "a.ini:2:1"},
		{"a key of another section", "[reed]\nsett = 20/in", "a.ini:2:1"},
		{"a key before all sections", "shafts = 4", "a.ini:1:1"},
		{"a key twice", "[loom]\nshafts = 4\n Shafts = 4", "a.ini:3:2"},
		{"a key twice, spelled apart", "[project]\ntake-up = 4 %\ntake up = 4 %", "a.ini:3:1"},
		{"a shaft twice", "[heddles]\n1 = 4\n01 = 4", "a.ini:3:1"},
		{"a section twice", "[yarn a]\nuse = warp\n[Yarn  A]\nstock = 1 kg", "a.ini:3:1"},
		{"a bad value, its column", "[loom]\nname = ä\nshafts =  ä4", "a.ini:3:11"},
		{"a comment that is none", "[loom]\nshafts = 4 # four", "a.ini:2:10"},
		{"too many shafts", "[loom]\nshafts = 1000001", "a.ini:2:10"},
		{"no shafts", "[loom]\nshafts = 0", "a.ini:2:10"},
		{"shed", "[loom]\nshed = up", "a.ini:2:8"},
		{"length", "[loom]\nweaving width = 110", "a.ini:2:17"},
		{"density", "[reed]\ndents = 10", "a.ini:2:9"},
		{"percentage", "[project]\nshrinkage = 8", "a.ini:2:13"},
		{"yes or no", "[project]\nwrap = maybe", "a.ini:2:8"},
		{"dressing", "[project]\ndressing = sideways", "a.ini:2:12"},
		{"a shaft that the loom has not got", "[heddles]\n4 = 9\n 5 = 9\n[loom]\nshafts = 4", "a.ini:3:2"},
		{"shaft 0", "[heddles]\n0 = 4", "a.ini:2:5"},
		{"heddles", "[heddles]\n1 = -4", "a.ini:2:5"},
		{"each", "[heddles]\neach = many", "a.ini:2:8"},
		{"color", "[yarn]\ncolor = #f2ead8, red", "a.ini:2:9"},
		{"palette", "[yarn]\npalette = ,", "a.ini:2:11"},
		{"use", "[yarn]\nuse = hem", "a.ini:2:7"},
		{"grist", "[yarn]\ngrist = thick", "a.ini:2:9"},
		{"stock", "[yarn]\nstock = some", "a.ini:2:9"},
		{"a name where none goes", "[loom big]", "a.ini:1:1"},
		{"a pattern", "[rules a[]", "a.ini:1:1"},
		{"a pattern that takes for ever", "[files]\nexclude = {a,b}{a,b}{a,b}{a,b}", "a.ini:2:11"},
		{"severity", "[rules]\ncloth/layers = warnin", "a.ini:2:16"},
		{"a rule without a word", "[rules]\ncloth/layers = ,", "a.ini:2:16"},
		{"no value", "[loom]\nname = ; nothing", "a.ini:2:1"},
		{"no key", "[loom]\n= 4", "a.ini:2:1"},
		{"a key in quotation marks", "[loom]\n\"shafts\" = 4", "a.ini:2:1"},
		{"a back-quote", "[loom]\nname = `a\nb`", "a.ini:2:1"},
		{"a stray line", "[loom]\n  shafts 4", "a.ini:2:3"},
		{"an open section", "[loom\nshafts = 4", "a.ini:1:1"},
		{"a section without a name", "[ ]", "a.ini:1:1"},
		{"UTF-16", "\xff\xfe[\x00l\x00", "a.ini:1:1"},
		{"Windows-1252", "[loom]\nname = Weberh\xe4uschen", "a.ini:2:1"},
		{"a reed that is not there", "[reed fine]\ndents = 12/in\n[project]\nreed = coarse", "a.ini:4:8"},
		{"a reed where there is none", "[project]\nreed = coarse", "a.ini:2:8"},
		{"a weight of a yarn without a size", "[yarn a]\nstock = 3 x 900 m\n[yarn b]\nstock = 500 g", "a.ini:4:9"},
		{"a weight of the plain yarn without a size", "[yarn]\nstock = 1 lb", "a.ini:2:9"},
		{"include of nothing", "include = ,", "a.ini:1:11"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := parse("a.ini", []byte(test.text))
			if err == nil {
				t.Fatal("read without an error")
			}
			first, _, _ := strings.Cut(err.Error(), "\n")
			if !strings.HasPrefix(first, test.want+": ") {
				t.Errorf("got\n%s\nwant it at %s", first, test.want)
			}
			golden.Words(t, first)
		})
	}
}

func TestParseReportsAllErrors(t *testing.T) {
	_, err := parse("a.ini", []byte("[loom]\nshafts = x\nwheels = 2\n[reel]\n[reed]\nstray\nwidth = 3\n"))
	var all Errors
	if !errors.As(err, &all) {
		t.Fatalf("%T is not an Errors", err)
	}
	var lines []int
	for _, e := range all {
		lines = append(lines, e.Line)
	}
	if want := []int{2, 3, 4, 6, 7}; !reflect.DeepEqual(lines, want) {
		t.Errorf("errors on lines %v, want %v", lines, want)
	}
	if e := all[0]; e.Section != "loom" || e.Key != "shafts" || e.Column != 10 {
		t.Errorf("the first is %+v", e)
	}
}

func TestErrorsAreLimited(t *testing.T) {
	_, err := parse("a.ini", []byte("[loom]\n"+strings.Repeat("x\n", 100)))
	if got := strings.Count(err.Error(), "\n"); got != 20 {
		t.Errorf("%d line breaks, want 20", got)
	}
	last := err.Error()[strings.LastIndex(err.Error(), "\n")+1:]
	if !strings.Contains(last, "80") {
		t.Errorf("ends %q", last)
	}
	golden.Words(t, last)
}

func TestTooManyLines(t *testing.T) {
	for _, line := range []string{"x\n", "[a]\n", "a = 1\n"} {
		_, err := parse("a.ini", []byte(strings.Repeat(line, 200_000)))
		var all Errors
		if !errors.As(err, &all) || len(all) > mostLines+2 {
			t.Errorf("%q: %d errors", line, len(all))
		}
		found := false
		for _, e := range all {
			found = found || strings.Contains(e.Message, "5000")
		}
		if !found {
			t.Errorf("%q: no error for too many lines", line)
		}
	}
}

// A single shaft overrides a range, and a range overrides each, in any order.
func TestHeddleRanges(t *testing.T) {
	s := mustParse(t, "[heddles]\n3 = 7\n1-12 = 40\n20 - 024 = 0\neach = 100")
	for shaft, want := range map[int]int{1: 40, 3: 7, 12: 40, 13: 100, 20: 0, 24: 0, 25: 100} {
		if got, known := s.Heddles.On(shaft); got != want || !known {
			t.Errorf("shaft %d has %d, want %d", shaft, got, want)
		}
	}
	for _, row := range []struct {
		text         string
		line, column int
		says         string
	}{
		{"[heddles]\n1-4 = 40\n4-8 = 50", 3, 1, "overlap 1-4"},
		{"[heddles]\n4-8 = 50\n1-6 = 30\n10-12 = 40", 3, 1, "1-6 overlap 4-8"},
		{"[heddles]\n1-20 = 30\n2-3 = 50\n30-31 = 40", 3, 1, "2-3 overlap 1-20"},
		{"[heddles]\n8-5 = 40", 2, 7, "5-8"},
		{"[heddles]\n0-4 = 40", 2, 7, "no shaft 0"},
		{"[heddles]\n1-4 = 40\n01-4 = 41", 3, 1, "line 2"},
		{"[loom]\nshafts = 8\n[heddles]\n5-12 = 40", 4, 1, "no shaft 12"},
		{"[heddles]\n1-2-3 = 40", 2, 1, "1-2-3"},
	} {
		_, err := parse("fettle.ini", []byte(row.text))
		var list Errors
		if !errors.As(err, &list) || len(list) != 1 || list[0].Line != row.line || list[0].Column != row.column || !strings.Contains(list[0].Message, row.says) {
			t.Errorf("%q: %v", row.text, err)
		}
	}
}

// The length of an item is stated in one way: a second way in the same file is an error,
// and a more specific file overrides either.
func TestItemIsStatedOnce(t *testing.T) {
	s := mustParse(t, "[project]\nrepeats per item = 4\nhem weave = plain\neach item = continue\ncut off sample = yes\nre-tie = 1 ft\nhem picks = 20/in")
	p := s.Project
	if p.RepeatsPerItem != 4 || !p.PlainHems || !p.ContinueDraft || !p.CutOffSample || p.ReTie != 12*measure.Inch || p.HemPicks != measure.ByInch(20) || !s.Units.Inches() {
		t.Errorf("%+v", p)
	}
	_, err := parse("fettle.ini", []byte("[project]\nfinished length = 1 m\npicks per item = 40"))
	var list Errors
	if !errors.As(err, &list) || len(list) != 1 || list[0].Line != 3 || list[0].Key != "picks per item" {
		t.Errorf("%v", err)
	}
	b := newBuilder()
	for _, text := range []string{"[project]\nfinished length = 1 m", "[project]\npicks per item = 40"} {
		b.apply(layer{settings: read(file{path: "fettle.ini", text: []byte(text)}).found})
	}
	over, err := b.finish()
	if err != nil || over.Project.FinishedLength != 0 || over.Project.PicksPerItem != 40 || over.Has("project.finished length") || !over.Has("project.picks per item") {
		t.Errorf("%+v, %v", over, err)
	}
}

func TestReedInUse(t *testing.T) {
	const fine = "[reed fine]\ndents = 12/in\n"
	const coarse = "[reed coarse]\ndents = 5/cm\nwidth = 70 cm\n"
	const plain = "[reed]\ndents = 8/in\n"
	tests := []struct {
		name, text string
		want       []string
		line       int // of reed.dents
		units      measure.Units
	}{
		{"the first", coarse + fine, []string{"coarse", "fine"}, 2, measure.Metric},
		{"the plain one", coarse + plain + fine, []string{"", "coarse", "fine"}, 5, measure.Imperial},
		{"the one named", plain + coarse + fine + "[project]\nreed = FINE", []string{"fine", "", "coarse"}, 7, measure.Imperial},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := mustParse(t, test.text)
			var names []string
			for _, r := range s.Reeds {
				names = append(names, r.Name)
			}
			if !reflect.DeepEqual(names, test.want) || s.Given["reed.dents"].Line != test.line || s.Units != test.units {
				t.Errorf("reeds %q, dents on line %d, units %d", names, s.Given["reed.dents"].Line, s.Units)
			}
			if test.want[0] == "fine" && s.Has("reed.width") {
				t.Error("the width of another reed counts as stated")
			}
		})
	}
}

func TestUnits(t *testing.T) {
	tests := []struct {
		name, text string
		want       measure.Units
	}{
		{"nothing said", "", measure.Metric},
		{"the reed before the sett", "[reed]\ndents = 50/10cm\n[project]\nsett = 20/in", measure.Metric},
		{"the sett, and the loom", "[project]\nsett = 20/in\n[loom]\nweaving width = 90 cm", measure.UnitsOf(false, true)},
		{"the loom", "[loom]\nweaving width = 36 in", measure.Imperial},
		{"a hem", "[project]\nhem = 1 in", measure.Imperial},
		{"an inch reed and a cloth in centimetres", "[reed]\ndents = 10/in\nwidth = 40 in\n[project]\nfinished length = 2 m", measure.UnitsOf(false, true)},
		{"yarn in pounds", "[reed]\ndents = 10/in\n[yarn a]\nstock = 900 yd\n[yarn b]\ngrist = 8/2 cotton\nstock = 2 x 8 oz\n[yarn c]\ngrist = 8/2 cotton\nstock = 1 kg", measure.Imperial.InPounds()},
		{"yarn in grams first", "[reed]\ndents = 10/in\n[yarn b]\ngrist = 8/2 cotton\nstock = 250 g\n[yarn c]\ngrist = 8/2 cotton\nstock = 1 lb", measure.Imperial},
		{"a zero has no unit", "[project]\nhem = 0\n[reed]\ndents = 10/in", measure.Imperial},
	}
	for _, test := range tests {
		if got := mustParse(t, test.text).Units; got != test.want {
			t.Errorf("%s: got %d, want %d", test.name, got, test.want)
		}
	}
}

func TestStarter(t *testing.T) {
	if s := mustParse(t, Starter()); len(s.Given)+len(s.Yarns)+len(s.Reeds)+len(s.Rules)+len(s.Exclude) > 0 {
		t.Errorf("the starter file states %v", s)
	}
	used := mustParse(t, strings.ReplaceAll("\n"+Starter(), "\n#", "\n"))
	for _, section := range sections[1:] {
		for _, k := range section.Keys {
			for _, h := range section.headings {
				word := k.Name
				if k.sample != "" {
					word = k.sample
				}
				shown := used.Has(h + "." + word)
				if k.inPlace != "" { // in a comment, since the two contradict each other
					shown = strings.Contains(Starter(), k.inPlace+": "+k.Name+" = ")
				}
				if section.Name != "rules" && section.Name != "files" && !shown {
					t.Errorf("the starter file does not show %s in [%s]", word, h)
				}
			}
		}
	}
	if len(used.Rules) != 2 || len(used.Exclude) != 1 {
		t.Errorf("rules %v, exclude %v", used.Rules, used.Exclude)
	}
}

func TestStarterKeysOneByOne(t *testing.T) {
	lines := strings.Split(Starter(), "\n")
	count := 0
	for i, line := range lines {
		if !strings.HasPrefix(line, "#") || strings.HasPrefix(line, "#reed =") || strings.HasPrefix(line, "#stock =") {
			continue // a named reed must exist, and a weight needs a grist
		}
		one := append([]string{}, lines...)
		one[i] = line[1:]
		if heading := slices.Index(lines, "[warp pile]"); i > heading && i <= heading+6 && !strings.HasPrefix(line, "#ends") {
			one[heading+1] = lines[heading+1][1:] // a warp must have ends
		}
		mustParse(t, strings.Join(one, "\n"))
		count++
	}
	if count < 40 {
		t.Errorf("only %d keys in the starter file", count)
	}
}

func TestTableIsComplete(t *testing.T) {
	for _, s := range Known() {
		seen := map[string]bool{}
		for _, k := range s.Keys {
			if k.Type == "" || k.Example == "" || k.Description == "" || k.set == nil {
				t.Errorf("[%s] %s lacks something: %+v", s.Name, k.Name, k)
			}
			if strings.Contains(k.Example+k.Description+k.Advice, " ;") {
				t.Errorf("[%s] %s: a comment within a comment", s.Name, k.Name)
			}
			if seen[spelling.Fold(k.Name)] {
				t.Errorf("[%s] %s is there twice", s.Name, k.Name)
			}
			seen[spelling.Fold(k.Name)] = true
			if !strings.Contains(tables(), "| `"+k.Name+"` | "+k.Type+" |") {
				t.Errorf("[%s] %s is not in the manual", s.Name, k.Name)
			}
		}
	}
}

func TestNearest(t *testing.T) {
	tests := []struct{ word, want string }{
		{"shaft", "shafts"}, {"treadle", "treadles"}, {"Weaving-Widht", "weaving width"},
		{"she", "shed"}, {"x", ""}, {"spindles", ""}, {strings.Repeat("shafts", 1000), ""},
	}
	for _, test := range tests {
		if got := spelling.Nearest(test.word, sectionNamed("loom").names()); got != test.want {
			t.Errorf("%.20q: got %q, want %q", test.word, got, test.want)
		}
	}
}

// TestChoices tries each choice of a key, and a word that is none.
func TestChoices(t *testing.T) {
	for _, s := range Known() {
		for _, k := range s.Keys {
			if k.Choices == nil {
				if strings.HasPrefix(k.Type, "one of") {
					t.Errorf("[%s] %s has no choices", s.Name, k.Name)
				}
				continue
			}
			if !slices.Contains(k.Choices, k.Example) {
				t.Errorf("[%s] %s: the example %q is not a choice", s.Name, k.Name, k.Example)
			}
			for _, choice := range append(slices.Clone(k.Choices), "neither") {
				_, err := parse("fettle.ini", []byte("["+s.Name+"]\n"+k.Name+" = "+choice+"\n"))
				if (err != nil) != (choice == "neither") {
					t.Errorf("[%s] %s = %s: %v", s.Name, k.Name, choice, err)
				}
			}
		}
	}
}
