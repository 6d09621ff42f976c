package corpus

import (
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
)

// Facts holds the result that a reader must get from a dirty draft.
type Facts struct {
	Draft *schema.Draft // the counts, cloth, colors, texts and spacings
	Rules []string      // the rules of the family file that must report, sorted without duplicates
	Kept  []string      // comments, stray lines and private lines that must stay in the file
}

// Dirty returns a plausible draft written in a mixture of dialects, as programs and people
// write them, and the facts that a reader must get from it. The same seed gives the same
// bytes.
func Dirty(seed uint64) ([]byte, Facts) {
	w := &dialect{rand: rand.New(rand.NewPCG(seed, 0x6469616c6563))}
	w.draft = Generate(seed, w.options())
	w.dirt = []int{6, 6, 3, 2}[w.rand.IntN(4)]
	w.roughen()
	w.write()
	w.spoil()
	raw := w.bytes()
	w.draft.Warp.Trim()
	w.draft.Weft.Trim()
	slices.Sort(w.rules)
	return raw, Facts{w.draft, slices.Compact(w.rules), w.kept}
}

// dialect writes a draft in one of many ways.
type dialect struct {
	rand     *rand.Rand
	draft    *schema.Draft
	sections []sectionText
	rules    []string
	kept     []string
	dirt     int                 // each kind of dirt is in one of this many drafts
	names    func(string) string // the spelling of section and key names
	equals   []string            // the text between a key and its value
	before   string              // the text before the first section
	cut      string              // the incomplete last line of a truncated file
	lies     bool                // CONTENTS lists a section that the file lacks
}

// sectionText is a section as the dialect writes it.
type sectionText struct {
	name  string
	as    string // the misspelt name, "" for none
	head  string // the whole wrong heading, "" for none
	lines []string
}

func (w *dialect) options() GenOptions {
	return GenOptions{
		Ends: 1 + w.rand.IntN(60), Picks: 1 + w.rand.IntN(60), Shafts: 2 + w.rand.IntN(14),
		Colors: 1 + w.rand.IntN(6), LiftPlan: w.one(3), Sinking: w.one(3),
	}
}

// one returns true at random, once in n times on average.
func (w *dialect) one(in int) bool { return w.rand.IntN(in) == 0 }

func (w *dialect) pick(of ...string) string { return of[w.rand.IntN(len(of))] }

func (w *dialect) broke(rule string) { w.rules = append(w.rules, rule) }

// roughen adds features of real drafts: ends in two heddles or in none, accents, changing
// spacings, a tie-up beside the lift plan.
func (w *dialect) roughen() {
	d := w.draft
	rows := make([][]int32, d.Ends())
	for i := range rows {
		rows[i] = slices.Clone(d.Threading.Row(i + 1))
		if w.one(12) {
			rows[i] = append(rows[i], int32(1+w.rand.IntN(d.Shafts)))
		} else if w.one(12) {
			rows[i] = nil
		}
	}
	d.Threading = schema.RowsOf(rows...)
	if d.LiftPlan.Len() == 0 && w.one(4) {
		for p := 1; p <= d.Treadling.Len(); p++ {
			d.LiftPlan.Append(d.Tieup.Row(int(d.Treadling.Row(p)[0]))...)
		}
	}
	d.Texts.Title = w.pick("Tea towel", "Grüner Schal, Café", "René; façon = Paris", "[Schäfer] 100 %", `"Quoted", said twice,`)
	d.Texts.Author = w.pick("", "Ada of Quarrow", "Café Schäfer")
	d.Notes = [][]string{nil, {"Sett close."}, {"Full warm = soft.", "", "Grün; dann blau"}}[w.rand.IntN(3)]
	w.space(&d.Warp, d.Ends())
	w.space(&d.Weft, d.Picks())
}

// space sets the unit and the spacings of a system.
func (w *dialect) space(s *schema.System, threads int) {
	s.Unit = schema.Unit(w.rand.IntN(4))
	s.Spacing = []float64{0, 36, 0.127, 1.5, 0.05}[w.rand.IntN(5)]
	if s.OddSpacing() {
		s.Unit, s.Spacing = schema.Decipoints, 36
	}
	for n := 0; n < threads && s.Spacing > 0 && w.one(3); n++ {
		s.Spacings = append(s.Spacings, []float64{0, 18, 0.25}[w.rand.IntN(3)])
	}
}

