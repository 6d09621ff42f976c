// Package schema is the model that all other packages share: the draft, the
// loom, the project and its yarn, and findings with their fixes and places.
//
// Ends, picks, shafts, treadles, palette entries, lines and columns count from 1;
// 0 means none. Lengths are in millimetres, densities in threads per centimetre
// and yarn in tex, unless a name says otherwise.
package schema

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema/measure"
	"fettle/schema/wording"
)

const mmPerInch = float64(measure.Inch)

// Draft holds one weaving draft: how the warp is threaded, which shafts each pick
// lifts, and the colors and spacing of the threads. The zero value is an empty
// draft that states nothing.
type Draft struct {
	Texts Texts
	Notes []string // lines, in order

	Shafts   int // declared; 0 unstated
	Treadles int // declared; 0 unstated
	Shed     Shed
	Profile  Answer // whether each end stands for a block of threads

	Palette []Color // entry n is Palette[n-1]

	Threading Rows // end -> shafts
	Tieup     Rows // treadle -> shafts
	Treadling Rows // pick -> treadles
	LiftPlan  Rows // pick -> shafts; empty if the draft has none

	Warp, Weft System

	Settings []Setting // the draft's own [project] and [yarn] values, JSON drafts only
	Ignores  []Ignore  // findings that the draft asks fettle to ignore

	Carried Carried // parts of a WIF file that the fields above can't hold
}

// Texts holds the title of a draft and who made it.
type Texts struct {
	Title, Author, Address, EMail, Telephone, Fax string
}

// The words for a block profile: what it is, and what to do about it.
const (
	BlockProfile   = "it says that it is a block profile: each end stands for a block of threads"
	DrawProfileOut = "draw it out thread by thread first, or write Profile=false"
)

// Shed says what the shafts in the tie-up and the lift plan do.
type Shed uint8

const (
	ShedUnstated Shed = iota // read as rising
	Rising                   // the shafts named go up
	Sinking                  // the shafts named go down
	Balanced                 // looms only: shafts up and shafts down balance each other
	Countermarch             // looms only: each treadle ties some shafts up and others down
)

func (s Shed) String() string {
	return [...]string{"unstated", "rising", "sinking", "balanced", "countermarch"}[s]
}

// Answer is yes, no or unsaid.
type Answer uint8

const (
	Unsaid Answer = iota
	Yes
	No
)

// Unit is the unit of a draft's spacings and thicknesses.
type Unit uint8

const (
	UnitUnstated Unit = iota // read as decipoints
	Decipoints               // 1/720 inch
	Inches
	Centimetres
)

// Millimetres returns the length of one unit.
func (u Unit) Millimetres() float64 {
	switch u {
	case Inches:
		return mmPerInch
	case Centimetres:
		return 10
	}
	return mmPerInch / 720
}

// System holds what a draft says about its warp threads, or about its weft threads.
type System struct {
	Threads     int     // declared; 0 unstated
	Color       int     // palette number of threads without one in Colors; 0 none
	Colors      []int32 // palette number of thread n at n-1; 0 or missing: Color
	Unit        Unit
	Spacing     float64   // in Unit; 0 unstated
	Spacings    []float64 // by thread; 0 or missing: Spacing
	Thickness   float64   // in Unit; 0 unstated
	Thicknesses []float64 // by thread; 0 or missing: Thickness
}

// ColorOf returns the palette number of thread n, 0 for none.
func (s *System) ColorOf(n int) int {
	if n >= 1 && n <= len(s.Colors) && s.Colors[n-1] != 0 {
		return int(s.Colors[n-1])
	}
	return s.Color
}

// SpacingOf returns the width in millimetres that thread n takes up, 0 if the
// draft doesn't state it or OddSpacing reports true.
func (s *System) SpacingOf(n int) float64 {
	if s.OddSpacing() {
		return 0
	}
	v := s.Spacing
	if n >= 1 && n <= len(s.Spacings) && s.Spacings[n-1] != 0 {
		v = s.Spacings[n-1]
	}
	return v * s.Unit.Millimetres()
}

// Spacings in millimetres that fettle believes: from 200 threads to the inch, which
// only the finest silk exceeds, to one. A rule of thumb. The factors allow for
// rounding in files.
const (
	finestSpacing = mmPerInch / 200 * (1 - 1e-3)
	widestSpacing = mmPerInch * (1 + 1e-3)
)

