// Command fettle checks, converts and explains handweaving drafts.
package main

import (
	"os"
	"runtime"
)

// ballast is memory that is asked for and never touched, so that it takes up
// none. The collector counts it as in use and lets as much again be filled
// before it runs: a draft is so small that it would else run every few dozen.
const ballast = 8 << 20

func main() {
	unused := make([]byte, ballast)
	defer runtime.KeepAlive(unused)
	p := &program{in: os.Stdin, out: os.Stdout, err: os.Stderr}
	os.Exit(p.run(os.Args))
}
