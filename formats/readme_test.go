package formats

import (
	"flag"
	"os"
	"strings"
	"testing"
)

var long = flag.Bool("long", false, "try many more drafts, texts and words")

// TestExampleInReadme checks that the draft in schema/jsonschema/README.md is canonical
// and has no findings.
func TestExampleInReadme(t *testing.T) {
	text, err := os.ReadFile("../schema/jsonschema/README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(text), "## The JSON draft")
	_, rest, _ = strings.Cut(rest, "```json\n")
	example, _, _ := strings.Cut(rest, "```")
	doc := Read("example.json", []byte(example))
	if doc.Draft == nil || len(doc.Findings) > 0 {
		t.Fatalf("the example has findings: %v", doc.Findings)
	}
	if again := string(written(t, "json", doc.Draft, Options{})); again != example {
		t.Errorf("the canonical example differs:\n%s", again)
	}
}
