package cloth

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"fettle/schema"
)

var errTooLarge = errors.New("so many of its ends and picks differ that comparing them would take hours; convert a part of it")

// Turned returns the draft of the same cloth woven at right angles, a quarter
// turn: end e becomes pick e, pick p becomes end picks + 1 − p, and where the warp
// was up the weft is. Colors, spacings and thicknesses of warp and weft change
// places. Turned twice it is half a turn. lost lists what cannot go along. The
// error is for a cloth that is too large.
func Turned(d *schema.Draft) (out *schema.Draft, lost []string, err error) {
	c := Of(d)
	shafts, treadles, err := c.complement(&c.weft, c.lifting(), &d.Threading)
	if err != nil {
		return nil, nil, err
	}
	out = &schema.Draft{}
	*out = *d
	out.Threading = schema.Rows{}
	for pick := c.Picks(); pick >= 1; pick-- {
		out.Threading.AppendOne(shafts[c.weft.class[pick-1]])
	}
	c.lift(out, &c.warp, treadles)
	out.Shafts = len(shafts)
	out.Warp, out.Weft = d.Weft, d.Warp
	reverse(&out.Warp, c.Picks())
	out.Warp.Threads, out.Weft.Threads = c.Picks(), c.Ends()
	lost = leaveBehind(out, func(section string) bool {
		return strings.HasPrefix(section, "WARP") || strings.HasPrefix(section, "WEFT") || lifting[section]
	})
	return out, append(lost, turnSettings(out)...), nil
}

// FaceDown returns the draft of the same cloth woven other side up, turned over
// sideways: the ends in the opposite order, and every crossing the other way. lost
// lists what cannot go along. The error is for a cloth that is too large.
func FaceDown(d *schema.Draft) (out *schema.Draft, lost []string, err error) {
	if oneShaftEach(d) {
		out, err = LiftRest(d)
		if err != nil {
			return nil, nil, err
		}
	} else {
		c := Of(d)
		shafts, treadles, err := c.complement(&c.warp, &d.Threading, c.lifting())
		if err != nil {
			return nil, nil, err
		}
		out = &schema.Draft{}
		*out = *d
		out.Threading = schema.Rows{}
		for _, class := range c.warp.class {
			out.Threading.AppendOne(shafts[class])
		}
		c.lift(out, &c.weft, treadles)
		out.Shafts = len(shafts)
	}
	ends := d.Ends()
	var threading schema.Rows
	threading.Grow(ends)
	for end := ends; end >= 1; end-- {
		threading.Append(out.Threading.Row(end)...)
	}
	out.Threading, out.Warp.Threads = threading, ends
	reverse(&out.Warp, ends)
	lost = leaveBehind(out, func(section string) bool {
		return strings.HasPrefix(section, "WARP ") && (strings.HasSuffix(section, " ZOOM") || strings.HasSuffix(section, " SYMBOLS"))
	})
	return out, lost, nil
}

// LiftRest returns the draft with the lifts complemented, for a loom that is
// threaded already: each pick lifts the shafts that it left down before. It is an
// error for ends on several shafts, which cannot be complemented so.
func LiftRest(d *schema.Draft) (*schema.Draft, error) {
	other := schema.Sinking
	if d.Shed == schema.Sinking {
		other = schema.Rising
	}
	if !atMostOneShaft(d) {
		return nil, errors.New("an end on several shafts rises with any of them, so lifting the other shafts does not turn its cloth over; use --face-down, or put each end on one shaft")
	}
	out, err := WithShed(d, other)
	if err != nil {
		return nil, err
	}
	out.Shed = d.Shed
	return out, nil
}

func atMostOneShaft(d *schema.Draft) bool {
	for end := 1; end <= d.Threading.Len(); end++ {
		if len(d.Threading.Row(end)) > 1 {
			return false
		}
	}
	return true
}

func oneShaftEach(d *schema.Draft) bool {
	return atMostOneShaft(d) && d.Threading.Count() == d.Ends()
}

// complement gives each class of one system a shaft, and each class of the other a
// treadle tied to the shafts that have the weft up there. Shafts and treadles are
// numbered in the order of the lowest numbers that the threads' rows name.
func (c *Cloth) complement(on *system, shaftRows, treadleRows *schema.Rows) (shafts []int32, treadles []treadle, err error) {
	if c.TooLarge() {
		return nil, nil, errTooLarge
	}
	shafts = c.numbered(on, shaftRows)
	numbers := c.numbered(on.across, treadleRows)
	if n := len(shafts) * len(numbers); n > mostMarks {
		return nil, nil, fmt.Errorf("its tie-up would hold up to %d marks, and fettle writes up to %d; convert a part of it", n, mostMarks)
	}
	treadles = make([]treadle, len(numbers))
	for class, n := range numbers {
		treadles[class].number = n
	}
	for base, words := range c.blocks(on) {
		for class, word := range words {
			for lane := range min(64, len(shafts)-base) {
				if up := word>>lane&1 == 0; up != c.sinking {
					treadles[class].tied = append(treadles[class].tied, shafts[base+lane])
				}
			}
		}
	}
	return shafts, treadles, nil
}

