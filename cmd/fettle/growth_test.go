package main

import (
	"bytes"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"fettle/formats"
	"fettle/formats/diagram"
	"fettle/lint/report"
	"fettle/schema/cloth"
)

// commandLine is a command for one draft; its arguments don't include the path.
type commandLine struct {
	args []string
	most int // the most cells or crossings that it visits one by one; 0 if it visits none
}

func (c commandLine) String() string { return strings.Join(c.args, " ") }

// commandLines returns every command that reads a draft, in every format.
func commandLines() (list []commandLine) {
	add := func(most int, args ...string) { list = append(list, commandLine{args, most}) }
	const no, drawn, hashed = 0, diagram.MostCells, cloth.MostHashed
	for _, form := range report.Names() {
		add(map[bool]int{true: drawn}[form == "html"], "lint", "--format", form)
	}
	add(no, "lint", "--only", "file,draft")
	add(no, "clean")
	add(no, "clean", "--risky")
	add(no, "clean", "--canonical")
	add(no, "clean", "--diff")
	add(no, "clean", "--risky", "--canonical", "--diff")
	add(no, "clean", "--check")
	for _, form := range formats.Names() {
		add(no, "convert", "--to", form)
	}
	for _, form := range formats.Drawings() {
		add(drawn, "convert", "--to", form)
	}
	add(drawn, "convert", "--to", "txt", "--part", "cloth")
	add(drawn, "convert", "--to", "svg", "--show", "yarn", "--floats", "5")
	add(drawn, "convert", "--to", "pdf", "--page", "one")
	add(drawn, "convert", "--to", "txt", "--width", "80")
	add(drawn, "convert", "--to", "svg", "--part", "threading", "--part", "treadling", "--scale", "threading=2")
	add(no, "plan", "--total", "--copies", "2", "--format", "csv")
	add(no, "convert", "--lifts", "plan")
	add(no, "convert", "--lifts", "tieup")
	add(no, "convert", "--shed", "sinking")
	for _, form := range []string{"text", "html", "pdf", "json"} {
		add(map[bool]int{true: drawn}[form == "html" || form == "pdf"], "plan", "--format", form)
	}
	add(hashed, "info")
	add(hashed, "info", "--format", "json")
	return list
}

// byteCounter counts what is written to it.
type byteCounter int64

func (c *byteCounter) Write(b []byte) (int, error) { *c += byteCounter(len(b)); return len(b), nil }

// trial is one run of a command on a file of one size.
type trial struct {
	n     int // the requested size
	bytes int // of the draft and its settings
	area  int // the cells it draws or crossings it visits, as the number of bytes that takes as long
	out   byteCounter
	over  bool // the cloth is over a limit and is skipped
	spent float64
}

// size is the size that the cost of a trial is compared with.
func (r trial) size() float64 { return float64(r.bytes + r.area) }

// exponent returns the power of the size with which cost grows between two trials.
func exponent(small, large trial) float64 {
	return math.Log(large.spent/small.spent) / math.Log(large.size()/small.size())
}

// try runs a command on a file and measures its cost.
func try(t testing.TB, c commandLine, w worst, folder string, n int, cost func(func()) float64) trial {
	text, settings := w.text(n), []byte(worstRoom)
	if w.settings != nil {
		settings = w.settings(n)
	}
	path := filepath.Join(folder, "a.wif")
	writeFile(t, path, text)
	writeFile(t, filepath.Join(folder, "fettle.ini"), settings)
	r := trial{n: n, bytes: len(text) + len(settings)}
	if d := formats.Read(path, text).Draft; d != nil && c.most > 0 {
		ends, picks := d.Ends()+max(d.HighestTreadle(), d.LiftPlan.Highest()), d.Picks()+d.HighestShaft()
		if r.area = ends * picks; r.area > c.most {
			r.area, r.over = 0, true
		}
		if c.args[0] == "info" {
			r.area /= 100 // reading a byte takes as long as hashing a hundred crossings
		}
	}
	if w.apart {
		d := formats.Read(path, text).Draft
		if cloth.Of(d).TooLarge() {
			r.over = true
		} else {
			r.area += d.Ends() * d.Picks() / 32 // 64 crossings at a time, once by ends and once by picks
		}
	}
	r.spent = cost(func() {
		r.out = 0
		p := &program{in: bytes.NewReader(nil), out: &r.out, err: io.Discard}
		args := append(append([]string{"fettle"}, c.args...), path)
		if status := p.run(args); status < 0 || status > 2 {
			t.Errorf("%s on %s: exit status %d", c, w.name, status)
		}
	})
	return r
}

// everyday returns the commands that the usual run tries: one for each part of the program,
// and none that draws.
func everyday() []commandLine {
	usual := []string{"lint --format sarif", "clean --risky --canonical --diff", "convert --to wif", "convert --to json", "plan --format text", "info --format json"}
	return slices.DeleteFunc(commandLines(), func(c commandLine) bool { return !slices.Contains(usual, c.String()) })
}

// most is the largest exponent allowed.
const most = 1.15

// TestAllocationGrowsWithTheFile runs commands on every slow file in two sizes and
// compares the bytes allocated, which hardly vary between runs. TestTimeGrowsWithTheFile
// finds slow code that doesn't allocate.
func TestAllocationGrowsWithTheFile(t *testing.T) {
	if testing.Short() {
		t.Skip("the race detector allocates too")
	}
	const small, large = 1_500, 6_000
	folder := t.TempDir()
	for n, c := range everyday() {
		t.Run(c.String(), func(t *testing.T) {
			for i, w := range worstFiles() {
				if os.Getenv("CI") == "" && i%3 != n%3 {
					continue // CI tries each command on every file
				}
				few, many := try(t, c, w, folder, small, allocatedBy), try(t, c, w, folder, large, allocatedBy)
				if grows := exponent(few, many); grows > most {
					t.Errorf("%s: %.0f bytes take %.0f bytes of memory in all, and %.0f take %.0f: the power %.2f of the size",
						w.name, few.size(), few.spent, many.size(), many.spent, grows)
				}
			}
		})
	}
}

// allocatedBy returns the bytes that a function allocates in total.
func allocatedBy(do func()) float64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	do()
	runtime.ReadMemStats(&after)
	return float64(after.TotalAlloc - before.TotalAlloc)
}

// TestGrowthIsSeen checks that the measurement notices work that grows faster.
func TestGrowthIsSeen(t *testing.T) {
	for name, row := range map[string]struct {
		cells func(n int) int
		over  bool
	}{
		"in proportion": {func(n int) int { return n }, false},
		"quadratic":     {func(n int) int { return n * n / 10 }, true},
	} {
		spent := func(n int) trial {
			var held []byte
			r := trial{bytes: n, spent: allocatedBy(func() { held = make([]byte, row.cells(n)) })}
			runtime.KeepAlive(held)
			return r
		}
		if grows := exponent(spent(8_000), spent(32_000)); (grows > most) != row.over {
			t.Errorf("%s grows by the power %.2f", name, grows)
		}
	}
}
