package wif

import (
	"strings"
	"testing"
)

func TestMisnumberedRow(t *testing.T) {
	for _, c := range []struct {
		name, rows string
		want       string // the suggested number, "" for none
	}{
		{"between its neighbours", "1=1\n2=2\n2=3\n4=4\n", "3"},
		{"the missing row comes later", "1=1\n2=2\n2=3\n3=4\n", ""},
		{"at the end", "1=1\n2=2\n2=3\n", ""},
		{"the number of an earlier row", "1=1\n2=2\n3=3\n1=4\n5=1\n", ""},
	} {
		for _, eol := range []string{"\n", "\r\n", "\r"} {
			text := strings.ReplaceAll("[WIF]\n[CONTENTS]\nTHREADING=true\n[THREADING]\n"+c.rows, "\n", eol)
			got := "none"
			for _, f := range read(text).Findings {
				if f.Rule == "file/duplicate-key" {
					got = f.Data.Get("suggestion").(string)
				}
			}
			if got != c.want {
				t.Errorf("%s, line break %q: %q, want %q", c.name, eol, got, c.want)
			}
		}
	}
}
