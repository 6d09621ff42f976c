package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"fettle/corpus/golden"
	"fettle/schema/wording"
)

var long = flag.Bool("long", false, "try large files and many, which takes hours")

func TestMain(m *testing.M) {
	testscript.Main(golden.M{M: m}, map[string]func(){"fettle": main})
}

// TestScripts runs each script like a person at a terminal, and checks both outputs, the
// exit status and the files afterwards.
func TestScripts(t *testing.T) {
	folder, scripts := "testdata/script", []string(nil) // all in the folder
	if testing.Short() {
		// The race detector needs half a minute for some scripts. These read and write
		// many files at once.
		for _, name := range []string{"baseline", "clean-folder", "collection", "compare-with", "logs", "program", "reports"} {
			scripts = append(scripts, filepath.Join(folder, name+".txtar"))
		}
		folder = ""
	}
	testscript.Run(t, testscript.Params{
		Dir:           folder,
		Files:         scripts,
		UpdateScripts: *golden.Update,
		Condition: func(name string) (bool, error) {
			if name == "ci" { // where all tools must be present
				return os.Getenv("CI") != "", nil
			}
			return false, fmt.Errorf("there is no condition %s", name)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			// says compares stdout, stderr or a file, or its lines that match a pattern,
			// with the text stored in testdata/words.golden.
			"says": func(ts *testscript.TestScript, not bool, args []string) {
				if not || len(args) < 1 || len(args) > 2 {
					ts.Fatalf("usage: says FILE [PATTERN]")
				}
				text := strings.ReplaceAll(ts.ReadFile(args[0]), ts.Getenv("WORK"), "$WORK")
				if len(args) == 2 {
					pattern := regexp.MustCompile(args[1])
					lines := slices.Collect(strings.Lines(text))
					text = strings.Join(slices.DeleteFunc(lines, func(line string) bool { return !pattern.MatchString(line) }), "")
				}
				if text == "" {
					ts.Fatalf("%q has no such line", args)
				}
				name := "script " + ts.Name()
				ts.Defer(func() { golden.Done(name) })
				ts.Check(golden.Compare(name, text))
			},
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
