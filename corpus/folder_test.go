package corpus

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"fettle/formats"
	"fettle/formats/wif"
)

var (
	folder = flag.String("folder", "", "write generated drafts into this folder")
	drafts = flag.Int("drafts", 3, "how many")
	ends   = flag.Int("ends", 400, "ends of each")
	picks  = flag.Int("picks", 400, "picks of each")
	shafts = flag.Int("shafts", 8, "shafts of each")
	dobby  = flag.Bool("plan", false, "with a lift plan")
)

// TestWriteFolder writes generated drafts into a folder, to measure other tools with, and
// reads them back. By default it writes a few into a temporary folder.
func TestWriteFolder(t *testing.T) {
	into := *folder
	if into == "" {
		into = t.TempDir()
	}
	for n := range *drafts {
		text, lost := wif.Write(Generate(uint64(n+1), GenOptions{Ends: *ends, Picks: *picks, Shafts: *shafts, LiftPlan: *dobby}), wif.Options{})
		if len(lost) > 0 {
			t.Fatal(lost)
		}
		sub := filepath.Join(into, fmt.Sprintf("%03d", n/1000))
		if err := os.MkdirAll(sub, 0o755); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(sub, fmt.Sprintf("draft%06d.wif", n))
		if err := os.WriteFile(path, text, 0o644); err != nil {
			t.Fatal(err)
		}
		if n > 0 {
			continue
		}
		doc := formats.Read(path, text)
		if doc.Draft == nil || doc.Draft.Ends() != *ends || doc.Draft.Picks() != *picks || len(doc.Findings) > 0 {
			t.Fatalf("%s doesn't read back: %v", path, doc.Findings)
		}
	}
}
