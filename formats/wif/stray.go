package wif

import (
	"bytes"
	"fmt"
	"strings"

	"fettle/schema"
)

// This file tells of what says nothing that can be read.

// strayLine reports a line that is neither section nor key nor comment. Lines
// that follow each other make one finding.
func (r *reader) strayLine(l line) {
	text := string(r.text[l.start:l.end])
	r.ignore(l.span()) // as it will be once it is a comment
	if r.fold(alike{schema.FileStrayLine, r.kind, ""}, l.span(), true, commentOut(l.start).Edits...) {
		return
	}
	where := "in section " + sections[r.kind].name
	if len(r.parts) == 1 {
		where = "before the first section"
	}
	r.report(schema.FileStrayLine, l.span(),
		schema.Quote(text)+" "+where+" is no key = value line and is left out; if it is a note, begin it with a semicolon",
		schema.Data{{Key: "name", Value: schema.Plain(text, 60)}, {Key: "suggestion", Value: "; " + schema.Plain(text, 60)}}, commentOut(l.start))
}

// misspeltIgnore reports a comment that was most likely meant to be an ignore, and
// how to write it.
func (r *reader) misspeltIgnore(comment schema.Span, meant string) {
	text := string(r.text[comment.Start:comment.End])
	meant = schema.Plain(meant, 60)
	r.report(schema.FileUnknownKey, comment,
		schema.Quote(text)+" asks fettle for nothing that it knows, and leaves nothing out; is '"+meant+"' meant?",
		schema.Data{{Key: "name", Value: schema.Plain(text, 60)}, {Key: "suggestion", Value: meant}})
}

// leftOver reports what stands behind a number: a comment, a comma.
func (r *reader) leftOver(l line, at schema.Span) {
	rest := strings.TrimSpace(string(r.text[at.End:l.value.End]))
	what := "take it away"
	fix := mend(what, schema.Span{Start: at.End, End: l.value.End}, "")
	if _, comment, ok := strings.Cut(rest, ";"); ok && strings.TrimSpace(comment) != "" {
		comment = "; " + strings.TrimSpace(comment)
		r.ignore(schema.Span{Start: at.End + bytes.IndexByte(r.text[at.End:l.value.End], ';'), End: l.value.End})
		r.draft.Carried.Comments = append(r.draft.Carried.Comments, schema.Comment{
			Section: sections[r.kind].name, Before: r.rightKey(r.text[l.name.Start:l.name.End]), Text: comment})
		what = "give the comment a line of its own"
		fix.Title = "move the comment to a line of its own"
		fix.Edits = append([]schema.Edit{{Span: schema.Span{Start: l.start, End: l.start}, New: comment + r.lineBreak(l)}}, fix.Edits...)
	}
	if r.fold(alike{schema.FileStrayLine, r.kind, fix.Title[:4]}, l.span(), r.inTable(r.kind), fix.Edits...) {
		return
	}
	r.report(schema.FileStrayLine, schema.Span{Start: at.End, End: l.value.End},
		fmt.Sprintf("%s behind the value of %s is left out, since a value ends where its line does; %s",
			schema.Quote(rest), schema.Quote(string(r.text[l.name.Start:l.name.End])), what),
		schema.Data{{Key: "name", Value: schema.Plain(rest, 60)}, {Key: "suggestion", Value: schema.Plain(string(r.text[at.Start:at.End]), 60)}},
		fix)
}

// rightKey is a key as the canonical form spells it.
func (r *reader) rightKey(name []byte) string {
	for _, find := range []func([]byte) int{r.kind.keyOf, r.kind.nearKey} {
		if i := find(name); i >= 0 {
			return sections[r.kind].keys[i].name
		}
	}
	return string(name)
}

// headerComment is what stands after the bracket of a section line, as a comment;
// "" for nothing.
func (r *reader) headerComment(l line) string {
	rest := strings.TrimLeft(string(r.text[l.rest.Start:l.rest.End]), "; \t")
	if rest == "" {
		return ""
	}
	return "; " + rest
}

// header reports a section line with its bracket left open, or with more behind
// it than a comment.
func (r *reader) header(l line, name []byte) {
	rest := strings.TrimSpace(string(r.text[l.rest.Start:l.rest.End]))
	if !l.unclosed && rest == "" {
		return
	}
	fix := mend("close the bracket", schema.Span{Start: l.end, End: l.end}, "]")
	what := "has no closing bracket; write ] behind its name"
	comment := r.headerComment(l)
	if rest != "" {
		_, bracket := trim(r.text, l.name.End, l.rest.Start)
		fix = mend("take it away", schema.Span{Start: bracket, End: l.end}, "")
		what = "has " + schema.Quote(rest) + " behind it; take it away"
	}
	if comment != "" {
		fix.Title, fix.Edits[0].New = "move it to a line of its own", r.lineBreak(l)+comment
		what = "has " + schema.Quote(rest) + " behind it, which is left out; give it a line of its own"
		r.ignore(l.rest)
		if r.carries() {
			r.lines = append(r.lines, comment)
		} else {
			r.pending = append(r.pending, comment)
		}
	}
	if r.fold(alike{schema.FileStrayLine, kindUnknown, fix.Title}, l.span(), false, fix.Edits...) {
		return
	}
	r.report(schema.FileStrayLine, l.span(), "section "+schema.Quote(string(name))+" "+what,
		schema.Data{{Key: "name", Value: schema.Plain(string(r.text[l.start:l.end]), 60)},
			{Key: "suggestion", Value: "[" + schema.Plain(string(name), 60) + "]"}}, fix)
}
