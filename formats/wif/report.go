package wif

import (
	"slices"
	"sort"

	"fettle/schema"
)

// This file has how the reader says what it meets; what it says stands in files by
// subject. Each finding stands at the bytes it is about, and carries the edits
// that fix it. A fix is certain only where the draft then reads the same and nothing
// else can have been meant; otherwise it is risky.

func (r *reader) report(rule string, at schema.Span, message string, data schema.Data, fixes ...schema.Fix) {
	r.found = append(r.found, schema.Finding{Rule: rule, Span: at, Message: message, Data: data, Fixes: fixes})
}

// unread marks the finding reported last as one whose text is in no part of the
// draft; kept takes that back, where the text is carried or read all the same.
func (r *reader) unread() { r.found[len(r.found)-1].Unread = true }
func (r *reader) kept()   { r.found[len(r.found)-1].Unread = false }

// doubt says that a row of the weave could not be read for certain, as a finding
// of a rule reports.
func (r *reader) doubt(rule string) {
	if !slices.Contains(r.unclear, rule) {
		r.unclear = append(r.unclear, rule)
	}
}

// mend is a certain fix of one edit.
func mend(title string, at schema.Span, with string) schema.Fix {
	return schema.Fix{Title: title, Edits: []schema.Edit{{Span: at, New: with}}}
}

// atRisk is a fix that is made at the weaver's word only, since something else may
// have been meant.
func atRisk(f schema.Fix) schema.Fix {
	f.Risky = true
	return f
}

// commentOut is a certain fix that keeps a line as a comment.
func commentOut(at int) schema.Fix {
	return mend("make it a comment", schema.Span{Start: at, End: at}, "; ")
}

// commentOutKey is commentOut for a line with a key. It replaces the key, so that
// a comment can be moved from the end of the line to a line before it at once.
func (r *reader) commentOutKey(l line) schema.Fix {
	return mend("make it a comment", l.name, "; "+string(r.text[l.name.Start:l.name.End]))
}

// lineBreak is how a line ends.
func (r *reader) lineBreak(l line) string { return breakOf(r.text, l) }

// kindAt is the section that an offset lies in.
func (r *reader) kindAt(at int) kind {
	i := sort.Search(len(r.parts), func(i int) bool { return r.parts[i].header.Start > at })
	return r.parts[max(i-1, 0)].kind
}
