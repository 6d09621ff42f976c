package measure

import (
	"fmt"
	"math"
	"strings"

	"fettle/schema/wording"
)

// The avoirdupois pound, exact by definition.
const (
	gramsPerPound  = 453.59237
	poundsPerOunce = 1.0 / 16
)

// Yards in one hank, lea, cut, run or skein. A count is how many of them weigh a
// pound in single yarn (ASTM D2260).
const (
	cottonYards  = 840
	worstedYards = 560
	linenYards   = 300
	runYards     = 1600
	skeinYards   = 256
)

// The range of yarn sizes: a single silk filament is about 0.1 tex, a rope that
// weighs a kilogram a metre is 1,000,000 tex.
const (
	finestTex   = 0.01
	thickestTex = 1e6
)

// Grist is the size of a yarn.
type Grist struct {
	Tex   float64 // grams in a kilometre of the plied yarn; 0 unknown
	Text  string  // as the weaver wrote it
	Count Count   // the kind of count that it is written in
}

// Count is the kind of count that a yarn size is written in. It says what the yarn is spun
// from and how, as far as that follows from the count.
type Count uint8

// The kinds of count.
const (
	AnyCount     Count = iota // tex, denier, Nm, silk, or a length to a weight: any yarn
	CottonCount               // cotton
	LinenCount                // linen lea
	WorstedCount              // worsted
	WoollenCount              // woollen run, woollen cut or Yorkshire skein
)

// Known reports whether the grist was stated.
func (g Grist) Known() bool { return g.Tex > 0 }

// metresPerKilogram returns the length of a kilogram, 0 if the grist is unknown.
func (g Grist) metresPerKilogram() float64 {
	if !g.Known() {
		return 0
	}
	return 1e6 / g.Tex
}

// YardsPerPound returns the length of a pound, 0 if the grist is unknown.
func (g Grist) YardsPerPound() float64 {
	return g.metresPerKilogram() / metresPerYard * gramsPerPound / 1000
}

// CottonCount returns the English cotton count: hanks of 840 yards in a pound; 0
// if the grist is unknown.
func (g Grist) CottonCount() float64 { return g.YardsPerPound() / cottonYards }

// Grams returns the weight of a length of yarn, 0 if the grist is unknown.
func (g Grist) Grams(metres float64) float64 { return metres * g.Tex / 1000 }

// ParseGrist reads a yarn size in any of the ways that the trade writes it. Case
// doesn't matter:
//
//   - a count and a fibre, size/ply: 8/2 cotton, 16/2 linen;
//     or ply/size: 2/24 worsted; or a size alone: 12 cut, 4 run, 20 skein
//   - Ne 30/2, Nm 28/2, 30/2 Nm
//   - a length to a weight: 3360 yd/lb, 6773 m/kg, 400 m/100 g
//   - a weight to a length: 30 tex, 30 tex x 2, R60 tex/2, 300 dtex, 150 denier
//
// A size that has several meanings (8/2 without a fibre, 60/2 tex, 20/2 silk) is an error
// that says how to write each.
func ParseGrist(s string) (Grist, error) {
	p, err := readWords(s)
	if err != nil {
		return Grist{}, err
	}
	if p.hasZero() {
		return Grist{}, fmt.Errorf("%s: every number of a yarn size must be above 0", wording.Quote(s))
	}
	tex, kind, err := p.grist()
	if err != nil {
		return Grist{}, err
	}
	if !(tex >= finestTex && tex <= thickestTex) {
		return Grist{}, fmt.Errorf("%s isn't a size that a yarn can have: it comes to %s tex; yarns range from %s to %s tex",
			wording.Quote(s), significant(tex), wording.Decimal(finestTex, 2), wording.Decimal(thickestTex, 0))
	}
	return Grist{Tex: tex, Text: strings.TrimSpace(s), Count: kind}, nil
}

// grist returns the tex of the plied yarn and the kind of its count.
func (p *words) grist() (tex float64, kind Count, err error) {
	if p.take("r") {
		tex, err = p.resultant()
		return tex, AnyCount, err
	}
	before := p.names()
	size, ok := p.number()
	if !ok {
		return 0, 0, p.notGrist()
	}
	p.take("s") // 30s cotton
	if p.isLengthUnit() && before == "" {
		tex, err = p.lengthToWeight(size)
		return tex, AnyCount, err
	}
	plied, second := p.take("/"), 0.0
	if plied {
		if second, ok = p.number(); !ok {
			return 0, 0, p.notGrist()
		}
	}
	unit := strings.TrimSpace(before + " " + p.names())
	strands, err := p.strands()
	if err != nil {
		return 0, 0, err
	}
	if !p.done() {
		return 0, 0, p.notGrist()
	}
	tex, kind, err = p.count(unit, size, second, plied)
	return tex * strands, kind, err
}

