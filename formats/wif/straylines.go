package wif

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// strayLine reports a line that is neither a section, a key nor a comment.
// Consecutive lines share one finding.
func (r *reader) strayLine(l line) {
	fix, problem := commentOut(l.start), ""
	if r.mayMatter(l) {
		fix, problem = risky(fix), "may matter"
		if r.kind.isWeave() {
			r.markUnclear(schema.FileStrayLine)
		}
	}
	text := r.str(l.span())
	r.ignore(l.span()) // the fix makes the line a comment, which may ignore findings
	if r.merge(similar{schema.FileStrayLine, r.kind, problem}, l.span(), true, fix.Edits...) {
		return
	}
	where := "in section " + sections[r.kind].name
	if len(r.parts) == 1 {
		where = "before the first section"
	}
	r.report(schema.FileStrayLine, l.span(),
		wording.Quote(text)+" "+where+" isn't a key = value line, so fettle skips it; if it is a note, begin it with a semicolon",
		nameData(text, "; "+wording.Plain(text, 60)), fix)
	if problem != "" {
		r.markUnread()
	}
}

// bareHeader reads a section's name without brackets, or with the wrong ones, as its
// header, if the file lacks that section and a line of it follows.
func (r *reader) bareHeader(l *line) bool {
	const brackets = "()[]{}<>:=-*#_~ \t"
	text := r.text[l.start:l.end]
	name := bytes.Trim(text, brackets)
	k := kindOf(name)
	if near := nearSection(name); k == kindUnknown && r.lists(near) {
		k = near
	}
	if !k.named() || r.kind == kindNotes && !r.lists(k) || r.carries() || r.first[k] != 0 || r.exactlyNamed(k) || !r.sectionFollows(k, l.next) {
		return false
	}
	l.name.Start = l.start + bytes.Index(text, name)
	l.name.End = l.name.Start + len(name)
	l.sort, l.rest = sortSection, schema.Span{Start: l.end, End: l.end}
	header := "[" + sections[k].name + "]"
	r.report(schema.FileStrayLine, l.span(), fmt.Sprintf("section name %s lacks its brackets, so other programs don't see the section; write %s", wording.Quote(string(text)), header),
		nameData(string(text), header), replacement("write "+header, l.span(), header))
	return true
}

// sectionFollows reports whether the next line that isn't blank belongs to a
// section: a row of its table or one of its keys.
func (r *reader) sectionFollows(k kind, at int) bool {
	for at < len(r.text) {
		l := lex(r.text, at)
		if l.sort != sortBlank {
			name := r.text[l.name.Start:l.name.End]
			return l.sort == sortKey && (rowOf(r.text, l) > 0 && sections[k].form != formFields || k.keyOf(name) >= 0)
		}
		at = l.next
	}
	return false
}

// mayMatter reports whether a stray line may be more than a note: it has a number
// in a table, or the name of a section or a key.
func (r *reader) mayMatter(l line) bool {
	if len(r.parts) == 1 {
		return false
	}
	text := r.text[l.start:l.end]
	isSection := kindOf(bytes.Trim(text, "[]() ")) != kindUnknown
	switch {
	case sections[r.kind].form != formFields:
		return isSection || bytes.ContainsAny(text, "0123456789")
	case isSection:
		return r.kind != kindContents
	}
	first, _, _ := bytes.Cut(text, []byte{' '})
	return slices.ContainsFunc(sections[r.kind].keys, func(k key) bool {
		word, _, _ := strings.Cut(k.name, " ")
		return len(first) > 0 && bytes.EqualFold(bytes.Trim(first, ":"), []byte(word))
	})
}

