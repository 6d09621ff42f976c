package formats

import (
	"flag"
	"os"
	"testing"
)

// TestMain sets how many drafts each property is tried on: more with -long, or as
// many as -rapid.checks says.
func TestMain(m *testing.M) {
	flag.Parse()
	asked := false
	flag.Visit(func(f *flag.Flag) { asked = asked || f.Name == "rapid.checks" })
	if *long && !asked {
		if err := flag.Set("rapid.checks", "5000"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}
