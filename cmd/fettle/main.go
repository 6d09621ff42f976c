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

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(garbagePercent)
	}
	p := &program{in: os.Stdin, out: os.Stdout, err: os.Stderr}
	p.guard()
	p.stopOnSignal()
	os.Exit(p.run(os.Args))
}
