package wif

import (
	"testing"

	"fettle/schema"
)

// TestMisspeltIgnore checks that comments that are almost ignores are reported with the
// correct form, and no other comments are.
func TestMisspeltIgnore(t *testing.T) {
	for comment, want := range map[string]string{
		"; fettle: ignre draft/shaft-count":         "; fettle: ignore draft/shaft-count",
		";fettle:ignor reed/sett - meant so":        "; fettle: ignore reed/sett - meant so",
		"; fettle ignore cloth/layers":              "; fettle: ignore cloth/layers",
		"; fetle: ignore cloth/layers":              "; fettle: ignore cloth/layers",
		"; Fettle: Ignore cloth/layers":             "; fettle: ignore cloth/layers",
		"; fettle: disable cloth/layers":            "; fettle: ignore cloth/layers",
		"; fettle: ignore":                          "; fettle: ignore RULE - and the reason",
		"; fettle: ignore cloth/layers - meant":     "",
		"; fettle: see guild/archive":               "",
		"; fettle is a tool":                        "",
		"; fettled, and skip lunch":                 "",
		"; for the ignorant":                        "",
		"; fettle:":                                 "",
		";":                                         "",
		"; please ignore the second treadle of all": "",
	} {
		for _, text := range []string{comment + "\n[WIF]\nVersion=1.1\n", "[WIF]\nVersion=1.1\n[PRIVATE x]\n" + comment + "\n"} {
			got := ""
			for _, f := range Read(&schema.Source{Text: []byte(text)}).Findings {
				if f.Rule == schema.FileUnknownKey {
					got = f.Data.Get("suggestion").(string)
				}
			}
			if got != want {
				t.Errorf("%q: got %q, want %q", text, got, want)
			}
		}
	}
}
