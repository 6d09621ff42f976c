package schema

import (
	"fmt"
	"slices"
)

// Part is a part of a draft, in any format.
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

// Field is a single value in PartText, PartWeaving, PartWarp or PartWeft.
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

// Place names a place in a draft, in any format: a row of a table, a single
// value or a whole part.
type Place struct {
	Part  Part
	Row   int
	Field Field
}

// PartOf returns a part of the warp, or the same part of the weft: PartOf(Weft,
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

// EndPlace returns the row that threads an end.
func EndPlace(end int) Place { return Place{Part: PartThreading, Row: end} }

// PickPlace returns the row that says what a pick lifts.
func (d *Draft) PickPlace(pick int) Place {
	if d.LiftPlan.Len() > 0 {
		return Place{Part: PartLiftPlan, Row: pick}
	}
	return Place{Part: PartTreadling, Row: pick}
}

// ThreadPlace returns the EndPlace or the PickPlace of thread n.
func (d *Draft) ThreadPlace(system SystemName, n int) Place {
	if system == Warp {
		return EndPlace(n)
	}
	return d.PickPlace(n)
}

// Document is a draft as read from a file, with the reader's findings.
type Document struct {
	Source   *Source
	Format   string // "wif" or "json"; "" if the file isn't a draft
	Draft    *Draft // nil if the file isn't a draft
	Findings []Finding
	Locator  Locator
	// Partial reports that the file lacks a part of the weave. A finding says so,
	// and rules about the weave as a whole would be wrong.
	Partial bool
	// Unclear lists the rules that found a row of the weave which can't be read
	// for certain. Other findings about the weave may only follow from that.
	Unclear []string
}

// Unread returns a line for each thing in the file that fettle couldn't read, by
// place. The draft doesn't hold it, so it is lost when the draft is written.
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
	// Locate returns the span of a place and, in a JSON draft, its JSON
	// Pointer. If the file lacks the place, Locate returns its section or
	// the head of the file.
	Locate(Place) (at Span, pointer string)
}

// Editor is a Locator that can also change the file, so that a rule can fix a
// draft in any format. Its methods return no edits if the file can't be changed
// in that way.
type Editor interface {
	Locator
	// Set changes a single value of the draft to a number or, for the shed,
	// to its name.
	Set(p Place, value string) []Edit
	// SetRow changes the numbers in a row that the file lists.
	SetRow(p Place, numbers []int32) []Edit
	// SetRows replaces all rows of a part that the file has, counting from 1.
	SetRows(p Part, rows [][]int32) []Edit
	// Renumber gives a row that the file lists another number.
	Renumber(p Place, row int) []Edit
	// Drop deletes a row or, for row 0, all rows of the part. Comments stay.
	Drop(p Place) []Edit
}
