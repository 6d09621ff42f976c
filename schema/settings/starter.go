package settings

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// Starter is the text of a first fettle.ini: every section and key with an
// example, all of it commented out. A line is used by taking its # away.
func Starter() string {
	var b strings.Builder
	b.WriteString("; fettle.ini: your loom, reeds, heddles and yarn, and the project in hand.\n" +
		"; Take the # away before a line to use it, and put your own value in.\n" +
		"; These settings hold for all drafts in this folder and below it.\n\n")
	for i, s := range sections {
		if i == 0 {
			b.WriteString(s.starterKeys())
		}
		for j, heading := range s.headings {
			b.WriteByte('\n')
			if j == 0 {
				fmt.Fprintf(&b, "; %s\n", s.Description)
			}
			fmt.Fprintf(&b, "[%s]\n%s", heading, s.starterKeys())
		}
	}
	return b.String()
}

// starterKeys are a section's keys, a line each, their comments in a column.
func (s Section) starterKeys() string {
	var lines []string
	widest := 0
	for _, k := range s.Keys {
		name := k.Name
		if k.sample != "" {
			name = k.sample
		}
		lines = append(lines, "#"+name+" = "+k.Example)
		widest = max(widest, utf8.RuneCountInString(lines[len(lines)-1]))
	}
	var b strings.Builder
	for i, line := range lines {
		fmt.Fprintf(&b, "%-*s ; %s\n", widest, line, s.Keys[i].Description)
	}
	return b.String()
}

// Markdown is the table of all sections and keys for the manual.
func Markdown() string {
	var b strings.Builder
	for i, s := range sections {
		if i > 0 {
			b.WriteByte('\n')
		}
		title := "Before the first section"
		if s.Name != "" {
			title = "`[" + s.Name + "]`"
			if s.Naming == MayBeNamed {
				title = "`[" + s.Name + "]`, `[" + slices.MaxFunc(s.headings, byLength) + "]`"
			}
		}
		fmt.Fprintf(&b, "### %s\n\n", title)
		if s.Name != "" {
			fmt.Fprintf(&b, "%s.\n\n", capital(s.Description))
		}
		b.WriteString("| key | value | example | meaning |\n| --- | --- | --- | --- |\n")
		for _, k := range s.Keys {
			fmt.Fprintf(&b, "| `%s` | %s | `%s` | %s |\n", k.Name, k.Type, k.Example, strings.ReplaceAll(k.Description, "|", `\|`))
		}
	}
	return b.String()
}

func byLength(a, b string) int { return len(a) - len(b) }

// capital begins a sentence.
func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
