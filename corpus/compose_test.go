package corpus

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"fettle/corpus/golden"
	"fettle/formats/wif"
	"fettle/schema"
)

// update writes what the tests otherwise compare with.
const guild = "The Weavers' Guild of Quarrow"

// composed is one of the guild's drafts, and what weavers have always known of
// cloth in that structure.
type composed struct {
	file, structure, textile string
	loom                     string // the loom it is dressed on, a file in looms
	settings                 string // what its own settings file adds to the guild's
	plan                     plan
	floats                   [4]int // longest float of warp face, warp back, weft face, weft back
	within                   int    // where reversals make the floats uneven: no float is longer
	repeat                   [2]int // ends, picks
	layers                   int    // 0: one
	holds                    func(t *testing.T, d *schema.Draft, w weave)
	expects                  string // rules it breaks on every loom of the guild, by design
	inbox                    bool   // sent to the guild, not one of its own
}

func (c *composed) folder() string {
	if c.inbox {
		return "inbox"
	}
	return "guild"
}

// plan is a draft in the weaver's own shorthand.
type plan struct {
	title     string
	notes     []string
	ignores   []schema.Ignore // rules that this draft breaks on purpose
	threading []int32
	shafts    int
	tieup     [][]int32
	treadling []int32
	lifts     [][]int32 // instead of tie-up and treadling
	sinking   bool
	warp      []band // the order of colors, over and over
	weft      []band
	unit      schema.Unit
	sett      float64 // spacing of the warp in unit
	beat      float64 // spacing of the weft in unit
}

// band is so many threads of one color.
type band struct {
	color   dye
	threads int
}

func (p *plan) draft() *schema.Draft {
	d := &schema.Draft{
		Texts:     schema.Texts{Title: p.title, Author: guild},
		Notes:     p.notes,
		Shafts:    p.shafts,
		Treadles:  len(p.tieup),
		Shed:      schema.Rising,
		Threading: schema.Singles(p.threading...),
		Tieup:     schema.RowsOf(p.tieup...),
		Treadling: schema.Singles(p.treadling...),
		LiftPlan:  schema.RowsOf(p.lifts...),
		Ignores:   p.ignores,
	}
	if p.sinking {
		d.Shed = schema.Sinking
	}
	d.Warp = schema.System{Threads: len(p.threading), Unit: p.unit, Spacing: p.sett}
	d.Weft = schema.System{Threads: max(len(p.treadling), len(p.lifts)), Unit: p.unit, Spacing: p.beat}
	stripe(d, &d.Warp, p.warp)
	stripe(d, &d.Weft, p.weft)
	return d
}

// stripe gives a system its colors and the palette what it lacks of them.
func stripe(d *schema.Draft, s *schema.System, bands []band) {
	s.Color = entry(d, bands[0].color)
	if len(bands) == 1 {
		return
	}
	for i := 0; len(s.Colors) < s.Threads; i = (i + 1) % len(bands) {
		n := min(bands[i].threads, s.Threads-len(s.Colors))
		for range n {
			s.Colors = append(s.Colors, int32(entry(d, bands[i].color)))
		}
	}
}

func entry(d *schema.Draft, of dye) int {
	c := of.color()
	for i, have := range d.Palette {
		if have == c {
			return i + 1
		}
	}
	d.Palette = append(d.Palette, c)
	return len(d.Palette)
}

// compose is every draft of the guild, by file name.
func compose() []composed {
	var all []composed
	for _, chapter := range [][]composed{plainCloths(), twills(), satins(), laces(), blocks(), layered(), manyShafts()} {
		all = append(all, chapter...)
	}
	return all
}

func TestGuild(t *testing.T) {
	for _, c := range compose() {
		t.Run(c.file, func(t *testing.T) {
			d := c.plan.draft()
			checkFile(t, &c, d)
			checkStructure(t, &c, d)
		})
	}
}

// checkFile checks that the committed draft is the composed one as fettle
// writes it, and that it reads as the same draft with nothing to say of it.
func checkFile(t *testing.T, c *composed, d *schema.Draft) {
	if c.settings != "" {
		compared(t, filepath.Join(c.folder(), c.file+".ini"), c.settings)
	}
	path := filepath.Join(c.folder(), c.file+".wif")
	text, lost := wif.Write(d, wif.Options{LF: true})
	if len(lost) > 0 {
		t.Errorf("not written: %s", lost)
	}
	compared(t, path, string(text))
	doc := wif.Read(&schema.Source{Path: path, Text: text})
	if len(doc.Findings) > 0 {
		t.Errorf("reading finds %+v", doc.Findings)
	}
	if again, _ := wif.Write(doc.Draft, wif.Options{LF: true}); string(again) != string(text) {
		t.Error("what is read is not what was written")
	}
	if w := woven(doc.Draft); !slices.EqualFunc(w, woven(d), slices.Equal[[]bool]) {
		t.Error("the draft read weaves another cloth")
	}
}

