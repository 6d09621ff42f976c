package corpus

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"fettle/corpus/golden"
	"fettle/formats/wif"
	"fettle/schema"
)

const guild = "The Weavers' Guild of Quarrow"

// composed is a draft of the guild with known properties of its weave.
type composed struct {
	file, structure, textile string
	loom                     string // the loom it is dressed on: a file in looms
	settings                 string // text of its own settings file
	plan                     plan
	floats                   [4]int // longest float of warp face, warp back, weft face, weft back
	within                   int    // limit of the floats, if reversals make them uneven; 0: none
	repeat                   [2]int // ends, picks
	layers                   int    // 0: one
	holds                    func(t *testing.T, d *schema.Draft, w weave)
	expects                  string // rules that it breaks on every loom of the guild, by design
	inbox                    bool   // sent to the guild, not one of its own
}

func (c *composed) folder() string {
	if c.inbox {
		return "inbox"
	}
	return "guild"
}

// plan is a draft in shorthand.
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
	warp      []band // the color order, repeated
	weft      []band
	unit      schema.Unit
	sett      float64 // spacing of the warp in unit
	beat      float64 // spacing of the weft in unit
}

// band is a number of threads of one color.
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

// stripe sets the colors of a system, and adds missing ones to the palette.
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

// compose returns all drafts of the guild, by file name.
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

// checkFile checks that the committed file is the composed draft as fettle writes it, and
// that it reads as the same draft without findings.
func checkFile(t *testing.T, c *composed, d *schema.Draft) {
	if c.settings != "" {
		compareText(t, filepath.Join(c.folder(), c.file+".ini"), c.settings)
	}
	path := filepath.Join(c.folder(), c.file+".wif")
	text, lost := wif.Write(d, wif.Options{LF: true})
	if len(lost) > 0 {
		t.Errorf("not written: %s", lost)
	}
	compareText(t, path, string(text))
	doc := wif.Read(&schema.Source{Path: path, Text: text})
	if len(doc.Findings) > 0 {
		t.Errorf("reading finds %+v", doc.Findings)
	}
	if again, _ := wif.Write(doc.Draft, wif.Options{LF: true}); string(again) != string(text) {
		t.Error("a different draft was read")
	}
	if w := woven(doc.Draft); !slices.EqualFunc(w, woven(d), slices.Equal[[]bool]) {
		t.Error("the draft read weaves a different cloth")
	}
}

// compareFile compares a committed file with the wanted bytes, or writes it.
func compareFile(t *testing.T, path string, want []byte) {
	t.Helper()
	if *golden.Update {
		if err := golden.WriteFile(path, want); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs; if this is right, run go test ./corpus -update", path)
	}
}

// compareText compares a committed text file, which must be small.
func compareText(t *testing.T, path, want string) {
	t.Helper()
	if len(want) > 60_000 {
		t.Errorf("%s has %d bytes", path, len(want))
	}
	compareFile(t, path, []byte(want))
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
		t.Errorf("loose threads: %d", l)
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
			t.Errorf("longest floats %d, want at most %d", got, c.within)
		}
	}
}

// tile repeats a sequence up to n elements.
func tile(n int, sequence ...int32) []int32 {
	out := make([]int32, n)
	for i := range out {
		out[i] = sequence[i%len(sequence)]
	}
	return out
}

// times repeats a sequence n times.
func times(n int, sequence ...int32) []int32 { return tile(n*len(sequence), sequence...) }

// run returns a straight draw from one shaft to another, up or down.
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

// point returns one repeat of a point draw over n shafts.
func point(n int32) []int32 { return append(run(1, n), run(n-1, 2)...) }

func join(parts ...[]int32) []int32 {
	var out []int32
	for _, p := range parts {
		out = append(out, p...)
	}
	return out
}

// ties returns a tie-up from digits: ties("13", "24").
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

// twill returns the tie-up of a regular twill with these runs of shafts, alternately up and
// down: twill(3, 1) is 3/1 on four shafts. Each treadle moves on by one shaft.
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

// satin returns the tie-up of a warp satin on n shafts. Each treadle leaves one shaft down;
// move is the distance to that of the next treadle.
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
