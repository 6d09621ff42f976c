package draftjson

import (
	"bytes"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"fettle/schema"
)

// This file spares the validator what is plainly right. It takes some hundred
// times the room of what it looks at, and a draft is nearly all rows of numbers.

// thinned is a draft without the elements of its lists that are as the schema
// wants them, and without more than the first of those that are not.
type thinned struct {
	text []byte
	out  bytes.Buffer
	kept map[string][]int // by the path of a list: which of its elements are left, from 0
	more int              // places that are wrong and not left
}

// mostLeft is how many places that are wrong are left in one list or object: one
// more than are told.
const mostLeft = mostComplaints + 1

func thin(text []byte, root schema.Span) *thinned {
	t := &thinned{text: text, kept: map[string][]int{}}
	t.object(nil, root)
	return t
}

// known is the names that the schema knows in the objects that are thinned,
// by their path.
var known = sync.OnceValue(func() map[string][]string {
	names := map[string][]string{}
	for _, path := range [][]string{nil, {"warp"}, {"weft"}, {"carried"}, {"carried", "wif"}} {
		names[strings.Join(path, "/")] = schema.Properties("draft", path)
	}
	return names
})

func isThinned(where string) bool {
	_, is := known()[where]
	return is
}

// object writes an object with the first of each of its properties.
func (t *thinned) object(path []string, at schema.Span) {
	known := known()[strings.Join(path, "/")]
	var seen []string
	unknown := 0
	t.out.WriteByte('{')
	for _, m := range members(t.text, at) {
		if !slices.Contains(known, m.name) {
			if unknown++; unknown > mostLeft {
				t.more++
				continue
			}
		}
		if slices.Contains(seen, m.name) {
			continue
		}
		if len(seen) > 0 {
			t.out.WriteByte(',')
		}
		seen = append(seen, m.name)
		t.out.Write(t.text[m.key.Start:m.key.End])
		t.out.WriteByte(':')
		t.value(append(slices.Clip(path), m.name), m.data)
	}
	t.out.WriteByte('}')
}

// value writes a value, thinned where it can be.
func (t *thinned) value(path []string, at schema.Span) {
	where := strings.Join(path, "/")
	k, value := listKind(where), t.text[at.Start:at.End]
	switch c := value[0]; {
	case c == '[' && k.plain != nil && k.plain(value):
		t.out.WriteString("[]")
	case c == '[' && k.right != nil:
		t.list(where, at, k.right)
	case c == '{' && isThinned(where):
		t.object(path, at)
	default:
		t.out.Write(value)
	}
}

// list writes the first elements of a list that are wrong.
func (t *thinned) list(where string, at schema.Span, right func([]byte, schema.Span) bool) {
	var kept []int
	i := -1
	t.out.WriteByte('[')
	for e := range each(t.text, at) {
		i++
		switch {
		case right(t.text, e):
		case len(kept) == mostLeft:
			t.more++
		default:
			if len(kept) > 0 {
				t.out.WriteByte(',')
			}
			t.out.Write(t.text[e.Start:e.End])
			kept = append(kept, i)
		}
	}
	t.out.WriteByte(']')
	t.kept[where] = kept
}

// whole brings a path in the thinned draft back to the whole one.
func (t *thinned) whole(path []string) []string {
	for n := 1; n < len(path); n++ {
		kept, ok := t.kept[strings.Join(path[:n], "/")]
		if !ok {
			continue
		}
		if i, err := strconv.Atoi(path[n]); err == nil && i < len(kept) {
			path = slices.Clone(path)
			path[n] = strconv.Itoa(kept[i])
		}
		return path
	}
	return path
}

// kind is what a list of the draft holds.
type kind struct {
	plain func(list []byte) bool                 // says at a glance that all of it is right; nil where that takes a look at each
	right func(text []byte, at schema.Span) bool // says of an element whether it is as the schema wants it; nil for what is no list, or a short one
}

// listKind is the kind of the list at a path.
func listKind(where string) kind {
	switch where {
	case "threading", "tieup", "treadling", "liftplan":
		return kind{func(list []byte) bool { return plain(list, 2, false) }, rightRow}
	case "warp/colors", "weft/colors":
		return kind{func(list []byte) bool { return plain(list, 1, false) }, rightNumber}
	case "warp/spacings", "weft/spacings", "warp/thicknesses", "weft/thicknesses":
		return kind{func(list []byte) bool { return plain(list, 1, true) }, rightMeasure}
	case "palette":
		return kind{right: rightColor}
	case "notes":
		return kind{right: isText}
	case "carried/wif/comments":
		return kind{right: rightTexts([]string{"text"}, "section", "before")}
	case "carried/wif/values":
		return kind{right: rightTexts([]string{"section", "key", "value"})}
	case "carried/wif/sections":
		return kind{right: rightTexts([]string{"name", "lines"})}
	case "ignore":
		return kind{right: rightTexts([]string{"rule"}, "reason")}
	}
	return kind{}
}

func rightNumber(text []byte, at schema.Span) bool {
	v, ok := whole(text, at)
	return ok && v <= schema.Belief
}

func rightRow(text []byte, at schema.Span) bool {
	return rightNumber(text, at) || allOf(text, at, rightNumber)
}

// allOf says whether a value is a list of elements that are all right.
func allOf(text []byte, at schema.Span, right func([]byte, schema.Span) bool) bool {
	if text[at.Start] != '[' {
		return false
	}
	for e := range each(text, at) {
		if !right(text, e) {
			return false
		}
	}
	return true
}

func rightMeasure(text []byte, at schema.Span) bool {
	v, err := strconv.ParseFloat(string(text[at.Start:at.End]), 64)
	return err == nil && v >= 0 && v <= schema.Belief
}

var hex = regexp.MustCompile("^#[0-9a-fA-F]{6}$")

func rightColor(text []byte, at schema.Span) bool {
	return text[at.Start] == 'n' || hex.MatchString(words(text, at))
}

func isText(text []byte, at schema.Span) bool { return text[at.Start] == '"' }

var oneWord = regexp.MustCompile(`^\S+$`)

// rightTexts is for an object of texts: those that it must have, and those that
// it may. Its lines are a list of texts, its rule is one word.
func rightTexts(must []string, may ...string) func([]byte, schema.Span) bool {
	return func(text []byte, at schema.Span) bool {
		if text[at.Start] != '{' {
			return false
		}
		has := 0
		var seen []string
		for _, m := range members(text, at) {
			if slices.Contains(seen, m.name) {
				return false // the validator sees the last of them
			}
			seen = append(seen, m.name)
			if slices.Contains(must, m.name) {
				has++
			} else if !slices.Contains(may, m.name) {
				return false
			}
			switch right := isText(text, m.data); {
			case m.name == "lines" && !allOf(text, m.data, isText),
				m.name != "lines" && !right,
				m.name == "rule" && !oneWord.MatchString(words(text, m.data)):
				return false
			}
		}
		return has == len(must)
	}
}
