package rules

import (
	"slices"
	"strings"
	"testing"

	"fettle/lint"
)

// TestPartialDrafts checks that a truncated draft gets one finding, and nothing that
// follows from it. With that rule off, the other findings appear.
func TestPartialDrafts(t *testing.T) {
	cut := strings.TrimSuffix(composed(lint.Example{}), "6=2\n7=3\n8=4\n") + "6"
	noTreadling := composed(lint.Example{})
	noTreadling = strings.Replace(noTreadling[:strings.Index(noTreadling, "[TREADLING]")], "TREADLING=true\n", "", 1)
	floats := composed(lint.Example{Draft: table("TREADLING", 1, 1, 1, 1, 1, 1, 1, 1)})
	letter := composed(lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=O\n6=2\n7=3\n8=4\n"})
	gap := composed(lint.Example{Draft: "[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=0\n6=2\n7=3\n8=4\n"})
	const picks = "[project]\npicks = 2/cm\n"
	const off = "[rules]\nfile/missing-section = off\n"
	rest := []string{"cloth/loose-thread", "draft/empty-pick", "draft/thread-count"}
	for _, test := range []struct {
		name, draft, settings string
		want                  []string
	}{
		{"broken off", cut, "", []string{"file/missing-section"}},
		{"broken off, for another loom", cut, "[loom]\nshafts = 3\n", []string{"file/missing-section", "loom/too-many-shafts"}},
		{"broken off, its rule off", cut, off, rest},
		{"an ignore of what is not looked for", "; fettle: ignore draft/empty-pick\n" + cut, "", []string{"file/missing-section"}},
		{"threads that float and shafts that there are not", floats, "[loom]\nshafts = 3\n", []string{"cloth/loose-thread", "draft/unused-treadle", "loom/too-many-shafts"}},
		{"the same as a block profile", strings.Replace(floats, "Rising Shed=true", "Rising Shed=true\nProfile=true", 1), "[loom]\nshafts = 3\n", []string{"draft/unused-treadle"}},
		{"a row that cannot be read", letter, "", []string{"file/bad-value"}},
		{"a row that cannot be read, its rule off", letter, "[rules]\nfile/bad-value = off\n", []string{"cloth/loose-thread", "draft/unthreaded-end"}},
		{"an end without a shaft", gap, picks, []string{"cloth/loose-thread", "draft/unthreaded-end"}},
		{"the same, its rule off", gap, picks + "[rules]\ndraft/unthreaded-end = off\n", []string{"cloth/long-float", "cloth/loose-thread"}},
		{"the same, left out at the draft's word", strings.Replace(gap, "5=0", "; fettle: ignore draft/unthreaded-end - by hand\n5=0", 1), picks, []string{"cloth/long-float", "cloth/loose-thread"}},
		{"no treadling", noTreadling, "", []string{"file/missing-section"}},
		{"no treadling, its rule off", noTreadling, off, []string{"cloth/loose-thread", "draft/empty-pick"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, findings := look(t, lint.Example{Draft: test.draft, Settings: test.settings, Whole: true})
			var got []string
			for _, f := range findings {
				got = append(got, f.Rule)
			}
			slices.Sort(got)
			if got = slices.Compact(got); !slices.Equal(got, test.want) {
				t.Errorf("got %v, want %v", got, test.want)
			}
		})
	}
}
