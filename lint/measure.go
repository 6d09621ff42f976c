package lint

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// Measure is a number in a rule's data that says how bad a finding is: the more,
// the worse. A list counts as its length.
type Measure struct {
	Key string // the number in the data
	// Over is the number it is held against, such as the shafts that the loom has:
	// the excess then measures the finding. "" is none.
	Over string
	// Both says that too little is as bad as too much.
	Both bool
}

// known is the data that a baseline keeps of a finding: the rule's keys and the
// numbers of its measures.
type known map[string]any

// text returns known data as JSON, its keys in alphabetical order.
func (k known) text() string {
	text, err := wording.JSON(k, "", "")
	if err != nil { // such as for a number that isn't one
		return "{}"
	}
	return string(text)
}

// knownOf returns the data of a text; none for one that holds no JSON object.
func knownOf(text string) known {
	var k known
	if err := json.Unmarshal([]byte(text), &k); err != nil || k == nil {
		return known{}
	}
	return k
}

// isKey reports whether a value belongs to the keys of a rule; where the rule
// isn't known, whether it is a word.
func (r *Rule) isKey(d schema.Datum) bool {
	if r == nil {
		_, word := d.Value.(string)
		return word
	}
	return slices.Contains(r.Keys, d.Key)
}

// known returns what a baseline keeps of a finding's data.
func (r *Rule) known(data schema.Data) known {
	kept := known{}
	for _, d := range data {
		if r.isKey(d) {
			kept[d.Key] = d.Value
		} else if n, ok := numeric(d.Value); ok && r.measures(d.Key) {
			kept[d.Key] = n
		}
	}
	return kept
}

func (r *Rule) measures(key string) bool {
	return r != nil && slices.ContainsFunc(r.Measures, func(m Measure) bool { return m.Key == key || m.Over == key })
}

// numeric returns a number of a finding's data, of a list its length.
func numeric(v any) (float64, bool) {
	switch v := v.(type) {
	case int:
		return float64(v), true
	case float64:
		return v, true
	case []int:
		return float64(len(v)), true
	}
	return 0, false
}

// noise is the part of a number that computers may differ by.
const noise = 1e-9

// grown returns the measures by which a finding is worse than the one that a
// baseline knows. Numbers that one of the two lacks say nothing.
func (r *Rule) grown(was, is known) (worse []Measure) {
	if r == nil {
		return nil
	}
	for _, m := range r.Measures {
		before, ok := m.of(was)
		now, also := m.of(is)
		if ok && also && now > before+noise*math.Abs(before) {
			worse = append(worse, m)
		}
	}
	return worse
}

// of returns how bad a finding is by its data.
func (m Measure) of(data known) (float64, bool) {
	n, ok := numeric(data[m.Key])
	if m.Over != "" {
		over, there := numeric(data[m.Over])
		n, ok = n-over, ok && there
	}
	if m.Both {
		n = math.Abs(n)
	}
	return n, ok
}

// keys returns the numbers that a measure is made of.
func (m Measure) keys() []string {
	if m.Over == "" {
		return []string{m.Key}
	}
	return []string{m.Key, m.Over}
}

// tell adds to a finding what a baseline knows of it, since it is worse now.
func (r *Rule) tell(f *schema.Finding, was, is known) {
	var words []string
	data := slices.Clip(f.Data)
	for _, m := range r.grown(was, is) {
		for _, key := range m.keys() {
			before, _ := numeric(was[key])
			now, _ := numeric(is[key])
			words = append(words, fmt.Sprintf("%s: %s then, %s now", r.text(key), wording.Decimal(before, 2), wording.Decimal(now, 2)))
			data = append(data, schema.Datum{Key: "known_" + key, Value: before})
		}
	}
	f.Message += "; it is worse than in the baseline (" + strings.Join(words, "; ") + ")"
	f.Data = data
}

// text returns what a number of the rule's data is, in words.
func (r *Rule) text(key string) string {
	for _, field := range r.Data {
		if field.Key == key {
			return field.Text
		}
	}
	return key
}
