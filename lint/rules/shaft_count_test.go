package rules

import (
	"slices"
	"testing"

	"fettle/formats"
	"fettle/lint"
	"fettle/schema"
)

func TestShaftCount(t *testing.T) {
	check(t, "draft/shaft-count", []row{
		{name: "as declared"},
		{name: "undeclared", draft: "[WEAVING]\nTreadles=4\nRising Shed=true\n"},
		{name: "threading goes beyond", draft: "[WEAVING]\nShafts=3\nTreadles=4\nRising Shed=true\n",
			want: []string{`error Shafts=3 {"declared":3,"used":4}`}},
		{name: "a treadle alone goes beyond", draft: table("TIEUP", "1,2", "2,3", "3,4", "1,4,7"),
			fix:  "risky",
			want: []string{`error 4=1,4,7 {"declared":4,"used":7}`}},
		{name: "an end and a treadle go beyond", draft: table("TIEUP", "1,2", "2,3", "3,4", "1,5") + table("THREADING", 1, 2, 3, 4, 1, 2, 3, 5),
			fix: "certain", want: []string{`error Shafts=4 {"declared":4,"used":5}`}},
		{name: "with shafts between that nothing names", draft: table("TIEUP", "1,2", "2,3", "3,4", "1,9") + table("THREADING", 1, 2, 3, 4, 1, 2, 3, 9),
			fix: "risky", want: []string{`error Shafts=4 {"declared":4,"used":9}`}},
		{name: "a pick alone goes beyond", draft: table("LIFTPLAN", "1,2", "2,3", "3,4", "1,5"), fix: "risky",
			want: []string{`error 4=1,5 {"declared":4,"used":5}`}},
		{name: "a key struck twice", draft: table("THREADING", 1, 2, 33, 4, 1, 2, 3, 4), fix: "risky",
			want: []string{`error 3=33 {"declared":4,"used":33}`}},
		{name: "in the tie-up", draft: table("TIEUP", "1,22", "2,3", "3,4", "1,4"), fix: "risky",
			want: []string{`error 1=1,22 {"declared":4,"used":22}`}},
		{name: "twice", draft: table("THREADING", 1, 2, 33, 4, 11, 2, 3, 4),
			want: []string{`error 3=33 {"declared":4,"used":33}`, `error 5=11 {"declared":4,"used":11}`}},
		{name: "the same twice", draft: table("THREADING", 1, 2, 33, 4, 1, 2, 33, 4),
			want: []string{`error 3=33 {"declared":4,"used":33}`, `error 7=33 {"declared":4,"used":33}`}},
		{name: "three times", draft: table("THREADING", 1, 2, 33, 4, 1, 2, 33, 44), fix: "risky",
			want: []string{`error Shafts=4 {"declared":4,"used":44}`}},
		{name: "beside a count that is wrong", draft: table("TIEUP", "1,2", "2,3", "3,5", "1,5") + table("THREADING", 1, 2, 3, 5, 11, 2, 3, 5),
			want: []string{`error Shafts=4 {"declared":4,"used":5}`, `error 5=11 {"declared":4,"used":11}`}},
	})
}

// TestSlipReportsAlone: a row that names the wrong shaft or treadle is one finding,
// and what follows from it is held back; where the draft asks to have that finding
// left out, all the rest is looked for.
func TestSlipReportsAlone(t *testing.T) {
	room := "[loom]\nshafts = 4\ntreadles = 4\n[heddles]\neach = 9\n[project]\nsett = 10/cm\npicks = 2/cm\nfinished length = 1 m\n"
	for _, test := range []struct{ rule, draft string }{
		{"draft/shaft-count", table("THREADING", 1, 2, 33, 4, 1, 2, 3, 4)},
		{"draft/shaft-count", table("TIEUP", "1,2", "2,33", "3,4", "1,4")},
		{"draft/shaft-count", table("LIFTPLAN", "1,2", "2,33", "3,4", "1,4", "1,2", "2,3", "3,4", "1,4")},
		{"draft/treadle-count", table("TREADLING", 1, 2, 33, 4, 1, 2, 3, 4)},
		{"draft/treadle-count", "[TIEUP]\n1=1,2\n2=2,3\n33=3,4\n4=1,4\n"},
	} {
		_, findings := look(t, lint.Example{Draft: test.draft, Settings: room})
		if len(findings) != 1 || findings[0].Rule != test.rule || findings[0].Fixable() {
			t.Errorf("%s: %+v", test.draft, findings)
			continue
		}
		doc := formats.Read("x.wif", []byte(composed(lint.Example{Draft: test.draft})))
		mended, err := lint.Apply(doc.Source.Text, findings[0].Fixes[0].Edits)
		if err != nil {
			t.Fatal(err)
		}
		if _, left := look(t, lint.Example{Draft: string(mended), Whole: true, Settings: room}); len(left) > 0 {
			t.Errorf("mended, %s has %s: %s", test.draft, left[0].Rule, left[0].Message)
		}
	}
	_, findings := look(t, lint.Example{Draft: table("THREADING", 1, 2, 33, 4, 1, 2, 3, 4) + "; fettle: ignore draft/shaft-count - not yet\n"})
	if !slices.ContainsFunc(findings, func(f schema.Finding) bool { return f.Rule == "cloth/loose-thread" }) {
		t.Errorf("with the finding left out, found %+v", findings)
	}
}
