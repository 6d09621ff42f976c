package main

import (
	"fmt"
	"slices"
	"strings"

	"fettle/formats"
	"fettle/formats/diagram"
	"fettle/schema"
	"fettle/schema/fitting"
	"fettle/schema/wording"
)

// fitText writes the report on one draft in words.
type fitText struct {
	strings.Builder
	path   string
	before *schema.Draft
	result *fitting.Result
	drawn  [2]string // the drawings before and after; "" for none
}

func (t *fitText) draw() {
	for i, d := range []*schema.Draft{t.before, t.result.Draft} {
		if d == nil {
			continue
		}
		text, _, err := formats.Write("txt", d, formats.Options{Drawing: diagram.Options{Repeat: true}})
		if err != nil {
			text = fmt.Appendf(nil, "It can't be drawn: %s.\n", legible(err.Error()))
		}
		t.drawn[i] = string(text)
	}
}

func (t *fitText) line(format string, args ...any) { fmt.Fprintf(t, format+"\n", args...) }

func (t *fitText) String() string {
	t.heading()
	t.counts()
	for _, why := range t.result.Why {
		t.line("  %s", reasonText(why, t.result))
	}
	t.threading()
	t.tieup()
	for i, when := range []string{"before", "after"} {
		if t.drawn[i] != "" {
			t.line("\n%s, %s:\n%s", t.path, when, strings.TrimRight(t.drawn[i], "\n"))
		}
	}
	return t.Builder.String()
}

func (t *fitText) heading() {
	r := t.result
	words := map[fitting.Change]string{fitting.Lifts: "lifts from a lift plan", fitting.Shed: "the other shed", fitting.Shafts: "other shafts",
		fitting.Treadles: "another tie-up", fitting.Heddles: "ends moved to other heddles"}
	if t.result.Draft != nil && t.result.Draft.LiftPlan.Len() == 0 {
		words[fitting.Lifts] = "lifts from treadles"
	}
	var changed []string
	for _, c := range r.Changed {
		changed = append(changed, words[c])
	}
	switch {
	case !r.Fits && slices.ContainsFunc(r.Why, func(why fitting.Reason) bool { return !why.Undecided }):
		t.line("%s: can't be woven on this loom", t.path)
	case !r.Fits:
		t.line("%s: fettle found no way to weave it on this loom, but there may be one", t.path)
	case len(changed) == 0:
		t.line("%s: fits as it is", t.path)
	default:
		t.line("%s: fits with %s; the cloth is the same", t.path, wording.Listed(changed))
	}
}

// counts compares the shafts, treadles and heddles in use with those of the loom.
func (t *fitText) counts() {
	s, tr := t.result.Shafts, t.result.Treadles
	t.line("  shafts: the draft uses %d, the cloth needs %d%s%s", s.Used, s.Fewest, has(s.Available), now(t.result.Fits, s.Used, s.Result))
	least := "proved to be the fewest"
	if !tr.Proved {
		least = fmt.Sprintf("but at least %d are needed", tr.AtLeast)
	}
	t.line("  treadles: the draft uses %d; %d with %s, %s%s%s", tr.Used, tr.Fewest, atOnce(tr.AtOnce), least, has(tr.Available), now(t.result.Fits, tr.Used, tr.Result))
	lacksShafts := slices.ContainsFunc(t.result.Why, func(why fitting.Reason) bool { return why.Rule == "loom/too-many-shafts" })
	for _, h := range t.result.Heddles {
		if h.Available != nil && !lacksShafts {
			t.line("  shaft %d: %d of %s", h.Shaft, h.Needed, wording.Counted(*h.Available, "heddle"))
		}
	}
}

func has(available *int) string {
	if available == nil {
		return ""
	}
	return fmt.Sprintf("; the loom has %d", *available)
}

func now(fits bool, used, result int) string {
	if !fits || used == result {
		return ""
	}
	return fmt.Sprintf("; now %d", result)
}

func atOnce(n int) string {
	if n == 1 {
		return "one at a time"
	}
	return fmt.Sprintf("up to %d at once", n)
}

// mostShown limits the groups of ends, or treadles, in a report.
const mostShown = 40

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// reasonText says what the loom lacks, with the proof.
func reasonText(why fitting.Reason, r *fitting.Result) string {
	switch why.Rule {
	case "loom/too-many-shafts":
		return fmt.Sprintf("It needs %d shafts, but the loom has %d. %s all weave differently.", why.Needed, why.Available, capital(wording.Numbered("end", why.Ends)))
	case "loom/too-many-treadles":
		if why.Undecided {
			return fmt.Sprintf("The best tie-up found takes %d treadles, and at least %d are needed, but the loom has %d.", r.Treadles.Fewest, r.Treadles.AtLeast, why.Available)
		}
		text := fmt.Sprintf("It needs %d treadles with %s, but the loom has %d. The lifts of %s need that many.", why.Needed, atOnce(r.Treadles.AtOnce), why.Available, wording.Numbered("pick", why.Lifts))
		if why.MoreAtOnce {
			text += " Try --at-once 2."
		}
		return text
	}
	text := fmt.Sprintf("Shaft %d needs %s and has %d", why.Shaft, wording.Counted(why.Needed, "heddle"), why.Available)
	if why.Undecided {
		return text + "; fettle found no way to spread its ends. Move spare heddles from other shafts, or add some."
	}
	return text + "; spare shafts can't take the rest. Move spare heddles from other shafts, or add some."
}

// threading lists the ends that moved to another shaft.
func (t *fitText) threading() {
	changed := t.result.Threading
	if changed == nil {
		return
	}
	t.line("  threading, old shaft and new:")
	shown := changed.Moves[:min(mostShown, len(changed.Moves))]
	for _, m := range shown {
		t.line("    shaft %s -> %s: %s, from end %d", rowText(m.From), rowText(m.To), wording.Counted(m.Ends, "end"), m.First)
	}
	if more := changed.Groups - len(shown); more > 0 {
		t.line("    and %d more like these", more)
	}
}

func rowText(row []int32) string { return wording.JoinNumbers(row, " ", "-") }

// tieup shows the changes in the tie-up.
func (t *fitText) tieup() {
	if changed := t.result.Tieup; changed != nil {
		t.ties("tie-up before", changed.Before)
		t.ties("tie-up now", changed.After)
	}
}

func (t *fitText) ties(heading string, ties fitting.Ties) {
	if ties.Treadles == 0 {
		return
	}
	t.line("  %s:", heading)
	shown := ties.Shafts[:min(mostShown, len(ties.Shafts))]
	for i, up := range shown {
		if ties.Down != nil {
			t.line("    treadle %d: up %s, down %s", i+1, rowText(up), rowText(ties.Down[i]))
		} else {
			t.line("    treadle %d: %s", i+1, rowText(up))
		}
	}
	if more := ties.Treadles - len(shown); more > 0 {
		t.line("    and %d more treadles", more)
	}
}
