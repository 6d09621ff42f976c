package rules

import "testing"

func TestUnthreadedEnd(t *testing.T) {
	check(t, "draft/unthreaded-end", []row{
		{name: "all threaded"},
		{name: "one on 0", draft: table("THREADING", 1, 2, 3, 0, 1, 2, 3, 4),
			want: []string{`warning 4=0 {"ends":[4],"count":1}`}},
		{name: "unlisted at the end", draft: table("THREADING", 1, 2, 3, 4, 1),
			want: []string{`warning [THREADING] {"ends":[6,7,8],"count":3}`}},
		{name: "at the edges, not said to be floating", draft: table("THREADING", 0, 2, 3, 4, 1, 2, 3, 0),
			want: []string{`warning 1=0 {"ends":[1,8],"count":2}`}},
		{name: "floating selvedges", draft: table("THREADING", 0, 2, 3, 4, 1, 2, 3, 0), settings: "[project]\nfloating selvedges = yes\n"},
		{name: "floating selvedges and one within", draft: table("THREADING", 0, 2, 3, 0, 1, 2, 3, 0), settings: "[project]\nfloating selvedges = yes\n",
			want: []string{`warning 4=0 {"ends":[4],"count":1}`}},
	})
}
