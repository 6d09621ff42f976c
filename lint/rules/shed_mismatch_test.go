package rules

import "testing"

func TestShedMismatch(t *testing.T) {
	check(t, "loom/shed-mismatch", []row{
		{name: "loom unknown"},
		{name: "alike", settings: "[loom]\nshed = rising\n"},
		{name: "rising draft, sinking loom", settings: "[loom]\nshed = sinking\n",
			want: []string{`error Rising Shed=true {"draft":"rising","loom":"sinking"}`}},
		{name: "sinking draft, rising loom", draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=false\n", settings: "[loom]\nshed = rising\n",
			want: []string{`error Rising Shed=false {"draft":"sinking","loom":"rising"}`}},
		{name: "balanced loom", settings: "[loom]\nshed = balanced\n"},
		{name: "unstated draft", draft: "[WEAVING]\nShafts=4\nTreadles=4\n", settings: "[loom]\nshed = sinking\n"},
	})
}
