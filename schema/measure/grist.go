package measure

import (
	"fmt"
	"math"
	"strings"

	"fettle/schema/wording"
)

// Exact by definition: the avoirdupois pound.
const (
	gramsPerPound  = 453.59237
	poundsPerOunce = 1.0 / 16
)

// Yards in the hank, lea, cut, run or skein that each count system counts in a
// pound of single yarn (ASTM D2260).
const (
	cottonYards  = 840
	worstedYards = 560
	linenYards   = 300
	runYards     = 1600
	skeinYards   = 256
)

// Bounds of what can be a yarn: a single filament of silk is about 0.1 tex, a
// rope of a kilogram a metre is 1,000,000.
const (
	finestTex   = 0.01
	thickestTex = 1e6
)

// Grist is how thick a yarn is.
type Grist struct {
	Tex  float64 // grams in a kilometre of the whole, plied yarn; 0 unknown
	Text string  // as the weaver wrote it
}

// Known says whether the grist was stated.
func (g Grist) Known() bool { return g.Tex > 0 }

// MetresPerKilogram is the length of a kilogram, 0 where the grist is unknown.
func (g Grist) MetresPerKilogram() float64 {
	if !g.Known() {
		return 0
	}
	return 1e6 / g.Tex
}

// YardsPerPound is the length of a pound, 0 where the grist is unknown.
func (g Grist) YardsPerPound() float64 {
	return g.MetresPerKilogram() / metresPerYard * gramsPerPound / 1000
}

// CottonCount is the English cotton count: hanks of 840 yards in a pound; 0 where
// the grist is unknown.
func (g Grist) CottonCount() float64 { return g.YardsPerPound() / cottonYards }

// Grams is what that many metres weigh, 0 where the grist is unknown.
func (g Grist) Grams(metres float64) float64 { return metres * g.Tex / 1000 }

// ParseGrist reads how thick a yarn is, in any of the trade's ways, whatever
// the case of the letters:
//
//   - a count and a fibre: 8/2 cotton, 16/2 linen, 20/2 silk (spun), all of
//     them size/ply; 2/24 worsted, ply/size; 12 cut, 4 run, 20 skein
//   - Ne 30/2, Nm 28/2, 30/2 Nm
//   - a length to a weight: 3360 yd/lb, 6773 m/kg, 400 m/100 g
//   - a weight to a length: 30 tex, 30 tex x 2, R60 tex/2, 300 dtex, 150 denier
//
// What can be read in two ways (8/2 of no fibre, 60/2 tex) is an error that
// asks which is meant.
func ParseGrist(s string) (Grist, error) {
	p, err := readWords(s)
	if err != nil {
		return Grist{}, err
	}
	if p.hasZero() {
		return Grist{}, fmt.Errorf("%s: every number of a yarn size must be above 0", wording.Quote(s))
	}
	tex, err := p.grist()
	if err != nil {
		return Grist{}, err
	}
	if !(tex >= finestTex && tex <= thickestTex) {
		return Grist{}, fmt.Errorf("%s is no size a yarn can have: it makes %s tex, and yarns run from %s to %s tex",
			wording.Quote(s), significant(tex), wording.Decimal(finestTex, 2), wording.Decimal(thickestTex, 0))
	}
	return Grist{Tex: tex, Text: strings.TrimSpace(s)}, nil
}

// grist is the whole yarn's tex.
func (p *words) grist() (float64, error) {
	if p.take("r") {
		return p.resultant()
	}
	before := p.names()
	size, ok := p.number()
	if !ok {
		return 0, p.notGrist()
	}
	p.take("s") // 30s cotton
	if p.isLengthUnit() && before == "" {
		return p.lengthToWeight(size)
	}
	plied, second := p.take("/"), 0.0
	if plied {
		if second, ok = p.number(); !ok {
			return 0, p.notGrist()
		}
	}
	unit := strings.TrimSpace(before + " " + p.names())
	strands, err := p.strands()
	if err != nil {
		return 0, err
	}
	if !p.done() {
		return 0, p.notGrist()
	}
	tex, err := p.count(unit, size, second, plied)
	return tex * strands, err
}

// resultant reads what follows an R: the tex of the yarn as plied, with the
// number of plies, which changes nothing, behind it.
func (p *words) resultant() (float64, error) {
	size, ok := p.number()
	unit, known := texUnit(p.names())
	if !ok || !known {
		return 0, p.notGrist()
	}
	if p.take("/") {
		plies, ok := p.number()
		if !ok || !whole(plies) {
			return 0, p.notGrist()
		}
	}
	if !p.done() {
		return 0, p.notGrist()
	}
	return size * unit, nil
}

