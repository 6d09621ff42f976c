package schema

import (
	"strings"

	"fettle/schema/measure"
	"fettle/schema/wording"
)

const mmPerInch = float64(measure.Inch)

// Draft is one weaving draft: how the warp is threaded, which shafts each pick
// lifts, and the threads' colors and spacing. The zero value is an empty
// draft with everything unstated.
type Draft struct {
	Texts Texts
	Notes []string // in order, one a line

	Shafts   int // declared; 0 unstated
	Treadles int // declared; 0 unstated
	Shed     Shed
	Profile  Answer // whether the draft is a block profile and not a thread-by-thread draft

	Palette []Color // entry n is Palette[n-1]

	Threading Rows // end -> shafts
	Tieup     Rows // treadle -> shafts
	Treadling Rows // pick -> treadles
	LiftPlan  Rows // pick -> shafts; empty where the draft has none

	Warp, Weft System

	Settings []Setting // the draft's own [project] and [yarn] values, JSON drafts only
	Ignores  []Ignore  // findings the draft asks to have left out

	Carried Carried // what the interchange text format holds beyond all this
}

// Texts are the words about a draft.
type Texts struct {
	Title, Author, Address, EMail, Telephone, Fax string
}

// What a draft that says it is a block profile is, and what to do.
const (
	BlockProfile = "it says that it is a block profile: each of its ends stands for a block of threads"
	DrawItOut    = "draw it out thread by thread first, or write Profile=false"
)

// Shed says what the tie-up and the lift plan do to the shafts they name.
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

// Answer is a yes, a no, or nothing said.
type Answer uint8

const (
	Unsaid Answer = iota
	Yes
	No
)

// Unit is the unit a draft gives spacing and thickness in.
type Unit uint8

const (
	UnitUnstated Unit = iota // read as decipoints
	Decipoints               // 1/720 inch
	Inches
	Centimetres
)

// Millimetres is how long one of the unit is.
func (u Unit) Millimetres() float64 {
	switch u {
	case Inches:
		return mmPerInch
	case Centimetres:
		return 10
	}
	return mmPerInch / 720
}

// System is what a draft says of its warp threads, or of its weft threads.
type System struct {
	Threads     int     // declared; 0 unstated
	Color       int     // palette number of the threads that Colors leaves out; 0 none
	Colors      []int32 // thread n's palette number is Colors[n-1]; 0 or beyond: Color
	Unit        Unit
	Spacing     float64   // in Unit; 0 unstated
	Spacings    []float64 // by thread; 0 or beyond: Spacing
	Thickness   float64   // in Unit; 0 unstated
	Thicknesses []float64 // by thread; 0 or beyond: Thickness
}

// ColorOf is the palette number of thread n, 0 for none.
func (s *System) ColorOf(n int) int {
	if n >= 1 && n <= len(s.Colors) && s.Colors[n-1] != 0 {
		return int(s.Colors[n-1])
	}
	return s.Color
}

// SpacingOf is the distance in millimetres that thread n takes up, 0 where the
// draft does not say, or cannot mean what it says.
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

// The spacings in millimetres that are believed: from 200 threads to the inch, finer
// than any but the finest silk, to one. Common practice, no source. A hair of room
// is left for how a file rounds.
const (
	finestSpacing = mmPerInch / 200 * (1 - 1e-3)
	widestSpacing = mmPerInch * (1 + 1e-3)
)

// OddSpacing reports whether the system's spacing is one that no handwoven cloth
// has, most often for want of its unit. It is then ignored.
func (s *System) OddSpacing() bool {
	mm := s.Spacing * s.Unit.Millimetres()
	return mm > 0 && !BelievableSpacing(mm)
}

// BelievableSpacing reports whether threads of a handwoven cloth can lie so many
// millimetres apart.
func BelievableSpacing(mm float64) bool { return mm >= finestSpacing && mm <= widestSpacing }

