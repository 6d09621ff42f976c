package lint

import (
	"strings"
	"testing"

	"fettle/schema"
	"fettle/schema/cloth"
)

// TestTurned checks which order of colors belongs to each view of the cloth.
func TestTurned(t *testing.T) {
	for view, want := range map[cloth.View]int{
		0:                                 0,
		cloth.Mirrored:                    1,
		cloth.Reversed:                    2,
		cloth.Mirrored | cloth.Reversed:   3,
		cloth.TurnedOver:                  1, // over sideways, the last end comes first
		cloth.TurnedOver | cloth.Mirrored: 0, // face and back exchanged where they lie
		cloth.TurnedOver | cloth.Mirrored | cloth.Reversed: 2,
	} {
		if got := turned(view); got != want {
			t.Errorf("%s: %d, want %d", view, got, want)
		}
	}
}

// TestFailingComparison checks that a comparison that panics becomes a finding.
func TestFailingComparison(t *testing.T) {
	across := NewAcross()
	var traits Traits
	traits.duplicate.severity = schema.Note
	traits.compare(func() *cloth.Cloth { panic("index\nout of range") }, nil, across.seed)
	found, _ := across.Add("a.wif", traits)
	if len(found) != 1 || found[0].Rule != Duplicate || found[0].Severity != schema.Error ||
		!strings.Contains(found[0].Message, "index out of range") {
		t.Errorf("got %v", found)
	}
}
