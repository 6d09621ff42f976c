package settings

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"gopkg.in/ini.v1"

	"fettle/schema"
)

// mostLines is the limit of lines in a file, not counting comments. It bounds the
// time that the INI library takes.
const mostLines = 5000

// line is the heading of a section, or a key with its value.
type line struct {
	number, column int // of the first character that isn't a space, from 1
	isHeading      bool
	heading        string // between the brackets
	key, value     string
	valueColumn    int
}

// eachLine calls use for each valid line of a file, and complain for each invalid
// one, in order. It skips comments and blank lines.
func eachLine(text []byte, use func(line), complain func(l line, problem string)) {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if bytes.HasPrefix(text, []byte("\xff\xfe")) || bytes.HasPrefix(text, []byte("\xfe\xff")) {
		complain(line{number: 1, column: 1}, "this file is in UTF-16; save it as UTF-8 text")
		return
	}
	source := &schema.Source{Text: text}
	count := 0
	for n, last := 1, source.Position(schema.Span{Start: len(text)}).Line; n <= last; n++ {
		l, blank, problem := readLine(source.Line(n))
		l.number = n
		switch {
		case blank:
			continue
		case problem != "":
			complain(l, problem)
		default:
			use(l)
		}
		if count++; count > mostLines {
			complain(line{number: n, column: 1}, fmt.Sprintf("this file has more than %d sections and keys, the limit; split it, or check that it is the right file", mostLines))
			return
		}
	}
}

// readLine reads one line. problem says why it is invalid, "" if it isn't.
func readLine(raw []byte) (l line, blank bool, problem string) {
	if !utf8.Valid(raw) {
		return line{column: 1}, false, "this line is not UTF-8 text; save the file as UTF-8"
	}
	text := strings.Map(plainSpace, string(raw))
	body := strings.TrimLeft(text, " ")
	l.column = utf8.RuneCountInString(text) - utf8.RuneCountInString(body) + 1
	if body == "" || body[0] == ';' || body[0] == '#' {
		return l, true, ""
	}
	if body[0] == '[' {
		return l.readHeading(withoutComment(body))
	}
	return l.readKey(body)
}

func (l line) readHeading(body string) (_ line, blank bool, problem string) {
	l.isHeading = true
	if !strings.HasSuffix(body, "]") {
		return l, false, "the section has no closing ]; add one after its name"
	}
	split, err := ini.LoadSources(options(), []byte(body))
	if err == nil {
		sections := split.Sections()
		l.heading = strings.TrimSpace(sections[len(sections)-1].Name())
	}
	if l.heading == "" {
		problem = "the section has no name; write one, like [loom]"
	}
	return l, false, problem
}

func (l line) readKey(body string) (_ line, blank bool, problem string) {
	key, rest, found := strings.Cut(body, "=")
	value := withoutComment(rest)
	switch {
	case !found:
		return l, false, "this line is not a section, a setting or a comment; write a setting as a key, = and a value"
	case strings.TrimSpace(key) == "":
		return l, false, "there is no key before the =; write one, or delete the line"
	case key[0] == '"' || key[0] == '`' || strings.TrimSpace(key) == "-":
		return l, false, "a key is a plain word without quotation marks; delete them"
	case value == "":
		return l, false, "there is no value after the =; write one, or delete the line"
	case value[0] == '`' || strings.HasPrefix(value, `"""`):
		return l, false, "a value is on one line, without quotation marks; delete them"
	}
	split, err := ini.LoadSources(options(), []byte(key+"="+value))
	if err != nil || len(split.Section("").Keys()) != 1 {
		return l, false, "this line can't be read; write a key, = and a value"
	}
	k := split.Section("").Keys()[0]
	l.key, l.value = k.Name(), k.Value()
	l.valueColumn = l.column + utf8.RuneCountInString(key) + 1 + leading(rest)
	return l, false, ""
}

// options makes the library split a line at the first = and keep the value unchanged.
func options() ini.LoadOptions {
	return ini.LoadOptions{
		IgnoreContinuation:      true,
		IgnoreInlineComment:     true,
		PreserveSurroundedQuote: true,
		AllowNonUniqueSections:  true,
		KeyValueDelimiters:      "=",
	}
}

// withoutComment removes a comment: a ; after a space or at the beginning, and the
// rest of the line.
func withoutComment(s string) string {
	if strings.HasPrefix(s, ";") {
		return ""
	}
	s, _, _ = strings.Cut(s, " ;")
	return strings.TrimSpace(s)
}

func leading(s string) int { return len(s) - len(strings.TrimLeft(s, " ")) }

// plainSpace replaces all kinds of space with one, for text copied from web pages.
func plainSpace(r rune) rune {
	if unicode.IsSpace(r) || unicode.Is(unicode.Zs, r) {
		return ' '
	}
	return r
}
