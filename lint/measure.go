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

// Measure is a number in a rule's data that grows the worse a finding is. A list counts
// as its length.
type Measure struct {
	Key string // the number in the data
	// Over is the key of a limit, such as the shafts of the loom. The excess over it is
	// then the measure. "" means no limit.
	Over string
	// Both makes too little as bad as too much.
	Both bool
}

// known is the data of a finding in a baseline: the rule's keys and measures.
type known map[string]any

// text returns the data as JSON with sorted keys.
func (k known) text() string {
	text, err := wording.JSON(k, "", "")
	if err != nil { // for example for NaN
		return "{}"
	}
	return string(text)
}

// knownOf reads the data from JSON. It returns no data if that isn't an object.
func knownOf(text string) known {
	var k known
	if err := json.Unmarshal([]byte(text), &k); err != nil || k == nil {
		return known{}
	}
	return k
}

// number returns a measure. Measures are decimals, in memory as in JSON.
func (k known) number(key string) (n float64, ok bool) {
	n, ok = k[key].(float64)
	return n, ok
}

// isKey reports whether a value is one of the rule's keys. For an unknown rule every
// string is one.
func (r *Rule) isKey(d schema.Datum) bool {
	if r == nil {
		_, word := d.Value.(string)
		return word
	}
	return slices.Contains(r.Keys, d.Key)
}

// known returns the part of a finding's data that a baseline keeps.
func (r *Rule) known(data schema.Data) known {
	kept := known{}
	for _, d := range data {
		if r.isKey(d) {
			kept[d.Key] = d.Value
		} else if n, ok := data.Number(d.Key); ok && r.measures(d.Key) {
			kept[d.Key] = n
		}
	}
	return kept
}

func (r *Rule) measures(key string) bool {
	return r != nil && slices.ContainsFunc(r.Measures, func(m Measure) bool { return m.Key == key || m.Over == key })
}

// noise is the relative error that may differ between computers.
const noise = 1e-9

// grown returns the measures by which a finding is worse than in the baseline. It
// ignores measures that one of the two lacks.
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

// of returns the measure of a finding from its data.
func (m Measure) of(data known) (float64, bool) {
	n, ok := data.number(m.Key)
	if m.Over != "" {
		over, there := data.number(m.Over)
		n, ok = n-over, ok && there
	}
	if m.Both {
		n = math.Abs(n)
	}
	return n, ok
}

// keys returns the keys that a measure uses.
func (m Measure) keys() []string {
	if m.Over == "" {
		return []string{m.Key}
	}
	return []string{m.Key, m.Over}
}

// showChange adds the numbers in the baseline to a finding that is worse now.
func (r *Rule) showChange(f *schema.Finding, was, is known) {
	var words []string
	data := slices.Clip(f.Data)
	for _, m := range r.grown(was, is) {
		for _, key := range m.keys() {
			before, _ := was.number(key)
			now, _ := is.number(key)
			words = append(words, fmt.Sprintf("%s: was %s, now %s", r.text(key), wording.Decimal(before, 2), wording.Decimal(now, 2)))
			data = append(data, schema.Datum{Key: "known_" + key, Value: before})
		}
	}
	f.Message += "; worse than in the baseline (" + strings.Join(words, "; ") + ")"
	f.Data = data
}

// text returns the description of a number in the rule's data.
func (r *Rule) text(key string) string {
	for _, field := range r.Data {
		if field.Key == key {
			return field.Text
		}
	}
	return key
}
