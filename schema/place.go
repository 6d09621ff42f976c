package schema

import (
	"fmt"
	"slices"
)

// Part is a part of a draft that a finding can stand at, whatever the format.
type Part uint8

// The parts of a draft.
const (
	PartFile Part = iota // the file as a whole
	PartText
	PartNotes
	PartWeaving
	PartPalette
	PartThreading
	PartTieup
	PartTreadling
	PartLiftPlan
	PartWarp
	PartWeft
	PartWarpColors
	PartWeftColors
	PartWarpSpacings
	PartWeftSpacings
	PartWarpThicknesses
	PartWeftThicknesses
	PartSettings // the draft's own settings; row n is Settings[n-1]
)

// Field is a single value within PartText, PartWeaving, PartWarp or PartWeft.
type Field uint8

// The single values of a draft.
const (
	NoField Field = iota
	FieldShafts
	FieldTreadles
	FieldShed
	FieldProfile
	FieldThreads
	FieldColor
	FieldUnit
	FieldSpacing
	FieldThickness
	FieldTitle
	FieldAuthor
	FieldAddress
	FieldEMail
	FieldTelephone
	FieldFax
)

// Place names a spot in a draft without saying where in the file it stands:
// row Row of a table, or a single value, or the part as a whole.
type Place struct {
	Part  Part
	Row   int
	Field Field
}

// PartOf is the part of the warp, or the like part of the weft: PartOf(Weft,
// PartWarpColors) is PartWeftColors.
func PartOf(system SystemName, warp Part) Part {
	if system == Warp {
		return warp
	}
	switch warp {
	case PartWarp:
		return PartWeft
	case PartWarpColors:
		return PartWeftColors
	case PartWarpSpacings:
		return PartWeftSpacings
	case PartWarpThicknesses:
		return PartWeftThicknesses
	}
	return warp
}

// EndPlace is where the draft threads an end.
func EndPlace(end int) Place { return Place{Part: PartThreading, Row: end} }

// PickPlace is where the draft says what a pick lifts.
func (d *Draft) PickPlace(pick int) Place {
	if d.LiftPlan.Len() > 0 {
		return Place{Part: PartLiftPlan, Row: pick}
	}
	return Place{Part: PartTreadling, Row: pick}
}

// ThreadPlace is EndPlace or PickPlace.
func (d *Draft) ThreadPlace(system SystemName, n int) Place {
	if system == Warp {
		return EndPlace(n)
	}
	return d.PickPlace(n)
}

// Document is a draft as read from a file, with what the reader found.
type Document struct {
	Source   *Source
	Format   string // "wif" or "json"; "" where the file holds no draft
	Draft    *Draft // nil where the file holds no draft
	Findings []Finding
	Locator  Locator
	// Partial says that the file lacks a part of what the weave is made of, and
	// that a finding tells so: what is said of the whole weave does not hold.
	Partial bool
	// Unclear lists the rules whose findings say that a row of the weave could
	// not be read for certain: anything said of the weave may only follow from
	// that.
	Unclear []string
}

// Unread is what the reader could make nothing of, a line each, by place: it is
// in no part of the draft, and so in nothing that is written of it.
func (d *Document) Unread() []string {
	var lines []string
	for _, f := range SortFindings(slices.Clone(d.Findings)) {
		if f.Unread {
			lines = append(lines, fmt.Sprintf("line %d: %s", d.Source.Position(f.Span).Line, f.Message))
		}
	}
	return lines
}

// Locator finds places in the file a draft was read from.
type Locator interface {
	// Locate gives the span of a place, and where the format has such a
	// thing its JSON Pointer. A place that the file leaves out is given
	// the nearest thing there is: its section, else the head of the file.
	Locate(Place) (at Span, pointer string)
}

// Editor is a Locator that also knows how its format says things, so that a rule
// can offer to mend a draft whatever the form of its file. Each of its methods
// gives no edits where the file cannot be brought to say that by an edit.
type Editor interface {
	Locator
	// Set gives the edits after which the file says that number, or that
	// shed by its word, for a single value of the draft.
	Set(p Place, value string) []Edit
	// SetRow gives the edits after which a row that the file lists names
	// those numbers.
	SetRow(p Place, numbers []int32) []Edit
	// SetRows gives the edits after which a part that the file has lists just
	// those rows, from 1.
	SetRows(p Part, rows [][]int32) []Edit
	// Renumber gives the edits after which a row that the file lists goes
	// by another number.
	Renumber(p Place, row int) []Edit
	// Drop gives the edits after which the file does not list a row, or for
	// no row in particular none of the part. Comments stay.
	Drop(p Place) []Edit
}
