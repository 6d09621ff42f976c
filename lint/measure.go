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

// baselineData is the data of a finding in a baseline: the rule's keys and measures.
type baselineData map[string]any

// text returns the data as JSON with sorted keys.
func (d baselineData) text() string {
	text, err := wording.JSON(d, "", "")
	if err != nil { // for example for NaN
		return "{}"
	}
	return string(text)
}

// parseBaselineData reads the data from JSON. It returns no data if that isn't an object.
func parseBaselineData(text string) baselineData {
	var d baselineData
	if err := json.Unmarshal([]byte(text), &d); err != nil || d == nil {
		return baselineData{}
	}
	return d
}

// number returns a measure. Measures are decimals, in memory as in JSON.
func (d baselineData) number(key string) (n float64, ok bool) {
	n, ok = d[key].(float64)
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

// baselineData returns the part of a finding's data that a baseline keeps.
func (r *Rule) baselineData(data schema.Data) baselineData {
	kept := baselineData{}
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
func (r *Rule) grown(was, is baselineData) (worse []Measure) {
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
func (m Measure) of(data baselineData) (float64, bool) {
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
func (r *Rule) showChange(f *schema.Finding, was, is baselineData) {
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
