package main

import (
	"fmt"
	"os/exec"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"syscall"
	"testing"
)

func needsLong(t *testing.T) {
	t.Helper()
	if !*long {
		t.Skip("takes long; .ci/long runs it with -long")
	}
}

// processorTime returns the processor seconds that a function takes, without garbage
// collection. How often the collector runs depends on earlier trials: on a busy machine
// it alone raises the exponent from 1.0 to 1.2. Other tests limit allocation and memory.
// Time in the kernel isn't counted, for the same reason.
func processorTime(do func()) float64 {
	runtime.GC()
	defer debug.SetGCPercent(debug.SetGCPercent(-1))
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(6 << 30)) // a bug here must not use up the machine's memory
	var before, after syscall.Rusage
	at := func(r *syscall.Rusage) float64 {
		if err := syscall.Getrusage(syscall.RUSAGE_SELF, r); err != nil {
			panic(err)
		}
		return float64(r.Utime.Nano()) / 1e9
	}
	from := at(&before)
	do()
	return at(&after) - from
}

// TestTimeGrowsWithTheFile runs every command on every slow file at sizes n and 4n, and
// prints the exponent with which processor time grows.
func TestTimeGrowsWithTheFile(t *testing.T) {
	needsLong(t)
	folder := t.TempDir()
	for _, c := range commandLines() {
		t.Run(c.String(), func(t *testing.T) {
			worst, on, rate := 0.0, "none", 0.0
			for _, w := range worstFiles() {
				grows, large := timeGrowth(t, c, w, folder)
				if grows > worst {
					worst, on, rate = grows, w.name, float64(large.bytes)/1e6/large.spent
				}
				if grows > most {
					t.Errorf("%s: %d bytes take %.2f s, the power %.2f of the size", w.name, large.bytes, large.spent, grows)
				}
			}
			fmt.Printf("| `%s` | %.2f | %s | %.1f |\n", c, worst, on, rate)
		})
	}
}

// timeGrowth returns the exponent with which time grows between n and 4n, for an n large
// enough to measure, and the largest trial. It returns 0 if the larger cloth is over a
// limit and therefore skipped.
func timeGrowth(t *testing.T, c commandLine, w worst, folder string) (float64, trial) {
	const enough, tries = 0.1, 8 // enough in seconds
	small := trial{}
	for n := 100_000; n <= 1_600_000 && small.spent < enough; n *= 4 {
		small = try(t, c, w, folder, n, processorTime)
	}
	large := try(t, c, w, folder, 4*small.n, processorTime)
	if small.over != large.over || large.spent < enough {
		return 0, large
	}
	// Other work on the machine only adds time, so take the least of several runs.
	for range tries {
		if exponent(small, large) <= most {
			break
		}
		for _, r := range []*trial{&small, &large} {
			r.spent = min(r.spent, try(t, c, w, folder, r.n, processorTime).spent)
		}
	}
	grows := exponent(small, large)
	if grows > most {
		// A limit such as schema.MostExtraRows may lie between the two sizes, so the larger file
		// is read in another way. Anything that grows too fast still does so beyond it.
		beyond := try(t, c, w, folder, 2*large.n, processorTime)
		for range tries {
			if exponent(large, beyond) > most {
				beyond.spent = min(beyond.spent, try(t, c, w, folder, beyond.n, processorTime).spent)
			}
		}
		grows = min(grows, exponent(large, beyond))
	}
	return grows, large
}

// TestMemoryIsBoundedByTheFile runs commands as processes on large files and prints the
// peak memory of each.
func TestMemoryIsBoundedByTheFile(t *testing.T) {
	needsLong(t)
	program := filepath.Join(t.TempDir(), "fettle")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	const size = 4_000_000
	folder := t.TempDir()
	path := filepath.Join(folder, "a.wif")
	for _, c := range commandLines() {
		t.Run(c.String(), func(t *testing.T) {
			worst, on := 0.0, "none"
			for _, w := range worstFiles() {
				settings := []byte(worstRoom)
				if w.settings != nil {
					settings = w.settings(size)
				}
				writeFile(t, path, w.text(size))
				writeFile(t, filepath.Join(folder, "fettle.ini"), settings)
				run := exec.Command(program, append(c.args, path)...)
				run.Run() // exits with status 1 if there are findings
				if r, ok := run.ProcessState.SysUsage().(*syscall.Rusage); ok && float64(r.Maxrss)/1024 > worst {
					worst, on = float64(r.Maxrss)/1024, w.name
				}
			}
			fmt.Printf("| `%s` | %.0f | %s |\n", c, worst, on)
			if worst > mostMemory {
				t.Errorf("%s: a file of %d bytes takes %.0f MiB", on, size, worst)
			}
		})
	}
}

// mostMemory limits the MiB that a command may use for a file of 4 MB.
const mostMemory = 600
