package draftjson

import (
	"fmt"

	"fettle/schema"
)

// mostChecked bounds how many bytes of a draft, what is plainly right apart, are
// checked against the schema: the validator takes several hundred times as
// long over a value as reading it.
const mostChecked = 8 << 20

// plain says whether a sound JSON value is a list of numbers from 0 of at most
// six digits before the point, in lists no deeper than that.
func plain(value []byte, deepest int, fractions bool) bool {
	if value[0] != '[' {
		return false
	}
	depth, digits := 0, 0
	for _, c := range value {
		switch {
		case c >= '0' && c <= '9':
			if digits++; digits > 6 {
				return false
			}
			continue
		case c == '[':
			if depth++; depth > deepest {
				return false
			}
		case c == ']':
			depth--
		case c == '.':
			if !fractions {
				return false
			}
			digits -= 6 // as many may stand behind the point
			continue
		case c != ',' && c != ' ' && c != '\n' && c != '\r' && c != '\t':
			return false
		}
		digits = 0
	}
	return true
}

// unchecked is the finding for a draft of which too much would have to be
// checked.
func unchecked(root schema.Span, bytes int) schema.Finding {
	return schema.Finding{Rule: schema.FileBadValue, Span: schema.Span{Start: root.Start, End: root.Start + 1},
		Message: fmt.Sprintf("the draft has %d bytes beside its lists, more than the %d that are checked; take out what is not meant for a draft, and mend the rest",
			bytes, mostChecked),
		Data: badValue(nil, "", "a draft")}
}
