package cloth

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"fettle/schema"
)

var errTooLarge = errors.New("so many of its ends and picks differ that comparing them would take hours; convert only a part of the draft")

// Turned returns a draft that weaves the same cloth at right angles, a quarter turn: end
// e becomes pick e, pick p becomes end picks + 1 − p, and warp up becomes weft up. Warp
// and weft exchange colors, spacings and thicknesses. Two turns are half a turn. lost
// lists what the new draft can't keep. It returns an error if the cloth is too large.
func Turned(d *schema.Draft) (out *schema.Draft, lost []string, err error) {
	c := Of(d)
	shafts, treadles, err := c.complement(&c.weft, c.pickRows(), &d.Threading)
	if err != nil {
		return nil, nil, err
	}
	out = &schema.Draft{}
	*out = *d
	out.Threading = schema.Rows{}
	for pick := c.Picks(); pick >= 1; pick-- {
		out.Threading.AppendOne(shafts[c.weft.class[pick-1]])
	}
	c.setLifts(out, &c.warp, treadles)
	out.Shafts = len(shafts)
	out.Warp, out.Weft = d.Weft, d.Warp
	reverseThreads(&out.Warp, c.Picks())
	out.Warp.Threads, out.Weft.Threads = c.Picks(), c.Ends()
	lost = dropCarried(out, func(section string) bool {
		return strings.HasPrefix(section, "WARP") || strings.HasPrefix(section, "WEFT") || threadingSections[section] ||
			strings.EqualFold(section, schema.WholeWork) // its ends and picks change places
	})
	return out, append(lost, turnSettings(out)...), nil
}

// FaceDown returns a draft that weaves the same cloth with its back up, turned over
// sideways: the ends in the opposite order, and every crossing inverted. lost lists what
// the new draft can't keep. It returns an error if the cloth is too large.
func FaceDown(d *schema.Draft) (out *schema.Draft, lost []string, err error) {
	if oneShaftEach(d) {
		out, err = LiftRest(d)
		if err != nil {
			return nil, nil, err
		}
	} else {
		c := Of(d)
		shafts, treadles, err := c.complement(&c.warp, &d.Threading, c.pickRows())
		if err != nil {
			return nil, nil, err
		}
		out = &schema.Draft{}
		*out = *d
		out.Threading = schema.Rows{}
		for _, class := range c.warp.class {
			out.Threading.AppendOne(shafts[class])
		}
		c.setLifts(out, &c.weft, treadles)
		out.Shafts = len(shafts)
	}
	ends := d.Ends()
	var threading schema.Rows
	threading.Grow(ends)
	for end := ends; end >= 1; end-- {
		threading.Append(out.Threading.Row(end)...)
	}
	out.Threading, out.Warp.Threads = threading, ends
	reverseThreads(&out.Warp, ends)
	lost = dropCarried(out, func(section string) bool {
		return strings.HasPrefix(section, "WARP ") && (strings.HasSuffix(section, " ZOOM") || strings.HasSuffix(section, " SYMBOLS"))
	})
	return out, lost, nil
}

// LiftRest returns the draft with the lifts complemented, for a loom that is already
// threaded: each pick lifts the shafts that it left down. It returns an error if ends are
// on several shafts, because then the cloth would change.
func LiftRest(d *schema.Draft) (*schema.Draft, error) {
	other := schema.Sinking
	if d.Shed == schema.Sinking {
		other = schema.Rising
	}
	if d.Threading.MostInRow() > 1 {
		return nil, errors.New("an end on several shafts rises with any of them, so lifting the other shafts doesn't turn the cloth over; use --face-down, or put each end on one shaft")
	}
	out, err := WithShed(d, other)
	if err != nil {
		return nil, err
	}
	out.Shed = d.Shed
	return out, nil
}

func oneShaftEach(d *schema.Draft) bool {
	return d.Threading.MostInRow() <= 1 && d.Threading.Count() == d.Ends()
}

// complement gives each class of one system a shaft, and each class of the other a treadle
// tied to the shafts where the weft is up. It numbers them in the order of the lowest
// number in their rows.
func (c *Cloth) complement(on *system, shaftRows, treadleRows *schema.Rows) (shafts []int32, treadles []treadle, err error) {
	if c.TooLarge() {
		return nil, nil, errTooLarge
	}
	shafts = c.numberClasses(on, shaftRows)
	numbers := c.numberClasses(on.across, treadleRows)
	if n := len(shafts) * len(numbers); n > maxMarks {
		return nil, nil, fmt.Errorf("its tie-up would have up to %d marks (limit %d); convert only a part of the draft", n, maxMarks)
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

// treadle lifts the picks of one class.
type treadle struct {
	number int32
	tied   []int32
}

// numberClasses numbers the classes of a system from 1, in the order of the lowest
// number in the rows of their threads.
func (c *Cloth) numberClasses(s *system, rows *schema.Rows) []int32 {
	lowest := make([]int32, len(s.first))
	for i, class := range s.class {
		if row := rows.Row(i + 1); len(row) > 0 && (lowest[class] == 0 || row[0] < lowest[class]) {
			lowest[class] = row[0]
		}
	}
	order := countTo(len(s.first))
	slices.SortStableFunc(order, func(a, b int32) int { return cmp.Compare(lowest[a], lowest[b]) })
	number := make([]int32, len(order))
	for i, class := range order {
		number[class] = int32(i + 1)
	}
	return number
}

// setLifts sets the treadles of a draft whose picks are the threads of a system, or its
// lift plan if the draft of the cloth has one.
func (c *Cloth) setLifts(d *schema.Draft, picks *system, treadles []treadle) {
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

func reverseThreads(s *schema.System, threads int) {
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

// threadingSections are the sections of WIF for threading and lifts.
var threadingSections = map[string]bool{"THREADING": true, "TIEUP": true, "TREADLING": true, "LIFTPLAN": true}

// dropCarried drops carried keys and sections that no longer apply, and lists them.
func dropCarried(d *schema.Draft, gone func(section string) bool) (lost []string) {
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

// swappedSettings gives the settings of the warp and weft that change places in a turn.
var swappedSettings = map[string]string{
	"sett": "picks", "picks": "sett", "finished length": "finished width", "finished width": "finished length",
	"shrinkage warp": "shrinkage weft", "shrinkage weft": "shrinkage warp", "take-up": "weft take-up", "weft take-up": "take-up",
	"shrinkage": "shrinkage",
}

// turnSettings turns the draft's own settings, and lists those it drops.
func turnSettings(d *schema.Draft) (lost []string) {
	var kept []schema.Setting
	for _, s := range d.Settings {
		if s.Section == "project" {
			key, goes := swappedSettings[s.Key]
			if !goes {
				lost = append(lost, fmt.Sprintf("%s of the project, which applies to one direction", s.Key))
				continue
			}
			s.Key = key
		}
		kept = append(kept, s)
	}
	d.Settings = kept
	return lost
}