// keyWithoutEquals reads a line such as "Shafts: 4", with a key and a value but no
// equals sign, and reports whether it is one.
func (r *reader) keyWithoutEquals(l line) bool {
	text := r.text[l.start:l.end]
	best, from := -1, 0
	for i, k := range sections[r.kind].keys {
		n := len(k.name)
		if sections[r.kind].form != formFields || len(text) <= n || !bytes.EqualFold(text[:n], []byte(k.name)) || best >= 0 && n < len(sections[r.kind].keys[best].name) {
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
	if len(value) == 0 || !colon && (r.kind == kindText || bytes.IndexByte(value, ' ') >= 0) || r.hasKey(best) {
		return false
	}
	fix := replacement("write =", schema.Span{Start: l.name.End, End: l.value.Start}, "=")
	if !r.merge(similar{schema.FileStrayLine, r.kind, "write ="}, l.span(), true, fix.Edits...) {
		right := wording.Plain(name+"="+string(value), 60)
		r.report(schema.FileStrayLine, l.span(),
			fmt.Sprintf("%s in section %s lacks an equals sign, so other programs skip the line; write %s", wording.Quote(string(text)), sections[r.kind].name, right),
			nameData(string(text), right), fix)
	}
	l.sort = sortKey
	r.field(l)
	return true
}

// misspeltIgnore reports a comment that was probably meant to ignore findings.
func (r *reader) misspeltIgnore(comment schema.Span, meant string) {
	rule, rest, _ := strings.Cut(strings.TrimPrefix(wording.Plain(meant, 60), schema.IgnoreComment), " ")
	if rest != "" {
		rest = " " + rest
	}
	m := schema.MisspeltIgnore{Comment: r.str(comment), Rule: rule, Rest: rest}
	r.found = append(r.found, m.Finding(comment))
}

// The problem of a finding about text after a number.
const trailingComma, trailingComment = "comma", "comment"

// reportTrailing reports the comment or the comma after a number, which ends at at.
func (r *reader) reportTrailing(l line, at schema.Span) {
	trailing := schema.Span{Start: at.End, End: l.value.End}
	rest := strings.TrimSpace(r.str(trailing))
	problem, advice := trailingComma, "delete it"
	fix := replacement(advice, trailing, "")
	if _, comment, ok := strings.Cut(rest, ";"); ok && strings.TrimSpace(comment) != "" {
		comment = "; " + strings.TrimSpace(comment)
		r.ignore(schema.Span{Start: at.End + strings.IndexByte(r.str(trailing), ';'), End: l.value.End})
		r.comment(comment)
		r.attach(r.canonicalKey(r.text[l.name.Start:l.name.End]))
		problem, advice = trailingComment, "move the comment to its own line"
		fix.Title = advice
		fix.Edits = append([]schema.Edit{{Span: schema.Span{Start: l.start, End: l.start}, New: comment + r.lineBreak(l)}}, fix.Edits...)
	}
	if r.rowAfter(rest) {
		problem, advice, fix = "row", "if it is a row, write it on its own line", risky(fix)
		if r.kind.isWeave() {
			r.markUnclear(schema.FileStrayLine)
		}
	}
	if r.merge(similar{schema.FileStrayLine, r.kind, problem}, l.span(), r.inTable(r.kind), fix.Edits...) {
		return
	}
	r.report(schema.FileStrayLine, trailing,
		fmt.Sprintf("fettle ignores %s after the value of %s; %s", wording.Quote(rest), wording.Quote(r.str(l.name)), advice),
		nameData(rest, wording.Plain(r.str(at), 60)), fix)
}

// rowAfter reports whether a comment after a row may be the next row: 1=1; 2=2.
func (r *reader) rowAfter(rest string) bool {
	text := []byte(strings.TrimLeft(rest, "; \t"))
	return r.inTable(r.kind) && len(text) > 0 && rowOf(text, lex(text, 0)) > 0
}

// canonicalKey returns a key as the canonical form spells it.
func (r *reader) canonicalKey(name []byte) string {
	for _, find := range []func([]byte) int{r.kind.keyOf, r.kind.nearKey} {
		if i := find(name); i >= 0 {
			return sections[r.kind].keys[i].name
		}
	}
	return string(name)
}

// headerComment returns the text after the bracket of a section line: a key or row
// as it is, anything else as a comment; "" for none.
func (r *reader) headerComment(l line, k kind) string {
	rest := strings.TrimLeft(r.str(l.rest), "; \t")
	if rest == "" || r.keyAfterBracket(l, k) {
		return rest
	}
	return "; " + rest
}

// keyAfterBracket reports whether a key or a row of a section follows its bracket on
// the same line.
func (r *reader) keyAfterBracket(l line, k kind) bool {
	return k != kindUnknown && sections[k].form != formVerbatim && l.rest.Start < l.rest.End &&
		r.text[l.rest.Start] != ';' && lex(r.text, l.rest.Start).sort == sortKey
}

// header reports a section line whose bracket isn't closed, or that has more text
// after it. more reports whether that text is a key or row of the section.
func (r *reader) header(l line, name []byte) (more bool) {
	rest := strings.TrimSpace(r.str(l.rest))
	if !l.unclosed && rest == "" {
		return false
	}
	more = r.keyAfterBracket(l, r.kind)
	fix := replacement("close the bracket", schema.Span{Start: l.end, End: l.end}, "]")
	problem := "has no closing bracket; write ] after its name"
	comment := r.headerComment(l, r.kind)
	if rest != "" {
		_, bracket := trim(r.text, l.name.End, l.rest.Start)
		fix = replacement("delete it", schema.Span{Start: bracket, End: l.end}, "")
		problem = "has " + wording.Quote(rest) + " after it; delete it"
	}
	switch {
	case more:
		fix = replacement("move it to its own line", schema.Span{Start: l.rest.Start, End: l.rest.Start}, r.lineBreak(l))
		problem = "has " + wording.Quote(rest) + " after it, which other programs skip; move it to its own line"
	case comment != "":
		fix.Title, fix.Edits[0].New = "move it to its own line", r.lineBreak(l)+comment
		problem = "has " + wording.Quote(rest) + " after it, which fettle ignores; move it to its own line"
		r.ignore(l.rest)
		if r.carries() {
			r.lines = append(r.lines, comment)
		} else {
			r.comment(comment)
		}
	}
	if r.merge(similar{schema.FileStrayLine, kindUnknown, fix.Title}, l.span(), false, fix.Edits...) {
		return more
	}
	r.report(schema.FileStrayLine, l.span(), "section "+wording.Quote(string(name))+" "+problem,
		nameData(r.str(l.span()), "["+wording.Plain(string(name), 60)+"]"), fix)
	return more
}
