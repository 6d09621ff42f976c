package rules

import "testing"

// What readers find comes through with the severity of its rule, its figures and
// its place.
func TestFileRules(t *testing.T) {
	for rule, rows := range map[string][]row{
		"file/stray-line": {{name: "rule", draft: "[TIEUP]\ntwill\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n",
			want: []string{`warning twill {"name":"twill","suggestion":"; twill"}`}}},
		"file/duplicate-section": {{name: "rule", draft: "[TIEUP]\n1=1,2\n2=2,3\n[TIEUP]\n3=3,4\n4=1,4\n",
			want: []string{`warning [TIEUP] {"name":"TIEUP","suggestion":""}`}}},
		"file/duplicate-key": {{name: "rule", draft: "[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n3=3\n4=1,4\n",
			want: []string{`warning 3=3 {"name":"3","suggestion":""}`}}},
		"file/unknown-section": {{name: "rule", draft: "[LOOM LOG]\n1=x\n",
			want: []string{`warning [LOOM LOG] {"name":"LOOM LOG","suggestion":""}`}}},
		"file/unknown-key": {{name: "rule", draft: "[WEAVING]\nShaft=4\nTreadles=4\nRising Shed=true\n",
			want: []string{`warning Shaft=4 {"name":"Shaft","suggestion":"Shafts"}`}}},
		"file/bad-value": {{name: "rule", draft: "[WEAVING]\nShafts=four\nTreadles=4\nRising Shed=true\n",
			want: []string{`error Shafts=four {"section":"WEAVING","key":"Shafts","value":"four","expected":"a whole number, like 8"}`}}},
		"file/decimal-comma": {{name: "rule", draft: "[WARP]\nThreads=8\nColor=1\nUnits=Centimeters\nSpacing=0,1\n",
			want: []string{`warning Spacing=0,1 {"section":"WARP","key":"Spacing","value":"0,1"}`}}},
		"file/index": {{name: "rule", draft: "[WARP COLORS]\n12=2\n",
			want: []string{`error 12=2 {"section":"WARP COLORS","index":12,"limit":8}`}}},
		"file/version": {{name: "rule", draft: "[WIF]\nVersion=3\nDate=April 20, 1997\nDevelopers=wif@mhsoft.com\n",
			want: []string{`note Version=3 {"version":"3"}`}},
			{name: "1.0 is fine", draft: "[WIF]\nVersion=1.0\nDate=April 20, 1997\nDevelopers=wif@mhsoft.com\n"}},
		"file/contents": {{name: "rule", draft: "[CONTENTS]\nCOLOR PALETTE=true\nWEAVING=true\nWARP=true\nWEFT=true\nCOLOR TABLE=true\n" +
			"TIEUP=true\nTHREADING=true\nTREADLING=true\nNOTES=true\n",
			want: []string{`warning NOTES=true {"section":"NOTES","listed":true,"present":false}`}}},
		"lint/unused-ignore": {{name: "in its section", draft: "[TIEUP]\n; fettle: ignore draft/shaft-count - meant so\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n",
			want: []string{`note ; fettle: ignore draft/shaft-count - meant so {"rule":"draft/shaft-count"}`}},
			{name: "one that is used", draft: "[WEAVING]\n; fettle: ignore draft/shaft-count - meant so\nShafts=3\nTreadles=4\nRising Shed=true\n"},
			{name: "its rule is off", draft: "[TIEUP]\n; fettle: ignore draft/shaft-count\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n",
				settings: "[rules]\ndraft/shaft-count = off\n"}},
	} {
		t.Run(rule, func(t *testing.T) { check(t, rule, rows) })
	}
}
