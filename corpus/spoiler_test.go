package corpus

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
)

// Meaning holds the draft as it was meant, and how it was spoiled.
type Meaning struct {
	Kind  string        // the kind of mistake, in a few words
	Draft *schema.Draft // the draft that was meant
	Sound []byte        // the file before it was spoiled
	Rules []string      // rules one of which must report the mistake; none if nothing is wrong
	Lines []int         // the spoiled lines, from 1; none if no single line is wrong
	Words string        // the value that the finding must suggest; "" if any will do
}

// SpoilingKinds returns the kinds of mistakes that Spoiled makes, in order.
func SpoilingKinds() []string {
	var kinds []string
	for _, s := range spoilings() {
		kinds = append(kinds, s.kind)
	}
	return kinds
}

// Spoiled returns a sound draft with one mistake, and the draft as it was meant.
// Successive seeds take the kinds of mistakes in turn. The same seed gives the same
// bytes.
func Spoiled(seed uint64) ([]byte, Meaning) {
	all := spoilings()
	how := all[seed%uint64(len(all))]
	for try := uint64(0); ; try++ {
		s := newSpoiler(seed, try)
		sound := s.bytes()
		if !how.spoil(s) {
			continue // this draft can't have that mistake
		}
		return s.bytes(), Meaning{how.kind, s.draft, sound, how.rules, s.spoiled(), s.words}
	}
}

// spoiling is one kind of mistake. spoil returns false, and changes nothing, if the draft
// can't have it.
type spoiling struct {
	kind  string
	rules []string
	spoil func(s *spoiler) bool
}

// spoiler is a draft as the lines of a file.
type spoiler struct {
	rand   *rand.Rand
	draft  *schema.Draft
	lines  []typedLine
	breaks string                   // the line ending
	words  string                   // as in Meaning
	encode func(text string) []byte // nil for UTF-8
}

// typedLine is a line of the file, and whether it is spoiled.
type typedLine struct {
	text    string
	spoiled bool
}

// newSpoiler writes a random sound draft.
func newSpoiler(seed, try uint64) *spoiler {
	s := &spoiler{rand: rand.New(rand.NewPCG(seed, 0x73706f696c+try))}
	s.draft = s.sound()
	s.breaks = s.pick("\n", "\r\n")
	equals := s.pick("=", "=", "=", " = ")
	for i, section := range s.sections() {
		if i > 0 {
			s.lines = append(s.lines, typedLine{})
		}
		s.lines = append(s.lines, typedLine{text: "[" + section[0] + "]"})
		for _, l := range section[1:] {
			s.lines = append(s.lines, typedLine{text: strings.Replace(l, "=", equals, 1)})
		}
	}
	return s
}

// sound returns a draft without faults: runs, points, blocks or the motifs of Generate on
// 4 to 24 shafts, in twill and plain weave.
func (s *spoiler) sound() *schema.Draft {
	shafts := []int{4, 4, 8, 8, 12, 16, 24}[s.rand.IntN(7)]
	ends, picks := shafts*2+s.rand.IntN(40), shafts*2+6+s.rand.IntN(30)
	if s.one(40) {
		ends = 1200 + s.rand.IntN(100)
	}
	d := Generate(s.rand.Uint64(), GenOptions{Ends: ends, Picks: picks, Shafts: shafts, Colors: 1 + s.rand.IntN(5), LiftPlan: s.one(3), Sinking: s.one(4)})
	if threading := s.regular(ends, shafts); threading != nil {
		d.Threading = schema.Singles(threading...)
	}
	d.Texts.Title = s.pick("Tea towel", "Grüner Schal, Café", "Rosengång, åtta skaft", "Mønster på ull", "Toalha de algodão", "Twill no. 7 = best")
	d.Texts.Author = s.pick("", "Ada of Quarrow", "Åse på Sjö")
	if s.one(3) {
		d.Notes = []string{"Sett close.", "Full warm = soft."}
	}
	spacing := []float64{0.127, 0.2, 0.1, 0.25}[s.rand.IntN(4)]
	for _, system := range []*schema.System{&d.Warp, &d.Weft} {
		system.Unit, system.Spacing = schema.Centimetres, spacing
		system.Trim()
	}
	return d
}

// regular returns a threading that repeats one motif; nil to keep the generated one.
func (s *spoiler) regular(ends, shafts int) []int32 {
	up := straight(nil, 1, shafts, shafts)
	var motif []int32
	switch s.rand.IntN(4) {
	case 0:
		motif = up
	case 1:
		motif = straight(up, shafts-1, -(shafts - 2), shafts)
	case 2:
		for n := 1; n < shafts; n += 2 {
			block := straight(nil, n, 2, shafts)
			motif = append(append(append(motif, block...), block...), block...)
		}
	default:
		return nil
	}
	var list []int32
	for len(list) < ends {
		list = append(list, motif...)
	}
	return list[:ends]
}

