package wif

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// strayLine reports a line that is neither section nor key nor comment. Lines
// that follow each other make one finding.
func (r *reader) strayLine(l line) {
	fix, what := commentOut(l.start), ""
	if r.maySay(l) {
		fix, what = atRisk(fix), "may say something"
		if r.kind.isWeave() {
			r.doubt(schema.FileStrayLine)
		}
	}
	text := string(r.text[l.start:l.end])
	r.ignore(l.span()) // as it will be once it is a comment
	if r.extend(alike{schema.FileStrayLine, r.kind, what}, l.span(), true, fix.Edits...) {
		return
	}
	where := "in section " + sections[r.kind].name
	if len(r.parts) == 1 {
		where = "before the first section"
	}
	r.report(schema.FileStrayLine, l.span(),
		wording.Quote(text)+" "+where+" is no key = value line and is left out; if it is a note, begin it with a semicolon",
		schema.Data{{Key: "name", Value: wording.Plain(text, 60)}, {Key: "suggestion", Value: "; " + wording.Plain(text, 60)}}, fix)
	if what != "" {
		r.unread()
	}
}

// bareHeader takes a line that names a section without its brackets, or with others,
// for its header: where the file has no such section, and a line of one follows.
func (r *reader) bareHeader(l *line) bool {
	const brackets = "()[]{}<>:=-*#_~ \t"
	text := r.text[l.start:l.end]
	name := bytes.Trim(text, brackets)
	k := kindOf(name)
	if near := nearSection(name); k == kindUnknown && r.lists(near) {
		k = near
	}
	if !k.named() || r.kind == kindNotes && !r.lists(k) || r.carries() || r.first[k] != 0 || r.present(k) || !r.goesOnAs(k, l.next) {
		return false
	}
	l.name.Start = l.start + bytes.Index(text, name)
	l.name.End = l.name.Start + len(name)
	l.sort, l.rest = sortSection, schema.Span{Start: l.end, End: l.end}
	right := "[" + sections[k].name + "]"
	r.report(schema.FileStrayLine, l.span(), fmt.Sprintf("%s names a section without its brackets, and other programs read on in the section before; write %s", wording.Quote(string(text)), right),
		schema.Data{{Key: "name", Value: wording.Plain(string(text), 60)}, {Key: "suggestion", Value: right}}, mend("write "+right, l.span(), right))
	return true
}

// goesOnAs says whether the next line that is not blank is one of a section: a row
// of a table, or one of its keys.
func (r *reader) goesOnAs(k kind, at int) bool {
	for at < len(r.text) {
		l := lex(r.text, at)
		if l.sort != sortBlank {
			name := r.text[l.name.Start:l.name.End]
			return l.sort == sortKey && (rowOf(r.text, l) > 0 && sections[k].form != fields || k.keyOf(name) >= 0)
		}
		at = l.next
	}
	return false
}

// maySay says whether a stray line may be meant as more than a note: it holds a
// number within a table, or the name of a section or of a key.
func (r *reader) maySay(l line) bool {
	if len(r.parts) == 1 {
		return false
	}
	text := r.text[l.start:l.end]
	if sections[r.kind].form != fields {
		return bytes.ContainsAny(text, "0123456789") || kindOf(bytes.Trim(text, "[]() ")) != kindUnknown
	}
	if kindOf(bytes.Trim(text, "[]() ")) != kindUnknown {
		return r.kind != kindContents
	}
	first, _, _ := bytes.Cut(text, []byte{' '})
	return slices.ContainsFunc(sections[r.kind].keys, func(k key) bool {
		word, _, _ := strings.Cut(k.name, " ")
		return len(first) > 0 && bytes.EqualFold(bytes.Trim(first, ":"), []byte(word))
	})
}

// strayKey reads a line that is a key and its value but for the =, as in
// Shafts: 4, and says whether it is one.
func (r *reader) strayKey(l line) bool {
	text := r.text[l.start:l.end]
	best, from := -1, 0
	for i, k := range sections[r.kind].keys {
		n := len(k.name)
		if sections[r.kind].form != fields || len(text) <= n || !bytes.EqualFold(text[:n], []byte(k.name)) || best >= 0 && n < len(sections[r.kind].keys[best].name) {
			continue
		}
		if at, _ := trim(text, n, len(text)); text[at] == ':' || at > n {
			best, from = i, at
		}
	}
	if best < 0 {
		return false
	}
	name := sections[r.kind].keys[best].name
	colon := text[from] == ':'
	if colon {
		from++
	}
	l.name = schema.Span{Start: l.start, End: l.start + len(name)}
	l.value.Start, l.value.End = trim(r.text, l.start+from, l.end)
	value := r.text[l.value.Start:l.value.End]
	if len(value) == 0 || !colon && (r.kind == kindText || bytes.IndexByte(value, ' ') >= 0) {
		return false
	}
	if r.exact == 1<<15 {
		r.exact = r.exactKeys(r.parts[len(r.parts)-1].body)
	}
	if (r.exact|r.seen[r.kind])&(1<<best) != 0 {
		return false
	}
	fix := mend("write =", schema.Span{Start: l.name.End, End: l.value.Start}, "=")
	if !r.extend(alike{schema.FileStrayLine, r.kind, "write ="}, l.span(), true, fix.Edits...) {
		said := wording.Plain(name+"="+string(value), 60)
		r.report(schema.FileStrayLine, l.span(),
			fmt.Sprintf("%s in section %s lacks an = sign, and other programs skip the line; write %s", wording.Quote(string(text)), sections[r.kind].name, said),
			schema.Data{{Key: "name", Value: wording.Plain(string(text), 60)}, {Key: "suggestion", Value: said}}, fix)
	}
	l.sort = sortKey
	r.field(l)
	return true
}

