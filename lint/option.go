package lint

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fettle/schema/measure"
	"fettle/schema/wording"
)

// Kind is the kind of an option's value.
type Kind uint8

const (
	Length  Kind = iota // a length, as in 12 mm
	Threads             // a whole number of threads, as in 9 threads, 9 ends or 9 picks
	Percent             // a percentage, as in 105 %
	Number              // a number after the option's name, as in k 0.9
	PerCm               // a density, as in 8/cm
)

// Option is a setting of a rule, written after its severity in fettle.ini.
type Option struct {
	Name    string
	Kind    Kind
	Default float64 // in mm, threads, percent, or per cm
	Text    string
}

// Example returns the option's default as written in fettle.ini.
func (o Option) Example() string { return o.written(wording.Decimal(o.Default, 4)) }

// written returns a number as a value of the option.
func (o Option) written(v string) string {
	switch o.Kind {
	case Length:
		return v + " mm"
	case Threads:
		return v + " threads"
	case Percent:
		return v + " %"
	case PerCm:
		return v + "/cm"
	}
	return o.Name + " " + v
}

// read reads a value of the option's kind. ok is false for other kinds.
func (o Option) read(text string) (v float64, ok bool) {
	switch o.Kind {
	case Length:
		l, err := measure.ParseLength(text)
		return float64(l), err == nil && l > 0
	case Threads:
		count, unit, _ := strings.Cut(text, " ")
		switch strings.TrimSuffix(unit, "s") {
		case "thread", "end", "pick":
			v, ok = positive(count)
			return v, ok && v == math.Trunc(v)
		}
		return 0, false
	case Percent:
		n, has := strings.CutSuffix(text, "%")
		v, ok = positive(strings.TrimSpace(n))
		return v, ok && has
	case PerCm:
		d, err := measure.ParseDensity(text)
		return float64(d), err == nil
	}
	n, has := strings.CutPrefix(strings.TrimSpace(text), o.Name)
	v, ok = positive(strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(n), "=")))
	return v, ok && has
}

func positive(text string) (float64, bool) {
	v, err := measure.Number(text)
	return v, err == nil && v > 0
}

// readOptions reads the words after a severity. It returns a value for each option of
// the rule, and which options were stated.
func readOptions(r *Rule, words []string) (values []float64, stated []bool, err error) {
	values, stated = make([]float64, len(r.Options)), make([]bool, len(r.Options))
	for i, o := range r.Options {
		values[i] = o.Default
	}
	for _, w := range words {
		i := optionFor(r, w)
		switch {
		case i < 0:
			return nil, nil, noOption(r, w)
		case stated[i]:
			return nil, nil, fmt.Errorf("%s sets an option that is already set; delete one of the two", wording.Quote(w))
		}
		values[i], _ = r.Options[i].read(strings.ToLower(w)) // optionFor has read it before
		stated[i] = true
	}
	return values, stated, nil
}

// optionFor returns the index of the option that a word is a value of, -1 for none.
func optionFor(r *Rule, word string) int {
	return slices.IndexFunc(r.Options, func(o Option) bool {
		_, ok := o.read(strings.ToLower(word))
		return ok
	})
}

// noOption returns the error for a word that isn't a value of any option. For a bare
// positive it suggests the unit.
func noOption(r *Rule, word string) error {
	if _, bare := positive(word); !bare || len(r.Options) == 0 {
		return fmt.Errorf("%s isn't an option of %s; %s", wording.Quote(word), r.ID, optionList(r))
	}
	var list []string
	for _, o := range r.Options {
		list = append(list, o.written(word))
	}
	return fmt.Errorf("%s needs a unit: write %s; use a point for decimals", wording.Quote(word), strings.Join(list, " or "))
}

func optionList(r *Rule) string {
	if len(r.Options) == 0 {
		return "it takes only a severity: error, warning, note or off"
	}
	var list []string
	for _, o := range r.Options {
		list = append(list, o.Example()+" ("+o.Text+")")
	}
	return "it takes a severity (error, warning, note or off) and " + strings.Join(list, ", ")
}

// noFamilyOptions returns an error for options of a family.
func noFamilyOptions(name string, options []string) error {
	if len(options) == 0 {
		return nil
	}
	return fmt.Errorf("the family %[2]s takes only error, warning, note or off, not %[1]s; set options for each rule", wording.Quote(options[0]), name)
}
