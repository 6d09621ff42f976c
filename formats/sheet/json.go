package sheet

import (
	"fmt"
	"slices"

	"fettle/schema/dressing"
	"fettle/schema/wording"
)

// JSON writes the plan as the JSON Schema "plan" describes it, with one line for each
// group, bout, shaft and yarn.
func JSON(p *dressing.Plan, o Options) ([]byte, error) {
	text, err := wording.JSON(inWords(p, o), "", "")
	if err != nil {
		return nil, fmt.Errorf("can't write the plan as JSON: %w", err)
	}
	return append(inRows(text), '\n'), nil
}

// inWords returns a plan with its steps and the names of its colors.
func inWords(p *dressing.Plan, o Options) *dressing.Plan {
	full := *p
	full.Steps = workOf(p, o).stepRows()
	full.Warp.ByColor = named(p.Warp.ByColor)
	full.Weft.ByColor = named(p.Weft.ByColor)
	return &full
}

// named returns colors with the names that the sheet gives them.
func named(rows []dressing.ColorRow) []dressing.ColorRow {
	list, names := slices.Clone(rows), colorNames(rows)
	for i := range list {
		list[i].Name = names[list[i].Color]
	}
	return list
}

// inRows breaks compact JSON into lines: one for each member of the two outer levels, and
// one for each object in a list one level deeper.
func inRows(text []byte) []byte {
	r := rows{text: text, out: make([]byte, 0, len(text)+len(text)/8)}
	for i := range text {
		r.put(i)
	}
	return r.out
}

// rows breaks JSON into lines.
type rows struct {
	text, out       []byte
	broken          []bool // for each open bracket: whether each member gets its own line
	quoted, escaped bool
}

func (r *rows) put(i int) {
	c := r.text[i]
	if r.quoted {
		r.out = append(r.out, c)
		r.quoted = r.escaped || c != '"'
		r.escaped = !r.escaped && c == '\\'
		return
	}
	switch c {
	case '{', '[':
		r.out = append(r.out, c)
		r.broken = append(r.broken, r.breaks(i))
		r.next("")
	case '}', ']':
		was := r.inBroken()
		r.broken = r.broken[:len(r.broken)-1]
		if was {
			r.line()
		}
		r.out = append(r.out, c)
	case ',':
		r.out = append(r.out, c)
		r.next(" ")
	case ':':
		r.out = append(r.out, ':', ' ')
	default:
		r.quoted = c == '"'
		r.out = append(r.out, c)
	}
}

// breaks reports whether the members of the bracket at i get their own lines.
func (r *rows) breaks(i int) bool {
	const levels = 2
	depth, after := len(r.broken), r.text[i+1]
	switch {
	case after == '}' || after == ']':
		return false
	case depth < levels:
		return true
	}
	return depth == levels && after == '{'
}

func (r *rows) inBroken() bool { return r.broken[len(r.broken)-1] }

// next starts the next member, on a new line or after a space.
func (r *rows) next(gap string) {
	if r.inBroken() {
		r.line()
	} else {
		r.out = append(r.out, gap...)
	}
}

func (r *rows) line() {
	r.out = append(r.out, '\n')
	for range r.broken {
		r.out = append(r.out, "  "...)
	}
}
