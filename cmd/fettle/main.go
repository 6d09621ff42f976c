// Command fettle checks, converts and explains handweaving drafts.
package main

import "os"

func main() {
	p := &program{in: os.Stdin, out: os.Stdout, err: os.Stderr}
	os.Exit(p.run(os.Args))
}