// resultant reads the rest of R60 tex/2: the tex of the plied yarn. The number of
// plies after it changes nothing.
func (p *words) resultant() (float64, error) {
	size, ok := p.number()
	unit, known := texUnit(p.names())
	if !ok || !known {
		return 0, p.notGrist()
	}
	if p.take("/") {
		plies, ok := p.number()
		if !ok || !isCount(plies) {
			return 0, p.notGrist()
		}
	}
	if !p.done() {
		return 0, p.notGrist()
	}
	return size * unit, nil
}

// strands reads every "x 2" and returns their product, 1 if there is none.
func (p *words) strands() (float64, error) {
	n := 1.0
	for p.take("x") {
		v, ok := p.number()
		if !ok || !isCount(v) {
			return 0, fmt.Errorf("%s: write a whole number of strands after the x, as in 30 tex x 2", wording.Quote(p.text))
		}
		n *= v
	}
	return n, nil
}

// lengthToWeight reads the rest of 3360 yd/lb.
func (p *words) lengthToWeight(size float64) (float64, error) {
	word := p.next()
	if word == "ypp" {
		return gramsPerPound / (size * metresPerYard) * 1000, p.end()
	}
	if !p.take("/") {
		return 0, p.notGrist()
	}
	weight, ok := p.number()
	if !ok {
		weight = 1
	}
	grams, ok := weightUnit(p.next())
	if !ok {
		return 0, fmt.Errorf("%s: write a weight after the length, as in 3360 yd/lb or 6773 m/kg", wording.Quote(p.text))
	}
	return weight * grams / (size * lengthUnits[word]) * 1e6, p.end()
}

// count returns the tex of one number, or of a size and plies, in a unit or a
// count system, and the kind of count.
func (p *words) count(unit string, first, second float64, plied bool) (float64, Count, error) {
	unit = withoutFibre(unit)
	if tex, ok := texUnit(unit); ok {
		if plied {
			return 0, 0, p.pliedTex(unit, first, second)
		}
		return first * tex, AnyCount, nil
	}
	sys, ok := systemNamed(unit)
	if !ok {
		return 0, 0, p.whichSystem(unit, plied)
	}
	if !plied {
		return sys.tex(first, 1), sys.kind, nil
	}
	size, plies := first, second
	if sys.plyFirst {
		size, plies = second, first
	}
	if !isCount(plies) {
		return 0, 0, fmt.Errorf("%s: the plies must be a whole number; %s is written %s", wording.Quote(p.text), sys.name, sys.form())
	}
	if sys.swapped(size, plies) {
		return 0, 0, fmt.Errorf("%s would be %s plies of size %s: %s is written %s; swap the numbers, or write the size in yd/lb, m/kg or tex",
			wording.Quote(p.text), wording.Decimal(plies, 0), wording.Decimal(size, 2), sys.name, sys.form())
	}
	return sys.tex(size, plies), sys.kind, nil
}

func (p *words) pliedTex(unit string, first, second float64) error {
	return fmt.Errorf("%s can be read in two ways; write %s %s x %s for the size of one strand, or R%s %s/%s for the size of the plied yarn",
		wording.Quote(p.text), wording.Decimal(first, 2), unit, wording.Decimal(second, 2), wording.Decimal(first, 2), unit, wording.Decimal(second, 2))
}

func (p *words) whichSystem(unit string, plied bool) error {
	switch unit {
	case "":
		return fmt.Errorf("%s doesn't say which count; add cotton, linen, worsted, woollen cut, woollen run, skein, Ne or Nm", wording.Quote(p.text))
	case "wool", "woollen", "woolen":
		return fmt.Errorf("%s: wool is counted in several ways; write worsted, woollen cut, woollen run, skein or Nm", wording.Quote(p.text))
	}
	if strings.Contains(unit, "silk") {
		return fmt.Errorf("%s: silk is counted in several ways. Which count is it? Write Nm 20/2 or Ne 20/2 silk for the size of one strand, "+
			"Nm 20 or Ne 20 silk for the plied yarn, 40 denier, 20 tex, or the m/kg or yd/lb of the label", wording.Quote(p.text))
	}
	if !plied {
		return p.notGrist()
	}
	return fmt.Errorf("%s isn't a yarn size that fettle knows: %s isn't a count; write m/kg or yd/lb from the label, as in 6773 m/kg, or its count, as in 8/2 cotton, 16/2 linen or Nm 28/2",
		wording.Quote(p.text), wording.Quote(unit))
}

