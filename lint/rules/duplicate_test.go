package rules

import (
	"strings"
	"testing"

	"fettle/formats"
	"fettle/lint"
	"fettle/schema"
)

type entry struct{ path, draft, settings, head string }

// among runs the rules on several files, like a run on a collection. It returns the
// findings that compare files, one line each, and the number of ignored ones.
func among(t *testing.T, files ...entry) (found []string, suppressed int) {
	t.Helper()
	linter, err := lint.New(All(), lint.Selection{})
	if err != nil {
		t.Fatal(err)
	}
	across := lint.NewAcross()
	for _, f := range files {
		s := settingsOf(t, f.settings)
		result, err := linter.Lint(formats.Read(f.path, []byte(f.head+composed(lint.Example{Draft: f.draft}))), s)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range result.Findings {
			if x.Rule == lint.UnusedIgnore {
				t.Errorf("%s: %s", f.path, x.Message)
			}
		}
		list, left := across.Add(f.path, across.Traits(&result))
		suppressed += len(left)
		for _, x := range list {
			rule, err := lint.Find(All(), x.Rule)
			if err != nil {
				t.Fatal(err)
			}
			checkKeys(t, rule, x)
			checkMessage(t, x)
			var words []string
			for _, d := range x.Data {
				words = append(words, d.Value.(string))
			}
			if x.Position != (schema.Position{Line: 1, Column: 1, EndLine: 1, EndColumn: x.Position.EndColumn}) {
				t.Errorf("%s is at %+v", x.Rule, x.Position)
			}
			found = append(found, f.path+" "+x.Severity.String()+" "+strings.Join(words, " "))
		}
	}
	return found, suppressed
}

// An irregular weave of four ends and three picks, and its variants, worked out by hand:
//
//	end      4 3 2 1
//	pick 1   . . # #
//	pick 2   . # . #
//	pick 3   . # # #
const (
	irregular  = "[THREADING]\n1=1\n2=2\n3=3\n4=4\n[TIEUP]\n1=1,2\n2=1,3\n3=1,2,3\n[TREADLING]\n1=1\n2=2\n3=3\n"
	rethreaded = "[THREADING]\n1=4\n2=1\n3=2\n4=3\n[TIEUP]\n1=1,2,4\n2=1,4\n3=2,4\n[TREADLING]\n1=2\n2=3\n3=1\n"
	byLifts    = "[THREADING]\n1=1\n2=2\n3=3\n4=4\n[LIFTPLAN]\n1=1,2\n2=1,3\n3=1,2,3\n[TIEUP]\n[TREADLING]\n"
	mirrored   = "[THREADING]\n1=4\n2=3\n3=2\n4=1\n[TIEUP]\n1=1,2\n2=1,3\n3=1,2,3\n[TREADLING]\n1=1\n2=2\n3=3\n"
	backward   = "[THREADING]\n1=1\n2=2\n3=3\n4=4\n[TIEUP]\n1=1,2\n2=1,3\n3=1,2,3\n[TREADLING]\n1=3\n2=2\n3=1\n"
	// Turned over sideways: end 4 becomes end 1, and up becomes down.
	turned = "[THREADING]\n1=4\n2=3\n3=2\n4=1\n[TIEUP]\n1=3,4\n2=2,4\n3=4\n[TREADLING]\n1=1\n2=2\n3=3\n"
	other  = "[THREADING]\n1=1\n2=2\n3=3\n4=4\n[TIEUP]\n1=1,2\n2=1,3\n3=1,2,3\n[TREADLING]\n1=2\n2=1\n3=3\n"
	few    = "[WARP]\nThreads=4\nColor=1\n[WEFT]\nThreads=3\nColor=1\n"
	blue   = "[WARP]\nThreads=4\nColor=2\n[WEFT]\nThreads=3\nColor=1\n"
	// Only end 1 is blue; mirrored, that is end 4.
	blueEdge  = few + "[WARP COLORS]\n1=2\n"
	blueFarer = few + "[WARP COLORS]\n4=2\n"
)

func TestDuplicate(t *testing.T) {
	for _, test := range []struct {
		name          string
		first, second string
		want          string // "" for no finding
	}{
		{"itself", few + irregular, few + irregular, "identical"},
		{"threaded another way", few + irregular, few + rethreaded, "identical"},
		{"by a lift plan", few + irregular, few + byLifts, "identical"},
		{"mirrored", few + irregular, few + mirrored, "mirrored"},
		{"picks reversed", few + irregular, few + backward, "picks reversed"},
		{"turned over", few + irregular, few + turned, "turned over"},
		{"another cloth", few + irregular, few + other, ""},
		{"in other colors", few + irregular, blue + irregular, "in other colors"},
		{"mirrored in other colors", few + irregular, blue + mirrored, "mirrored, in other colors"},
		{"the colors mirrored too", blueEdge + irregular, blueFarer + mirrored, "mirrored"},
		{"mirrored, the colors as they were", blueEdge + irregular, blueEdge + mirrored, "mirrored, in other colors"},
		{"other numbers for the same colors", few + irregular,
			"[COLOR TABLE]\n1=1,1,1\n2=242,234,216\n" + strings.ReplaceAll(few, "Color=1", "Color=2") + irregular, "identical"},
		{"torn, without a threading", few + "[THREADING]\n", few + "[THREADING]\n", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			got, _ := among(t, entry{path: "a.wif", draft: test.first}, entry{path: "b.wif", draft: test.second})
			want := ""
			if test.want != "" {
				want = "b.wif note a.wif " + test.want
			}
			if strings.Join(got, "; ") != want {
				t.Errorf("got %q, want %q", got, want)
			}
		})
	}
}

// TestDuplicateOfWhich checks that a finding names the first of the most similar files.
func TestDuplicateOfWhich(t *testing.T) {
	got, _ := among(t, entry{path: "a.wif", draft: few + irregular}, entry{path: "b.wif", draft: blue + irregular},
		entry{path: "c.wif", draft: blue + irregular}, entry{path: "d.wif", draft: few + mirrored})
	want := "b.wif note a.wif in other colors; c.wif note b.wif identical; d.wif note a.wif mirrored"
	if strings.Join(got, "; ") != want {
		t.Errorf("got %q", got)
	}
}

func TestDuplicateSettings(t *testing.T) {
	for _, test := range []struct {
		name, head, draft, settings, want string
		suppressed                        int
	}{
		{"another severity", "", few + irregular, "[rules]\ncollection/duplicate = error\n", "b.wif error a.wif identical", 0},
		{"off", "", few + irregular, "[rules]\ncollection/duplicate = off\n", "", 0},
		{"ignored by the draft", "; fettle: ignore collection/duplicate - for the class\n", few + irregular, "", "", 1},
		{"an ignore that is not needed", "; fettle: ignore collection/duplicate - for the class\n", few + other, "", "", 0},
	} {
		t.Run(test.name, func(t *testing.T) {
			got, suppressed := among(t, entry{path: "a.wif", draft: few + irregular}, entry{"b.wif", test.draft, test.settings, test.head})
			if strings.Join(got, "; ") != test.want || suppressed != test.suppressed {
				t.Errorf("got %q, %d left out", got, suppressed)
			}
		})
	}
}

func TestDuplicateExamples(t *testing.T) {
	for _, test := range []struct {
		example lint.Example
		want    int
	}{{duplicate.Faulty, 1}, {duplicate.Fixed, 0}} {
		got, _ := among(t, entry{path: "a.wif"}, entry{path: "b.wif", draft: test.example.Draft})
		if len(got) != test.want {
			t.Errorf("%q gives %q", test.example.Draft, got)
		}
	}
}
