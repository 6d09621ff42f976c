package rules

import (
	"encoding/json"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/lint"
	"fettle/schema"
)

// room has settings for every rule.
const room = `[loom]
shafts = 4
treadles = 3
weaving width = 1 cm
shed = balanced
[heddles]
each = 1
[reed]
dents = 10/in
width = 1 cm
[project]
sett = 23/in
picks = 9/cm
finished length = 2 m
repeats = 3
balance = 5
[yarn a]
grist = 8/2 cotton
stock = 1 m
palette = 1
`

// nowhere is a Locator that finds nothing.
type nowhere struct{}

func (nowhere) Locate(schema.Place) (schema.Span, string) { return schema.Span{}, "" }

// TestNoRuleFails runs all rules on random drafts: numbers far above the declared ones,
// and empty, short and long tables.
func TestNoRuleFails(t *testing.T) {
	s := settingsOf(t, room)
	linter, err := lint.New(All(), lint.Selection{})
	if err != nil {
		t.Fatal(err)
	}
	list := All()
	rapid.Check(t, func(t *rapid.T) {
		doc := &schema.Document{Source: &schema.Source{Path: "x"}, Draft: anyDraft(t), Locator: nowhere{}}
		result, err := linter.Lint(doc, s)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range result.Findings {
			r, err := lint.Find(list, f.Rule)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := json.Marshal(f.Data); err != nil || len(f.Data) == 0 && len(r.Data) > 0 ||
				strings.Contains(f.Message, "%!") || strings.Contains(f.Message, "the rule failed") {
				t.Fatalf("%s: %s (%v)", f.Rule, f.Message, err)
			}
		}
	})
}

func anyDraft(t *rapid.T) *schema.Draft {
	r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 2))
	number := func() int { return []int{0, 1, 2, 3, 4, 7, 66, 5000, 2_000_000_000}[min(r.IntN(12), 8)] }
	rows := func() (list schema.Rows) {
		for range r.IntN(3) * r.IntN(12) {
			var row []int32
			for range r.IntN(3) {
				row = append(row, int32(number()))
			}
			list.Append(row...)
		}
		return list
	}
	system := func() (s schema.System) {
		s.Threads, s.Color, s.Unit = min(number(), 100), number(), schema.Unit(r.IntN(4))
		s.Spacing = float64(r.IntN(3))
		for range r.IntN(2) * r.IntN(9) {
			s.Colors = append(s.Colors, int32(number()))
			s.Spacings = append(s.Spacings, float64(r.IntN(3)))
		}
		return s
	}
	return &schema.Draft{
		Shafts: number(), Treadles: number(), Shed: schema.Shed(r.IntN(3)), Palette: make([]schema.Color, r.IntN(4)),
		Threading: rows(), Tieup: rows(), Treadling: rows(), LiftPlan: rows(), Warp: system(), Weft: system(),
	}
}

// TestListsAreWholeAndMessagesShort checks that the data of a finding lists every
// thread, and its message only the first of them.
func TestListsAreWholeAndMessagesShort(t *testing.T) {
	const n = 20_000
	threads := make([]any, n)
	for i := range threads {
		threads[i] = i % 2 * (1 + i/2%2) // every other one is 0
	}
	draft := "[WARP]\nThreads=20000\nColor=1\n[WEFT]\nThreads=20000\nColor=1\n" + table("THREADING", threads...) + table("TREADLING", threads...)
	_, findings := look(t, lint.Example{Draft: draft})
	for _, rule := range []string{"draft/unthreaded-end", "draft/empty-pick", "cloth/loose-thread"} {
		i := slices.IndexFunc(findings, func(f schema.Finding) bool { return f.Rule == rule })
		if i < 0 {
			t.Fatalf("nothing is found by %s", rule)
		}
		f := findings[i]
		for _, d := range f.Data {
			if list, ok := d.Value.([]int); ok && (len(list) < n/2 || len(list) != f.Data.Get("count")) {
				t.Errorf("%s lists %d threads and counts %v", rule, len(list), f.Data.Get("count"))
			}
		}
		if len(f.Message) > 200 || !strings.Contains(f.Message, "more") {
			t.Errorf("%s: %s", rule, f.Message)
		}
	}
}
