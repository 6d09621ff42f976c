package sheet

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/schema/dressing"
)

// On all corpus drafts, the tally of the whole warp equals the sum of the groups and the
// heddles counted out.
func TestTallyIsTheHeddles(t *testing.T) {
	for _, path := range corpusDrafts(t) {
		t.Run(path, func(t *testing.T) {
			p := fromCorpus(t, path, dressing.Options{Group: []int{7}, Start: dressing.FromCentre})
			needed, all := map[int]int{}, 0
			for _, h := range p.plan.Heddles {
				needed[h.Shaft] = h.Needed
				all += h.Needed
			}
			w := workOf(p.plan, Options{})
			want := fmt.Sprintf("The whole warp: %s. In all %s, as counted out.", tallyText(needed), counted(all, "heddle"))
			if got := w.tally(); got != want {
				t.Errorf("%q, want %q", got, want)
			}
		})
	}
}

func TestTallyText(t *testing.T) {
	for want, tally := range map[string]map[int]int{
		"no heddle":                {},
		"3 on 2":                   {2: 3},
		"2 each on 1-3, 1 on 4":    {1: 2, 2: 2, 3: 2, 4: 1},
		"2 on 1, 2 on 3":           {1: 2, 3: 2},
		"1 each on 1-2, 1 on 3000": {1: 1, 2: 1, 3000: 1},
	} {
		if got := tallyText(tally); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// The threading lines, read back, give the whole threading.
func TestGroupLinesHoldTheThreading(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := anyDraft(t), anySetup(t)
		start := rapid.SampledFrom([]dressing.Start{dressing.FromRight, dressing.FromLeft, dressing.FromCentre}).Draw(t, "start")
		p := planOf(t, d, s, dressing.Options{Start: start, Group: []int{rapid.IntRange(0, 30).Draw(t, "group")}})
		var st step
		workOf(p, Options{}).groups(&st)
		got := readThreading(t, &st)
		if len(got) != p.Warp.Ends {
			t.Fatalf("%d ends, want %d", len(got), p.Warp.Ends)
		}
		for end := 1; end <= p.Warp.Ends; end++ {
			if want := join(d.Threading.Row((end-1)%p.Warp.DraftEnds + 1)); got[end] != want {
				t.Fatalf("end %d is on %s, want %s", end, got[end], want)
			}
		}
	})
}

// readThreading reads the shafts of each end from the tables of a step.
func readThreading(t *rapid.T, s *step) map[int]string {
	got := map[int]string{}
	for _, p := range s.parts {
		if p.table == nil {
			continue
		}
		for _, row := range p.table.rows {
			if row[1] == "" {
				continue // a tally
			}
			var from, to int
			if n, _ := fmt.Sscanf(row[1], "%d-%d", &from, &to); n == 1 {
				to = from
			}
			way := 1
			if to < from {
				way = -1
			}
			words := strings.Fields(row[2])
			for i := 0; i <= (to-from)*way; i++ {
				if _, twice := got[from+i*way]; twice {
					t.Fatalf("end %d stands twice", from+i*way)
				}
				got[from+i*way] = words[i%len(words)]
			}
		}
	}
	return got
}

// A large group has a tally after at most 30 ends. The tallies add up to the group.
func TestTallyAfterThirtyEnds(t *testing.T) {
	d, s := towel()
	p := planOf(t, d, s, dressing.Options{Group: []int{100}})
	table := groupTable()
	addGroup(&table, &p.Groups[0])
	sums, lines := 0, 0
	for _, row := range table.rows {
		if row[0] == box {
			lines++
			continue
		}
		var each int
		if n, _ := fmt.Sscanf(row[2], "= %d each on 1-4", &each); n != 1 || 4*each > mostBeforeTally {
			t.Errorf("a tally of %q", row[2])
		}
		sums += 4 * each
	}
	if sums != len(p.Groups[0].Shafts) || lines == 0 {
		t.Errorf("the tallies have %d ends of %d", sums, len(p.Groups[0].Shafts))
	}
}