// treadle is what lifts the picks of one class.
type treadle struct {
	number int32
	tied   []int32
}

// numbered numbers the classes of a system from 1, in the order of the lowest
// number that a row of their threads names.
func (c *Cloth) numbered(s *system, rows *schema.Rows) []int32 {
	lowest := make([]int32, len(s.first))
	for i, class := range s.class {
		if row := rows.Row(i + 1); len(row) > 0 && (lowest[class] == 0 || row[0] < lowest[class]) {
			lowest[class] = row[0]
		}
	}
	order := numbers(len(s.first))
	slices.SortStableFunc(order, func(a, b int32) int { return cmp.Compare(lowest[a], lowest[b]) })
	number := make([]int32, len(order))
	for i, class := range order {
		number[class] = int32(i + 1)
	}
	return number
}

// lift has a draft's picks, which are the threads of a system, lifted by
// treadles; by a lift plan where the cloth's own draft has one.
func (c *Cloth) lift(d *schema.Draft, picks *system, treadles []treadle) {
	d.Tieup, d.Treadling, d.LiftPlan, d.Treadles = schema.Rows{}, schema.Rows{}, schema.Rows{}, 0
	if c.planned {
		for _, class := range picks.class {
			d.LiftPlan.Append(treadles[class].tied...)
		}
		return
	}
	inOrder := slices.SortedFunc(slices.Values(treadles), func(a, b treadle) int { return cmp.Compare(a.number, b.number) })
	for _, t := range inOrder {
		d.Tieup.Append(t.tied...)
	}
	for _, class := range picks.class {
		d.Treadling.AppendOne(treadles[class].number)
	}
	d.Treadles = len(treadles)
}

// reverse has a system's lists by thread begin at the other end.
func reverse(s *schema.System, threads int) {
	s.Colors = reversed(s.Colors, threads)
	s.Spacings, s.Thicknesses = reversed(s.Spacings, threads), reversed(s.Thicknesses, threads)
	s.Trim()
}

func reversed[T int32 | float64](list []T, threads int) []T {
	if len(list) == 0 {
		return nil
	}
	out := make([]T, threads)
	copy(out, list)
	slices.Reverse(out)
	return out
}

// lifting are the sections of the text format that say how the loom is threaded
// and lifted.
var lifting = map[string]bool{"THREADING": true, "TIEUP": true, "TREADLING": true, "LIFTPLAN": true}

// leaveBehind takes out of a draft what it carries word for word for sections that
// no longer hold, and lists it.
func leaveBehind(d *schema.Draft, gone func(section string) bool) (lost []string) {
	carried := d.Carried
	carried.Values = slices.DeleteFunc(slices.Clone(carried.Values), func(v schema.Setting) bool {
		out := gone(strings.ToUpper(v.Section))
		if out {
			lost = append(lost, fmt.Sprintf("%s in section %s", v.Key, v.Section))
		}
		return out
	})
	carried.Sections = slices.DeleteFunc(slices.Clone(carried.Sections), func(s schema.TextSection) bool {
		out := gone(strings.ToUpper(s.Name))
		if out {
			lost = append(lost, "section "+s.Name)
		}
		return out
	})
	d.Carried = carried
	return lost
}

// exchanged are the project values of the warp and of the weft that change places
// when the cloth is turned.
var exchanged = map[string]string{
	"sett": "picks", "picks": "sett", "finished length": "finished width", "finished width": "finished length",
	"shrinkage warp": "shrinkage weft", "shrinkage weft": "shrinkage warp", "take-up": "weft take-up", "weft take-up": "take-up",
	"shrinkage": "shrinkage",
}

// turnSettings has the draft's own project values go along with a turn, and lists
// those that cannot.
func turnSettings(d *schema.Draft) (lost []string) {
	var kept []schema.Setting
	for _, s := range d.Settings {
		if s.Section == "project" {
			key, goes := exchanged[s.Key]
			if !goes {
				lost = append(lost, fmt.Sprintf("%s of the project, which holds for one direction", s.Key))
				continue
			}
			s.Key = key
		}
		kept = append(kept, s)
	}
	d.Settings = kept
	return lost
}
