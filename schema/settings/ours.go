package settings

import (
	"bytes"
	"strings"

	"fettle/schema/spelling"
)

// ours reports whether the file beside a draft is meant for fettle: one of its
// sections is one of ours or nearly so, or it includes another file before the
// first. A file without sections is ours where one of its keys is, or it says nothing.
func ours(text []byte) bool {
	text = bytes.ReplaceAll(text, []byte{0}, nil) // UTF-16 is then near enough to ASCII
	lines, headers, ownKey := 0, 0, false
	for line := range bytes.FieldsFuncSeq(text, func(r rune) bool { return r == '\n' || r == '\r' }) {
		line = bytes.TrimLeft(line, " \t\xef\xbb\xbf\xff\xfe")
		if len(line) == 0 || line[0] == ';' || line[0] == '#' {
			continue
		}
		if lines++; lines > mostLines {
			break
		}
		name, _, isKey := strings.Cut(string(line[:min(len(line), 200)]), "=")
		switch {
		case line[0] == '[':
			headers++
			if ourSection(string(line[1:min(len(line), 200)])) {
				return true
			}
		case isKey && headers == 0:
			name = strings.TrimSpace(name)
			if spelling.Fold(name) == "include" {
				return true
			}
			ownKey = ownKey || homeOf(name) != "" || spelling.Nearest(name, sections[0].names()) != ""
		}
	}
	return lines == 0 || headers == 0 && ownKey
}

// ourSection reports whether a section's header, from behind the bracket on, names
// a section of ours or nearly one.
func ourSection(header string) bool {
	text, _, _ := strings.Cut(header, "]")
	text = strings.TrimSpace(text)
	if s := sectionOf(text); s != nil && s.Name != "" {
		return true
	}
	word, _, _ := strings.Cut(text, " ")
	return spelling.Nearest(word, sectionNames()) != ""
}
