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

// words is a yarn size or a stock cut into numbers, names and signs, and how
// far it has been read.
type words struct {
	text string
	list []string
}

// longestWords bounds what is looked at: no way of writing a yarn size or a
// stock comes near it.
const longestWords = 200

// readWords cuts a value up. Letters become small ones, a times sign is an x
// and the word per is a slash.
func readWords(s string) (*words, error) {
	if len(s) > longestWords {
		return nil, fmt.Errorf("%s is too long: %d characters is the most", wording.Quote(s), longestWords)
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

// cutWord takes a number, a name or a single sign off the front; "" for space.
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

// next takes the next word, "" at the end.
func (p *words) next() string {
	if p.done() {
		return ""
	}
	w := p.list[0]
	p.list = p.list[1:]
	return w
}

// take takes the next word if it is that one.
func (p *words) take(word string) bool {
	if p.done() || p.list[0] != word {
		return false
	}
	p.list = p.list[1:]
	return true
}

// number takes the next word if it is a number above 0.
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

// unread is what keeps an amount with its units from being read.
type unread uint8

const (
	allRead  unread = iota
	noNumber        // where one is to stand, or units that do not become smaller
	noUnit
)

// measure takes all words as amounts, each with its unit and in ever smaller ones,
// and adds them up: 1 1/2 yd, 5 ft 2 in, 1 lb 4 oz.
func (p *words) measure(unit func(name string) (size float64, ok bool)) (sum float64, of unread) {
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

// zero says whether all there is is a 0.
func (p *words) zero() bool {
	v, ok := p.amount()
	return ok && v == 0 && p.done()
}

// amount takes a number from 0 up, which may be or end in a fraction: 2.5, 0, 1/2,
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

// fraction takes one below 1: ½ or 1/2.
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
	if err != nil || wrong != nil || !whole(over) || !whole(under) || over >= under {
		return 0, false
	}
	p.list = p.list[3:]
	return over / under, true
}

// fractions are those that are one character.
var fractions = map[string]float64{
	"¼": 0.25, "½": 0.5, "¾": 0.75, "⅓": 1.0 / 3, "⅔": 2.0 / 3, "⅛": 0.125, "⅜": 0.375, "⅝": 0.625, "⅞": 0.875,
}

// hasZero says whether any number is 0 or has a minus before it.
func (p *words) hasZero() bool {
	return slices.ContainsFunc(p.list, func(w string) bool {
		v, err := weaverNumber(w, p.text)
		return w == "-" || err == nil && v <= 0
	})
}

// names takes the names that come next, with a space between; an x is none.
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

// isLengthUnit says whether the next word is a unit of length.
func (p *words) isLengthUnit() bool {
	if p.done() {
		return false
	}
	_, ok := lengthUnits[p.list[0]]
	return ok || p.list[0] == "ypp"
}
