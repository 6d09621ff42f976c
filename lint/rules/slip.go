package rules

import (
	"fmt"
	"slices"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/wording"
)

var slipRule = lint.Rule{
	ID:    "draft/slip",
	Title: "a thread breaks the repeat that all others follow",
	Why: "In a threading, a treadling, a tie-up or a color order that is regular otherwise, one odd thread is most often a typing mistake. " +
		"You would find it in the cloth, as a fault over its whole length.",
	Counts: "fettle reports one or two threads that are changed, missing, extra or swapped with a neighbour, where all others follow a repeat or a mirrored order. " +
		"There must be at least four whole repeats, six for two threads. " +
		"In a tie-up, at least five treadles must each tie the shafts of the one before, moved by one. " +
		"fettle doesn't report threads within a repeat of an edge, at the centre, or in a color that at most four threads have, nor two colors that change places, as in log cabin. " +
		"It would rather miss a slip than report a sound draft.",
	Remedy:  "Look at the thread and correct it, or ignore the finding. fettle clean --risky corrects changed and swapped threads of a repeat; of a mirrored draft, the other side may be the wrong one.",
	Default: schema.Warning,
	Faulty: lint.Example{Draft: "[WARP]\nThreads=20\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" +
		"[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n9=1\n10=4\n11=3\n12=4\n13=1\n14=2\n15=3\n16=4\n17=1\n18=2\n19=3\n20=4\n"},
	Fixed: lint.Example{Draft: "[WARP]\nThreads=20\nColor=1\nUnits=Centimeters\nSpacing=0.1\n" +
		"[THREADING]\n1=1\n2=2\n3=3\n4=4\n5=1\n6=2\n7=3\n8=4\n9=1\n10=2\n11=3\n12=4\n13=1\n14=2\n15=3\n16=4\n17=1\n18=2\n19=3\n20=4\n"},
	SafeOff: "for drafts that break their repeats on purpose",
	Source:  "computed; what counts as a slip is a rule of thumb that errs towards silence",
	Data: []lint.Field{{Key: "system", Text: "warp, weft or tieup"}, {Key: "list", Text: "threading, treadling, liftplan, tieup or colors"},
		{Key: "kind", Text: "changed, missing, extra or swapped"},
		{Key: "thread", Text: "the end, pick or treadle; the first of two swapped; if one is missing, the one in its place"},
		{Key: "repeat", Text: "threads in the repeat; 0 for a mirrored draft; for a tie-up the shafts"},
		{Key: "expected", Text: "the shafts, treadles or color that the repeat has there"}, {Key: "found", Text: "those that the draft has there"},
		{Key: "agree", Text: "threads that agree with the repeat"}, {Key: "of", Text: "threads in the list"}},
	Fixable: true,
	Weave:   true,
	Check:   checkSlips,

	Keys:     []string{"list", "system", "thread"},
	Measures: []lint.Measure{},
}

// threadList is a list of a draft with one entry for each thread.
type threadList struct {
	system  schema.SystemName
	name    string
	entries []int32
	rows    [][]int32 // what each entry stands for; nil if that is the number itself
}

// row returns the shafts, treadles or color that an entry stands for.
func (l *threadList) row(entry int32) []int32 {
	if l.rows != nil {
		return l.rows[entry]
	}
	return []int32{entry}
}

// place returns where the file states the entry of a thread, counted from 1.
func (l *threadList) place(d *schema.Draft, thread int) schema.Place {
	if l.name != "colors" {
		return d.ThreadPlace(l.system, thread)
	}
	if s := d.Of(l.system); thread <= len(s.Colors) && s.Colors[thread-1] != 0 {
		return schema.Place{Part: schema.PartOf(l.system, schema.PartWarpColors), Row: thread}
	}
	return schema.Place{Part: schema.PartOf(l.system, schema.PartWarp), Field: schema.FieldColor}
}

