package rules

import "testing"

func TestShedUnstated(t *testing.T) {
	check(t, "draft/shed-unstated", []row{
		{name: "rising"},
		{name: "sinking", draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=false\n"},
		{name: "unstated", draft: "[WEAVING]\nShafts=4\nTreadles=4\n",
			want: []string{`note [WEAVING] {}`}},
	})
}
