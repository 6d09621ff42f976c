package corpus

import (
	"cmp"
	"flag"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"

	"fettle/formats"
	"fettle/lint"
	"fettle/lint/clean"
	"fettle/lint/rules"
	"fettle/schema"
	"fettle/schema/settings"
)

var long = flag.Bool("long", false, "clean many more spoiled drafts")

// mostFindings is how many findings one mistake may give.
const mostFindings = 3

// tally counts the results for one kind of mistake.
type tally struct {
	drafts, named      int
	findings, most     int
	meant, left, wrong int
	unnamed            bool // nothing is wrong with it, so no rule can report it
}

func (t *tally) add(o tally) {
	t.drafts, t.named, t.findings, t.most = t.drafts+o.drafts, t.named+o.named, t.findings+o.findings, max(t.most, o.most)
	t.meant, t.left, t.wrong = t.meant+o.meant, t.left+o.left, t.wrong+o.wrong
}

func (t *tally) String() string {
	return fmt.Sprintf("%6d %6d %8.2f %5d %9d %8d %6d", t.drafts, t.named, float64(t.findings)/float64(t.drafts), t.most, t.meant, t.left, t.wrong)
}

// TestSpoiledDrafts cleans drafts with one mistake each. Certain fixes give the draft that
// was meant, or a finding that reports the mistake is left. Nine in ten mistakes are
// reported at their lines, and none gives more than three findings.
func TestSpoiledDrafts(t *testing.T) {
	drafts := 4 * len(SpoilingKinds())
	switch {
	case *long:
		drafts = 10_000
	case testing.Short():
		drafts = len(SpoilingKinds())
	}
	look := newOnlooker(t)
	kinds := map[string]*tally{}
	for seed := range uint64(drafts) {
		raw, meant := Spoiled(seed)
		one := look.at(t, seed, raw, meant)
		if kinds[meant.Kind] == nil {
			kinds[meant.Kind] = &tally{unnamed: len(meant.Rules) == 0}
		}
		kinds[meant.Kind].add(one)
	}
	var all, wrong tally
	var table strings.Builder
	for _, kind := range slices.Sorted(maps.Keys(kinds)) {
		k := kinds[kind]
		fmt.Fprintf(&table, "%-42s %v\n", kind, k)
		all.add(*k)
		if !k.unnamed {
			wrong.add(*k)
		}
	}
	t.Logf("%-42s %6s %6s %8s %5s %9s %8s %6s\n%s%-42s %v\n%-42s %v", "kind", "drafts", "named", "findings", "most", "as meant", "finding", "silent", &table, "all", &all, "those with something to name", &wrong)
	if all.wrong > 0 {
		t.Errorf("certain fixes change the cloth of %d drafts, and no finding reports it", all.wrong)
	}
	if wrong.named*10 < wrong.drafts*9 {
		t.Errorf("%d of %d mistakes are reported at their lines, want nine in ten", wrong.named, wrong.drafts)
	}
	if len(kinds) < len(SpoilingKinds()) {
		t.Errorf("only %d of %d kinds of mistakes were tried", len(kinds), len(SpoilingKinds()))
	}
}

// onlooker reads, checks and cleans drafts.
type onlooker struct{ checker *lint.Checker }

func newOnlooker(t *testing.T) onlooker {
	linter, err := lint.New(rules.All(), lint.Selection{})
	if err != nil {
		t.Fatal(err)
	}
	return onlooker{&lint.Checker{Linter: linter, Finder: settings.NewFinder(settings.Options{})}}
}

func (o onlooker) read(text []byte) *schema.Document {
	return formats.Read(filepath.Join("spoiled", "draft.wif"), text)
}

func (o onlooker) findings(t *testing.T, doc *schema.Document) []schema.Finding {
	t.Helper()
	result, err := o.checker.Check(doc)
	if err != nil {
		t.Fatal(err)
	}
	return result.Findings
}

// beyond returns the findings of at least a severity that aren't among some others.
func beyond(list, others []schema.Finding, least schema.Severity) (more []schema.Finding) {
	for _, f := range list {
		if f.Severity >= least && !slices.ContainsFunc(others, func(g schema.Finding) bool { return g.Rule == f.Rule && g.Message == f.Message }) {
			more = append(more, f)
		}
	}
	return more
}

