package schema

import "testing"

// TestPartsOfAFix adds the parts of a fix and reads them back.
func TestPartsOfAFix(t *testing.T) {
	at := func(n int) Edit { return Edit{Span: Span{Start: n, End: n}} }
	var x Fix
	for range x.Parts() {
		t.Error("a fix without edits has a part")
	}
	x.AddPart(at(1), at(2))
	x.AddPart()
	x.AddPart(at(3))
	x.AddPart(at(4), at(5))
	var parts [][]Edit
	for p := range x.Parts() {
		parts = append(parts, p)
	}
	if len(parts) != 3 || len(parts[0]) != 2 || len(parts[1]) != 1 || parts[1][0] != at(3) || len(parts[2]) != 2 || len(x.Edits) != 5 {
		t.Errorf("parts %v of %v", parts, x)
	}
	for range x.Parts() {
		break
	}
}