func (p *words) notGrist() error {
	return fmt.Errorf("%s isn't a yarn size like 8/2 cotton, 2/24 worsted, 3360 yd/lb, 6773 m/kg, Nm 28/2 or 30 tex x 2", wording.Quote(p.text))
}

// end returns an error if anything follows the yarn size.
func (p *words) end() error {
	if p.done() {
		return nil
	}
	return p.notGrist()
}

// countSystem is a way to count yarn: how many hanks of some yards weigh a pound.
type countSystem struct {
	name      string
	kind      Count
	yards     float64
	plyFirst  bool    // written ply/size
	mostPlies float64 // plies divided by size; more means swapped numbers
}

func (c countSystem) tex(size, plies float64) float64 {
	return gramsPerPound * plies / (c.yards * metresPerYard * size) * 1000
}

// swapped reports whether size and plies are surely swapped. Heavy cords can have
// more plies than their size, such as 12/15 and 12/48 seine twine. But singles of
// size 4 or less are already thick, so 2/8 means 8/2. Woollen run is different: its
// hank is the longest. A size like 1.5 can't be a number of plies.
func (c countSystem) swapped(size, plies float64) bool {
	thick := size <= 4 && isCount(size) && c.yards != runYards
	return plies > c.mostPlies*size || thick && plies > size
}

func (c countSystem) form() string {
	if c.plyFirst {
		return "ply/size, as in 2/24"
	}
	return "size/ply, as in 16/2"
}

// systemNamed returns the count system with a name in lower case. Worsted never
// has more plies than its size.
func systemNamed(name string) (countSystem, bool) {
	switch name {
	case "cotton", "cotton count", "ne", "nec", "ne cotton", "cotton ne":
		return countSystem{"cotton", CottonCount, cottonYards, false, 4}, true
	case "ne silk", "silk ne", "ne spun silk", "spun silk ne":
		return countSystem{"Ne", AnyCount, cottonYards, false, 4}, true
	case "linen", "lea", "linen lea", "nel", "hemp":
		return countSystem{"linen", LinenCount, linenYards, false, 4}, true
	case "worsted", "worsted wool", "wool worsted":
		return countSystem{"worsted", WorstedCount, worstedYards, true, 1}, true
	case "cut", "woollen cut", "woolen cut":
		return countSystem{"woollen cut", WoollenCount, linenYards, false, 4}, true
	case "run", "woollen run", "woolen run":
		return countSystem{"woollen run", WoollenCount, runYards, false, 4}, true
	case "skein", "skeins", "yorkshire skein", "woollen skein":
		return countSystem{"Yorkshire skein", WoollenCount, skeinYards, false, 4}, true
	case "nm", "metric", "metric count":
		return countSystem{"Nm", AnyCount, 1000 / metresPerYard * gramsPerPound / 1000, false, 4}, true
	}
	return countSystem{}, false
}

// withoutFibre removes the fibre from a unit that doesn't need one: Nm 28/2 wool.
func withoutFibre(unit string) string {
	a, b, two := strings.Cut(unit, " ")
	if !two {
		return unit
	}
	if isFibre(a) {
		a, b = b, a
	}
	if _, tex := texUnit(a); isFibre(b) && (tex || a == "nm") {
		return a
	}
	return unit
}

func isFibre(word string) bool {
	switch word {
	case "cotton", "linen", "silk", "wool", "worsted", "woollen", "woolen", "hemp":
		return true
	}
	return false
}

func texUnit(name string) (float64, bool) {
	switch name {
	case "tex":
		return 1, true
	case "ktex":
		return 1000, true
	case "dtex", "decitex":
		return 0.1, true
	case "den", "denier", "deniers":
		return 1.0 / 9, true
	}
	return 0, false
}

// weightUnit returns the grams in a unit of weight.
func weightUnit(name string) (float64, bool) {
	switch name {
	case "g", "gram", "grams":
		return 1, true
	case "kg", "kilo", "kilogram", "kilograms":
		return 1000, true
	case "oz", "ounce", "ounces":
		return gramsPerPound * poundsPerOunce, true
	case "lb", "lbs", "pound", "pounds":
		return gramsPerPound, true
	}
	return 0, false
}

func poundsOrOunces(name string) bool {
	grams, ok := weightUnit(name)
	return ok && grams != 1 && grams != 1000
}

func isCount(v float64) bool { return v >= 1 && v == math.Trunc(v) }

// significant writes a number with three figures at most.
func significant(v float64) string { return fmt.Sprintf("%.3g", v) }