// write writes the sections correctly, in random order.
func (w *dialect) write() {
	d := w.draft
	w.names = []func(string) string{strings.Clone, strings.Clone, strings.ToLower, strings.ToUpper}[w.rand.IntN(4)]
	w.equals = [][]string{{"="}, {"="}, {" = "}, {"= "}, {"\t="}, {"=", " = ", "= ", "\t=  "}}[w.rand.IntN(6)]
	w.section("TEXT", w.key("Title", d.Texts.Title), w.key("Author", d.Texts.Author))
	w.section("WEAVING", w.key("Shafts", strconv.Itoa(d.Shafts)), w.key("Treadles", strconv.Itoa(d.Treadles)),
		w.key("Rising Shed", w.answer(d.Shed == schema.Rising)))
	w.system("WARP", &d.Warp)
	w.system("WEFT", &d.Weft)
	w.section("NOTES", w.rows(len(d.Notes), func(n int) string { return d.Notes[n-1] })...)
	w.palette()
	w.numbers("TIEUP", &d.Tieup)
	w.numbers("THREADING", &d.Threading)
	w.numbers("TREADLING", &d.Treadling)
	w.numbers("LIFTPLAN", &d.LiftPlan)
	w.rand.Shuffle(len(w.sections), func(i, j int) { w.sections[i], w.sections[j] = w.sections[j], w.sections[i] })
}

// section adds a section, unless it has no lines.
func (w *dialect) section(name string, lines ...string) {
	lines = slices.DeleteFunc(lines, func(l string) bool { return l == "" })
	if len(lines) > 0 {
		w.sections = append(w.sections, sectionText{name: name, lines: lines})
	}
}

// key returns a line, "" without a value.
func (w *dialect) key(name, value string) string {
	if value == "" {
		return ""
	}
	return w.pick("", "", "", " ", "\t") + w.names(name) + w.pick(w.equals...) + value + w.pick("", "", "", " ", "\t")
}

// rows returns the lines of a numbered table, with "" for empty rows.
func (w *dialect) rows(count int, value func(n int) string) []string {
	var lines []string
	for n := 1; n <= count; n++ {
		lines = append(lines, w.key(strconv.Itoa(n), value(n)))
	}
	return lines
}

func (w *dialect) numbers(name string, t *schema.Rows) {
	w.section(name, w.rows(t.Len(), func(n int) string {
		list := t.Row(n)
		if len(list) == 0 && n < t.Len() && w.one(2) {
			return ""
		}
		if len(list) == 0 {
			return w.pick("0", "0", " ")
		}
		words := make([]string, len(list))
		for i, v := range list {
			words[i] = strconv.Itoa(int(v))
		}
		if w.one(3) {
			slices.Reverse(words)
		}
		return strings.Join(words, w.pick(",", ",", ", "))
	})...)
}

func (w *dialect) system(name string, s *schema.System) {
	threads := strconv.Itoa(s.Threads)
	w.section(name, w.key("Threads", threads), w.key("Color", strconv.Itoa(s.Color)+w.pick("", "", ",255,0,0")),
		w.key("Units", w.unit(s.Unit)), w.key("Spacing", decimal(s.Spacing)))
	w.section(name+" COLORS", w.rows(len(s.Colors), func(n int) string {
		if int(s.Colors[n-1]) == s.Color && w.one(2) {
			return "" // the section WARP or WEFT states it already
		}
		return strconv.Itoa(int(s.Colors[n-1]))
	})...)
	w.section(name+" SPACING", w.rows(len(s.Spacings), func(n int) string { return decimal(s.Spacings[n-1]) })...)
}

func decimal(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func (w *dialect) unit(u schema.Unit) string {
	switch u {
	case schema.Decipoints:
		return w.pick("Decipoints", "decipoints")
	case schema.Inches:
		return w.pick("Inches", "INCHES")
	case schema.Centimetres:
		return w.pick("Centimeters", "centimetres")
	}
	return ""
}

func (w *dialect) answer(yes bool) string {
	if yes {
		return w.pick("true", "True", "yes", "ON", "1")
	}
	return w.pick("false", "FALSE", "no", "off", "0")
}

// palette writes the colors in one of the usual ranges, stated or not.
func (w *dialect) palette() {
	d := w.draft
	top := []int{255, 255, 999, 65535}[w.rand.IntN(4)]
	said := w.key("Range", "0,"+strconv.Itoa(top))
	highest := 0
	rows := w.rows(len(d.Palette), func(n int) string {
		c := d.Palette[n-1]
		var words []string
		for _, v := range []uint8{c.R, c.G, c.B} {
			channel := (int(v)*top + 127) / 255
			highest = max(highest, channel)
			words = append(words, strconv.Itoa(channel))
		}
		return strings.Join(words, w.pick(",", ", "))
	})
	if w.one(3) && (top == 255 || highest > 255 && highest*65 > top) {
		said = ""
		if top > 255 {
			w.broke(schema.FileBadValue)
		}
	}
	w.section("COLOR PALETTE", w.key("Entries", strconv.Itoa(len(d.Palette))), w.key("Form", w.pick("RGB", "rgb")), said)
	w.section("COLOR TABLE", rows...)
}
