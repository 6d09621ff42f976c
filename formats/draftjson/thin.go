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
	right := listed(where)
	switch c := t.text[at.Start]; {
	case c == '[' && right != nil && plainNumbers(where, t.text[at.Start:at.End]):
		t.out.WriteString("[]")
	case c == '[' && right != nil:
		t.list(where, at, right)
	case c == '{' && isThinned(where):
		t.object(path, at)
	default:
		t.out.Write(t.text[at.Start:at.End])
	}
}

// plainNumbers says whether a list is of nothing but plain numbers, which is
// seen at a glance.
func plainNumbers(where string, value []byte) bool {
	switch where {
	case "threading", "tieup", "treadling", "liftplan":
		return plain(value, 2, false)
	case "warp/colors", "weft/colors":
		return plain(value, 1, false)
	case "warp/spacings", "weft/spacings", "warp/thicknesses", "weft/thicknesses":
		return plain(value, 1, true)
	}
	return false
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

// listed is what says of an element of a list whether it is as the schema wants
// it; nil for what is no list, or a short one.
func listed(where string) func(text []byte, at schema.Span) bool {
	switch where {
	case "threading", "tieup", "treadling", "liftplan":
		return rightRow
	case "warp/colors", "weft/colors":
		return rightNumber
	case "warp/spacings", "weft/spacings", "warp/thicknesses", "weft/thicknesses":
		return rightMeasure
	case "palette":
		return rightColor
	case "notes":
		return isText
	case "carried/wif/comments":
		return rightTexts([]string{"text"}, "section", "before")
	case "carried/wif/values":
		return rightTexts([]string{"section", "key", "value"})
	case "carried/wif/sections":
		return rightTexts([]string{"name", "lines"})
	case "ignore":
		return rightTexts([]string{"rule"}, "reason")
	}
	return nil
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
