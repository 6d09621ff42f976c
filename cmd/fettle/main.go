// Command fettle checks, converts and explains handweaving drafts.
package main

import (
	"os"
	"runtime"
	"runtime/debug"
)

// ballast is memory that is asked for and never touched, so that it takes up
// none. The collector counts it as in use and lets as much garbage as is usual
// for it gather before it runs: a draft is so small that it would else run every
// few dozen.
const ballast = 16 << 20

// garbage is how much garbage may gather, in percent of what is in use, ballast
// and all: half of what is usual in Go, since what a run over a large library
// keeps of it would else take up twice its room.
const garbage = 50

func main() {
	debug.SetGCPercent(garbage)
	unused := make([]byte, ballast)
	defer runtime.KeepAlive(unused)
	p := &program{in: os.Stdin, out: os.Stdout, err: os.Stderr}
	os.Exit(p.run(os.Args))
}
