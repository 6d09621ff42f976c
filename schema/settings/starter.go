package settings

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"fettle/schema/wording"
)

// Starter returns the text of a first fettle.ini: every section and key with an
// example, commented out. You use a line by deleting its #.
func Starter() string {
	var b strings.Builder
	b.WriteString("; fettle.ini: your loom, reeds, heddles and yarn, and the project in hand.\n" +
		"; To use a line, delete the # before it, write your own value and save the file.\n" +
		"; Text after a semicolon is for you to read. All settings are optional: start with\n" +
		"; [loom] shafts, [heddles] each and [reed] dents.\n" +
		"; The settings apply to all drafts in this folder and below it. Usual values are\n" +
		"; rules of thumb, not measurements of your yarn: weave a sample.\n\n")
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

// starterKeys returns a line for each key of a section, with aligned comments, and
// then the advice.
func (s Section) starterKeys() string {
	var lines []string
	widest := 0
	keys := slices.DeleteFunc(slices.Clone(s.Keys), func(k Key) bool { return k.inPlace != "" })
	for _, k := range keys {
		name := k.Name
		if k.sample != "" {
			name = k.sample
		}
		lines = append(lines, "#"+name+" = "+k.Example)
		widest = max(widest, utf8.RuneCountInString(lines[len(lines)-1]))
	}
	var b strings.Builder
	for i, line := range lines {
		fmt.Fprintf(&b, "%-*s ; %s\n", widest, line, keys[i].Description)
	}
	for _, k := range s.Keys {
		if k.inPlace != "" {
			b.WriteString(commented("in place of " + k.inPlace + ": " + k.Name + " = " + k.Example))
		}
		if k.Advice != "" {
			b.WriteString(commented(k.Name + ": " + k.Advice))
		}
	}
	return b.String()
}

// commented returns a text as a comment, with later lines indented.
func commented(text string) string {
	return "; " + strings.Join(wording.Wrap(text, wording.Columns(96)), "\n;   ") + "\n"
}
