package schema

import (
	"bytes"
	"cmp"
	"fmt"
	"iter"
	"slices"

	"fettle/schema/wording"
)

// Severity says how bad a finding is.
type Severity uint8

const (
	Off     Severity = iota // not looked for
	Note                    // worth knowing
	Warning                 // will weave, probably not as meant
	Error                   // cannot be woven or read as it stands
)

func (s Severity) String() string {
	return [...]string{"off", "note", "warning", "error"}[s]
}

// MarshalText gives the word of the severity.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// ParseSeverity reads the word of a severity.
func ParseSeverity(s string) (Severity, error) {
	for v := Off; v <= Error; v++ {
		if v.String() == s {
			return v, nil
		}
	}
	return Off, fmt.Errorf("%s is not a severity: say error, warning, note or off", wording.Quote(s))
}

// Finding is one thing wrong, or worth knowing, at one place of a draft.
type Finding struct {
	Rule     string // family/name
	Severity Severity
	Message  string
	Data     Data
	Span     Span   // the bytes it stands at
	Pointer  string // the same as a JSON Pointer, in JSON drafts
	Position Position
	Fixes    []Fix
	// Lines are all lines the finding stands for, from 1 and ascending, where
	// there are several; nil otherwise.
	Lines []int
	// Unread says that what stands there is in no part of the draft as it was
	// read, so that writing the draft anew loses it.
	Unread bool
	// Ignore is the comment that the finding is about, where that was meant to be an
	// ignore; nil otherwise.
	Ignore *MisspeltIgnore
}

// Fix is one way to mend a finding.
type Fix struct {
	Title string
	Risky bool // changes what the draft means, or may
	// Changes says that the fix makes another draft on purpose: what was read
	// is not what was meant. Such a fix is always risky.
	Changes bool
	// Rewrite is a change to the whole file, which has no edits.
	Rewrite Rewrite
	Edits   []Edit
	// Later is where in Edits each part after the first begins. A fix for many
	// lines has a part for each; a part can be made without the others.
	Later []int
}

// Rewrite is a change to a whole file. The zero value is none.
type Rewrite int

// The changes to a whole file.
const (
	InUTF8        Rewrite = iota + 1 // the file is written in UTF-8
	EndLinesAlike                    // every line ends alike
)

// AddPart adds edits that can be made without those there already.
func (x *Fix) AddPart(edits ...Edit) {
	if len(x.Edits) > 0 && len(edits) > 0 {
		x.Later = append(x.Later, len(x.Edits))
	}
	x.Edits = append(x.Edits, edits...)
}

// Parts yields the edits of each part of the fix.
func (x *Fix) Parts() iter.Seq[[]Edit] {
	return func(use func([]Edit) bool) {
		from := 0
		for _, to := range x.Later {
			if !use(x.Edits[from:to:to]) {
				return
			}
			from = to
		}
		if from < len(x.Edits) {
			use(x.Edits[from:])
		}
	}
}

// Edit replaces a span of the file's text.
type Edit struct {
	Span Span
	New  string
}

// Fixable says whether a fix is certain enough to be made unasked.
func (f *Finding) Fixable() bool {
	return slices.ContainsFunc(f.Fixes, func(x Fix) bool { return !x.Risky })
}

// SortFindings puts findings in the order in which every report shows them: by
// place, then by rule, then by message. Findings alike in all three are one.
func SortFindings(list []Finding) []Finding {
	slices.SortStableFunc(list, func(a, b Finding) int {
		return cmp.Or(
			cmp.Compare(a.Span.Start, b.Span.Start),
			cmp.Compare(a.Span.End, b.Span.End),
			cmp.Compare(a.Rule, b.Rule),
			cmp.Compare(a.Message, b.Message))
	})
	return slices.CompactFunc(list, func(a, b Finding) bool {
		return a.Span == b.Span && a.Rule == b.Rule && a.Message == b.Message
	})
}

// Data is the numbers of a finding's message, in the order the rule gives them.
type Data []Datum

// Datum is one of them. Values are whole numbers, decimals, words, or lists of
// whole numbers.
type Datum struct {
	Key   string
	Value any
}

// Get is the value under a key, nil for none.
func (d Data) Get(key string) any {
	for _, x := range d {
		if x.Key == key {
			return x.Value
		}
	}
	return nil
}

// MarshalJSON writes an object with the keys in their order.
func (d Data) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, x := range d {
		if i > 0 {
			b.WriteByte(',')
		}
		k, err := wording.JSON(x.Key, "", "")
		if err != nil {
			return nil, err
		}
		v, err := wording.JSON(x.Value, "", "")
		if err != nil {
			return nil, err
		}
		b.Write(k)
		b.WriteByte(':')
		b.Write(v)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}
