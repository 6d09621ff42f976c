package lint

import (
	"fmt"
	"strings"

	"fettle/schema"
)

// Kind is what an option's value is.
type Kind uint8

const (
	Length  Kind = iota // a length, as in 12 mm
	Threads             // a whole number of threads, as in 9 threads or 9
	Percent             // a percentage, as in 105 %
	Number              // a number behind the option's name, as in k 0.9
	PerCm               // a density, as in 8/cm
)

// Option is something a rule can be told in fettle.ini, behind its severity.
type Option struct {
	Name    string
	Kind    Kind
	Default float64 // in mm, threads, percent, or per cm
	Text    string
}

// Example is how the option's default is written.
func (o Option) Example() string {
	v := schema.Decimal(o.Default, 4)
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

// read reads a value of the option's kind. It is not ok where the value is of
// another kind.
func (o Option) read(text string) (v float64, ok bool) {
	switch o.Kind {
	case Length:
		l, err := schema.ParseLength(text)
		return float64(l), err == nil && l > 0
	case Threads:
		count, _, _ := strings.Cut(text, " ")
		for _, unit := range []string{"", " thread", " end", " pick"} {
			if text == count+unit || text == count+unit+"s" && unit != "" {
				return number(count)
			}
		}
		return 0, false
	case Percent:
		n, has := strings.CutSuffix(text, "%")
		v, ok = number(strings.TrimSpace(n))
		return v, ok && has
	case PerCm:
		d, err := schema.ParseDensity(text)
		return float64(d), err == nil
	}
	n, has := strings.CutPrefix(strings.TrimSpace(text), o.Name)
	v, ok = number(strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(n), "=")))
	return v, ok && has
}

func number(text string) (float64, bool) {
	v, err := schema.Number(text)
	return v, err == nil && v > 0
}

// readOptions reads the words behind a severity. It gives a value for each
// option of the rule, and says which were stated.
func readOptions(r *Rule, words []string) (values []float64, stated []bool, err error) {
	values, stated = make([]float64, len(r.Options)), make([]bool, len(r.Options))
	for i, o := range r.Options {
		values[i] = o.Default
	}
	for _, w := range words {
		i := 0
		for ; i < len(r.Options); i++ {
			if v, ok := r.Options[i].read(strings.ToLower(w)); ok && !stated[i] {
				values[i], stated[i] = v, true
				break
			}
		}
		if i == len(r.Options) {
			return nil, nil, fmt.Errorf("%s is no option of %s: %s", schema.Quote(w), r.ID, optionList(r))
		}
	}
	return values, stated, nil
}

func optionList(r *Rule) string {
	if len(r.Options) == 0 {
		return "it takes a severity only"
	}
	var list []string
	for _, o := range r.Options {
		list = append(list, o.Example()+" ("+o.Text+")")
	}
	return "it takes a severity and " + strings.Join(list, ", ")
}
