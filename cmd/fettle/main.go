// Command fettle checks, fixes and converts handweaving drafts.
package main

import (
	"os"
	"runtime/debug"
)

// garbagePercent replaces Go's default of 100 for GOGC. With the default, many small
// drafts take a fifth more processor time; more than 200 only takes more memory. The
// variable GOGC overrides it.
const garbagePercent = 200

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(garbagePercent)
	}
	p := &program{in: os.Stdin, out: os.Stdout, err: os.Stderr, stops: true}
	os.Exit(p.run(os.Args))
}
