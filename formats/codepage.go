package formats

import (
	"bytes"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// Which code page a file is in shows in its bytes above 127. Each page reads them
// as other characters, and in the wrong page these make no words: a capital or a
// sign in the middle of a word, letters that no one language has together, a
// word without a vowel, a letter where no language writes it. Each of these costs a
// reading something, and the cheapest reading is the guess. It is clear where every
// reading that differs costs clearBy more. The alphabets and rules of spelling are
// common knowledge; nothing here is counted from texts.

// page is a code page: a byte is a character, and below 0x80 it is ASCII.
type page struct {
	name  string
	table *charmap.Charmap
	rare  int  // cost of guessing a page that few drafts are in
	dos   bool // from before Windows
}

// pages returns the code pages fettle knows. Where two read a file alike, the
// first gives its name.
func pages() []page {
	return []page{
		{"windows-1252", charmap.Windows1252, 0, false},
		{"cp850", charmap.CodePage850, 2, true},
		{"cp437", charmap.CodePage437, 2, true},
		{"cp865", charmap.CodePage865, 2, true},
		{"mac-roman", charmap.Macintosh, 3, false},
		{"windows-1250", charmap.Windows1250, 3, false},
		{"cp852", charmap.CodePage852, 3, true},
	}
}

// language is the letters beyond a to z that a language is written in: its own,
// and those met in borrowed words and names. A page may lack the borrowed ones, but
// not those that it needs.
type language struct{ own, borrowed, needs string }

// languages lists alphabets as dictionaries print them.
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

// What a character costs a reading. The steps are set so that lists of words in
// eighteen languages come out right or unclear, not wrong.
const (
	proof    = 10 // no text has this
	foreign  = 6  // a letter that the language does not have
	unlikely = 4
	borrowed = 2
	odd      = 1

	clearBy = 4 // by how much a reading must be cheaper to be clear
)

// The weighing is bounded, so that a file of bytes above 127 takes no longer than
// going through it.
const (
	mostSites = 4096  // places that are weighed
	mostBytes = 65536 // bytes above 127 that are looked at for them
)

// guess is a code page that a file may be in.
type guess struct {
	page
	cost int
}

// weigh weighs the code pages a file may be in. The cheapest comes first; those
// that read the file like one before them are left out. The first is clear where it
// fits, and no other comes near.
func weigh(raw []byte) (list []guess, clear bool) {
	sites, used := sitesOf(raw)
	for _, p := range pages() {
		if slices.ContainsFunc(list, func(g guess) bool { return alike(g.table, p.table, &used) }) {
			continue
		}
		list = append(list, guess{p, p.prior(raw) + p.cost(raw, sites)})
	}
	slices.SortStableFunc(list, func(a, b guess) int { return a.cost - b.cost })
	fits := list[0].cost <= unlikely*(len(sites)+1)
	return list, len(list) == 1 || fits && list[1].cost-list[0].cost >= clearBy
}

// prior returns what a page costs by how the lines of a file and the file end.
func (p *page) prior(raw []byte) int {
	cost := p.rare
	if p.table == charmap.Macintosh && bytes.IndexByte(raw, '\n') < 0 && bytes.IndexByte(raw, '\r') >= 0 {
		cost -= 6
	}
	if p.dos && bytes.HasSuffix(raw, []byte{endOfFile}) {
		cost -= 6
	}
	return cost
}

// endOfFile is the mark that programs of old wrote after a text, Ctrl-Z.
const endOfFile = 0x1a

// sitesOf returns the places of bytes above 127, one for all that stand between
// the same two, and which of these bytes there are.
func sitesOf(raw []byte) (sites []int, used [128]bool) {
	seen := map[[3]byte]bool{}
	looked := 0
	for i, c := range raw {
		if c < 0x80 {
			continue
		}
		used[c-0x80] = true
		if looked++; looked > mostBytes || len(sites) == mostSites {
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

func alike(a, b *charmap.Charmap, used *[128]bool) bool {
	for i, is := range used {
		if is && a.DecodeByte(byte(0x80+i)) != b.DecodeByte(byte(0x80+i)) {
			return false
		}
	}
	return true
}

// cost returns what the characters at sites cost: by where each stands, and by
// the language that has most of the letters.
func (p *page) cost(raw []byte, sites []int) int {
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

// foreign returns what letters, each so often, cost in the language of the page
// that explains them best.
func (p *page) foreign(letters map[rune]int) int {
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
				cost += n * borrowed
			case unicode.Is(unicode.Latin, r):
				cost += n * foreign
			default:
				cost += n * proof
			}
		}
		if least < 0 || cost < least {
			least = cost
		}
	}
	return least
}

// writes reports whether a page has all letters of a language.
func (p *page) writes(l language) bool {
	for _, r := range l.own + l.needs {
		if _, ok := p.table.EncodeRune(r); !ok {
			return false
		}
	}
	return true
}

// reach is how far around a character a window goes.
const reach = 16

// window is a character and those around it, read in a code page. Beyond the
// text there are blanks.
type window [2*reach + 1]rune

func (p *page) window(raw []byte, at int) *window {
	var w window
	for i := range w {
		w[i] = ' '
		if j := at + i - reach; j >= 0 && j < len(raw) {
			w[i] = p.table.DecodeByte(raw[j])
		}
	}
	return &w
}

// at returns the character so many after the one in the middle.
func (w *window) at(i int) rune { return w[reach+i] }

const vowels = "aeiouyáàâäãåăąæéèêëěęíìîïóòôöõøőúùûüůűýÿœ"

func isVowel(r rune) bool { return strings.ContainsRune(vowels, unicode.ToLower(r)) }

func isConsonant(r rune) bool { return unicode.IsLetter(r) && !isVowel(r) }

// letter returns what the letter in the middle costs where it stands.
func (w *window) letter() int {
	before, r, after := w.at(-1), w.at(0), w.at(1)
	cost := 0
	if before == r && after == r {
		cost += unlikely
	}
	if before == '=' && unicode.IsLower(r) {
		cost += borrowed
	}
	switch {
	case unicode.IsUpper(r) && unicode.IsLower(before):
		return cost + proof
	case unicode.IsUpper(r) && unicode.IsUpper(before) && unicode.IsLower(after):
		cost += foreign
	case unicode.IsLower(r) && unicode.IsUpper(after):
		cost += foreign
	case unicode.IsLower(r) && unicode.IsUpper(before) && unicode.IsUpper(w.at(-2)):
		cost += foreign
	}
	for _, beside := range []rune{before, after} {
		if unicode.IsDigit(beside) {
			cost += unlikely
		}
	}
	return cost + w.sound()
}

// sound returns what a letter costs beside vowels and consonants: a word has
// both, by turns.
func (w *window) sound() int {
	before, r, after := w.at(-1), w.at(0), w.at(1)
	cost := 0
	if isVowel(r) {
		switch {
		case isVowel(before) && isVowel(after):
			cost = 3
		case isVowel(before), isVowel(after):
			cost = odd
		}
	} else {
		switch {
		case isConsonant(before) && isConsonant(after):
			cost = unlikely
		case isConsonant(before) && !unicode.IsLetter(after), isConsonant(after) && !unicode.IsLetter(before):
			cost = odd
		}
	}
	if !w.hasVowel() {
		cost += unlikely
	}
	return cost
}

// hasVowel reports whether the word around has a vowel.
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

// spelling returns what a letter costs where the languages that have it do not
// write it. Estonian has õ in other places than Portuguese.
func (w *window) spelling(estonian bool) int {
	before, r, after, next := unicode.ToLower(w.at(-1)), unicode.ToLower(w.at(0)), unicode.ToLower(w.at(1)), unicode.ToLower(w.at(2))
	starts, ends := !unicode.IsLetter(before), !unicode.IsLetter(after)
	fits, cost := true, unlikely
	among := strings.ContainsRune
	switch r {
	case 'è': // French: before a consonant and e, or s at the end; Italian and Catalan: at the end
		fits = ends || isConsonant(after) && (next == 'e' || !unicode.IsLetter(next)) ||
			among("bcdfgptv", after) && among("rlt", next) || among("gq", after) && next == 'u' || after == next
	case 'ù', 'ì':
		fits = ends
	case 'à', 'ò':
		fits, cost = ends, odd
	case 'ë', 'ï': // a vowel said by itself
		fits = isVowel(before)
	case 'î':
		fits, cost = starts || among("aou", before), borrowed
	case 'ê':
		fits = ends || among("tlmcnvpsrzgqe", after)
	case 'â':
		if fits = !starts || among("mgntpc", after); fits && among("aeiouæ", before) {
			return borrowed
		}
	case 'ÿ':
		fits = false
	case 'ñ':
		fits = isVowel(after)
	case 'ç':
		if fits = among("aouáàâãóôõúéê", after) && (isVowel(before) || among("nrl", before)); ends {
			return borrowed
		}
	case 'ã':
		fits = ends || among("oes", after)
	case 'õ':
		fits = after == 'e' || estonian && !ends
	case 'ß':
		if fits = isVowel(before); fits && !ends && !isVowel(after) && !among("tlbgs", after) {
			return borrowed
		}
	case 'æ':
		fits = !isVowel(before)
	case 'œ':
		fits = after == 'u' || isConsonant(after)
	case 'þ':
		if fits = isVowel(after) || among("rjv", after); fits && !starts {
			return borrowed
		}
	case 'ð', 'ů':
		fits = !starts
	case 'ě':
		fits = among("bpvmdtnf", before)
	case 'ń', 'ś', 'ź':
		fits = !isVowel(after)
	case 'ď':
		fits, cost = !isConsonant(after), borrowed
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

// mark returns what a character that is no letter costs where it stands.
func (w *window) mark() int {
	before, r, after := w.at(-1), w.at(0), w.at(1)
	inside := unicode.IsLetter(before) && unicode.IsLetter(after)
	open, closed := !unicode.IsLetter(before), !unicode.IsLetter(after)
	fits := false
	switch r {
	case utf8.RuneError:
		return proof
	case '’':
		return w.apostrophe()
	case '“', '„', '«', '‘', '‚', '‹', '¿', '¡':
		fits = open && !unicode.IsSpace(after)
	case '”', '»', '›':
		fits = closed && !unicode.IsSpace(before)
	case '–', '—':
		if inside {
			return foreign
		}
		fits = true
	case '…':
		fits = closed
	case '·', '•':
		fits = open
		if inside {
			return unlikely
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
			return foreign
		}
		fits = true
	}
	switch {
	case fits:
		return odd
	case r < 0xa0:
		return proof
	case inside:
		return proof
	case r >= 0x2500 && r < 0x25a0: // what boxes and rules are drawn with
		if before == r || after == r || before >= 0x2500 && before < 0x25a0 || after >= 0x2500 && after < 0x25a0 {
			return odd
		}
	}
	return foreign
}

// apostrophe returns what an apostrophe costs: least where English shortens a
// word, or French and Italian do before a vowel.
func (w *window) apostrophe() int {
	before, after := w.word(-1), w.word(1)
	switch {
	case after == "" && !strings.HasSuffix(before, "s"):
		return unlikely
	case after == "":
		return -odd
	case before == "":
		return odd
	case slices.Contains([]string{"s", "t", "d", "m", "ll", "re", "ve"}, after):
		return -borrowed
	case slices.Contains([]string{"a", "o", "as", "os", "an"}, after):
		return foreign
	case strings.ContainsRune("aeiouyhéèêâîô", []rune(after)[0]) &&
		slices.Contains([]string{"d", "l", "n", "s", "j", "m", "t", "c", "qu", "o", "un", "dell", "nell", "all", "dall", "sull"}, before):
		return 0
	}
	return foreign + borrowed
}

// word returns the word that ends before the middle or begins after it, for a
// step of -1 or 1, in small letters.
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
