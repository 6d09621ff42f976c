package settings

import (
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"sync"
	"testing"

	"fettle/corpus/golden"
	"fettle/schema"
	"fettle/schema/measure"
)

// tree writes files into a new folder and makes it the working folder.
func tree(t *testing.T, files map[string]string) string {
	t.Helper()
	root, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range files {
		path := filepath.Join(root, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(root)
	return root
}

func settingsFor(t *testing.T, options Options, path string, own ...schema.Setting) *Settings {
	t.Helper()
	s, err := NewFinder(options).For(path, own)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestNearestFileIsFound(t *testing.T) {
	root := tree(t, map[string]string{
		"fettle.ini":            "[loom]\nshafts = 1\nname = top",
		"a/b/fettle.ini":        "[loom]\nshafts = 2",
		"a/b/c/x.wif":           "",
		"a/b/c/.git/HEAD":       "",
		"a/towel.wif":           "",
		"elsewhere/a/other.ini": "",
	})
	tests := []struct {
		path   string
		shafts int
		name   string
		file   string
	}{
		{"x.wif", 1, "top", "fettle.ini"},
		{"-", 1, "top", "fettle.ini"},
		{"a/towel.wif", 1, "top", "fettle.ini"},
		{"a/b/x.wif", 2, "", "a/b/fettle.ini"},
		{"a/b/c/x.wif", 2, "", "a/b/fettle.ini"},
		{"a/b/c/../../towel.wif", 1, "top", "fettle.ini"},
		{"no/such/folder/x.wif", 1, "top", "fettle.ini"},
		{filepath.Join(root, "a/b/c/x.wif"), 2, "", "a/b/fettle.ini"},
	}
	for _, test := range tests {
		s := settingsFor(t, Options{}, test.path)
		if s.Loom.Shafts != test.shafts || s.Loom.Name != test.name || !reflect.DeepEqual(s.Files, []string{filepath.FromSlash(test.file)}) {
			t.Errorf("%s: %d shafts, name %q from %q", test.path, s.Loom.Shafts, s.Loom.Name, s.Files)
		}
	}
}

func TestPrecedence(t *testing.T) {
	const loom = "[loom]\nshafts = 4\n[heddles]\n2 = 5\n[reed]\ndents = 8/in\n[project]\nbout = 99"
	root := tree(t, map[string]string{
		"fettle.ini": "include = shared/a.ini, shared/b.ini\n[project]\nhem = 3 cm\nsample = 3 cm\nfringe = 3 cm\nloom waste = 3 cm\n" +
			"[yarn Natural]\nstock = 1 kg\ngrist = 8/2 cotton\n[loom]\nshafts = 16\ntreadles = 3\n[heddles]\neach = 100\n[reed fine]\ndents = 12/in",
		"shared/a.ini": "include = c.ini\n[project]\nbout = 1\nitems = 1\nhem = 1 cm",
		"shared/b.ini": "[project]\nbout = 2\nhem = 2 cm",
		"shared/c.ini": "[project]\nbout = 7\nbalance = 7",
		"towel.ini":    "[project]\nfringe = 5 cm\nloom waste = 5 cm\n[yarn natural]\nuse = weft",
		"table.ini":    loom,
		"towel.json":   "",
	})
	own := []schema.Setting{
		{Section: "project", Key: "loom_waste", Value: "4 cm"},
		{Section: "project", Key: "sample", Value: "4 cm"},
		{Section: "project", Key: "fringe", Value: "4 cm"},
		{Section: "yarn natural", Key: "stock", Value: "2 kg"},
	}
	flags := []schema.Setting{{Section: "project", Key: "loom waste", Value: "6 cm"}}
	s := settingsFor(t, Options{LoomFile: "table.ini", Flags: flags}, "towel.json", own...)
	checks := []struct {
		name      string
		got, want any
	}{
		{"the innermost include", s.Project.Balance, 7},
		{"the first include over its own", s.Project.Items, 1},
		{"the second include over the first", s.Project.Bout, 2},
		{"the includer over both", s.Project.Hem, measure.Length(30)},
		{"the draft over the file", s.Project.Sample, measure.Length(40)},
		{"the file beside over the draft", s.Project.Fringe, measure.Length(50)},
		{"flags over all", s.Project.LoomWaste, measure.Length(60)},
		{"another loom", s.Loom, schema.Loom{Shafts: 4}},
		{"its heddles", s.Heddles, schema.Heddles{ByShaft: map[int]int{2: 5}, Known: true}},
		{"its reed only", len(s.Reeds), 1},
		{"what it does not say is not stated", s.Has("loom.treadles") || s.Has("heddles.each") || s.Has("reed fine.dents"), false},
		{"one yarn", len(s.Yarns), 1},
		{"its name as first written", s.Yarns[0].Name, "Natural"},
		{"its stock", s.Yarns[0].Stock.Grams, 2000.0},
		{"its grist", s.Yarns[0].Grist.Text, "8/2 cotton"},
		{"its use", s.Yarns[0].ForWarp, false},
		{"where the includer speaks", s.Given["project.hem"], schema.Origin{Path: "fettle.ini", Line: 3}},
		{"where an include speaks", s.Given["project.bout"], schema.Origin{Path: filepath.FromSlash("shared/b.ini"), Line: 2}},
		{"where the draft speaks", s.Given["yarn Natural.stock"], schema.Origin{Path: "towel.json"}},
		{"where the file beside speaks", s.Given["project.fringe"], schema.Origin{Path: "towel.ini", Line: 2}},
		{"where a flag speaks", s.Given["project.loom waste"], schema.Origin{}},
		{"files", s.Files, []string{"fettle.ini", filepath.FromSlash("shared/a.ini"), filepath.FromSlash("shared/c.ini"), filepath.FromSlash("shared/b.ini"), "towel.ini", "table.ini"}},
	}
	for _, c := range checks {
		if !reflect.DeepEqual(c.got, c.want) {
			t.Errorf("%s: got %v, want %v", c.name, c.got, c.want)
		}
	}
	named := settingsFor(t, Options{ConfigFile: filepath.Join(root, "shared/b.ini")}, "x.wif")
	if named.Project.Bout != 2 || named.Has("loom.shafts") {
		t.Errorf("a named file does not replace the search: %v", named.Given)
	}
}

func TestGeneralKeyInCloserLayer(t *testing.T) {
	tree(t, map[string]string{"fettle.ini": "[project]\nshrinkage warp = 1 %", "a.ini": "[project]\nshrinkage = 2 %"})
	if got := settingsFor(t, Options{}, "a.wif").Project.ShrinkageWarp; got != 0.02 {
		t.Errorf("got %v, want 0.02", got)
	}
}

func TestFilesThatAreNotRead(t *testing.T) {
	big := "; " + strings.Repeat("x", mostBytes) + "\n"
	deep := map[string]string{}
	for i := range 12 {
		deep[strconv.Itoa(i)+".ini"] = "include = " + strconv.Itoa(i+1) + ".ini"
	}
	deep["fettle.ini"] = "include = 0.ini"
	tests := []struct {
		name    string
		files   map[string]string
		link    [2]string // from, to
		options Options
		want    string
	}{
		{"an include that is missing", map[string]string{"fettle.ini": "\ninclude =  no.ini"}, [2]string{}, Options{}, "fettle.ini:2:12"},
		{"a folder included", map[string]string{"fettle.ini": "include = d", "d/x": ""}, [2]string{}, Options{}, "fettle.ini:1:11"},
		{"a cycle of one", map[string]string{"fettle.ini": "include = ./fettle.ini"}, [2]string{}, Options{}, "fettle.ini:1:11"},
		{"a cycle of two", map[string]string{"fettle.ini": "include = a.ini", "a.ini": "include = fettle.ini"}, [2]string{}, Options{}, "a.ini:1:11"},
		{"too deep", deep, [2]string{}, Options{}, "6.ini:1:11"},
		{"too many", map[string]string{"fettle.ini": "include = " + strings.Repeat("a.ini,", 101), "a.ini": ""}, [2]string{}, Options{}, "fettle.ini:1:11"},
		{"too large", map[string]string{"fettle.ini": big}, [2]string{}, Options{}, "fettle.ini"},
		{"a link", map[string]string{"real": ""}, [2]string{"fettle.ini", "real"}, Options{}, "fettle.ini"},
		{"a link included", map[string]string{"fettle.ini": "include = l.ini", "real": ""}, [2]string{"l.ini", "real"}, Options{}, "fettle.ini:1:11"},
		{"a link beside", map[string]string{"real": ""}, [2]string{"x.ini", "real"}, Options{}, "x.ini"},
		{"a folder in its place", map[string]string{"fettle.ini/x": ""}, [2]string{}, Options{}, "fettle.ini"},
		{"a device", map[string]string{"fettle.ini": "include = /dev/zero"}, [2]string{}, Options{}, "fettle.ini:1:11"},
		{"a named file that is missing", nil, [2]string{}, Options{ConfigFile: "my.ini"}, "my.ini"},
		{"a loom file that is missing", nil, [2]string{}, Options{LoomFile: "loom.ini"}, "loom.ini"},
		{"a flag", nil, [2]string{}, Options{Flags: []schema.Setting{{Section: "project", Key: "sett", Value: "20"}}}, "[project] sett"},
		{"an empty flag", nil, [2]string{}, Options{Flags: []schema.Setting{{Section: "project", Key: "sett"}}}, "[project] sett"},
		{"a key that leaks nothing", map[string]string{"fettle.ini": "include = s.ini", "s.ini": "[project]\nsecret = hush"}, [2]string{}, Options{}, "s.ini:2:1"},
		{"a file of other lines", map[string]string{"fettle.ini": "include = s.ini", "s.ini": "[loom]\nshafts = hush\n\nroot:secret:0\nmore:secret"}, [2]string{}, Options{}, "s.ini:4:1"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			root := tree(t, test.files)
			if test.link[0] != "" {
				if err := os.Symlink(filepath.Join(root, test.link[1]), test.link[0]); err != nil {
					t.Skip("no symbolic links here")
				}
			}
			_, err := NewFinder(test.options).For("x.wif", nil)
			if err == nil {
				t.Fatal("read without an error")
			}
			if !strings.HasPrefix(err.Error(), test.want) {
				t.Errorf("got\n%s\nwant it at %s", err, test.want)
			}
			golden.Words(t, err.Error())
		})
	}
}

// TestIncludesShowNothing checks that no message quotes a file that isn't a settings file.
func TestIncludesShowNothing(t *testing.T) {
	for name, text := range map[string]string{
		"passwords":       "hush:x:0:0\nother:hush\n",
		"keys":            "hush = hush\n",
		"another section": "[hush]\nhush = hush\n",
		"known section":   "[project]\nhush = hush\nhush = hush\n",
		"mixed":           "[loom]\nshafts = hush\n[hush]\n",
		"headings":        "[loom hush]\n[loom hush]\nhush\n",
		"bad pattern":     "[rules hush[]\nhush\n",
		"nested include":  "include = hush\nhush\n",
		"rules":           "[rules]\nhush = warnin\n[hush]\n",
	} {
		t.Run(name, func(t *testing.T) {
			tree(t, map[string]string{"fettle.ini": "include = s", "s": text})
			_, err := NewFinder(Options{}).For("x.wif", nil)
			if err == nil {
				t.Fatal("read without an error")
			}
			for _, e := range err.(Errors) {
				if strings.Contains(e.Error()+e.Section+e.Key, "hush") {
					t.Errorf("shows %+v", e)
				}
			}
		})
	}
}

func TestIncludedValueIsShown(t *testing.T) {
	tree(t, map[string]string{"fettle.ini": "include = s.ini", "s.ini": "[loom]\nshafts = x4"})
	_, err := NewFinder(Options{}).For("x.wif", nil)
	if err == nil || !strings.Contains(err.Error(), "'x4'") {
		t.Errorf("got %v", err)
	}
}

func TestOwnSettings(t *testing.T) {
	tree(t, nil)
	for name, own := range map[string]schema.Setting{
		"a loom":                 {Section: "loom", Key: "shafts", Value: "4"},
		"an include":             {Key: "include", Value: "x"},
		"an unknown key":         {Section: "project", Key: "set", Value: "4"},
		"a weight without grist": {Section: "yarn x", Key: "stock", Value: "1 kg"},
		"a bad value":            {Section: "yarn x", Key: "stock", Value: "no"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := NewFinder(Options{}).For("a.json", []schema.Setting{own})
			list, _ := err.(Errors)
			if len(list) != 1 || list[0].Path != "a.json" {
				t.Fatalf("got %v", err)
			}
			golden.Words(t, err.Error())
		})
	}
}

func TestSettingsAreShared(t *testing.T) {
	tree(t, map[string]string{"fettle.ini": "[loom]\nshafts = 4", "d/a.wif": "", "d/b.ini": "[project]\nbout = 2"})
	f := NewFinder(Options{})
	first, err := f.For("d/a.wif", nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Remove("fettle.ini"); err != nil {
		t.Fatal(err)
	}
	var wait sync.WaitGroup
	for _, path := range []string{"d/a.wif", "d/c.wif", "d/fettle.wif", "d/b.wif", "d/b.ini", "d/e/x.wif"} {
		wait.Go(func() {
			s, err := f.For(path, nil)
			if err != nil {
				t.Error(err)
				return
			}
			shared := path != "d/b.wif"
			if (s == first) != shared {
				t.Errorf("%s: shared %v, want %v", path, s == first, shared)
			}
			if path == "d/b.wif" && (s.Loom.Shafts != 4 || s.Project.Bout != 2) {
				t.Errorf("%s: %+v", path, s.Setup)
			}
		})
	}
	wait.Wait()
	walk, err := f.ForFolder("d")
	if err != nil || walk != first {
		t.Errorf("the folder's settings are not its drafts': %v", err)
	}
}

func TestSharedSettingsCostNothing(t *testing.T) {
	root := tree(t, map[string]string{"fettle.ini": manualExample})
	f, path := NewFinder(Options{}), filepath.Join(root, "a.wif")
	cost := testing.AllocsPerRun(100, func() {
		if _, err := f.For(path, nil); err != nil {
			t.Fatal(err)
		}
	})
	if cost > 5 {
		t.Errorf("%v allocations a draft", cost)
	}
}

func TestRulesAndExclude(t *testing.T) {
	root := tree(t, map[string]string{
		"fettle.ini":   "include = team/r.ini\n[rules old/**]\na/b = note\n[rules]\na/b = off\n[files]\nexclude = attic, **/*.bak, x?.wif",
		"team/r.ini":   "[rules old/**]\na/b = error\n[files]\nexclude = junk/**",
		"sub/draft.wi": "",
	})
	f := NewFinder(Options{})
	s, err := f.For("x.wif", nil)
	if err != nil {
		t.Fatal(err)
	}
	last := func(path string) schema.Severity {
		rules := s.RulesFor(path)
		return rules[len(rules)-1].Severity
	}
	if got := [3]schema.Severity{last("a.wif"), last("old/a.wif"), last("-")}; got != [3]schema.Severity{schema.Off, schema.Note, schema.Off} {
		t.Errorf("severities %v", got)
	}
	excluded := map[string]bool{
		"attic": true, "attic/deep/a.wif": true, "attics/a.wif": false, "a.bak": true, "sub/a.bak": true, "x1.wif": true,
		"sub/x1.wif": false, "junk/a.wif": true, "team/junk/a.wif": false, "../attic/a.wif": false, "-": false,
		filepath.Join(root, "attic/a.wif"): true, "junk": true, "..wif": false,
	}
	for path, want := range excluded {
		if got := s.Excluded(path); got != want {
			t.Errorf("%s: excluded %v, want %v", path, got, want)
		}
	}
}

// TestMissedReed checks that a missing reed is reported beside other mistakes, unless one of
// them may be in that reed.
func TestMissedReed(t *testing.T) {
	const missed = "reed 'fine'"
	for name, test := range map[string]struct {
		ini  string
		told bool
	}{
		"a fault elsewhere":  {"[loom]\nshafts = x\n[project]\nreed = fine\n", true},
		"the reed is faulty": {"[reed fine]\ndents = x\n[project]\nreed = fine\n", false},
		"its word is":        {"[red fine]\ndents = 10/in\n[project]\nreed = fine\n", false},
		"it is not included": {"include = reeds.ini\n[project]\nreed = fine\n", false},
	} {
		t.Run(name, func(t *testing.T) {
			tree(t, map[string]string{"fettle.ini": test.ini})
			_, err := NewFinder(Options{}).For("x.wif", nil)
			if err == nil || strings.Contains(err.Error(), missed) != test.told {
				t.Errorf("got %v", err)
			}
		})
	}
}

// TestGristFromElsewhere checks that a weight and its grist can be in two files, and that an
// invalid grist is the only mistake reported.
func TestGristFromElsewhere(t *testing.T) {
	stock := []schema.Setting{{Section: "yarn grey", Key: "stock", Value: "1 kg"}}
	tree(t, map[string]string{"fettle.ini": "[yarn Grey]\ngrist = 100 tex", "bad/fettle.ini": "[yarn grey]\ngrist = thick\nstock = 1 kg"})
	s, err := NewFinder(Options{}).For("a.json", stock)
	if err != nil || s.Yarns[0].Stock.Grams != 1000 || s.Yarns[0].Grist.Tex != 100 {
		t.Errorf("%v, %v", s, err)
	}
	_, err = NewFinder(Options{}).For("bad/a.wif", nil)
	if list, _ := err.(Errors); len(list) != 1 || list[0].Key != "grist" {
		t.Errorf("got %v", err)
	}
}

func TestBare(t *testing.T) {
	for _, test := range []struct {
		name, text string
		own        []schema.Setting
		want       bool
	}{
		{"an untouched starter file", Starter(), nil, true},
		{"a project alone", "[project]\nsett = 20/in", nil, true},
		{"a loom", "[loom]\nshafts = 4", nil, false},
		{"heddles", "[heddles]\neach = 100", nil, false},
		{"a reed", "[reed fine]\ndents = 10/in", nil, false},
		{"a yarn of the draft's own", "", []schema.Setting{{Section: "yarn", Key: "grist", Value: "8/2 cotton"}}, false},
		{"what cannot be read", "[loom", nil, false},
	} {
		t.Run(test.name, func(t *testing.T) {
			tree(t, map[string]string{"fettle.ini": test.text})
			f := NewFinder(Options{})
			if f.Bare() {
				t.Error("bare before anything was asked for")
			}
			_, _ = f.For("a.json", test.own)
			if f.Bare() != test.want {
				t.Errorf("bare: %v", !test.want)
			}
		})
	}
}

func TestMisnamed(t *testing.T) {
	tree(t, map[string]string{"a/Fettle.ini.txt": "", "b/fettle.ini.ini": "", "c/fettle.ini": "", "c/fettle.ini.txt": "", "d/fettle.ini": "",
		"d/fettle.wif": "", "e/fettle.wif": "", "e/fettle.ini.wif": "", "e/my fettle.ini.txt": ""})
	f := NewFinder(Options{})
	for _, draft := range []string{"b/x.wif", "b/y.wif", "a/x.wif", "c/x.wif", "d/fettle.wif", "e/fettle.wif"} {
		if _, err := f.For(draft, nil); err != nil {
			t.Error(err)
		}
	}
	want := []string{filepath.FromSlash("a/Fettle.ini.txt"), filepath.FromSlash("b/fettle.ini.ini")}
	if got := f.Misnamed(); !reflect.DeepEqual(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	named := NewFinder(Options{ConfigFile: "c/fettle.ini"})
	_, _ = named.For("a/x.wif", nil)
	if got := named.Misnamed(); len(got) > 0 {
		t.Errorf("with a file named: %q", got)
	}
}

func TestTop(t *testing.T) {
	for _, test := range []struct {
		name  string
		files []string
		from  string
		want  string // below the temporary folder; "" for none
	}{
		{"beside", []string{"a/b/fettle.ini"}, "a/b", "a/b"},
		{"above", []string{"a/fettle.ini"}, "a/b", "a"},
		{"the topmost of several", []string{"a/fettle.ini", "a/b/fettle.ini"}, "a/b", "a"},
		{"not above a repository", []string{"a/fettle.ini", "a/b/fettle.ini", "a/b/.git/HEAD"}, "a/b/c", "a/b"},
		{"at the top of a repository", []string{"a/fettle.ini", "a/.git/HEAD"}, "a/b", "a"},
		{"none in the repository", []string{"a/fettle.ini", "a/b/.git/HEAD"}, "a/b/c", ""},
		{"a repository beside is another", []string{"a/fettle.ini", "a/d/.git/HEAD"}, "a/b", "a"},
	} {
		t.Run(test.name, func(t *testing.T) {
			top := t.TempDir()
			for _, file := range append(test.files, filepath.Join(test.from, "draft.wif")) {
				path := filepath.Join(top, file)
				if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(path, nil, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want := ""
			if test.want != "" {
				want = filepath.Join(top, test.want)
			}
			if got := Top(filepath.Join(top, test.from)); got != want {
				t.Errorf("%q, want %q", got, want)
			}
		})
	}
}
