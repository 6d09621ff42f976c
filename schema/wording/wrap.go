package wording

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// NoBreak is a space at which Wrap doesn't break a line.
const NoBreak = '\u00a0'

// Wrap breaks a text into lines that fit, at its line breaks and between words. A
// line that fits keeps its spaces; a word too long for a line is split. If a line
// fits, every shorter one must fit too.
func Wrap(text string, fits func(line string) bool) []string {
	var lines []string
	for line := range strings.SplitSeq(text, "\n") {
		if fits(line) {
			lines = append(lines, line)
		} else {
			lines = wrapWords(lines, strings.FieldsFunc(line, breaks), fits)
		}
	}
	return lines
}

func breaks(r rune) bool { return r != NoBreak && unicode.IsSpace(r) }

// Columns returns a measure for Wrap: lines of at most this many characters fit.
func Columns(most int) func(line string) bool {
	return func(line string) bool {
		if len(line) <= most {
			return true
		}
		n := 0
		for range line {
			if n++; n > most {
				return false
			}
		}
		return true
	}
}

func wrapWords(lines, words []string, fits func(string) bool) []string {
	line := ""
	for _, word := range words {
		if line != "" {
			if longer := line + " " + word; fits(longer) {
				line = longer
				continue
			}
			lines = append(lines, line)
		}
		line = word
		for cut := fitting(line, fits); cut < len(line); cut = fitting(line, fits) {
			lines, line = append(lines, line[:cut]), line[cut:]
		}
	}
	return append(lines, line)
}

// fitting returns how many bytes of a word fit on a line, and at least one
// character. It never measures more than twice what fits, so splitting a long word
// takes linear time.
func fitting(word string, fits func(string) bool) int {
	_, low := utf8.DecodeRuneInString(word)
	high := low
	for fits(word[:high]) {
		if low = high; low == len(word) {
			return low
		}
		high = max(wholeCharacters(word, min(2*low, len(word))), next(word, low))
	}
	for {
		middle := max(wholeCharacters(word, (low+high)/2), next(word, low))
		switch {
		case middle >= high:
			return low
		case fits(word[:middle]):
			low = middle
		default:
			high = middle
		}
	}
}

// next returns the offset of the character after the one at i.
func next(s string, i int) int {
	_, size := utf8.DecodeRuneInString(s[i:])
	return i + size
}

// wholeCharacters returns i, or the beginning of the character that i is inside.
func wholeCharacters(s string, i int) int {
	for back := 0; back < utf8.UTFMax && i < len(s) && i > 0 && !utf8.RuneStart(s[i]); back++ {
		i--
	}
	return i
}