// strands reads "x 2" as often as it stands, and is 1 without one.
func (p *words) strands() (float64, error) {
	n := 1.0
	for p.take("x") {
		v, ok := p.number()
		if !ok || !whole(v) {
			return 0, fmt.Errorf("%s: a whole number of strands must follow the x, as in 30 tex x 2", wording.Quote(p.text))
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
		return 0, fmt.Errorf("%s: a weight must follow the length, as in 3360 yd/lb or 6773 m/kg", wording.Quote(p.text))
	}
	return weight * grams / (size * lengthUnits[word]) * 1e6, p.end()
}

// count is the tex of a single number, or a size and plies, in a unit or count
// system.
func (p *words) count(unit string, first, second float64, plied bool) (float64, error) {
	unit = withoutFibre(unit)
	if tex, ok := texUnit(unit); ok {
		if plied {
			return 0, p.pliedTex(unit, first, second)
		}
		return first * tex, nil
	}
	sys, ok := systemNamed(unit)
	if !ok {
		return 0, p.whichSystem(unit, plied)
	}
	if !plied {
		return sys.tex(first, 1), nil
	}
	size, plies := first, second
	if sys.plyFirst {
		size, plies = second, first
	}
	if !whole(plies) {
		return 0, fmt.Errorf("%s: the plies must be a whole number; %s is written %s", wording.Quote(p.text), sys.name, sys.form())
	}
	if sys.turnedRound(size, plies) {
		return 0, fmt.Errorf("%s would be %s plies of size %s: %s is written %s; turn the numbers round, or give it in yd/lb, m/kg or tex",
			wording.Quote(p.text), wording.Decimal(plies, 0), wording.Decimal(size, 2), sys.name, sys.form())
	}
	return sys.tex(size, plies), nil
}

func (p *words) pliedTex(unit string, first, second float64) error {
	return fmt.Errorf("%s can be read in two ways: say %s %s x %s for that many strands of it, or R%s %s/%s for the plied yarn",
		wording.Quote(p.text), wording.Decimal(first, 2), unit, wording.Decimal(second, 2), wording.Decimal(first, 2), unit, wording.Decimal(second, 2))
}

func (p *words) whichSystem(unit string, plied bool) error {
	switch unit {
	case "":
		return fmt.Errorf("%s does not say in which count: add cotton, linen, silk, worsted, woollen cut, woollen run, skein, Ne or Nm", wording.Quote(p.text))
	case "wool", "woollen", "woolen":
		return fmt.Errorf("%s: wool is counted in several ways: say worsted, woollen cut, woollen run, skein or Nm", wording.Quote(p.text))
	}
	if !plied {
		return p.notGrist()
	}
	return fmt.Errorf("%s is not a yarn size fettle can work out, since %s is no count: give m/kg or yd/lb from the label, as in 6773 m/kg, or the count it is numbered in, as in 8/2 cotton, 16/2 linen or Nm 28/2",
		wording.Quote(p.text), wording.Quote(unit))
}

func (p *words) notGrist() error {
	return fmt.Errorf("%s is not a yarn size like 8/2 cotton, 2/24 worsted, 3360 yd/lb, 6773 m/kg, Nm 28/2 or 30 tex x 2", wording.Quote(p.text))
}

// end is an error where anything follows a yarn size.
func (p *words) end() error {
	if p.done() {
		return nil
	}
	return p.notGrist()
}

// countSystem says how many times a hank of so many yards goes into a pound.
type countSystem struct {
	name      string
	yards     float64
	plyFirst  bool    // written ply/size
	mostPlies float64 // for each one of the size; more is taken for numbers turned round
}

func (c countSystem) tex(size, plies float64) float64 {
	return gramsPerPound * plies / (c.yards * metresPerYard * size) * 1000
}

// turnedRound says whether size and plies surely stand the wrong way round. Heavy
// cords do have more plies than their size, 12/15 and 12/48 seine twine; but singles
// of a size up to 4 are thick already, but for woollen run, which counts by the
// longest hank: 2/8 is meant as 8/2. A size of 1.5 can be no number of plies.
func (c countSystem) turnedRound(size, plies float64) bool {
	thick := size <= 4 && whole(size) && c.yards != runYards
	return plies > c.mostPlies*size || thick && plies > size
}

func (c countSystem) form() string {
	if c.plyFirst {
		return "ply/size, as in 2/24"
	}
	return "size/ply, as in 16/2"
}

// systemNamed gives a count system by its name in small letters. Worsted has no
// more plies than its size.
func systemNamed(name string) (countSystem, bool) {
	switch name {
	case "cotton", "cotton count", "ne", "nec", "ne cotton", "cotton ne", "silk", "spun silk":
		return countSystem{"cotton and spun silk", cottonYards, false, 4}, true
	case "linen", "lea", "linen lea", "nel", "hemp":
		return countSystem{"linen", linenYards, false, 4}, true
	case "worsted", "worsted wool", "wool worsted":
		return countSystem{"worsted", worstedYards, true, 1}, true
	case "cut", "woollen cut", "woolen cut":
		return countSystem{"woollen cut", linenYards, false, 4}, true
	case "run", "woollen run", "woolen run":
		return countSystem{"woollen run", runYards, false, 4}, true
	case "skein", "skeins", "yorkshire skein", "woollen skein":
		return countSystem{"Yorkshire skein", skeinYards, false, 4}, true
	case "nm", "metric", "metric count":
		return countSystem{"Nm", 1000 / metresPerYard * gramsPerPound / 1000, false, 4}, true
	}
	return countSystem{}, false
}

// withoutFibre drops the fibre from a unit that needs none: Nm 28/2 wool.
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

// weightUnit is how many grams one of a unit is.
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

func whole(v float64) bool { return v >= 1 && v == math.Trunc(v) }

// significant writes a number of any size in at most three figures.
func significant(v float64) string { return fmt.Sprintf("%.3g", v) }
