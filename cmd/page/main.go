// Command page writes fettle as one HTML file: the program compiled to WebAssembly, with
// the page that runs it. The file needs no server and no network.
package main

import (
	"flag"
	"fmt"
	"log"
	"os"
)

// largest is the most bytes that the page may have.
const largest = 10_000_000

func main() {
	log.SetFlags(0)
	log.SetPrefix("page: ")
	output := flag.String("output", "fettle.html", "write the page to `FILE`")
	linker := flag.String("ldflags", "", "pass more `FLAGS` to the linker, such as a release's version")
	notices := flag.String("notices", "", "show the licenses in `FILE` on the page")
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "page writes fettle as one HTML file that opens in a browser, without a network.\n\nUSAGE:\n   go run ./cmd/page --output fettle.html\n\nOPTIONS:")
		flag.PrintDefaults()
	}
	flag.Parse()
	if flag.NArg() > 0 {
		log.Fatalf("page takes no arguments besides its flags, not %q", flag.Args())
	}
	text, err := build(*linker, *notices)
	if err != nil {
		log.Fatal(err)
	}
	if len(text) > largest {
		log.Fatalf("the page has %d bytes, and may have %d; look for packages that the program doesn't need", len(text), largest)
	}
	if err := os.WriteFile(*output, text, 0o666); err != nil {
		log.Fatal(err)
	}
}