// ForgetMeasures leaves out what cannot be told without a unit.
func (s *System) ForgetMeasures() {
	s.Unit, s.Spacing, s.Spacings, s.Thickness, s.Thicknesses = UnitUnstated, 0, nil, 0, nil
}

// MeanSpacing is the mean of the spacings of that many threads in millimetres,
// and whether they are all alike; 0 where any of them is unknown, or where no
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

// Trim takes away what a list by thread says of its last threads by saying
// nothing, so that two drafts alike compare equal.
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

// Ends is how many warp threads the draft has: the larger of the declared
// count and the highest end the threading lists.
func (d *Draft) Ends() int { return max(d.Warp.Threads, d.Threading.Len()) }

// Picks is how many weft threads the draft has: the larger of the declared
// count and the highest pick the treadling or the lift plan lists.
func (d *Draft) Picks() int {
	return max(d.Weft.Threads, d.Treadling.Len(), d.LiftPlan.Len())
}

// HighestShaft is the highest shaft number that threading, tie-up or lift plan
// names.
func (d *Draft) HighestShaft() int {
	return max(d.Threading.Highest(), d.Tieup.Highest(), d.LiftPlan.Highest())
}

// HighestTreadle is the highest treadle number that treadling or tie-up names.
func (d *Draft) HighestTreadle() int {
	return max(d.Treadling.Highest(), d.Tieup.Len())
}

// Of is the warp or the weft.
func (d *Draft) Of(name SystemName) *System {
	if name == Warp {
		return &d.Warp
	}
	return &d.Weft
}

// SystemName is "warp" or "weft".
type SystemName string

// The two systems of threads.
const (
	Warp SystemName = "warp"
	Weft SystemName = "weft"
)

// Setting is one key of a named section, as text: what fettle.ini holds, and
// what a JSON draft may hold in its project.
type Setting struct {
	Section, Key, Value string
}

// Ignore is a draft's own word that a rule's findings are to be left out.
type Ignore struct {
	Rule, Reason string
	Section      Span // findings placed in here; the zero Span means the whole file
	Span         Span // where the words stand
}

// IgnoreComment is how a comment of the text format begins that asks for a rule's
// findings to be left out; the rule comes next.
const IgnoreComment = "; fettle: ignore "

// MisspeltIgnore is a comment that was most likely meant to be an ignore.
type MisspeltIgnore struct {
	Comment string // as it stands
	Rule    string // the rule it most likely means
	Rest    string // what follows the rule
}

// Finding returns the finding for the comment.
func (m MisspeltIgnore) Finding(at Span) Finding {
	meant := IgnoreComment + m.Rule + m.Rest
	return Finding{Rule: FileUnknownKey, Span: at, Ignore: &m,
		Message: wording.Quote(m.Comment) + " asks fettle for nothing that it knows, and leaves nothing out; is '" + meant + "' meant?",
		Data:    Data{{Key: "name", Value: wording.Plain(m.Comment, 60)}, {Key: "suggestion", Value: meant}}}
}

// NewIgnore is an ignore with its words put in order, so that they are the same
// in every format. It is not ok where they name no rule.
func NewIgnore(rule, reason string) (g Ignore, ok bool) {
	fields := strings.Fields(rule)
	if len(fields) != 1 {
		return Ignore{}, false
	}
	reason = strings.Join(strings.Fields(reason), " ")
	return Ignore{Rule: fields[0], Reason: strings.TrimLeft(reason, "-–— ")}, true
}

// Carried is what the interchange text format holds and the model has no place
// for, word for word, so that nothing is lost on the way through another
// format. Where it disagrees with the model, the model wins.
type Carried struct {
	Comments []Comment     // in file order
	Values   []Setting     // keys of known sections: unknown ones, and values that say more than the model does
	Sections []TextSection // whole sections, in file order
}

// Comment is a comment line, and the section and key line it stands before. An
// empty key means the end of the section, an empty section the head of the
// file.
type Comment struct {
	Section, Before, Text string
}

// TextSection is a section with its lines as they stand.
type TextSection struct {
	Name  string
	Lines []string
}