// sections returns the sections of the draft: for each its name, then its lines.
func (s *spoiler) sections() [][]string {
	d := s.draft
	var list [][]string
	put := func(name string, lines ...string) {
		lines = slices.DeleteFunc(lines, func(l string) bool { return strings.HasSuffix(l, "=") })
		if len(lines) > 0 {
			list = append(list, append([]string{name}, lines...))
		}
	}
	put("TEXT", "Title="+d.Texts.Title, "Author="+d.Texts.Author)
	weaving := []string{fmt.Sprint("Shafts=", d.Shafts)}
	if d.Treadles > 0 {
		weaving = append(weaving, fmt.Sprint("Treadles=", d.Treadles))
	}
	put("WEAVING", append(weaving, fmt.Sprint("Rising Shed=", d.Shed == schema.Rising))...)
	for _, system := range []struct {
		name string
		of   *schema.System
	}{{"WARP", &d.Warp}, {"WEFT", &d.Weft}} {
		put(system.name, fmt.Sprint("Threads=", system.of.Threads), fmt.Sprint("Color=", system.of.Color), "Units=Centimeters", "Spacing="+decimal(system.of.Spacing))
	}
	put("COLOR PALETTE", fmt.Sprint("Entries=", len(d.Palette)), "Form=RGB", "Range=0,255")
	put("NOTES", numbered(len(d.Notes), func(n int) string { return d.Notes[n-1] })...)
	put("TIEUP", rowsOf(&d.Tieup)...)
	put("COLOR TABLE", numbered(len(d.Palette), func(n int) string {
		c := d.Palette[n-1]
		return fmt.Sprintf("%d,%d,%d", c.R, c.G, c.B)
	})...)
	put("THREADING", rowsOf(&d.Threading)...)
	put("WARP COLORS", numbered(len(d.Warp.Colors), func(n int) string { return fmt.Sprint(d.Warp.Colors[n-1]) })...)
	put("TREADLING", rowsOf(&d.Treadling)...)
	put("LIFTPLAN", rowsOf(&d.LiftPlan)...)
	put("WEFT COLORS", numbered(len(d.Weft.Colors), func(n int) string { return fmt.Sprint(d.Weft.Colors[n-1]) })...)
	contents := []string{"CONTENTS"}
	for _, section := range list {
		contents = append(contents, section[0]+"=true")
	}
	return append([][]string{{"WIF", "Version=1.1", "Date=April 20, 1997", "Developers=wif@mhsoft.com"}, contents}, list...)
}

func numbered(count int, value func(n int) string) []string {
	var lines []string
	for n := 1; n <= count; n++ {
		lines = append(lines, strconv.Itoa(n)+"="+value(n))
	}
	return lines
}

func rowsOf(t *schema.Rows) []string {
	return numbered(t.Len(), func(n int) string { return list(t.Row(n), ",") })
}

func list(numbers []int32, mark string) string {
	words := make([]string, len(numbers))
	for i, n := range numbers {
		words[i] = strconv.Itoa(int(n))
	}
	return strings.Join(words, mark)
}

// one returns true at random, once in n times on average.
func (s *spoiler) one(in int) bool { return s.rand.IntN(in) == 0 }

func (s *spoiler) pick(of ...string) string { return of[s.rand.IntN(len(of))] }

func (s *spoiler) text() string {
	var b strings.Builder
	for _, l := range s.lines {
		b.WriteString(l.text + s.breaks)
	}
	return b.String()
}

func (s *spoiler) bytes() []byte {
	if s.encode != nil {
		return s.encode(s.text())
	}
	return []byte(s.text())
}

// spoiled returns the numbers of the spoiled lines, from 1.
func (s *spoiler) spoiled() (lines []int) {
	for i, l := range s.lines {
		if l.spoiled {
			lines = append(lines, i+1)
		}
	}
	return lines
}

// header returns the index of a section's heading, -1 for none.
func (s *spoiler) header(section string) int {
	return slices.IndexFunc(s.lines, func(l typedLine) bool { return l.text == "["+section+"]" })
}

// body returns the range of a section's lines; 0, 0 for none.
func (s *spoiler) body(section string) (from, to int) {
	from = s.header(section) + 1
	if from == 0 {
		return 0, 0
	}
	for to = from; to < len(s.lines) && s.lines[to].text != ""; to++ {
	}
	return from, to
}

// row returns the name and the value in a line.
func (s *spoiler) row(i int) (name, value string) {
	name, value, _ = strings.Cut(s.lines[i].text, "=")
	return strings.TrimSpace(name), strings.TrimSpace(value)
}

// key returns the index of the line with a key, -1 for none.
func (s *spoiler) key(section, key string) int {
	from, to := s.body(section)
	for i := from; i < to; i++ {
		if name, _ := s.row(i); name == key {
			return i
		}
	}
	return -1
}

// change replaces a line with a spoiled one.
func (s *spoiler) change(i int, text string) { s.lines[i] = typedLine{text, true} }

// insert inserts spoiled lines before a line.
func (s *spoiler) insert(at int, text ...string) {
	more := make([]typedLine, len(text))
	for i, t := range text {
		more[i] = typedLine{t, true}
	}
	s.lines = slices.Insert(s.lines, at, more...)
}

func (s *spoiler) remove(from, to int) { s.lines = slices.Delete(s.lines, from, to) }

// any returns a random one of the sections that the draft has, "" if it has none of them.
func (s *spoiler) any(sections ...string) string {
	has := slices.DeleteFunc(slices.Clone(sections), func(name string) bool { return s.header(name) < 0 })
	if len(has) == 0 {
		return ""
	}
	return s.pick(has...)
}