// misspeltIgnore reports a comment that was most likely meant to be an ignore, and
// how to write it.
func (r *reader) misspeltIgnore(comment schema.Span, meant string) {
	rule, rest, _ := strings.Cut(strings.TrimPrefix(wording.Plain(meant, 60), schema.IgnoreComment), " ")
	if rest != "" {
		rest = " " + rest
	}
	m := schema.MisspeltIgnore{Comment: string(r.text[comment.Start:comment.End]), Rule: rule, Rest: rest}
	r.found = append(r.found, m.Finding(comment))
}

// What stands after a number: a comma, or a comment.
const leftComma, leftComment = "comma", "comment"

// leftOver reports what stands behind a number: a comment, a comma.
func (r *reader) leftOver(l line, at schema.Span) {
	rest := strings.TrimSpace(string(r.text[at.End:l.value.End]))
	what, sort := "take it away", leftComma
	fix := mend(what, schema.Span{Start: at.End, End: l.value.End}, "")
	if _, comment, ok := strings.Cut(rest, ";"); ok && strings.TrimSpace(comment) != "" {
		comment = "; " + strings.TrimSpace(comment)
		r.ignore(schema.Span{Start: at.End + bytes.IndexByte(r.text[at.End:l.value.End], ';'), End: l.value.End})
		r.comment(comment)
		r.attach(r.rightKey(r.text[l.name.Start:l.name.End]))
		what, sort = "give the comment a line of its own", leftComment
		fix.Title = "move the comment to a line of its own"
		fix.Edits = append([]schema.Edit{{Span: schema.Span{Start: l.start, End: l.start}, New: comment + r.lineBreak(l)}}, fix.Edits...)
	}
	if r.rowAfter(rest) {
		what, sort, fix = "if it is a row, write it on a line of its own", "row", atRisk(fix)
		if r.kind.isWeave() {
			r.doubt(schema.FileStrayLine)
		}
	}
	if r.extend(alike{schema.FileStrayLine, r.kind, sort}, l.span(), r.inTable(r.kind), fix.Edits...) {
		return
	}
	r.report(schema.FileStrayLine, schema.Span{Start: at.End, End: l.value.End},
		fmt.Sprintf("%s behind the value of %s is left out, since a value ends where its line does; %s",
			wording.Quote(rest), wording.Quote(string(r.text[l.name.Start:l.name.End])), what),
		schema.Data{{Key: "name", Value: wording.Plain(rest, 60)}, {Key: "suggestion", Value: wording.Plain(string(r.text[at.Start:at.End]), 60)}},
		fix)
}

// rowAfter says whether a comment behind a row may be the next row, as in
// 1=1; 2=2.
func (r *reader) rowAfter(rest string) bool {
	text := []byte(strings.TrimLeft(rest, "; \t"))
	return r.inTable(r.kind) && len(text) > 0 && rowOf(text, lex(text, 0)) > 0
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

// headerComment is what stands after the bracket of a section line, as a comment,
// or as it is where it is a line of the section; "" for nothing.
func (r *reader) headerComment(l line, k kind) string {
	rest := strings.TrimLeft(string(r.text[l.rest.Start:l.rest.End]), "; \t")
	switch {
	case rest == "", r.goesOnBehind(l, k):
		return rest
	}
	return "; " + rest
}

// goesOnBehind says whether a key or a row of a section follows its bracket on the
// same line.
func (r *reader) goesOnBehind(l line, k kind) bool {
	return k != kindUnknown && sections[k].form != verbatim && l.rest.Start < l.rest.End &&
		r.text[l.rest.Start] != ';' && lex(r.text, l.rest.Start).sort == sortKey
}

// header reports a section line with its bracket left open, or with more behind
// it than a comment. It says whether what is there is a line of the section.
func (r *reader) header(l line, name []byte) (more bool) {
	rest := strings.TrimSpace(string(r.text[l.rest.Start:l.rest.End]))
	if !l.unclosed && rest == "" {
		return false
	}
	more = r.goesOnBehind(l, r.kind)
	fix := mend("close the bracket", schema.Span{Start: l.end, End: l.end}, "]")
	what := "has no closing bracket; write ] behind its name"
	comment := r.headerComment(l, r.kind)
	if rest != "" {
		_, bracket := trim(r.text, l.name.End, l.rest.Start)
		fix = mend("take it away", schema.Span{Start: bracket, End: l.end}, "")
		what = "has " + wording.Quote(rest) + " behind it; take it away"
	}
	switch {
	case more:
		fix = mend("move it to a line of its own", schema.Span{Start: l.rest.Start, End: l.rest.Start}, r.lineBreak(l))
		what = "has " + wording.Quote(rest) + " after it, which other programs skip; move it to a line of its own"
	case comment != "":
		fix.Title, fix.Edits[0].New = "move it to a line of its own", r.lineBreak(l)+comment
		what = "has " + wording.Quote(rest) + " behind it, which is left out; give it a line of its own"
		r.ignore(l.rest)
		if r.carries() {
			r.lines = append(r.lines, comment)
		} else {
			r.comment(comment)
		}
	}
	if r.extend(alike{schema.FileStrayLine, kindUnknown, fix.Title}, l.span(), false, fix.Edits...) {
		return more
	}
	r.report(schema.FileStrayLine, l.span(), "section "+wording.Quote(string(name))+" "+what,
		schema.Data{{Key: "name", Value: wording.Plain(string(r.text[l.start:l.end]), 60)},
			{Key: "suggestion", Value: "[" + wording.Plain(string(name), 60) + "]"}}, fix)
	return more
}
