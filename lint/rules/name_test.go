package rules

import (
	"strings"
	"testing"
)

func TestName(t *testing.T) {
	for _, test := range []struct {
		name          string
		first, second string
		want          string
	}{
		{"capitals", "Towel.wif", "towel.wif", "towel.wif warning Towel.wif"},
		{"capitals of a folder", "Towels/a.wif", "towels/A.wif", "towels/A.wif warning Towels/a.wif"},
		{"accented capitals", "ÉTÉ.wif", "été.wif", "été.wif warning ÉTÉ.wif"},
		{"an accent on its own", "caf\u00e9.wif", "cafe\u0301.wif", "cafe\u0301.wif warning caf\u00e9.wif"},
		{"another name", "towel.wif", "towel-2.wif", ""},
		{"another folder", "a/towel.wif", "b/towel.wif", ""},
		{"the same file", "towel.wif", "towel.wif", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			got, _ := among(t, entry{path: test.first, draft: few + irregular}, entry{path: test.second, draft: few + other})
			if strings.Join(got, "; ") != test.want {
				t.Errorf("got %q, want %q", got, test.want)
			}
		})
	}
	got, suppressed := among(t, entry{path: "A.wif", draft: few + irregular},
		entry{path: "a.wif", draft: few + other, head: "; fettle: ignore collection/name\n"})
	if got != nil || suppressed != 1 {
		t.Errorf("ignored: got %q, %d left out", got, suppressed)
	}
}