// OddSpacing reports whether no handwoven cloth has the system's spacing. Most
// often the draft lacks its unit. SpacingOf then ignores it.
func (s *System) OddSpacing() bool {
	mm := s.Spacing * s.Unit.Millimetres()
	return mm > 0 && !BelievableSpacing(mm)
}

// BelievableSpacing reports whether the threads of a handwoven cloth can be this
// many millimetres apart.
func BelievableSpacing(mm float64) bool { return mm >= finestSpacing && mm <= widestSpacing }

// ForgetMeasures clears the unit, and the measures that mean nothing without it.
func (s *System) ForgetMeasures() {
	s.Unit, s.Spacing, s.Spacings, s.Thickness, s.Thicknesses = UnitUnstated, 0, nil, 0, nil
}

// MeanSpacing returns the mean spacing of the first threads in millimetres, and
// whether they are all equal. The mean is 0 if any spacing is unknown or if no
// handwoven cloth has such a mean.
func (s *System) MeanSpacing(threads int) (mm float64, even bool) {
	if len(s.Spacings) == 0 || threads == 0 {
		return s.SpacingOf(0), true
	}
	first, sum := s.SpacingOf(1), 0.0
	even = true
	for n := 1; n <= threads; n++ {
		v := s.SpacingOf(n)
		if v <= 0 {
			return 0, false
		}
		even = even && v == first
		sum += v
	}
	mean := sum / float64(threads)
	if s.Spacing == 0 && !BelievableSpacing(mean) {
		return 0, even
	}
	if even {
		return first, true
	}
	return mean, false
}

// Trim drops the zeros at the end of the lists by thread, so that equal drafts
// compare equal.
func (s *System) Trim() {
	for len(s.Colors) > 0 && s.Colors[len(s.Colors)-1] == 0 {
		s.Colors = s.Colors[:len(s.Colors)-1]
	}
	s.Spacings, s.Thicknesses = trimmed(s.Spacings), trimmed(s.Thicknesses)
	if len(s.Colors) == 0 {
		s.Colors = nil
	}
}

func trimmed(list []float64) []float64 {
	for len(list) > 0 && list[len(list)-1] == 0 {
		list = list[:len(list)-1]
	}
	if len(list) == 0 {
		return nil
	}
	return list
}

// Ends returns the number of warp threads: the declared count or the highest end
// in the threading, whichever is larger.
func (d *Draft) Ends() int { return max(d.Warp.Threads, d.Threading.Len()) }

// Picks returns the number of weft threads: the declared count or the highest
// pick in the treadling or the lift plan, whichever is largest.
func (d *Draft) Picks() int {
	return max(d.Weft.Threads, d.Treadling.Len(), d.LiftPlan.Len())
}

// Threads returns the number of threads of the warp or of the weft.
func (d *Draft) Threads(name SystemName) int {
	if name == Warp {
		return d.Ends()
	}
	return d.Picks()
}

// TimesAmong returns how often a thread of a draft appears among the first threads of that
// draft repeated. threads is the number of threads in the draft, at least 1.
func TimesAmong(thread, threads, first int) int {
	n := first / threads
	if thread <= first%threads {
		n++
	}
	return n
}

// HighestShaft returns the highest shaft number in the threading, tie-up and lift
// plan.
func (d *Draft) HighestShaft() int {
	return max(d.Threading.Highest(), d.Tieup.Highest(), d.LiftPlan.Highest())
}

// HighestTreadle returns the highest treadle number in the treadling and tie-up.
func (d *Draft) HighestTreadle() int {
	return max(d.Treadling.Highest(), d.Tieup.Len())
}

// OneTreadleAPick reports whether each pick presses exactly one treadle.
func (d *Draft) OneTreadleAPick() bool {
	for pick := 1; pick <= d.Picks(); pick++ {
		if len(d.Treadling.Row(pick)) != 1 {
			return false
		}
	}
	return true
}

// Of returns the warp or the weft.
func (d *Draft) Of(name SystemName) *System {
	if name == Warp {
		return &d.Warp
	}
	return &d.Weft
}

// SystemName names a system of threads: "warp" or "weft".
type SystemName string

// The two systems of threads.
const (
	Warp SystemName = "warp"
	Weft SystemName = "weft"
)

// Setting is a key of fettle.ini with its section and value, as text. A JSON
// draft can hold some in its project.
type Setting struct {
	Section, Key, Value string
}

// Ignore is a draft's request to ignore the findings of a rule.
type Ignore struct {
	Rule, Reason string
	Section      Span // only findings in here are ignored; the zero Span is the whole file
	Span         Span // of the request itself
}

