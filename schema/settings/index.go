package settings

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"fettle/schema"
)

// mostLines is how many lines apart from comments one file may hold: the
// library that splits them looks through all of a section's keys at each one.
const mostLines = 5000

// index is where the sections and keys of a settings file stand, which the
// library that reads them does not tell. It also takes from the text what the
// library would read otherwise than we do.
type index struct {
	sections []header // the first is the top of the file, without a name
	clean    []byte   // the text for the library, line for line
	problems Errors   // lines that are neither section, key nor comment
	count    int
}

// header is a section's first line and the keys under it.
type header struct {
	text         string // between the brackets, as written
	line, column int
	skip         bool // its name could not be read, nor can what its keys mean
	keys         []keyLine
}

// keyLine is a line with a key.
type keyLine struct {
	name                 string // as written
	line, column, valued int    // valued is the column of the value
}

// indexOf reads a file's lines.
func indexOf(path string, text []byte) *index {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	x := &index{sections: []header{{}}}
	if bytes.HasPrefix(text, []byte("\xff\xfe")) || bytes.HasPrefix(text, []byte("\xfe\xff")) {
		x.problem(path, 1, 1, "this file is in UTF-16; save it as UTF-8 text")
		return x
	}
	source := &schema.Source{Text: text}
	for n, last := 1, source.Position(schema.Span{Start: len(text)}).Line; n <= last; n++ {
		x.line(path, n, source.Line(n))
		if x.count > mostLines {
			x.problem(path, n, 1, fmt.Sprintf("a settings file holds at most %d sections and keys in all, and this one has more; divide it, or look whether it is the right file", mostLines))
			break
		}
	}
	return x
}

func (x *index) problem(path string, line, column int, message string) {
	x.problems = append(x.problems, Error{Path: path, Line: line, Column: column, Message: message})
}

// readable are the sections whose headers could be read.
func (x *index) readable() []header {
	return slices.DeleteFunc(slices.Clone(x.sections), func(h header) bool { return h.skip })
}

// line reads one line and passes it on to the library if it is sound, else an
// empty one.
func (x *index) line(path string, n int, raw []byte) {
	kept, problem, column := "", "", 1
	if !utf8.Valid(raw) {
		problem = "this line is not UTF-8 text; save the file as UTF-8"
	} else {
		text := strings.Map(plainSpace, string(raw))
		body := strings.TrimLeft(text, " ")
		column = utf8.RuneCountInString(text) - utf8.RuneCountInString(body) + 1
		switch {
		case body == "" || body[0] == ';' || body[0] == '#':
		case body[0] == '[':
			kept, problem = x.header(body, n, column)
		default:
			kept, problem = x.key(body, n, column)
		}
	}
	if problem != "" {
		x.problem(path, n, column, problem)
		kept = ""
	}
	if problem != "" || kept != "" {
		x.count++
	}
	x.clean = append(append(x.clean, kept...), '\n')
}

func (x *index) header(body string, line, column int) (kept, problem string) {
	h := header{line: line, column: column, skip: true}
	body = withoutComment(body)
	switch {
	case body[len(body)-1] != ']':
		problem = "a section opened with [ is not closed with ]; put one behind its name"
	case strings.TrimSpace(body[1:len(body)-1]) == "":
		problem = "a section needs a name, like [loom]"
	default:
		h.text, h.skip = strings.TrimSpace(body[1:len(body)-1]), false
		kept = "[" + h.text + "]"
	}
	x.sections = append(x.sections, h)
	return kept, problem
}

func (x *index) key(body string, line, column int) (kept, problem string) {
	at := strings.IndexByte(body, '=')
	if at < 0 {
		return "", "this line is no section, no comment and no setting: a setting is a key, = and a value"
	}
	section := &x.sections[len(x.sections)-1]
	name := strings.TrimSpace(body[:at])
	rest := body[at+1:]
	value := withoutComment(rest)
	switch {
	case section.skip:
		return "", ""
	case name == "":
		return "", "the key before the = is missing; write it, or take the line out"
	case name[0] == '"' || name[0] == '`' || name == "-":
		return "", "a key is a plain word, without quotation marks; take them out"
	case value == "":
		return "", "there is no value after the =; give one, or take the line out"
	case value[0] == '`' || strings.HasPrefix(value, `"""`):
		return "", "a value stands on one line and needs no quotation marks; take them out"
	}
	section.keys = append(section.keys, keyLine{name, line, column, column + utf8.RuneCountInString(body[:at+1]) + leading(rest)})
	return name + " = " + value, ""
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

// leading counts the spaces that s begins with.
func leading(s string) int { return len(s) - len(strings.TrimLeft(s, " ")) }

// plainSpace makes one kind of space of all of them, for texts that come from
// web pages.
func plainSpace(r rune) rune {
	if unicode.IsSpace(r) || unicode.Is(unicode.Zs, r) {
		return ' '
	}
	return r
}
