package wif

import (
	"bytes"
	"strings"
	"testing"

	"fettle/schema"
)

func TestLex(t *testing.T) {
	for _, row := range []struct {
		name, text            string
		sort                  lineSort
		whole                 string
		key, value, rest      string
		next                  int
		unclosed              bool
		nameStart, valueStart int
	}{
		{name: "nothing", text: "", sort: sortBlank},
		{name: "empty line", text: "\nx", sort: sortBlank, next: 1},
		{name: "white space", text: " \t\r\n", sort: sortBlank, next: 4},
		{name: "comment", text: " ; a=b \n", sort: sortComment, whole: "; a=b", next: 8},
		{name: "empty comment", text: ";", sort: sortComment, whole: ";", next: 1},
		{name: "section", text: "[WIF]\r\n", sort: sortSection, whole: "[WIF]", key: "WIF", next: 7, nameStart: 1},
		{name: "section with blanks", text: "  [ WARP  COLORS ]\t\n", sort: sortSection, whole: "[ WARP  COLORS ]", key: "WARP  COLORS", next: 20, nameStart: 4},
		{name: "section and more", text: "[WEFT] ; x\n", sort: sortSection, whole: "[WEFT] ; x", key: "WEFT", rest: "; x", next: 11, nameStart: 1},
		{name: "section without closing bracket", text: "[WEFT\n", sort: sortSection, whole: "[WEFT", key: "WEFT", next: 6, unclosed: true, nameStart: 1},
		{name: "section with two closing brackets", text: "[a]b]", sort: sortSection, whole: "[a]b]", key: "a", rest: "b]", next: 5, nameStart: 1},
		{name: "section without a name", text: "[ ]", sort: sortStray, whole: "[ ]", next: 3},
		{name: "only a bracket", text: "[", sort: sortStray, whole: "[", next: 1, unclosed: true},
		{name: "key", text: "Threads=4\n", sort: sortKey, whole: "Threads=4", key: "Threads", value: "4", next: 10, valueStart: 8},
		{name: "key with blanks", text: "\t1 = 2, 3 \r\n", sort: sortKey, whole: "1 = 2, 3", key: "1", value: "2, 3", next: 12, nameStart: 1, valueStart: 5},
		{name: "key without a value", text: "3=\n", sort: sortKey, whole: "3=", key: "3", next: 3, valueStart: 2},
		{name: "value with an equals sign", text: "a=b=c", sort: sortKey, whole: "a=b=c", key: "a", value: "b=c", next: 5, valueStart: 2},
		{name: "value with a semicolon", text: "a=b ; c", sort: sortKey, whole: "a=b ; c", key: "a", value: "b ; c", next: 7, valueStart: 2},
		{name: "accents", text: "é=ü\n", sort: sortKey, whole: "é=ü", key: "é", value: "ü", next: 6, valueStart: 3},
		{name: "no name", text: "=4\n", sort: sortStray, whole: "=4", next: 3},
		{name: "words", text: "read from the right\n", sort: sortStray, whole: "read from the right", next: 20},
		{name: "LF", text: "a=b\nc", sort: sortKey, whole: "a=b", key: "a", value: "b", next: 4, valueStart: 2},
		{name: "CRLF", text: "a=b\r\nc", sort: sortKey, whole: "a=b", key: "a", value: "b", next: 5, valueStart: 2},
		{name: "CR", text: "a=b\rc", sort: sortKey, whole: "a=b", key: "a", value: "b", next: 4, valueStart: 2},
		{name: "CR and CRLF", text: "a=b\r\r\nc", sort: sortKey, whole: "a=b", key: "a", value: "b", next: 4, valueStart: 2},
		{name: "LF and CR", text: "a=b\n\rc", sort: sortKey, whole: "a=b", key: "a", value: "b", next: 4, valueStart: 2},
	} {
		t.Run(row.name, func(t *testing.T) {
			// A line must lex the same anywhere in a file.
			for _, before := range []string{"", "[x]\n"} {
				text := []byte(before + row.text)
				l := lex(text, len(before))
				cut := func(s schema.Span) string { return string(text[s.Start:s.End]) }
				if l.sort != row.sort || cut(l.span()) != row.whole || l.next != len(before)+row.next || l.unclosed != row.unclosed {
					t.Errorf("sort %d %q next %d unclosed %v", l.sort, cut(l.span()), l.next, l.unclosed)
				}
				if row.sort != sortSection && row.sort != sortKey {
					continue
				}
				if cut(l.name) != row.key || cut(l.value) != row.value || cut(l.rest) != row.rest {
					t.Errorf("name %q value %q rest %q", cut(l.name), cut(l.value), cut(l.rest))
				}
				if l.name.Start != len(before)+row.nameStart || row.sort == sortKey && l.value.Start != len(before)+row.valueStart {
					t.Errorf("name at %d, value at %d", l.name.Start, l.value.Start)
				}
			}
		})
	}
}

