package schema

import (
	"bytes"
	"cmp"
	"fmt"
	"iter"
	"slices"

	"fettle/schema/wording"
)

// Severity says how serious a finding is.
type Severity uint8

const (
	Off     Severity = iota // not reported
	Note                    // worth knowing
	Warning                 // weaves, but probably not as meant
	Error                   // can't be woven or read as it is
)

func (s Severity) String() string {
	return [...]string{"off", "note", "warning", "error"}[s]
}

// MarshalText returns the severity's name.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// ParseSeverity reads a severity's name.
func ParseSeverity(s string) (Severity, error) {
	for v := Off; v <= Error; v++ {
		if v.String() == s {
			return v, nil
		}
	}
	return Off, fmt.Errorf("%s is not a severity; write error, warning, note or off", wording.Quote(s))
}

// Finding is one defect of a draft, or one thing worth knowing, at one place.
type Finding struct {
	Rule     string // family/name
	Severity Severity
	Message  string
	Data     Data
	Span     Span
	Pointer  string // the place as a JSON Pointer, in JSON drafts
	Position Position
	Fixes    []Fix
	// Lines lists all lines that the finding covers, ascending from 1; nil if it
	// covers only one.
	Lines []int
	// Threads lists the ends or picks that the finding is about, ascending; nil if it
	// names none. System says which of the two they are.
	Threads []int
	System  SystemName
	// OtherFile is the path of the other file of a finding about two files.
	OtherFile string
	// Unread reports that fettle didn't read what is there, so that writing the
	// draft to a new file loses it.
	Unread bool
	// Ignore is the misspelt request that the finding is about, nil for none.
	Ignore *MisspeltIgnore
}

// Fix is one way to fix a finding.
type Fix struct {
	Title string
	Risky bool // changes, or may change, what the draft means
	// Changes reports that the fix changes the draft on purpose, because what was
	// read isn't what was meant. Such a fix is always risky.
	Changes bool
	// Rewrite changes the whole file, without edits.
	Rewrite Rewrite
	Edits   []Edit
	// Later holds the index in Edits of each part but the first. A fix for many
	// lines has a part for each line; each part works without the others.
	Later []int
}

// Rewrite is a change to a whole file. The zero value is none.
type Rewrite int

// The changes to a whole file.
const (
	InUTF8        Rewrite = iota + 1 // save the file as UTF-8
	EndLinesAlike                    // end all lines in the same way
)

// AddPart adds edits that work without those already there.
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

// Fixable reports whether the finding has a certain fix, one that isn't risky.
func (f *Finding) Fixable() bool {
	return slices.ContainsFunc(f.Fixes, func(x Fix) bool { return !x.Risky })
}

// SortFindings sorts findings as every report shows them: by place, then by rule,
// then by message. It keeps one of several that agree in all three.
func SortFindings(list []Finding) []Finding {
	slices.SortStableFunc(list, func(a, b Finding) int {
		if a.Span != b.Span { // nearly always
			return a.Span.Compare(b.Span)
		}
		return cmp.Or(cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Message, b.Message))
	})
	return slices.CompactFunc(list, func(a, b Finding) bool {
		return a.Span == b.Span && a.Rule == b.Rule && a.Message == b.Message
	})
}

// Data holds the figures of a finding, in the order in which its rule gives them.
type Data []Datum

// Datum is one figure of a finding. Its value is a whole number, a decimal, a
// text or a list of whole numbers.
type Datum struct {
	Key   string
	Value any
}

// Get returns the value under a key, nil if there is none.
func (d Data) Get(key string) any {
	for _, x := range d {
		if x.Key == key {
			return x.Value
		}
	}
	return nil
}

// Number returns the number under a key; for a list, its length. ok is false if the
// data has neither.
func (d Data) Number(key string) (n float64, ok bool) {
	switch v := d.Get(key).(type) {
	case int:
		return float64(v), true
	case float64:
		return v, true
	case []int:
		return float64(len(v)), true
	}
	return 0, false
}

// MarshalJSON returns a JSON object with the keys in their order.
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

// The rules whose findings come from readers. Package lint/rules explains them and
// sets their severity.
const (
	FileUnreadable       = "file/unreadable"
	FileEncoding         = "file/encoding"
	FileStrayLine        = "file/stray-line"
	FileDuplicateSection = "file/duplicate-section"
	FileDuplicateKey     = "file/duplicate-key"
	FileUnknownSection   = "file/unknown-section"
	FileUnknownKey       = "file/unknown-key"
	FileMissingSection   = "file/missing-section"
	FileContents         = "file/contents"
	FileBadValue         = "file/bad-value"
	FileDecimalComma     = "file/decimal-comma"
	FileIndex            = "file/index"
	FileVersion          = "file/version"
)

// MostExtraRows is how far a count or an index may exceed the number of rows in its
// table. Beyond that it is a mistake, and no memory is reserved for it.
const MostExtraRows = 1_000_000

// TooLargeNumber returns the message for a count or a row number that is far too
// large: the value, the largest that fettle believes, and what to do.
func TooLargeNumber(what string, most int, todo string) string {
	return fmt.Sprintf("%s is too large for the rows that are listed, so fettle ignores it (at most %d); %s", what, most, todo)
}

// NoDraft returns the finding for a file that isn't a draft. at is the place that
// shows it.
func NoDraft(at Span, reason string) Finding {
	return Finding{Rule: FileUnreadable, Span: at, Message: "this is not a draft: " + reason,
		Data: Data{{Key: "reason", Value: reason}}}
}