// IgnoreComment begins a comment in a WIF file that asks fettle to ignore a rule.
// The name of the rule follows.
const IgnoreComment = "; fettle: ignore "

// MisspeltIgnore is a comment that most likely means to ignore a rule.
type MisspeltIgnore struct {
	Comment string // as written
	Rule    string // the rule that it most likely means
	Rest    string // the text after the rule
}

// Finding returns the finding for the comment.
func (m MisspeltIgnore) Finding(at Span) Finding {
	meant := IgnoreComment + m.Rule + m.Rest
	return Finding{Rule: FileUnknownKey, Span: at, Ignore: &m,
		Message: wording.Quote(m.Comment) + " is not a request that fettle knows, so it ignores nothing; is '" + meant + "' meant?",
		Data:    Data{{Key: "name", Value: wording.Plain(m.Comment, 60)}, {Key: "suggestion", Value: meant}}}
}

// NewIgnore returns an Ignore with spaces and dashes removed from the rule and
// the reason, so that all formats give the same words. ok is false if rule isn't
// a single word.
func NewIgnore(rule, reason string) (g Ignore, ok bool) {
	fields := strings.Fields(rule)
	if len(fields) != 1 {
		return Ignore{}, false
	}
	reason = strings.Join(strings.Fields(reason), " ")
	return Ignore{Rule: fields[0], Reason: strings.TrimLeft(reason, "-–— ")}, true
}

// Carried holds the parts of a WIF file that the model can't hold, word for word,
// so that conversion through another format loses nothing. If it disagrees with
// the model, the model wins.
type Carried struct {
	Comments []Comment     // in file order
	Values   []Setting     // of known sections: unknown keys, and values that say more than the model does
	Sections []TextSection // whole sections, in file order
}

// Comment is a comment line and its place: its section and the key that follows.
// Without a key it is at the end of the section; without a section it is at the
// head of the file.
type Comment struct {
	Section, Before, Text string
}

// TextSection is a section of a WIF file with its lines unchanged.
type TextSection struct {
	Name  string
	Lines []string
}

// WholeWork names the WIF section that marks a draft of the whole work: all ends of the
// warp, and every pick of all items. fettle plan --format wif writes it.
const WholeWork = "PRIVATE fettle WHOLE WORK"

// IsWholeWork reports whether the draft is marked as one of the whole work. The project's
// repeats, items and hems are then in it already.
func (d *Draft) IsWholeWork() bool {
	return slices.ContainsFunc(d.Carried.Sections, func(s TextSection) bool { return strings.EqualFold(s.Name, WholeWork) })
}

// cutKey is the key of the lines in a WholeWork section that name a cut.
const cutKey = "Cut after pick"

// CutLine returns the line of a WholeWork section that says that the cloth is cut after a
// pick.
func CutLine(pick int) string { return cutKey + "=" + strconv.Itoa(pick) }

// Cuts returns the picks after which the cloth of a draft of the whole work is cut, in
// ascending order. It ignores lines that name none of its picks. It is nil for other
// drafts.
func (d *Draft) Cuts() []int {
	var cuts []int
	picks := d.Picks()
	for _, s := range d.Carried.Sections {
		if !strings.EqualFold(s.Name, WholeWork) {
			continue
		}
		for _, line := range s.Lines {
			key, value, _ := strings.Cut(line, "=")
			if !strings.EqualFold(strings.TrimSpace(key), cutKey) {
				continue
			}
			if pick, err := strconv.Atoi(strings.TrimSpace(value)); err == nil && pick >= 1 && pick < picks {
				cuts = append(cuts, pick)
			}
		}
	}
	slices.Sort(cuts)
	return slices.Compact(cuts)
}

// Color is an entry of a draft's palette. The zero value is an entry that the
// palette leaves out.
type Color struct {
	R, G, B uint8
	Set     bool
}

// RGB returns a color that is set.
func RGB(r, g, b uint8) Color { return Color{r, g, b, true} }

// Hex returns the color as #rrggbb, or "" if the palette leaves it out.
func (c Color) Hex() string {
	if !c.Set {
		return ""
	}
	return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B)
}

// ParseColor reads a color written #rrggbb.
func ParseColor(s string) (Color, error) {
	if len(s) == 7 && s[0] == '#' {
		if v, err := strconv.ParseUint(s[1:], 16, 32); err == nil {
			return RGB(uint8(v>>16), uint8(v>>8), uint8(v)), nil
		}
	}
	return Color{}, fmt.Errorf("%s is not a color like #f2ead8", wording.Quote(s))
}