// at checks one spoiled draft before and after cleaning.
func (o onlooker) at(t *testing.T, seed uint64, raw []byte, meant Meaning) tally {
	doc := o.read(raw)
	soundFindings := o.findings(t, o.read(meant.Sound))
	found := beyond(o.findings(t, doc), soundFindings, schema.Note)
	one := tally{drafts: 1, findings: len(found), most: len(found)}
	if slices.ContainsFunc(found, func(f schema.Finding) bool { return names(f, meant) }) || len(meant.Rules) == 0 && len(found) == 0 {
		one.named = 1
	} else {
		t.Logf("seed %d: %s is not reported: %q", seed, meant.Kind, messages(found))
	}
	if len(found) > mostFindings {
		t.Errorf("seed %d: %s gives %d findings: %q", seed, meant.Kind, len(found), messages(found))
	}
	after, left := doc, found
	if doc.Draft != nil {
		result, err := (&clean.Cleaner{Checker: o.checker}).Clean(doc)
		if err != nil {
			t.Fatal(err)
		}
		after = o.read(result.After)
		left = o.findings(t, after)
	}
	others := ""
	if after.Draft != nil {
		others = gocmp.Diff(wovenFrom(meant.Draft), wovenFrom(after.Draft))
	}
	remains := beyond(left, soundFindings, schema.Warning)
	switch {
	case after.Draft != nil && others == "":
		one.meant = 1
	case slices.ContainsFunc(remains, func(f schema.Finding) bool { return slices.Contains(meant.Rules, f.Rule) }):
		one.left = 1
	default:
		one.wrong = 1
		t.Errorf("seed %d: %s: certain fixes change the draft, and no finding reports it; meant (-), read (+)\n%s\nfindings: %q\nleft: %q",
			seed, meant.Kind, others, messages(found), messages(remains))
	}
	return one
}

// names reports whether a finding describes a mistake: with one of its rules, at one of its
// lines, and with the value that was meant if there is one.
func names(f schema.Finding, meant Meaning) bool {
	if !slices.Contains(meant.Rules, f.Rule) {
		return false
	}
	lines := f.Lines
	if lines == nil {
		lines = []int{f.Position.Line}
	}
	at := len(meant.Lines) == 0 || slices.ContainsFunc(lines, func(l int) bool { return slices.Contains(meant.Lines, l) })
	proposed := cmp.Or(f.Data.Get("expected"), f.Data.Get("suggestion"))
	return at && (meant.Words == "" || proposed == any(meant.Words) || strings.HasSuffix(fmt.Sprint(proposed), "="+meant.Words))
}

func messages(list []schema.Finding) []string {
	var words []string
	for _, f := range list {
		words = append(words, fmt.Sprintf("%d %s: %s", f.Position.Line, f.Rule, f.Message))
	}
	return words
}

// wovenFrom returns the content of a draft without the numbers it declares.
func wovenFrom(d *schema.Draft) content {
	w := contentOf(d)
	w.Shafts, w.Treadles = 0, 0
	return w
}

func TestSpoiledIsTheSameEachTime(t *testing.T) {
	for seed := range uint64(len(SpoilingKinds())) {
		a, meant := Spoiled(seed)
		b, _ := Spoiled(seed)
		if string(a) != string(b) {
			t.Errorf("seed %d gives two drafts", seed)
		}
		if string(a) == string(meant.Sound) {
			t.Errorf("seed %d, %s: nothing is spoiled", seed, meant.Kind)
		}
	}
}

func TestSpoiledDraftsWereSound(t *testing.T) {
	look := newOnlooker(t)
	for seed := range uint64(len(SpoilingKinds())) {
		_, meant := Spoiled(seed)
		doc := look.read(meant.Sound)
		if len(doc.Findings) > 0 {
			t.Errorf("seed %d: %q", seed, messages(doc.Findings))
		}
		if d := gocmp.Diff(contentOf(meant.Draft), contentOf(doc.Draft)); d != "" {
			t.Errorf("seed %d is a different draft: meant (-), read (+)\n%s", seed, d)
		}
	}
}
