package lint

import (
	"strings"
	"testing"

	"fettle/schema"
	"fettle/schema/settings"
)

// TestTooLargeCloth checks that a rule reports a cloth that is too large, and that the
// other rules run.
func TestTooLargeCloth(t *testing.T) {
	const n = 100_000 // each end on its own shaft, each pick lifting another
	d := &schema.Draft{}
	for i := range n {
		d.Threading.AppendOne(int32(i + 1))
		d.LiftPlan.AppendOne(int32(i + 1))
	}
	asks := Rule{ID: "cloth/asks", Default: schema.Warning, Check: func(p *Pass) { p.Cloth().Repeat() }}
	other := Rule{ID: "cloth/other", Default: schema.Note, Check: func(p *Pass) { p.Report(schema.Place{}, nil, "said") }}
	linter, err := New([]Rule{asks, other, {ID: Duplicate, Default: schema.Note}}, Selection{})
	if err != nil {
		t.Fatal(err)
	}
	result, err := linter.Lint(&schema.Document{Source: &schema.Source{}, Draft: d, Locator: nowhere{}}, &settings.Settings{})
	if err != nil || len(result.Findings) != 2 {
		t.Fatalf("%v %v", result.Findings, err)
	}
	for _, f := range result.Findings {
		if f.Rule == asks.ID && (f.Severity != schema.Warning || !strings.Contains(f.Message, "100000 ends and 100000 picks")) {
			t.Errorf("%s: %s", f.Severity, f.Message)
		}
	}
	across := NewAcross()
	found, _ := across.Add("a.wif", across.Traits(&result))
	if len(found) != 1 || found[0].Severity != schema.Note || strings.Contains(found[0].Message, "bug in fettle") {
		t.Errorf("across: %v", found)
	}
}

type nowhere struct{}

func (nowhere) Locate(schema.Place) (schema.Span, string) { return schema.Span{}, "" }
