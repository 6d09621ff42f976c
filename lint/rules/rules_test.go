package rules

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/settings"
)

// contract lists the rules and their default severities.
const contract = `
cloth/layers warning
cloth/long-float warning
cloth/loose-selvedge note
cloth/loose-thread error
collection/duplicate note
collection/name warning
draft/broken-plain-weave warning
draft/color-index error
draft/doubled-thread note
draft/empty-pick warning
draft/lift-conflict error
draft/like-treadles note
draft/odd-spacing warning
draft/partial-repeat note
draft/several-shafts note
draft/shaft-count error
draft/shed-unstated note
draft/sideways-tieup error
draft/slip warning
draft/thread-count warning
draft/treadle-count error
draft/unthreaded-end warning
draft/untied-treadle warning
draft/unused-shaft note
draft/unused-treadle note
file/bad-value error
file/contents warning
file/decimal-comma warning
file/duplicate-key warning
file/duplicate-section warning
file/encoding note
file/index error
file/missing-section error
file/stray-line warning
file/unknown-key warning
file/unknown-section warning
file/unreadable error
file/version note
lint/unused-ignore note
loom/heavy-lift note
loom/heddle-crowding warning
loom/missing-heddles error
loom/shed-mismatch error
loom/too-many-ends error
loom/too-many-shafts error
loom/too-many-treadles error
loom/too-wide error
loom/unbalanced-lift warning
reed/crowded-dent warning
reed/sett warning
reed/too-short error
yarn/margin warning
yarn/open-sett note
yarn/overrun error
yarn/sett warning
yarn/unassigned warning
yarn/weft-sett note
`

