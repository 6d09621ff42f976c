package measure

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"fettle/schema/wording"
)

// words is a value split into numbers, names and signs. Reading takes words off
// the front.
type words struct {
	text string
	list []string
}

// longestWords is far longer than any way to write a yarn size or a stock.
const longestWords = 200

// readWords splits a value. Letters become lower case, a times sign becomes an x
// and the word per becomes a slash.
func readWords(s string) (*words, error) {
	if len(s) > longestWords {
		return nil, fmt.Errorf("%s is too long; the limit is %d characters", wording.Quote(s), longestWords)
	}
	p := &words{text: s}
	for rest := strings.ToLower(s); rest != ""; {
		var word string
		if word, rest = cutWord(rest); word != "" {
			p.list = append(p.list, word)
		}
	}
	for _, w := range p.list {
		if _, err := weaverNumber(w, s); ambiguous(err) {
			return nil, err
		}
	}
	return p, nil
}

// cutWord takes a number, a name or a single sign off the front. The word is ""
// for a space.
func cutWord(s string) (word, rest string) {
	r, size := utf8.DecodeRuneInString(s)
	switch {
	case unicode.IsSpace(r):
		return "", s[size:]
	case r == '×':
		return "x", s[size:]
	case r == '⁄':
		return "/", s[size:]
	case isFigure(r):
		size = lengthOf(s, isFigure)
	case unicode.IsLetter(r):
		size = lengthOf(s, func(r rune) bool { return unicode.IsLetter(r) })
	}
	if word = s[:size]; word == "per" {
		word = "/"
	}
	return word, s[size:]
}

func isFigure(r rune) bool { return r >= '0' && r <= '9' || r == '.' || r == ',' }

func lengthOf(s string, in func(rune) bool) int {
	if i := strings.IndexFunc(s, func(r rune) bool { return !in(r) }); i >= 0 {
		return i
	}
	return len(s)
}

func (p *words) done() bool { return len(p.list) == 0 }

func (p *words) next() string {
	if p.done() {
		return ""
	}
	w := p.list[0]
	p.list = p.list[1:]
	return w
}

func (p *words) take(word string) bool {
	if p.done() || p.list[0] != word {
		return false
	}
	p.list = p.list[1:]
	return true
}

func (p *words) number() (float64, bool) {
	if p.done() {
		return 0, false
	}
	v, err := weaverNumber(p.list[0], p.text)
	if err != nil || v <= 0 {
		return 0, false
	}
	p.list = p.list[1:]
	return v, true
}

// unread is the reason why a quantity can't be read.
type unread uint8

const (
	allRead  unread = iota
	noNumber        // a number is missing, or a unit isn't smaller than the one before
	noUnit
)

// amounts takes all words as amounts and adds them up. Each has a unit smaller
// than the one before: 1 1/2 yd, 5 ft 2 in, 1 lb 4 oz.
func (p *words) amounts(unit func(name string) (size float64, ok bool)) (sum float64, of unread) {
	for last := math.Inf(1); ; {
		v, ok := p.amount()
		if !ok {
			return 0, noNumber
		}
		size, ok := unit(p.next())
		if !ok {
			return 0, noUnit
		}
		if size >= last {
			return 0, noNumber
		}
		sum, last = sum+v*size, size
		if p.done() {
			return sum, allRead
		}
	}
}

// zero reports whether the value is just a 0.
func (p *words) zero() bool {
	v, ok := p.amount()
	return ok && v == 0 && p.done()
}

// amount takes a number of 0 or more, with or without a fraction: 2.5, 0, 1/2,
// 1 1/2, 1-1/2, 1½.
func (p *words) amount() (float64, bool) {
	if v, ok := p.fraction(); ok {
		return v, true
	}
	if p.done() {
		return 0, false
	}
	v, err := weaverNumber(p.list[0], p.text)
	if err != nil {
		return 0, false
	}
	p.list = p.list[1:]
	if v != math.Trunc(v) {
		return v, true
	}
	if len(p.list) > 3 && p.list[0] == "-" {
		p.list = p.list[1:]
	}
	part, _ := p.fraction()
	return v + part, true
}

// fraction takes a fraction below 1: ½ or 1/2.
func (p *words) fraction() (float64, bool) {
	if p.done() {
		return 0, false
	}
	if v, ok := fractions[p.list[0]]; ok {
		p.list = p.list[1:]
		return v, true
	}
	if len(p.list) < 3 || p.list[1] != "/" {
		return 0, false
	}
	over, err := weaverNumber(p.list[0], p.text)
	under, wrong := weaverNumber(p.list[2], p.text)
	if err != nil || wrong != nil || !isCount(over) || !isCount(under) || over >= under {
		return 0, false
	}
	p.list = p.list[3:]
	return over / under, true
}

// fractions holds the fractions that are one character.
var fractions = map[string]float64{
	"¼": 0.25, "½": 0.5, "¾": 0.75, "⅓": 1.0 / 3, "⅔": 2.0 / 3, "⅛": 0.125, "⅜": 0.375, "⅝": 0.625, "⅞": 0.875,
}

// hasZero reports whether any number is 0 or negative.
func (p *words) hasZero() bool {
	return slices.ContainsFunc(p.list, func(w string) bool {
		v, err := weaverNumber(w, p.text)
		return w == "-" || err == nil && v <= 0
	})
}

// names takes the next names and joins them with spaces. It stops at an x.
func (p *words) names() string {
	n := 0
	for n < len(p.list) && p.list[n] != "x" {
		if r, _ := utf8.DecodeRuneInString(p.list[n]); !unicode.IsLetter(r) {
			break
		}
		n++
	}
	joined := strings.Join(p.list[:n], " ")
	p.list = p.list[n:]
	return joined
}

func (p *words) isLengthUnit() bool {
	if p.done() {
		return false
	}
	_, ok := lengthUnits[p.list[0]]
	return ok || p.list[0] == "ypp"
}