// compared compares a committed file with what it should be, or writes it.
func compared(t *testing.T, path, want string) {
	t.Helper()
	if len(want) > 60_000 {
		t.Errorf("%s would have %d bytes", path, len(want))
	}
	if *golden.Update {
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Errorf("%s is not what is composed: go test ./corpus -update writes it anew", path)
	}
}

func checkStructure(t *testing.T, c *composed, d *schema.Draft) {
	w := woven(d)
	checkFloats(t, c, w)
	if got := [2]int{w.turned().picksRepeat(), w.picksRepeat()}; got != c.repeat {
		t.Errorf("repeats over %d ends and %d picks, want %d", got[0], got[1], c.repeat)
	}
	if got := w.layers(); got != max(c.layers, 1) {
		t.Errorf("%d layers, want %d", got, max(c.layers, 1))
	}
	if l := append(w.loose(), w.turned().loose()...); len(l) > 0 {
		t.Errorf("threads that nothing holds: %d", l)
	}
	if d.Picks()%c.repeat[1] != 0 || d.Ends()%c.repeat[0] != 0 {
		t.Errorf("%d ends, %d picks are not whole repeats of %d", d.Ends(), d.Picks(), c.repeat)
	}
	if c.holds != nil {
		c.holds(t, d, w)
	}
}

func checkFloats(t *testing.T, c *composed, w weave) {
	got := w.fourFloats()
	if c.within == 0 && got != c.floats {
		t.Errorf("longest floats %d, want %d", got, c.floats)
	}
	for _, n := range got {
		if c.within > 0 && n > c.within {
			t.Errorf("longest floats %d, none should be over %d", got, c.within)
		}
	}
}

// tile repeats a sequence until there are n of it.
func tile(n int, sequence ...int32) []int32 {
	out := make([]int32, n)
	for i := range out {
		out[i] = sequence[i%len(sequence)]
	}
	return out
}

// times repeats a sequence so many times.
func times(n int, sequence ...int32) []int32 { return tile(n*len(sequence), sequence...) }

// run is a straight draw from one shaft to another, up or down.
func run(from, to int32) []int32 {
	var out []int32
	for n := from; n != to; {
		out = append(out, n)
		if n < to {
			n++
		} else {
			n--
		}
	}
	return append(out, to)
}

// point is one repeat of a point draw over n shafts: up, and down again.
func point(n int32) []int32 { return append(run(1, n), run(n-1, 2)...) }

// join puts sequences one after another.
func join(parts ...[]int32) []int32 {
	var out []int32
	for _, p := range parts {
		out = append(out, p...)
	}
	return out
}

// ties writes tie-ups as digits: ties("13", "24").
func ties(treadles ...string) [][]int32 {
	var out [][]int32
	for _, t := range treadles {
		var row []int32
		for _, digit := range t {
			row = append(row, digit-'0')
		}
		out = append(out, row)
	}
	return out
}

// twill is the tie-up of the regular twill with these runs of shafts, up and
// down by turns: twill(3, 1) is 3/1 on four shafts. Each treadle steps one
// shaft on from the one before.
func twill(runs ...int) [][]int32 {
	var up []bool
	for i, n := range runs {
		for range n {
			up = append(up, i%2 == 0)
		}
	}
	out := make([][]int32, len(up))
	for t := range out {
		for s := range up {
			if up[(s-t+len(up))%len(up)] {
				out[t] = append(out[t], int32(s+1))
			}
		}
	}
	return out
}

// satin is the tie-up of the warp satin on n shafts with this move: each
// treadle leaves one shaft down, the next one the shaft that many further on.
func satin(n, move int) [][]int32 {
	out := make([][]int32, n)
	for t := range out {
		out[t] = allBut(n, t*move%n+1)
	}
	return out
}

func allBut(n, shaft int) []int32 {
	var row []int32
	for s := 1; s <= n; s++ {
		if s != shaft {
			row = append(row, int32(s))
		}
	}
	return row
}