// rowList returns the list of a table of shafts or treadles. Its entries are numbers if each
// row has one, otherwise equal rows have equal entries.
func rowList(system schema.SystemName, name string, rows *schema.Rows) threadList {
	l := threadList{system: system, name: name}
	if numbers, ok := rows.Single(); ok {
		l.entries = numbers
		return l
	}
	var of []int
	l.rows, of = rows.Distinct()
	l.entries = make([]int32, len(of))
	for i, entry := range of {
		l.entries[i] = int32(entry)
	}
	return l
}

// threading and treadling return the lists of the weave.
func threading(d *schema.Draft) threadList { return rowList(schema.Warp, "threading", &d.Threading) }

func treadling(d *schema.Draft) threadList {
	if d.LiftPlan.Len() > 0 {
		return rowList(schema.Weft, "liftplan", &d.LiftPlan)
	}
	return rowList(schema.Weft, "treadling", &d.Treadling)
}

func colorOrder(d *schema.Draft, system schema.SystemName, threads int) threadList {
	l := threadList{system: system, name: "colors"}
	switch s := d.Of(system); {
	case len(s.Colors) == 0:
	case len(s.Colors) == threads && !slices.Contains(s.Colors, 0):
		l.entries = s.Colors
	default:
		l.entries = make([]int32, threads)
		for i := range l.entries {
			l.entries[i] = int32(s.ColorOf(i + 1))
		}
	}
	return l
}

func checkSlips(p *lint.Pass) {
	if p.Draft.IsWholeWork() {
		return // fettle wrote it out, so nobody mistyped it
	}
	var search nearRepeat
	d := p.Draft
	for _, l := range [...]threadList{threading(d), treadling(d), colorOrder(d, schema.Warp, d.Ends()), colorOrder(d, schema.Weft, d.Picks())} {
		slips := search.slips(d, &l)
		for _, s := range slips {
			reportSlip(p, &l, s, len(slips))
		}
	}
	if d.LiftPlan.Len() == 0 {
		checkTieupSlip(p)
	}
}

// slipsOf returns the slips that the rule reports in a list of the weave, none if it
// doesn't run.
func slipsOf(p *lint.Pass, l threadList) []slip {
	if !p.Runs(slipRule.ID) {
		return nil
	}
	return new(nearRepeat).slips(p.Draft, &l)
}

// selvedge is how many threads at each edge may be threaded otherwise.
const selvedge = 4

// fewestListed is how many threads a list must have.
const fewestListed = 12

// slips returns the slips of a list that nothing else explains.
func (s *nearRepeat) slips(d *schema.Draft, l *threadList) []slip {
	list := l.entries
	if len(list) < fewestListed {
		return nil
	}
	if found := s.inList(d, l, list); found != nil || l.name == "colors" || !hasSelvedge(list) || len(list) < fewestListed+2*selvedge {
		return found
	}
	found := s.inList(d, l, list[selvedge:len(list)-selvedge])
	for i := range found {
		found[i].at += selvedge
		found[i].twin += selvedge
	}
	return found
}

func (s *nearRepeat) inList(d *schema.Draft, l *threadList, list []int32) []slip {
	if found := s.find(list); found != nil {
		if meant(d, l, list, found) {
			return nil
		}
		return found
	}
	isColors := l.name == "colors"
	if f, ok := nearMirror(list, l.rows == nil && !isColors); ok && !(isColors && meantColor(d, list, f)) {
		return []slip{f}
	}
	return nil
}

// hasSelvedge reports whether neighbours at an edge are alike, as in a doubled selvedge.
func hasSelvedge(list []int32) bool {
	n := len(list)
	for i := 1; i < min(selvedge+1, n); i++ {
		if list[i] == list[i-1] || list[n-i] == list[n-1-i] {
			return true
		}
	}
	return false
}

