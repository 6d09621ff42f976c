package settings

import (
	"flag"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the manual anew")

// TestManual keeps the tables of the manual as the table of keys has them.
func TestManual(t *testing.T) {
	text, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	head, rest, _ := strings.Cut(string(text), "<!-- keys -->\n")
	_, tail, ok := strings.Cut(rest, "<!-- end -->")
	if !ok {
		t.Fatal("README.md lacks the marks that the tables stand between")
	}
	want := head + "<!-- keys -->\n" + Markdown() + "<!-- end -->" + tail
	if want == string(text) {
		return
	}
	if !*update {
		t.Fatal("README.md is not what the table of keys says; go test ./schema/settings -update mends it")
	}
	if err := os.WriteFile("README.md", []byte(want), 0o644); err != nil {
		t.Fatal(err)
	}
}
