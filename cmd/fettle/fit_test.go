package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"fettle/formats"
	"fettle/schema/cloth"
	"fettle/schema/jsonschema"
)

// TestFitGuild fits each draft of the guild to each of its looms, for one foot and for
// two. The fitted draft weaves the same cloth and suits the loom, or the report proves
// that none can.
func TestFitGuild(t *testing.T) {
	if testing.Short() {
		t.Skip("takes minutes with the race detector, which also reports how the solver is stopped")
	}
	drafts, err := filepath.Glob("../../corpus/guild/*.wif")
	if err != nil || len(drafts) == 0 {
		t.Fatal("no drafts", err)
	}
	looms, err := filepath.Glob("../../corpus/guild/looms/*.ini")
	if err != nil || len(looms) == 0 {
		t.Fatal("no looms", err)
	}
	run := func(args ...string) (int, []byte, []byte) {
		var out, report bytes.Buffer
		p := &program{in: &bytes.Buffer{}, out: &out, err: &report}
		return p.run(append([]string{"fettle", "fit"}, args...)), out.Bytes(), report.Bytes()
	}
	for _, loom := range looms {
		for _, path := range drafts {
			for _, atOnce := range []string{"1", "2"} {
				if !*long && atOnce == "2" && filepath.Base(path) == "aurora-coverlet.wif" {
					continue // the solver takes all its steps for it on each loom
				}
				t.Run(filepath.Base(loom)+"/"+filepath.Base(path)+"/"+atOnce, func(t *testing.T) {
					status, text, report := run(path, "--loom", loom, "--at-once", atOnce, "--output", "-", "--format", "json")
					wrong, err := jsonschema.Validate("fit", report)
					if err != nil || len(wrong) > 0 {
						t.Fatalf("%v %v\n%s", err, wrong, report)
					}
					var list []struct {
						Fits     bool
						Treadles struct{ Proved bool }
						Why      []struct{ Needed, Available int }
					}
					if err := json.Unmarshal(report, &list); err != nil || len(list) != 1 {
						t.Fatalf("%v: %s", err, report)
					}
					if !list[0].Fits {
						if status != 1 || len(text) > 0 || len(list[0].Why) == 0 {
							t.Fatalf("status %d, %d bytes written, %s", status, len(text), report)
						}
						for _, why := range list[0].Why {
							if why.Needed <= why.Available {
								t.Errorf("no proof: %+v", why)
							}
						}
						return
					}
					before, after := formats.Read("", mustRead(t, path)), formats.Read("", text)
					if status != 0 || cloth.Of(before.Draft).Identity() != cloth.Of(after.Draft).Identity() {
						t.Fatalf("status %d, or another cloth", status)
					}
				})
			}
		}
	}
}

func mustRead(t *testing.T, path string) []byte {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return text
}
