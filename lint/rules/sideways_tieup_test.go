package rules

import "testing"

func TestSidewaysTieup(t *testing.T) {
	const (
		six      = "[WEAVING]\nShafts=4\nTreadles=6\nRising Shed=true\n"
		sideways = "[TIEUP]\n1=1,4,5\n2=1,2,6\n3=2,3,5\n4=3,4,6\n"
		two      = "[WEAVING]\nShafts=4\nTreadles=2\nRising Shed=true\n[TREADLING]\n1=1\n2=2\n3=1\n4=2\n5=1\n6=2\n7=1\n8=2\n"
	)
	found := []string{`error [TIEUP] {"rows":4,"shafts":4,"treadles":6}`}
	check(t, "draft/sideways-tieup", []row{
		{name: "more treadles than shafts", draft: six + sideways, want: found},
		{name: "fewer treadles than shafts", draft: two + "[TIEUP]\n1=1\n2=2\n3=1\n4=2\n", want: []string{`error [TIEUP] {"rows":4,"shafts":4,"treadles":2}`}},
		{name: "counts left out", draft: "[WEAVING]\nRising Shed=true\n" + sideways + "[TREADLING]\n1=1\n2=2\n3=3\n4=4\n5=5\n6=6\n7=5\n8=6\n", want: found},
		{name: "the right way", draft: six + "[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n5=1,3\n6=2,4\n"},
		{name: "square", draft: "[TIEUP]\n1=1,4\n2=1,2\n3=2,3\n4=3,4\n"},
		{name: "an end on a shaft beyond", draft: six + sideways + "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=5\n6=2\n7=3\n8=4\n"},
		{name: "numbers that stop before the treadles", draft: six + "[TIEUP]\n1=1,4\n2=1,2\n3=2,3,5\n4=3,4,5\n"},
		{name: "another number of rows", draft: six + "[TIEUP]\n1=1,4,5\n2=1,2,6\n3=2,3,5\n"},
		{name: "a lift plan", draft: six + sideways + "[LIFTPLAN]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n5=1,2\n6=2,3\n7=3,4\n8=1,4\n"},
	})
}