// meant reports whether something else than a slip explains what breaks a repeat.
func meant(d *schema.Draft, l *threadList, list []int32, found []slip) bool {
	n := len(list)
	if mirroredList(list) || 2*cloth.Period(list) <= n {
		return true // the centre of the cloth, or part of a longer repeat
	}
	first := found[0]
	if len(found) == mostInList {
		second := found[1]
		shifts := first.shifts() && second.shifts()
		again := first.kind == second.kind && first.expected == second.expected && list[first.at] == list[second.at]
		if shifts || again {
			return true // sections that each start again, or a feature
		}
	} else if first.shifts() && abs(2*first.at-n) <= 2 {
		return true // two halves
	}
	for _, f := range found {
		if l.name == "colors" && meantColor(d, list, f) {
			return true
		}
		if (f.kind == extra || f.kind == changed && f.repeat == 2) && foreign(list, f) {
			return true // an accent
		}
	}
	return false
}

// shifts reports whether the threads after a slip are one place further on or back.
func (s slip) shifts() bool { return s.kind == missing || s.kind == extra }

func abs(n int) int { return max(n, -n) }

// foreign reports whether a list has the entry of a slip nowhere else.
func foreign(list []int32, f slip) bool { return count(list, list[f.at]) <= 1 }

func count(list []int32, entry int32) (times int) {
	for _, e := range list {
		if e == entry {
			times++
		}
	}
	return times
}

// accent is the most threads of a color that may be an accent or a cutting line.
const accent = 4

// fewestStripes is how many stripes a mirrored color order must have.
const fewestStripes = 12

// meantColor reports whether a color breaks its order on purpose.
func meantColor(d *schema.Draft, list []int32, f slip) bool {
	found := list[f.at]
	switch {
	case f.kind == changed && count(list, found) <= accent || f.kind != swapped && count(list, f.expected) <= accent:
		return true
	case f.repeat == 0: // uneven stripes may be meant
		return f.kind != changed || stripes(list) < fewestStripes || list[f.at-1] != f.expected || list[f.at+1] != f.expected
	case alternating(list) && (f.kind != changed || f.repeat > 2):
		return true // the two colors change places in log cabin
	}
	return f.kind != extra && sameColor(d, found, f.expected)
}

func stripes(list []int32) (number int) {
	for i := range list {
		if i == 0 || list[i] != list[i-1] {
			number++
		}
	}
	return number
}

// alternating reports whether more than half of a list takes two entries by turns.
func alternating(list []int32) bool {
	turns := 0
	for i := 2; i < len(list); i++ {
		if list[i] == list[i-2] && list[i] != list[i-1] {
			turns++
		}
	}
	return 2*turns > len(list)
}

// sameColor reports whether two palette numbers are the same color.
func sameColor(d *schema.Draft, a, b int32) bool {
	n := int32(len(d.Palette))
	return a != b && min(a, b) >= 1 && max(a, b) <= n && d.Palette[a-1] == d.Palette[b-1]
}

func reportSlip(p *lint.Pass, l *threadList, s slip, slips int) {
	agree := len(l.entries) - slips
	if s.kind == missing {
		agree++
	}
	if s.kind == swapped {
		agree--
	}
	thread := s.at + 1
	expected, found := l.row(s.expected), l.row(l.entries[s.at])
	p.Report(l.place(p.Draft, thread),
		slipData(string(l.system), l.name, s.kind, thread, s.repeat, expected, found, agree, len(l.entries)),
		"%s", slipMessage(l, s, thread, expected, found, agree))
	p.Mark(l.system, thread)
	switch at := l.place(p.Draft, thread); {
	case s.shifts() || s.repeat == 0 || at.Row == 0: // of a mirror, the other side may be wrong
	case s.kind == changed:
		offerChange(p, fmt.Sprintf("put %s %d %s", l.noun(), thread, l.on(expected)), func(e schema.Editor) []schema.Edit { return e.SetRow(at, expected) })
	default:
		offerChange(p, fmt.Sprintf("swap %ss %d and %d", l.noun(), thread, thread+1), func(e schema.Editor) []schema.Edit {
			var both patch
			both.need(e.SetRow(at, expected))
			both.need(e.SetRow(l.place(p.Draft, thread+1), found))
			return both.whole()
		})
	}
}

