package rules

import "testing"

func TestUnusedTreadle(t *testing.T) {
	check(t, "draft/unused-treadle", []row{
		{name: "all pressed"},
		{name: "tied and not pressed", draft: table("TIEUP", "1,2", "2,3", "3,4", "1,4", "1,3") + "[WEAVING]\nShafts=4\nTreadles=6\nRising Shed=true\n",
			want: []string{`note 5=1,3 {"treadles":[5,6]}`}},
		{name: "pressed for plain hems", draft: table("TIEUP", "1,2", "2,3", "3,4", "1,4", "1,3", "2,4") + "[WEAVING]\nShafts=4\nTreadles=6\nRising Shed=true\n",
			settings: "[project]\nhem = 5 cm\nhem weave = plain\n"},
		{name: "one besides those for plain hems", draft: table("TIEUP", "1,2", "2,3", "3,4", "1,4", "1,4", "1,3", "2,4") + "[WEAVING]\nShafts=4\nTreadles=7\nRising Shed=true\n",
			settings: "[project]\nhem = 5 cm\nhem weave = plain\n", want: []string{`note 5=1,4 {"treadles":[5]}`}},
		{name: "declared only", draft: "[WEAVING]\nShafts=4\nTreadles=5\nRising Shed=true\n",
			want: []string{`note Treadles=5 {"treadles":[5]}`}},
		{name: "none is pressed beside a lift plan", draft: "[TREADLING]\n" + table("LIFTPLAN", "1,2", "2,3", "3,4", "1,4", "1,2", "2,3", "3,4", "1,4")},
	})
}
