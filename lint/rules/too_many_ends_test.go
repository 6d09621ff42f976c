package rules

import (
	"strings"
	"testing"

	"fettle/lint"
)

func TestTooManyEnds(t *testing.T) {
	check(t, "loom/too-many-ends", []row{
		{name: "as drafted"},
		{name: "as many as there may be", settings: "[project]\nrepeats = 125000\n"},
		{name: "one too many", settings: "[project]\nrepeats = 125000\nbalance = 1\n",
			want: []string{`error Threads=8 {"ends":1000001,"limit":1000000}`}},
		{name: "by the balance", settings: "[loom]\nshafts = 4\n[project]\nbalance = 1000000\n",
			want: []string{`error Threads=8 {"ends":1000008,"limit":1000000}`}},
		// 9 km at 10 ends a centimetre are 9,000,000 ends.
		{name: "by the finished width", settings: "[project]\nfinished width = 9 km\n",
			want: []string{`error Threads=8 {"ends":9000000,"limit":1000000}`}},
		{name: "by the draft", draft: "[WARP]\nThreads=1000001\nColor=1\nUnits=Centimeters\nSpacing=0.1\n",
			want: []string{`error Threads=1000001 {"ends":1000001,"limit":1000000}`}},
		{name: "a profile is no warp", draft: "[WEAVING]\nShafts=4\nTreadles=4\nRising Shed=true\nProfile=true\n", settings: "[project]\nrepeats = 1000000\n"},
	})
}

// TestTooManyEndsReportsAlone gives a loom, heddles, a reed and yarn that all fall
// short of any such warp.
func TestTooManyEndsReportsAlone(t *testing.T) {
	_, findings := look(t, lint.Example{Settings: "[loom]\nweaving width = 5 mm\n[heddles]\neach = 1\n[reed]\ndents = 10/cm\nwidth = 1 mm\n" +
		"[project]\nfinished length = 1 m\nrepeats = 200000\n[yarn dear]\ngrist = 100 tex\nstock = 1 m\ncolor = #000000\n[rules]\nloom/heddle-crowding = 0.1/cm\n"})
	for _, f := range findings {
		if f.Rule != "loom/too-many-ends" && !strings.HasPrefix(f.Rule, "draft/") {
			t.Errorf("%s: %s", f.Rule, f.Message)
		}
	}
	if len(findings) == 0 {
		t.Error("nothing found")
	}
}
