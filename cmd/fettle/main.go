// Command fettle checks, converts and explains handweaving drafts.
package main

import (
	"os"
	"runtime/debug"
)

// garbagePercent is how much garbage may gather before it is collected, in percent of
// the memory in use. Go's own 100 takes a fifth more processor time for many small
// drafts; more than 200 saves none and takes more memory. GOGC overrides it.
const garbagePercent = 200

// softLimit is how many bytes of memory may fill with garbage. Near it, garbage is
// collected sooner; data in use may still take more. To clean a file of 4 MB with a
// fault every three bytes then takes 514 MiB instead of 743, in the same time.
// GOMEMLIMIT overrides it.
const softLimit = 512 << 20

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(garbagePercent)
	}
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(softLimit)
	}
	p := &program{in: os.Stdin, out: os.Stdout, err: os.Stderr}
	p.guard()
	p.stopOnSignal()
	os.Exit(p.run(os.Args))
}
