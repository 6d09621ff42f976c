package rules

import (
	"flag"
	"math/rand/v2"
	"testing"

	"fettle/corpus"
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/settings"
)

var long = flag.Bool("long", false, "try many more generated drafts")

// drafts returns how many drafts of each kind to try.
func drafts() int {
	if *long {
		return 5000
	}
	return 24
}

func draftLinter(t *testing.T, rules ...string) func(*schema.Draft) []schema.Finding {
	t.Helper()
	linter, err := lint.New(All(), lint.Selection{Only: rules})
	if err != nil {
		t.Fatal(err)
	}
	s := &settings.Settings{}
	return func(d *schema.Draft) []schema.Finding {
		result, err := linter.Lint(&schema.Document{Source: &schema.Source{Path: "x"}, Draft: d, Locator: nowhere{}}, s)
		if err != nil {
			t.Fatal(err)
		}
		return result.Findings
	}
}

// TestSoundDraftsHaveNoSlips makes sound drafts of every kind, with the list in the warp and
// in the weft. None of them may have a slip or broken plain weave.
func TestSoundDraftsHaveNoSlips(t *testing.T) {
	lint := draftLinter(t, slipRule.ID, brokenPlainWeave.ID)
	all := 0
	for number, k := range soundKinds() {
		alarms := 0
		for seed := range drafts() {
			r := rand.New(rand.NewPCG(uint64(seed), uint64(number)))
			list := k.make(r)
			all++
			for _, f := range lint(draftOf(k, list, seed%2 == 1)) {
				if alarms++; alarms <= 3 {
					t.Errorf("%s, seed %d: %s: %s\n%d", k.name, seed, f.Rule, f.Message, list)
				}
			}
		}
		if alarms > 0 {
			t.Errorf("%s: %d of %d", k.name, alarms, drafts())
		}
	}
	for seed := range 5 * drafts() {
		all++
		options := corpus.GenOptions{LiftPlan: seed%2 == 1}
		for _, f := range lint(corpus.Generate(uint64(seed), options)) {
			t.Errorf("generated draft %d: %s: %s", seed, f.Rule, f.Message)
		}
	}
	t.Logf("%d sound drafts", all)
}

// TestSlipsAreFound makes one slip in regular drafts. At least 95 % of each kind of slip
// must be found, and named.
func TestSlipsAreFound(t *testing.T) {
	lint := draftLinter(t, slipRule.ID)
	kinds := []slipKind{changed, missing, extra, swapped}
	made, found, wrong := map[slipKind]int{}, map[slipKind]int{}, 0
	for number, k := range soundKinds() {
		if !k.regular {
			continue
		}
		ownMade, ownFound := 0, 0
		for seed := range drafts() {
			r := rand.New(rand.NewPCG(uint64(seed), uint64(1000+number)))
			list := k.make(r)
			f := slip{kind: kinds[seed/2%len(kinds)]}
			spoiled, ok := spoil(r, k, list, &f)
			if !ok {
				continue
			}
			ownMade++
			made[f.kind]++
			findings := lint(draftOf(k, spoiled, seed%2 == 1))
			switch {
			case len(findings) == 0:
				if testing.Verbose() && *long {
					t.Logf("%s, seed %d: not found: %+v of %d", k.name, seed, f, spoiled)
				}
			case len(findings) == 1 && repairs(spoiled, list, findings[0].Data):
				ownFound++
				found[f.kind]++
			default:
				wrong++
				t.Logf("%s, seed %d: made %+v, found %s", k.name, seed, f, findings[0].Message)
			}
		}
		t.Logf("%s: %d of %d", k.name, ownFound, ownMade)
	}
	for _, kind := range kinds {
		t.Logf("%s: %d of %d found", kind, found[kind], made[kind])
		if found[kind]*100 < made[kind]*95 || made[kind] < 50 {
			t.Errorf("%s: only %d of %d found", kind, found[kind], made[kind])
		}
	}
	t.Logf("%d found in another place", wrong)
}

// spoil makes a slip in a list, more than a repeat from the edges. ok is false where it
// would change nothing.
func spoil(r *rand.Rand, k soundKind, list []int32, f *slip) (spoiled []int32, ok bool) {
	n, p := len(list), cloth.Period(list)
	if 4*p > n {
		p = 8 // mirrored
	}
	if n < 2*p+4 {
		return nil, false
	}
	f.at = between(r, p+1, n-p-3)
	if k.colors && p == 2 || centred(n, f) {
		return nil, false
	}
	other := list[r.IntN(n)]
	switch f.kind {
	case changed:
		f.expected = other
		if other == list[f.at] {
			return nil, false
		}
		spoiled, _ = undone(list, *f)
	case missing:
		spoiled, _ = undone(list, slip{kind: extra, at: f.at})
	case extra:
		if r.IntN(2) == 0 {
			other = list[f.at]
		}
		spoiled, _ = undone(list, slip{kind: missing, at: f.at, expected: other})
	default:
		return undone(list, *f)
	}
	return spoiled, true
}

// centred reports whether a slip is at the centre of a list, where it may be meant.
func centred(n int, f *slip) bool { return abs(2*f.at-n) <= 8 }

// repairs reports whether a finding leads from the spoiled list back to the sound one.
func repairs(spoiled, list []int32, data schema.Data) bool {
	f := slip{kind: slipKind(data.Get("kind").(string)), at: data.Get("thread").(int) - 1}
	if expected := data.Get("expected").([]int); len(expected) == 1 {
		f.expected = int32(expected[0])
	}
	u, _ := undone(spoiled, f)
	// In a repeat of two threads, taking one away is as good as adding one.
	return len(u) == len(list) && equal(u, list) || len(u) != len(list) && cloth.Period(u) == cloth.Period(list)
}

func equal(a, b []int32) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}
