package formats

import (
	"flag"
	"os"
	"testing"
)

// TestMain has every property looked at for a thousand drafts, unless told
// otherwise.
func TestMain(m *testing.M) {
	flag.Parse()
	asked := false
	flag.Visit(func(f *flag.Flag) { asked = asked || f.Name == "rapid.checks" })
	if !asked && !testing.Short() {
		if err := flag.Set("rapid.checks", "1000"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}
