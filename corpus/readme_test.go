package corpus

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fettle/schema/measure"
	"fettle/schema/settings"
)

func TestReadme(t *testing.T) {
	text, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	want := string(text)
	for name, table := range map[string]string{
		"guild": guildTable(), "looms": loomTable(t), "faulty": faultyTable(t), "inbox": inboxTable(),
	} {
		want = put(t, want, name, table)
	}
	compareText(t, "README.md", want)
}

// put replaces the text between a table's marker and its end.
func put(t *testing.T, text, name, table string) string {
	t.Helper()
	head, rest, ok := strings.Cut(text, "<!-- "+name+" -->\n")
	_, tail, closed := strings.Cut(rest, "<!-- end -->")
	if !ok || !closed {
		t.Fatalf("README.md has no place for the table %s", name)
	}
	return head + "<!-- " + name + " -->\n" + table + "<!-- end -->" + tail
}

func row(b *strings.Builder, cells ...any) {
	for _, c := range cells {
		fmt.Fprintf(b, "| %v ", c)
	}
	b.WriteString("|\n")
}

func guildTable() string {
	var b strings.Builder
	row(&b, "draft", "structure", "textile", "shafts", "ends", "picks", "loom", "gives")
	row(&b, "---", "---", "---", "---", "---", "---", "---", "---")
	for _, c := range compose() {
		d := c.plan.draft()
		row(&b, "`"+c.file+"`", c.structure, c.textile, d.Shafts, d.Ends(), d.Picks(), "`"+c.loom+"`", ticked(c.expects))
	}
	return b.String()
}

func inboxTable() string {
	var b strings.Builder
	row(&b, "draft", "structure", "textile", "gives")
	row(&b, "---", "---", "---", "---")
	for _, c := range inbox() {
		row(&b, "`"+c.file+"`", c.structure, c.textile, ticked(c.expects))
	}
	return b.String()
}

func ticked(rules ...string) string {
	rules = slices.DeleteFunc(rules, func(r string) bool { return r == "" })
	for i, r := range rules {
		rules[i] = "`" + r + "`"
	}
	return strings.Join(rules, ", ")
}

func loomTable(t *testing.T) string {
	var b strings.Builder
	row(&b, "file", "loom", "shafts", "treadles", "shed", "weaving width", "heddles", "reed")
	row(&b, "---", "---", "---", "---", "---", "---", "---", "---")
	for _, path := range files(t, "guild/looms/*.ini") {
		s := settingsIn(t, path)
		var heddles []string
		for n := 1; n <= s.Loom.Shafts; n++ {
			on, _ := s.Heddles.On(n)
			heddles = append(heddles, fmt.Sprint(on))
		}
		row(&b, "`"+path+"`", s.Loom.Name, s.Loom.Shafts, s.Loom.Treadles, s.Loom.Shed,
			measure.Metric.Length(s.Loom.WeavingWidth), strings.Join(heddles, " "), measure.Metric.Density(s.Reeds[0].Dents))
	}
	return b.String()
}

func settingsIn(t *testing.T, path string) *settings.Settings {
	t.Helper()
	s, err := settings.NewFinder(settings.Options{ConfigFile: path}).ForFolder(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func files(t *testing.T, pattern string) []string {
	t.Helper()
	paths, err := filepath.Glob(pattern)
	if err != nil || len(paths) == 0 {
		t.Fatalf("no file matches %s: %v", pattern, err)
	}
	return paths
}

func faultyTable(t *testing.T) string {
	var b strings.Builder
	row(&b, "draft", "title", "gives")
	row(&b, "---", "---", "---")
	for _, path := range files(t, "faulty/*.wif") {
		var rules []string
		for _, x := range readExpected(t, path) {
			rules = append(rules, x.Rule)
		}
		name := strings.TrimSuffix(filepath.Base(path), ".wif")
		row(&b, "`"+name+"`", readDraft(t, path).Draft.Texts.Title, ticked(rules...))
	}
	return b.String()
}
