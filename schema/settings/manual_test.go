package settings

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"fettle/corpus/golden"
)

func TestMain(m *testing.M) { os.Exit(golden.M{M: m}.Run()) }

// TestManual compares the manual with the table of keys.
func TestManual(t *testing.T) {
	text, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	head, rest, _ := strings.Cut(string(text), "<!-- keys -->\n")
	_, tail, ok := strings.Cut(rest, "<!-- end -->")
	if !ok {
		t.Fatal("README.md lacks the marks around the tables")
	}
	want := head + "<!-- keys -->\n" + tables() + "<!-- end -->" + tail
	if want == string(text) {
		return
	}
	if !*golden.Update {
		t.Fatal("README.md differs from the table of keys; run go test ./schema/settings -update")
	}
	if err := golden.WriteFile("README.md", []byte(want)); err != nil {
		t.Fatal(err)
	}
}

// tables returns all sections and keys as Markdown tables.
func tables() string {
	var b strings.Builder
	for i, s := range sections {
		if i > 0 {
			b.WriteByte('\n')
		}
		title := "Before the first section"
		if s.Name != "" {
			title = "`[" + s.Name + "]`"
			if s.MayBeNamed {
				title = "`[" + s.Name + "]`, `[" + slices.MaxFunc(s.headings, byLength) + "]`"
			}
		}
		fmt.Fprintf(&b, "### %s\n\n", title)
		if s.Name != "" {
			fmt.Fprintf(&b, "%s.\n\n", capital(s.Description))
		}
		b.WriteString("| key | value | example | meaning |\n| --- | --- | --- | --- |\n")
		for _, k := range s.Keys {
			meaning := k.Description
			if k.Advice != "" {
				meaning += "; " + k.Advice
			}
			fmt.Fprintf(&b, "| `%s` | %s | `%s` | %s |\n", k.Name, k.Type, k.Example, strings.ReplaceAll(meaning, "|", `\|`))
		}
	}
	return b.String()
}

func byLength(a, b string) int { return len(a) - len(b) }

// capital begins a sentence.
func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