func slipData(system, list string, kind slipKind, thread, repeat int, expected, found []int32, agree, of int) schema.Data {
	return schema.Data{{Key: "system", Value: system}, {Key: "list", Value: list}, {Key: "kind", Value: string(kind)},
		{Key: "thread", Value: thread}, {Key: "repeat", Value: repeat}, {Key: "expected", Value: ints(expected)},
		{Key: "found", Value: ints(found)}, {Key: "agree", Value: agree}, {Key: "of", Value: of}}
}

func ints(row []int32) []int {
	list := make([]int, len(row))
	for i, v := range row {
		list[i] = int(v)
	}
	return list
}

func (l *threadList) noun() string {
	thread, _ := threadsOf(l.system)
	return thread
}

// on returns what a thread has, in words: "on shaft 3", "on treadle 2", "in color 1".
func (l *threadList) on(row []int32) string {
	number := ints(row)
	switch {
	case l.name == "colors":
		return wording.Numbered("in color", number)
	case len(number) == 0:
		return "on nothing"
	case l.name == "treadling":
		return "on " + wording.Numbered("treadle", number)
	}
	return "on " + wording.Numbered("shaft", number)
}

func slipMessage(l *threadList, s slip, thread int, expected, found []int32, agree int) string {
	order, noun := "the mirrored order", l.noun()
	if s.repeat > 0 {
		order = fmt.Sprintf("the repeat of %d", s.repeat)
	}
	order += fmt.Sprintf(" that %d of %d %ss follow", agree, len(l.entries), noun)
	switch s.kind {
	case changed:
		if s.repeat == 0 {
			return fmt.Sprintf("%s %d is %s, but its mirror image, %s %d, is %s; all others are mirrored, so check both", noun, thread, l.on(found), noun, s.twin+1, l.on(expected))
		}
		return fmt.Sprintf("%s %d is %s, not %s as in %s; check it", noun, thread, l.on(found), l.on(expected), order)
	case missing:
		article := map[string]string{"end": "an", "pick": "a"}[noun]
		return fmt.Sprintf("%s %s %s seems to be missing before %s %d, in %s; add it", article, noun, l.on(expected), noun, thread, order)
	case extra:
		return fmt.Sprintf("%s %d, %s, seems to be one too many in %s; delete it", noun, thread, l.on(found), order)
	}
	return fmt.Sprintf("%ss %d and %d seem to be swapped in %s; swap them back", noun, thread, thread+1, order)
}

func checkTieupSlip(p *lint.Pass) {
	d := p.Draft
	s, ok := nearMovingTieup(&d.Tieup, max(d.Shafts, d.HighestShaft()))
	if !ok {
		return
	}
	found := slices.Clone(d.Tieup.Row(s.treadle))
	at := schema.Place{Part: schema.PartTieup, Row: s.treadle}
	rest := fmt.Sprintf("%d of %d treadles each tie the shafts of the one before, moved by one", s.agree, s.between)
	message := fmt.Sprintf("treadle %d ties %s, but %s would follow (%s); check it", s.treadle, wording.Numbered("shaft", ints(found)), wording.Numbered("shaft", ints(s.expected)), rest)
	if s.kind == swapped {
		message = fmt.Sprintf("treadles %d and %d seem to be swapped (%s); check them", s.treadle, s.treadle+1, rest)
	}
	p.Report(at, slipData("tieup", "tieup", s.kind, s.treadle, d.Shafts, s.expected, found, s.agree, s.between), "%s", message)
	if s.kind == changed {
		offerChange(p, fmt.Sprintf("tie treadle %d to %s", s.treadle, wording.Numbered("shaft", ints(s.expected))), func(e schema.Editor) []schema.Edit { return e.SetRow(at, s.expected) })
		return
	}
	offerChange(p, fmt.Sprintf("swap treadles %d and %d", s.treadle, s.treadle+1), func(e schema.Editor) []schema.Edit {
		var both patch
		both.need(e.SetRow(at, d.Tieup.Row(s.treadle+1)))
		both.need(e.SetRow(schema.Place{Part: schema.PartTieup, Row: s.treadle + 1}, found))
		return both.whole()
	})
}
