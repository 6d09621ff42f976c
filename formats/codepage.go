package formats

import (
	"bytes"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// The bytes above 127 show which code page a file is in. In the wrong page they don't
// form words: a capital or a sign in the middle of a word, letters that no language has
// together, a word without a vowel, a letter in a place where no language writes it.
// Each of these has a cost, and the page with the lowest cost is the guess. The guess is
// clear if all pages with a different text cost at least clearBy more. The alphabets and
// spelling rules are common knowledge; nothing is counted from texts.

// codePage is an encoding with one byte a character, the same as ASCII below 0x80.
type codePage struct {
	name  string
	table *charmap.Charmap
	rare  int  // cost of a page that few drafts use
	dos   bool // from before Windows
}

// codePages returns the code pages that fettle knows. Of pages that read a file alike,
// the first wins.
func codePages() []codePage {
	return []codePage{
		{"windows-1252", charmap.Windows1252, 0, false},
		{"cp850", charmap.CodePage850, 2, true},
		{"cp437", charmap.CodePage437, 2, true},
		{"cp865", charmap.CodePage865, 2, true},
		{"mac-roman", charmap.Macintosh, 3, false},
		{"windows-1250", charmap.Windows1250, 3, false},
		{"cp852", charmap.CodePage852, 3, true},
	}
}

// language holds the letters beyond a to z of a language: its own, and those in borrowed
// words and names. A page must have its own letters and those it needs.
type language struct{ own, borrowed, needs string }

// languages returns the alphabets as dictionaries print them.
func languages() []language {
	return []language{
		{"", "éèêëïöüçñà", ""},            // English
		{"åäö", "éüàèáøæ", ""},            // Swedish, Finnish
		{"æøå", "éäöüèòôóêà", ""},         // Danish, Norwegian
		{"äöüß", "éèáàêçñ", ""},           // German
		{"éëïö", "èêüóáíàç", ""},          // Dutch
		{"éèêàçâîôûùëï", "öüñæœÿ", ""},    // French
		{"àèéìòù", "îíú", ""},             // Italian
		{"áéíóúñ", "üç", ""},              // Spanish
		{"áâãàçéêíóôõú", "üñ", ""},        // Portuguese
		{"àçèéíòóú", "ïüñ", ""},           // Catalan
		{"áðéíóúýþæö", "åäüø", ""},        // Icelandic
		{"áðíóúýæø", "éåäö", ""},          // Faroese
		{"áéíóú", "àèìòù", ""},            // Irish
		{"äõöü", "šžé", "šž"},             // Estonian
		{"ąćęłńóśźż", "éüöäáč", ""},       // Polish
		{"áčďéěíňóřšťúůýž", "öüä", ""},    // Czech
		{"áäčďéíľňóôšťúýž", "ĺŕöüěř", ""}, // Slovak
		{"áéíóöőúüű", "ä", ""},            // Hungarian
		{"čćđšž", "éöüáä", ""},            // Croatian, Slovene
		{"ăâîşţ", "éöüáó", ""},            // Romanian
	}
}

// The cost of a character. With these values, word lists in eighteen languages come out
// right or unclear, not wrong.
const (
	costImpossible = 10 // no text has this
	costForeign    = 6  // a letter that the language does not have
	costUnlikely   = 4
	costBorrowed   = 2
	costOdd        = 1

	clearBy = 4 // the least difference for a clear guess
)

// Limits, so that a file of bytes above 127 takes no longer than reading it.
const (
	maxSites = 4096  // places that are rated
	maxBytes = 65536 // bytes above 127 that are searched for places
)

type guess struct {
	codePage
	cost int
}

// rankPages returns the code pages a file may be in, the cheapest first, without those
// that read the file like an earlier one. The first is clear if it fits and no other
// comes close.
func rankPages(raw []byte) (list []guess, clear bool) {
	sites, used := findSites(raw)
	for _, p := range codePages() {
		if slices.ContainsFunc(list, func(g guess) bool { return sameReading(g.table, p.table, &used) }) {
			continue
		}
		list = append(list, guess{p, p.prior(raw) + p.cost(raw, sites)})
	}
	slices.SortStableFunc(list, func(a, b guess) int { return a.cost - b.cost })
	fits := list[0].cost <= costUnlikely*(len(sites)+1)
	return list, len(list) == 1 || fits && list[1].cost-list[0].cost >= clearBy
}

// prior returns the cost of a page for the line endings and the last byte of a file.
func (p *codePage) prior(raw []byte) int {
	cost := p.rare
	if p.table == charmap.Macintosh && bytes.IndexByte(raw, '\n') < 0 && bytes.IndexByte(raw, '\r') >= 0 {
		cost -= 6
	}
	if p.dos && bytes.HasSuffix(raw, []byte{endOfFile}) {
		cost -= 6
	}
	return cost
}

// endOfFile is the end-of-file mark (Ctrl-Z) of old systems.
const endOfFile = 0x1a

// findSites returns the places of bytes above 127, one for each combination with its
// neighbours, and which of these bytes occur.
func findSites(raw []byte) (sites []int, used [128]bool) {
	seen := map[[3]byte]bool{}
	looked := 0
	for i, c := range raw {
		if c < 0x80 {
			continue
		}
		used[c-0x80] = true
		if looked++; looked > maxBytes || len(sites) == maxSites {
			continue
		}
		around := [3]byte{' ', c, ' '}
		if i > 0 {
			around[0] = raw[i-1]
		}
		if i+1 < len(raw) {
			around[2] = raw[i+1]
		}
		if !seen[around] {
			seen[around] = true
			sites = append(sites, i)
		}
	}
	return sites, used
}

func sameReading(a, b *charmap.Charmap, used *[128]bool) bool {
	for i, is := range used {
		if is && a.DecodeByte(byte(0x80+i)) != b.DecodeByte(byte(0x80+i)) {
			return false
		}
	}
	return true
}

// cost returns the cost of the characters at sites: for their places, and for the
// language that fits best.
func (p *codePage) cost(raw []byte, sites []int) int {
	cost := 0
	letters := map[rune]int{}
	estonian := p.writes(language{own: "õšž"})
	for _, at := range sites {
		w := p.window(raw, at)
		r := w.at(0)
		if unicode.IsLetter(r) {
			cost += w.letter() + w.spelling(estonian)
			letters[unicode.ToLower(r)]++
		} else {
			cost += w.mark()
		}
	}
	return cost + p.foreign(letters)
}

// foreign returns the cost of letters, with their counts, in the language that fits best.
func (p *codePage) foreign(letters map[rune]int) int {
	least := -1
	for _, l := range languages() {
		if !p.writes(l) {
			continue
		}
		cost := 0
		for r, n := range letters {
			switch {
			case strings.ContainsRune(l.own, r):
			case strings.ContainsRune(l.borrowed, r):
				cost += n * costBorrowed
			case unicode.Is(unicode.Latin, r):
				cost += n * costForeign
			default:
				cost += n * costImpossible
			}
		}
		if least < 0 || cost < least {
			least = cost
		}
	}
	return least
}

func (p *codePage) writes(l language) bool {
	for _, r := range l.own + l.needs {
		if _, ok := p.table.EncodeRune(r); !ok {
			return false
		}
	}
	return true
}

// reach is the size of a window on each side.
const reach = 16

// window is a character and those around it, read in a code page. Outside the text there
// are spaces.
type window [2*reach + 1]rune

func (p *codePage) window(raw []byte, at int) *window {
	var w window
	for i := range w {
		w[i] = ' '
		if j := at + i - reach; j >= 0 && j < len(raw) {
			w[i] = p.table.DecodeByte(raw[j])
		}
	}
	return &w
}

// at returns the character at an offset from the middle.
func (w *window) at(i int) rune { return w[reach+i] }

const vowels = "aeiouyáàâäãåăąæéèêëěęíìîïóòôöõøőúùûüůűýÿœ"

func isVowel(r rune) bool { return strings.ContainsRune(vowels, unicode.ToLower(r)) }

func isConsonant(r rune) bool { return unicode.IsLetter(r) && !isVowel(r) }

// letter returns the cost of the letter in the middle.
func (w *window) letter() int {
	before, r, after := w.at(-1), w.at(0), w.at(1)
	cost := 0
	if before == r && after == r {
		cost += costUnlikely
	}
	if before == '=' && unicode.IsLower(r) {
		cost += costBorrowed
	}
	switch {
	case unicode.IsUpper(r) && unicode.IsLower(before):
		return cost + costImpossible
	case unicode.IsUpper(r) && unicode.IsUpper(before) && unicode.IsLower(after):
		cost += costForeign
	case unicode.IsLower(r) && unicode.IsUpper(after):
		cost += costForeign
	case unicode.IsLower(r) && unicode.IsUpper(before) && unicode.IsUpper(w.at(-2)):
		cost += costForeign
	}
	for _, beside := range []rune{before, after} {
		if unicode.IsDigit(beside) {
			cost += costUnlikely
		}
	}
	return cost + w.sound()
}

// sound returns the cost of a letter among vowels and consonants, which alternate in
// words.
func (w *window) sound() int {
	before, r, after := w.at(-1), w.at(0), w.at(1)
	cost := 0
	if isVowel(r) {
		switch {
		case isVowel(before) && isVowel(after):
			cost = 3
		case isVowel(before), isVowel(after):
			cost = costOdd
		}
	} else {
		switch {
		case isConsonant(before) && isConsonant(after):
			cost = costUnlikely
		case isConsonant(before) && !unicode.IsLetter(after), isConsonant(after) && !unicode.IsLetter(before):
			cost = costOdd
		}
	}
	if !w.hasVowel() {
		cost += costUnlikely
	}
	return cost
}

// hasVowel reports whether the word has a vowel.
func (w *window) hasVowel() bool {
	for _, step := range []int{-1, 1} {
		for i := 0; i >= -reach && i <= reach && unicode.IsLetter(w.at(i)); i += step {
			if isVowel(w.at(i)) {
				return true
			}
		}
	}
	return false
}

// spelling returns the cost of a letter in a place where its languages don't write it.
// Estonian has õ in other places than Portuguese.
func (w *window) spelling(estonian bool) int {
	before, r, after, next := unicode.ToLower(w.at(-1)), unicode.ToLower(w.at(0)), unicode.ToLower(w.at(1)), unicode.ToLower(w.at(2))
	starts, ends := !unicode.IsLetter(before), !unicode.IsLetter(after)
	fits, cost := true, costUnlikely
	among := strings.ContainsRune
	switch r {
	case 'è': // French: before a consonant and e, or s at the end; Italian and Catalan: at the end
		fits = ends || isConsonant(after) && (next == 'e' || !unicode.IsLetter(next)) ||
			among("bcdfgptv", after) && among("rlt", next) || among("gq", after) && next == 'u' || after == next
	case 'ù', 'ì':
		fits = ends
	case 'à', 'ò':
		fits, cost = ends, costOdd
	case 'ë', 'ï': // a separate vowel
		fits = isVowel(before)
	case 'î':
		fits, cost = starts || among("aou", before), costBorrowed
	case 'ê':
		fits = ends || among("tlmcnvpsrzgqe", after)
	case 'â':
		if fits = !starts || among("mgntpc", after); fits && among("aeiouæ", before) {
			return costBorrowed
		}
	case 'ÿ':
		fits = false
	case 'ñ':
		fits = isVowel(after)
	case 'ç':
		if fits = among("aouáàâãóôõúéê", after) && (isVowel(before) || among("nrl", before)); ends {
			return costBorrowed
		}
	case 'ã':
		fits = ends || among("oes", after)
	case 'õ':
		fits = after == 'e' || estonian && !ends
	case 'ß':
		if fits = isVowel(before); fits && !ends && !isVowel(after) && !among("tlbgs", after) {
			return costBorrowed
		}
	case 'æ':
		fits = !isVowel(before)
	case 'œ':
		fits = after == 'u' || isConsonant(after)
	case 'þ':
		if fits = isVowel(after) || among("rjv", after); fits && !starts {
			return costBorrowed
		}
	case 'ð', 'ů':
		fits = !starts
	case 'ě':
		fits = among("bpvmdtnf", before)
	case 'ń', 'ś', 'ź':
		fits = !isVowel(after)
	case 'ď':
		fits, cost = !isConsonant(after), costBorrowed
	case 'č', 'ř', 'š', 'ž':
		fits = !among("yý", after)
	case 'ĺ', 'ŕ':
		fits = isConsonant(before) && isConsonant(after)
	}
	if fits {
		return 0
	}
	return cost
}

// mark returns the cost of a character that isn't a letter.
func (w *window) mark() int {
	before, r, after := w.at(-1), w.at(0), w.at(1)
	inside := unicode.IsLetter(before) && unicode.IsLetter(after)
	open, closed := !unicode.IsLetter(before), !unicode.IsLetter(after)
	fits := false
	switch r {
	case utf8.RuneError:
		return costImpossible
	case '’':
		return w.apostrophe()
	case '“', '„', '«', '‘', '‚', '‹', '¿', '¡':
		fits = open && !unicode.IsSpace(after)
	case '”', '»', '›':
		fits = closed && !unicode.IsSpace(before)
	case '–', '—':
		if inside {
			return costForeign
		}
		fits = true
	case '…':
		fits = closed
	case '·', '•':
		fits = open
		if inside {
			return costUnlikely
		}
	case '½', '¼', '¾':
		fits = closed && (unicode.IsDigit(before) || unicode.IsSpace(before))
	case '°', 'º', 'ª', '²', '³', '¹', '×', '÷', '±':
		fits = unicode.IsDigit(before) || unicode.IsDigit(after)
		if (r == '²' || r == '³') && before == 'm' && closed {
			fits = true
		}
	case '≈', '≤', '≥':
		fits = open && (unicode.IsSpace(after) || unicode.IsDigit(after))
	case '£', '€', '§', '¢', '¥':
		fits = unicode.IsDigit(before) || unicode.IsDigit(after) || unicode.IsDigit(w.at(2)) || unicode.IsDigit(w.at(-2))
	case '©', '®', '™':
		fits = closed
	case '\u00a0':
		if inside {
			return costForeign
		}
		fits = true
	}
	switch {
	case fits:
		return costOdd
	case r < 0xa0:
		return costImpossible
	case inside:
		return costImpossible
	case r >= 0x2500 && r < 0x25a0: // box-drawing characters
		if before == r || after == r || before >= 0x2500 && before < 0x25a0 || after >= 0x2500 && after < 0x25a0 {
			return costOdd
		}
	}
	return costForeign
}

// apostrophe returns the cost of an apostrophe: low in English contractions, and in
// French and Italian before a vowel.
func (w *window) apostrophe() int {
	before, after := w.word(-1), w.word(1)
	switch {
	case after == "" && !strings.HasSuffix(before, "s"):
		return costUnlikely
	case after == "":
		return -costOdd
	case before == "":
		return costOdd
	case slices.Contains([]string{"s", "t", "d", "m", "ll", "re", "ve"}, after):
		return -costBorrowed
	case slices.Contains([]string{"a", "o", "as", "os", "an"}, after):
		return costForeign
	case strings.ContainsRune("aeiouyhéèêâîô", []rune(after)[0]) &&
		slices.Contains([]string{"d", "l", "n", "s", "j", "m", "t", "c", "qu", "o", "un", "dell", "nell", "all", "dall", "sull"}, before):
		return 0
	}
	return costForeign + costBorrowed
}

// word returns the word before the middle (step -1) or after it (step 1), in lower case.
func (w *window) word(step int) string {
	end := 0
	for end+step >= -reach && end+step <= reach && unicode.IsLetter(w.at(end+step)) {
		end += step
	}
	if step < 0 {
		return strings.ToLower(string(w[reach+end : reach]))
	}
	return strings.ToLower(string(w[reach+1 : reach+end+1]))
}
