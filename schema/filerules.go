package schema

import "fmt"

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

// Belief is how far a count or an index may exceed the number of rows in its
// table. Beyond that it is a mistake, and no memory is reserved for it.
const Belief = 1_000_000

// Unbelieved returns the message for a count or a row number that is far too
// large: the value, the largest that fettle believes, and what to do.
func Unbelieved(what string, most int, todo string) string {
	return fmt.Sprintf("%s is too large for the rows that are listed, so fettle ignores it (at most %d); %s", what, most, todo)
}

// NoDraft returns the finding for a file that isn't a draft. at is the place that
// shows it.
func NoDraft(at Span, reason string) Finding {
	return Finding{Rule: FileUnreadable, Span: at, Message: "this is not a draft: " + reason,
		Data: Data{{Key: "reason", Value: reason}}}
}