func TestRulesMatchContract(t *testing.T) {
	var got []string
	for _, r := range All() {
		got = append(got, r.ID+" "+r.Default.String())
	}
	want := strings.Split(strings.TrimSpace(contract), "\n")
	if !slices.Equal(got, want) {
		t.Errorf("rules\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// mostWords is the most words in a sentence of a rule.
const mostWords = 40

func TestRulesAreComplete(t *testing.T) {
	id := regexp.MustCompile(`^[a-z]+/[a-z]+(-[a-z]+)*$`)
	seen := map[string]bool{}
	for _, r := range All() {
		if !id.MatchString(r.ID) || seen[r.ID] {
			t.Errorf("%s is not an id, or appears twice", r.ID)
		}
		seen[r.ID] = true
		for _, text := range []string{r.Why, r.Counts + ".", r.Remedy} {
			if text == "" || !strings.HasSuffix(text, ".") {
				t.Errorf("%s: %q is not a paragraph", r.ID, text)
			}
			for _, s := range strings.SplitAfter(text, ". ") {
				if n := len(strings.Fields(s)); n > mostWords {
					t.Errorf("%s: %d words in %q", r.ID, n, s)
				}
			}
		}
		if r.Title == "" || r.SafeOff == "" || r.Source == "" || strings.HasSuffix(r.Title, ".") {
			t.Errorf("%s: title %q, safe off %q, source %q", r.ID, r.Title, r.SafeOff, r.Source)
		}
		if r.Faulty == (lint.Example{}) || r.Fixed == (lint.Example{}) && !r.Faulty.Whole || r.Faulty == r.Fixed {
			t.Errorf("%s lacks an example", r.ID)
		}
		if (r.Data == nil) != (r.ID == "draft/shed-unstated") {
			t.Errorf("%s has the data %v", r.ID, r.Data)
		}
		if fromElsewhere := r.Family() == "file" || r.Family() == "collection" || r.ID == lint.UnusedIgnore; (r.Check == nil) != fromElsewhere {
			t.Errorf("%s: check is nil: %v", r.ID, r.Check == nil)
		}
	}
}

// TestRulesSayHowTheyAreKnown checks that every rule names the data that identifies its
// findings in a baseline, and the data that measures them.
func TestRulesSayHowTheyAreKnown(t *testing.T) {
	for _, r := range All() {
		if r.Keys == nil || r.Measures == nil {
			t.Errorf("%s lacks Keys or Measures; use an empty list for none", r.ID)
		}
		var names []string
		for _, f := range r.Data {
			names = append(names, f.Key)
		}
		used := slices.Clone(r.Keys)
		for _, m := range r.Measures {
			if slices.Contains(r.Keys, m.Key) || slices.Contains(r.Keys, m.Over) {
				t.Errorf("%s: %s can't both tell findings apart and measure them", r.ID, m.Key)
			}
			if used = append(used, m.Key); m.Over != "" {
				used = append(used, m.Over)
			}
		}
		for _, key := range used {
			if !slices.Contains(names, key) {
				t.Errorf("%s: there is no %s in its data", r.ID, key)
			}
		}
	}
}

// rowAt returns the number of the row at a place in a file.
func rowAt(t *testing.T, path string, at schema.Span) int {
	t.Helper()
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	key, _, _ := strings.Cut(string(raw[at.Start:at.End]), "=")
	n, err := strconv.Atoi(key)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// TestThreadsAreMarked checks that findings mark the threads that their data names, so
// that drawings show them.
func TestThreadsAreMarked(t *testing.T) {
	finder := settings.NewFinder(settings.Options{})
	marked := 0
	for _, path := range corpusDrafts(t, "faulty") {
		for _, f := range corpusFindings(t, finder, path) {
			var want []int
			system := schema.SystemName("")
			for _, d := range f.Data {
				list, isList := d.Value.([]int)
				switch {
				case d.Key == "ends" && isList:
					want, system = list, schema.Warp
				case d.Key == "picks" && isList:
					want, system = list, schema.Weft
				case d.Key == "system":
					system = schema.SystemName(fmt.Sprint(d.Value))
				case d.Key == "threads" && isList:
					want = list
				case d.Key == "thread":
					want = []int{d.Value.(int)}
				}
			}
			switch {
			case system == "tieup":
				want = nil // a drawing marks ends and picks
			case f.Rule == "loom/missing-heddles": // its place names the end
				want, system = []int{rowAt(t, path, f.Span)}, schema.Warp
			}
			if want == nil {
				system = ""
			} else {
				marked++
			}
			if !slices.Equal(f.Threads, want) || f.System != system {
				t.Errorf("%s: %s marks %s %v, want %s %v", path, f.Rule, f.System, f.Threads, system, want)
			}
		}
	}
	if marked < 5 {
		t.Errorf("only %d findings mark threads", marked)
	}
}

// TestKeysTellFindingsApart checks that no two findings in a faulty draft have the same
// keys, unless their text distinguishes them.
func TestKeysTellFindingsApart(t *testing.T) {
	finder := settings.NewFinder(settings.Options{})
	for _, path := range corpusDrafts(t, "faulty") {
		met := map[string]bool{}
		for _, f := range corpusFindings(t, finder, path) {
			r, err := lint.Find(All(), f.Rule)
			if err != nil || r.ByText {
				continue
			}
			known := r.ID
			for _, key := range r.Keys {
				known += fmt.Sprint(" ", key, " ", f.Data.Get(key))
			}
			if met[known] {
				t.Errorf("%s: two findings are %s", path, known)
			}
			met[known] = true
		}
	}
}

func TestSoundDraftIsSound(t *testing.T) {
	_, findings := look(t, lint.Example{})
	for _, f := range findings {
		t.Errorf("%s: %s", f.Rule, f.Message)
	}
}

// company lists the other findings in the faulty examples of some rules.
func company() map[string][]string {
	return map[string][]string{
		"draft/empty-pick":     {"cloth/loose-thread"},
		"draft/unthreaded-end": {"cloth/loose-thread"},
		"draft/untied-treadle": {"cloth/loose-thread"},
		"file/unknown-section": {"file/contents"},
		"loom/unbalanced-lift": {"cloth/loose-selvedge"},
	}
}

func TestExamples(t *testing.T) {
	for _, r := range All() {
		if r.Family() == "collection" {
			continue // these need two files and have their own tests
		}
		t.Run(r.ID, func(t *testing.T) {
			_, findings := look(t, r.Faulty)
			found, beside := false, slices.Clone(company()[r.ID])
			for _, f := range findings {
				if f.Rule == r.ID {
					found = true
					checkFaulty(t, &r, f)
				} else if i := slices.Index(beside, f.Rule); i >= 0 {
					beside = slices.Delete(beside, i, i+1)
				} else {
					t.Errorf("the faulty example also gives %s: %s", f.Rule, f.Message)
				}
			}
			if !found || len(beside) > 0 {
				t.Errorf("found: %v; other expected findings that are missing: %v", found, beside)
			}
			_, findings = look(t, r.Fixed)
			for _, f := range findings {
				if f.Rule == r.ID || f.Severity > schema.Note {
					t.Errorf("the corrected example gives %s: %s", f.Rule, f.Message)
				}
			}
		})
	}
}

func checkFaulty(t *testing.T, r *lint.Rule, f schema.Finding) {
	t.Helper()
	checkKeys(t, r, f)
	if f.Severity != r.Default {
		t.Errorf("default severity %s, got %s", r.Default, f.Severity)
	}
	if (len(f.Fixes) > 0) != r.Fixable {
		t.Errorf("Fixable is %v, but the example has %d fixes", r.Fixable, len(f.Fixes))
	}
	checkMessage(t, f)
}

// checkMessage checks the style of a message.
func checkMessage(t *testing.T, f schema.Finding) {
	t.Helper()
	first := f.Message[:1]
	if strings.HasSuffix(f.Message, ".") || strings.ToLower(first) != first && !strings.HasPrefix(f.Message, "CONTENTS") {
		t.Errorf("%s has a message in the wrong style: %s", f.Rule, f.Message)
	}
	if strings.Contains(f.Message, "%!") || strings.Contains(f.Message, "  ") {
		t.Errorf("%s has a mistake in its message: %s", f.Rule, f.Message)
	}
}

// checkKeys compares the data of a finding with the rule's fields, in order. Some fields
// may be missing.
func checkKeys(t *testing.T, r *lint.Rule, f schema.Finding) {
	t.Helper()
	var got, want []string
	for _, d := range f.Data {
		got = append(got, d.Key)
	}
	sometimes := []string{"length_mm", "limit_mm", "limit_threads", "alternatives"}
	for _, field := range r.Data {
		if !slices.Contains(sometimes, field.Key) || slices.Contains(got, field.Key) {
			want = append(want, field.Key)
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("%s has the data %v, want %v", f.Rule, got, want)
	}
}
