package main

import (
	"flag"
	"fmt"
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"fettle/schema/wording"
)

var update = flag.Bool("update", false, "write what the scripts print into them")

var long = flag.Bool("long", false, "try large files and many, which takes hours")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"fettle": main})
}

// TestScripts runs each script as a person at a terminal would: arguments,
// standard input, both outputs, exit status and the files afterwards.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:           "testdata/script",
		UpdateScripts: *update,
		Condition: func(name string) (bool, error) {
			if name == "ci" { // where no tool may be missing
				return os.Getenv("CI") != "", nil
			}
			return false, fmt.Errorf("there is no condition %s", name)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			// rawcp copies a file to a name in which \NNN stands for a byte.
			"rawcp": func(ts *testscript.TestScript, _ bool, args []string) {
				name, err := wording.ParsePathName(`"` + args[1] + `"`)
				ts.Check(err)
				ts.Check(os.WriteFile(ts.MkAbs(name), []byte(ts.ReadFile(args[0])), 0o644))
			},
		},
		Setup: func(e *testscript.Env) error {
			e.Setenv("NO_COLOR", "1")
			return nil
		},
	})
}
