// Command fettle checks, fixes and converts handweaving drafts.
package main

import (
	"os"
	"runtime/debug"
)

// garbagePercent replaces Go's default of 100 for GOGC, which takes a fifth more
// processor time for many small drafts. More than 200 saves no time and takes more
// memory. GOGC overrides it.
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
