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

// mostLines is how many lines apart from comments one file may hold, so that no file
// keeps the library busy.
const mostLines = 5000

// line is a line of a settings file that is neither blank nor a comment: the heading
// of a section, or a key with its value.
type line struct {
	number, column int // from 1; where the text of the line begins
	isHeading      bool
	heading        string // between the brackets
	key, value     string
	valueColumn    int
}

// eachLine splits a file into its lines. It gives use each line that reads well, and
// complain each that does not, in order.
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
			complain(line{number: n, column: 1}, fmt.Sprintf("a settings file holds at most %d sections and keys in all, and this one has more; divide it, or look whether it is the right file", mostLines))
			return
		}
	}
}

// readLine reads one line. A problem says why it is neither a heading nor a setting.
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
		return l, false, "a section opened with [ is not closed with ]; put one behind its name"
	}
	split, err := ini.LoadSources(options(), []byte(body))
	if err == nil {
		sections := split.Sections()
		l.heading = strings.TrimSpace(sections[len(sections)-1].Name())
	}
	if l.heading == "" {
		problem = "a section needs a name, like [loom]"
	}
	return l, false, problem
}

func (l line) readKey(body string) (_ line, blank bool, problem string) {
	key, rest, found := strings.Cut(body, "=")
	value := withoutComment(rest)
	switch {
	case !found:
		return l, false, "this line is no section, no comment and no setting: a setting is a key, = and a value"
	case strings.TrimSpace(key) == "":
		return l, false, "the key before the = is missing; write it, or take the line out"
	case key[0] == '"' || key[0] == '`' || strings.TrimSpace(key) == "-":
		return l, false, "a key is a plain word, without quotation marks; take them out"
	case value == "":
		return l, false, "there is no value after the =; give one, or take the line out"
	case value[0] == '`' || strings.HasPrefix(value, `"""`):
		return l, false, "a value stands on one line and needs no quotation marks; take them out"
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

// options has the library split a line at the first =, and take the value as it is.
func options() ini.LoadOptions {
	return ini.LoadOptions{
		IgnoreContinuation:      true,
		IgnoreInlineComment:     true,
		PreserveSurroundedQuote: true,
		AllowNonUniqueSections:  true,
		KeyValueDelimiters:      "=",
	}
}

// withoutComment takes off a comment that a ; begins behind a space, or at
// once.
func withoutComment(s string) string {
	if strings.HasPrefix(s, ";") {
		return ""
	}
	s, _, _ = strings.Cut(s, " ;")
	return strings.TrimSpace(s)
}

func leading(s string) int { return len(s) - len(strings.TrimLeft(s, " ")) }

// plainSpace makes one kind of space of all of them, for texts that come from
// web pages.
func plainSpace(r rune) rune {
	if unicode.IsSpace(r) || unicode.Is(unicode.Zs, r) {
		return ' '
	}
	return r
}