func TestRow(t *testing.T) {
	for _, c := range []struct {
		name, text   string
		index, first int32
		list         []int32
		next         int
	}{
		{"one number", "12=3\n", 12, 3, nil, 5},
		{"several", "1=3,14,5\r\n", 1, 3, []int32{3, 14, 5}, 10},
		{"at the end", "1=2", 1, 2, nil, 3},
		{"a lone CR", "1=2\r3=4", 1, 2, nil, 4},
		{"none", "1=0\n", 1, 0, nil, 4},
		{"nine digits", "999999999=999999999\n", 999999999, 999999999, nil, 20},
	} {
		t.Run(c.name, func(t *testing.T) {
			index, first, list, next, ok := row([]byte(c.text), 0, nil)
			if !ok || index != c.index || first != c.first || next != c.next || len(list) != len(c.list) {
				t.Fatalf("%d=%d %d next %d, %v", index, first, list, next, ok)
			}
			for i := range list {
				if list[i] != c.list[i] {
					t.Errorf("%d", list)
				}
			}
		})
	}
	for _, text := range []string{"", "1", "1=", "=1", "1=\n", "1=2,\n", "1=,2\n", "1=2 \n", " 1=2\n", "1 =2", "1=2;x", "-1=2", "1=-2",
		"1=2.5", "1234567890=1", "1=1234567890", "1=1,1234567890", "[1]", ";1=1", "x=1", "1=2,3 "} {
		if _, _, _, next, ok := row([]byte(text), 0, nil); ok || next != 0 {
			t.Errorf("%q counts as a plain row", text)
		}
	}
}

// TestPlainRows reads rows in their plain form and with white space,
// which takes the general path.
func TestPlainRows(t *testing.T) {
	for _, rows := range []string{"1=1\n2=2\n", "2=5\n1=4,3\n", "1=1\n1=2\n3=4\n2=1\n2=2\n", "1=0\n2=0,0\n", "5=1\n999999999=2\n", "0=1\n1=1000001\n2=3,1000001\n"} {
		plain := "[WIF]\n[CONTENTS]\nTHREADING=1\nTREADLING=1\nTIEUP=1\n[TREADLING]\n[TIEUP]\n[THREADING]\n" + rows
		general := strings.TrimSuffix(strings.ReplaceAll(plain, "\n", " \n"), " \n") + "\n"
		a, b := Read(&schema.Source{Text: []byte(plain)}), Read(&schema.Source{Text: []byte(general)})
		if !a.Draft.Threading.Equal(b.Draft.Threading) {
			t.Errorf("%q reads differently with spaces", rows)
		}
		if len(a.Findings) != len(b.Findings) {
			t.Errorf("%q has %d findings, %d with spaces", rows, len(a.Findings), len(b.Findings))
			continue
		}
		for i := range a.Findings {
			x, y := a.Findings[i], b.Findings[i]
			p, q := a.Source.Position(x.Span), b.Source.Position(y.Span)
			if x.Rule != y.Rule || x.Message != y.Message || p != q {
				t.Errorf("%q: %s at %v, with spaces %s at %v", rows, x.Message, p, y.Message, q)
			}
		}
	}
}

// FuzzLex checks that lines have no gaps between them, that spans are within their
// line, and that the rest of the line is white space.
func FuzzLex(f *testing.F) {
	for _, s := range []string{"[WIF]\r\nVersion=1.1\n", "1=2\r\r\n\n3 = 4 ; x", "[", "[]", "=", ";", "\xff=\xfe", "[a]b]", " \t "} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		for at := 0; at < len(text); {
			l := lex(text, at)
			if l.next <= at || l.next > len(text) {
				t.Fatalf("the line after the one at %d is at %d of %d", at, l.next, len(text))
			}
			if l.start < at || l.end < l.start || l.end > l.next {
				t.Fatalf("the line at %d is %d to %d", at, l.start, l.end)
			}
			rest := append(bytes.Clone(text[at:l.start]), text[l.end:l.next]...)
			for _, w := range oddSpaces {
				rest = bytes.ReplaceAll(rest, []byte(w.text), nil)
			}
			if len(bytes.Trim(rest, " \t\f\r\n")) > 0 {
				t.Fatalf("%q in the line at %d is skipped", rest, at)
			}
			if bytes.ContainsAny(text[l.start:l.end], "\r\n") {
				t.Fatalf("the line at %d continues after a line break", at)
			}
			for _, s := range []schema.Span{l.name, l.value, l.rest} {
				if s != (schema.Span{}) && (s.Start < l.start || s.End < s.Start || s.End > l.end) {
					t.Fatalf("the line at %d has a part %v", at, s)
				}
			}
			at = l.next
		}
	})
}
