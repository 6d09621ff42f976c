package schema

import "fmt"

// The rules whose findings come from readers. What they mean, and how severe
// they are, stands with the other rules in lint/rules; a reader only says that
// it met one.
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

// Belief is how far a count or an index may lie above the number of rows that
// a table really lists before it is taken for a mistake: nothing is allocated
// for what lies beyond.
const Belief = 1_000_000

// Unbelieved says that a count or a row is left out since it lies beyond belief,
// what the most is that would be believed, and what to do.
func Unbelieved(what string, most int, todo string) string {
	return fmt.Sprintf("%s cannot be meant and is left out: so few rows are listed that %d is the most that is believed; %s", what, most, todo)
}

// NoDraft is the finding for a file that holds no draft, at the place that shows
// it.
func NoDraft(at Span, reason string) Finding {
	return Finding{Rule: FileUnreadable, Span: at, Message: "this is no draft: " + reason,
		Data: Data{{Key: "reason", Value: reason}}}
}
