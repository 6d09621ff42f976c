package wif

import (
	"bytes"
	"fmt"
	"sort"
	"strconv"
	"strings"

	"fettle/schema"
)

// This file holds what the reader says of what it meets. Each finding stands at
// the bytes it is about, and carries the edits that mend it where that is
// certain: where the draft then reads the same.

func (r *reader) report(rule string, at schema.Span, message string, data schema.Data, fixes ...schema.Fix) {
	r.found = append(r.found, schema.Finding{Rule: rule, Span: at, Message: message, Data: data, Fixes: fixes})
}

// unread marks the finding reported last as one whose text is in no part of the
// draft; kept takes that back, where the text is carried or read all the same.
func (r *reader) unread() { r.found[len(r.found)-1].Unread = true }
func (r *reader) kept()   { r.found[len(r.found)-1].Unread = false }

// mend is a certain fix of one edit.
func mend(title string, at schema.Span, with string) schema.Fix {
	return schema.Fix{Title: title, Edits: []schema.Edit{{Span: at, New: with}}}
}

// commentOut is a certain fix that keeps a line as a comment.
func commentOut(at int) schema.Fix {
	return mend("make it a comment", schema.Span{Start: at, End: at}, "; ")
}

// commentOutRow is commentOut for a row. It replaces the row's number, so that a
// comment moved from behind the row to the line before it stays a comment.
func (r *reader) commentOutRow(l line) schema.Fix {
	return mend("make it a comment", l.name, "; "+string(r.text[l.name.Start:l.name.End]))
}

// lineBreak is how a line ends.
func (r *reader) lineBreak(l line) string { return breakOf(r.text, l) }

// strayLine reports a line that is neither section nor key nor comment. Lines
// that follow each other make one finding.
func (r *reader) strayLine(l line) {
	if r.fold(alike{schema.FileStrayLine, r.kind, ""}, l.span(), true, commentOut(l.start).Edits...) {
		return
	}
	text := string(r.text[l.start:l.end])
	where := "in section " + sections[r.kind].name
	if len(r.parts) == 1 {
		where = "before the first section"
	}
	r.report(schema.FileStrayLine, l.span(),
		schema.Quote(text)+" "+where+" is no key = value line and is left out; if it is a note, begin it with a semicolon",
		schema.Data{{Key: "name", Value: schema.Plain(text, 60)}, {Key: "suggestion", Value: "; " + schema.Plain(text, 60)}},
		commentOut(l.start))
}

// misspeltIgnore reports a comment that was most likely meant to be an ignore, and
// how to write it.
func (r *reader) misspeltIgnore(l line, meant string) {
	text := string(r.text[l.start:l.end])
	meant = schema.Plain(meant, 60)
	r.report(schema.FileUnknownKey, l.span(),
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

// header reports a section line with its bracket left open, or with more behind
// it than a comment.
func (r *reader) header(l line, name []byte) {
	rest := strings.TrimSpace(string(r.text[l.rest.Start:l.rest.End]))
	if !l.unclosed && rest == "" {
		return
	}
	fix := mend("close the bracket", schema.Span{Start: l.end, End: l.end}, "]")
	what := "has no closing bracket; write ] behind its name"
	if rest != "" {
		comment := "; " + strings.TrimLeft(rest, "; \t")
		_, bracket := trim(r.text, l.name.End, l.rest.Start)
		fix = mend("move it to a line of its own", schema.Span{Start: bracket, End: l.end}, r.lineBreak(l)+comment)
		what = "has " + schema.Quote(rest) + " behind it, which is left out; give it a line of its own"
		r.pending = append(r.pending, comment)
	}
	if r.fold(alike{schema.FileStrayLine, kindUnknown, fix.Title}, l.span(), false, fix.Edits...) {
		return
	}
	r.report(schema.FileStrayLine, l.span(), "section "+schema.Quote(string(name))+" "+what,
		schema.Data{{Key: "name", Value: schema.Plain(string(r.text[l.start:l.end]), 60)},
			{Key: "suggestion", Value: "[" + schema.Plain(string(name), 60) + "]"}}, fix)
}

// unknownSection reports a section that the format does not have, and gives the
// one it is read as: the only one whose name is a single slip away, unless the
// file has that one too.
func (r *reader) unknownSection(l line, name []byte) kind {
	k := nearSection(name)
	said := schema.Quote(string(name))
	data := func(suggestion string) schema.Data {
		return schema.Data{{Key: "name", Value: schema.Plain(string(name), 60)}, {Key: "suggestion", Value: suggestion}}
	}
	switch {
	case (k == kindUnknown || r.first[k] != 0 || r.present(k)) && r.fold(alike{schema.FileUnknownSection, k, ""}, l.span(), false):
		k = kindUnknown
	case k == kindUnknown:
		r.report(schema.FileUnknownSection, l.span(),
			"the format has no section "+said+"; it is kept but not read: if it is a program's own, its name begins with PRIVATE", data(""))
	case r.first[k] != 0 || r.present(k):
		r.report(schema.FileUnknownSection, l.span(),
			fmt.Sprintf("the format has no section %s; it is kept but not read, since the file has %s as well: put both together", said, sections[k].name),
			data(sections[k].name))
		k = kindUnknown
	default:
		r.report(schema.FileUnknownSection, l.span(),
			fmt.Sprintf("the format has no section %s; it is read as %s: write that", said, sections[k].name), data(sections[k].name),
			mend("write "+sections[k].name, l.name, sections[k].name))
	}
	return k
}

// present says whether the file has a section of a kind under its right name.
// All names are looked through once, and only where one is misspelt.
func (r *reader) present(k kind) bool {
	if r.spelt == 0 {
		r.spelt = r.spellings()
	}
	return r.spelt&(1<<k) != 0
}

// spellings is which kinds of section the file names as they should be, a bit
// each, kindUnknown's always set.
func (r *reader) spellings() uint64 {
	found := uint64(1) << kindUnknown
	for at := 0; at < len(r.text); {
		l := lex(r.text, at)
		if l.sort == sortSection {
			found |= 1 << kindOf(r.text[l.name.Start:l.name.End])
		}
		at = l.next
	}
	return found
}

// again reports a section that the file has already.
func (r *reader) again(l line, name []byte, k kind) {
	first := r.first[k]
	if !k.named() {
		key := folded(name)
		if first = r.names[key]; first == 0 {
			if r.names == nil {
				r.names = map[string]int{}
			}
			r.names[key] = len(r.parts)
		}
	}
	if first == 0 {
		return
	}
	a := alike{schema.FileDuplicateSection, k, ""}
	if !r.fold(a, l.span(), false) {
		r.reportAgain(l, name, k)
	}
	r.twice = append(r.twice, twice{finding: r.groups[a].finding, first: first, part: len(r.parts)})
}

func (r *reader) reportAgain(l line, name []byte, k kind) {
	what := "the second adds to the first, and where both have a key the first stands: put them together"
	if k == kindUnknown || sections[k].form == verbatim {
		what = "both are kept, and not read: put them together"
	}
	r.report(schema.FileDuplicateSection, l.span(), fmt.Sprintf("section %s stands twice; %s", schema.Quote(string(name)), what),
		schema.Data{{Key: "name", Value: schema.Plain(string(name), 60)}, {Key: "suggestion", Value: ""}})
}

func (r *reader) unknownKey(l line, name []byte, near int) {
	if r.fold(alike{schema.FileUnknownKey, r.kind, "unknown"}, l.span(), r.inTable(r.kind)) {
		return
	}
	section, suggestion := sections[r.kind].name, ""
	message := fmt.Sprintf("section %s has no key %s; it is kept but not read: see whether it is misspelt", section, schema.Quote(string(name)))
	if near >= 0 {
		suggestion = sections[r.kind].keys[near].name
		message = fmt.Sprintf("section %s has no key %s; it is kept but not read, since the section has %s as well: take one out", section, schema.Quote(string(name)), suggestion)
	}
	if sections[r.kind].form != fields {
		message = fmt.Sprintf("%s is not a row number of section %s; the line is kept but not read: number it, or begin it with a semicolon", schema.Quote(string(name)), section)
	}
	r.report(schema.FileUnknownKey, l.span(), message,
		schema.Data{{Key: "name", Value: schema.Plain(string(name), 60)}, {Key: "suggestion", Value: suggestion}})
}

func (r *reader) misspeltKey(l line, name []byte, i int) {
	right := sections[r.kind].keys[i].name
	if r.fold(alike{schema.FileUnknownKey, r.kind, right}, l.span(), true, mend("", l.name, right).Edits...) {
		return
	}
	r.report(schema.FileUnknownKey, l.span(),
		fmt.Sprintf("section %s has no key %s; it is read as %s: write that", sections[r.kind].name, schema.Quote(string(name)), right),
		schema.Data{{Key: "name", Value: schema.Plain(string(name), 60)}, {Key: "suggestion", Value: right}},
		mend("write "+right, l.name, right))
}

func (r *reader) duplicateKey(l line, name string) {
	if !r.fold(alike{schema.FileDuplicateKey, r.kind, name}, l.span(), true, commentOut(l.start).Edits...) {
		r.report(schema.FileDuplicateKey, l.span(),
			fmt.Sprintf("%s stands twice in section %s; the first stands: take the other away", name, sections[r.kind].name),
			schema.Data{{Key: "name", Value: name}, {Key: "suggestion", Value: ""}}, commentOut(l.start))
	}
	r.pending = append(r.pending, "; "+string(r.text[l.start:l.end]))
}

// repeated reports a row whose number was there already. Rows that follow each
// other make one finding.
func (r *reader) repeated(k kind, index int32, at schema.Span) {
	l := lex(r.text, at.Start)
	if r.between(l, index) {
		r.mistyped(k, l, index)
		return
	}
	if r.fold(alike{schema.FileDuplicateKey, k, "row"}, l.span(), true, r.commentOutRow(l).Edits...) {
		return
	}
	r.report(schema.FileDuplicateKey, l.span(),
		fmt.Sprintf("row %d stands twice in section %s; the first stands: take the other away", index, sections[k].name),
		schema.Data{{Key: "name", Value: strconv.Itoa(int(index))}, {Key: "suggestion", Value: ""}}, r.commentOutRow(l))
	r.unread()
}

// between says whether a row stands between the one of its number and the next
// but one, so that it may well be the one that is missing.
func (r *reader) between(l line, index int32) bool {
	end := lineStart(r.text, l.start)
	for end > 0 && (r.text[end-1] == '\n' || r.text[end-1] == '\r') {
		end--
	}
	before := lex(r.text, lineStart(r.text, end))
	return rowOf(r.text, before) == int(index) && rowOf(r.text, lex(r.text, l.next)) == int(index)+2
}

// mistyped reports a row that has the number of the one before it where its own
// is missing.
func (r *reader) mistyped(k kind, l line, index int32) {
	own := strconv.Itoa(int(index) + 1)
	fix := mend("number it "+own, l.name, own)
	fix.Risky = true
	r.report(schema.FileDuplicateKey, l.span(),
		fmt.Sprintf("row %d stands twice in section %s and row %s is missing, so this may be row %s; the first row %d stands: number this one %s, or take it away",
			index, sections[k].name, own, own, index, own),
		schema.Data{{Key: "name", Value: strconv.Itoa(int(index))}, {Key: "suggestion", Value: own}}, fix)
	r.unread()
}

func (r *reader) badValue(l line, expected string) {
	k := r.kindAt(l.start)
	if r.fold(alike{schema.FileBadValue, k, expected}, l.span(), r.inTable(k)) {
		return
	}
	name, value := string(r.text[l.name.Start:l.name.End]), string(r.text[l.value.Start:l.value.End])
	r.report(schema.FileBadValue, l.span(),
		fmt.Sprintf("%s is no value for %s in section %s: it takes %s", schema.Quote(value), schema.Quote(name), sections[k].name, expected),
		schema.Data{{Key: "section", Value: sections[k].name}, {Key: "key", Value: schema.Plain(name, 60)},
			{Key: "value", Value: schema.Plain(value, 60)}, {Key: "expected", Value: expected}})
	r.unread()
}

// nearUnit reports a unit that is written otherwise than the format has it.
func (r *reader) nearUnit(l line, unit string) {
	value := string(r.text[l.value.Start:l.value.End])
	r.report(schema.FileBadValue, l.span(),
		fmt.Sprintf("%s in section %s is read as %s, but other programs may not know it; write %s", schema.Quote(value), sections[r.kind].name, unit, unit),
		schema.Data{{Key: "section", Value: sections[r.kind].name}, {Key: "key", Value: "Units"},
			{Key: "value", Value: schema.Plain(value, 60)}, {Key: "expected", Value: unit}},
		mend("write "+unit, r.plain(l), unit))
}

// finishMeasures leaves out what is measured in no unit, and reports what is
// closer than any threads can be.
func (r *reader) finishMeasures() {
	for _, s := range r.unmeasured {
		s.ForgetMeasures()
	}
	for _, c := range []struct {
		kind kind
		s    *schema.System
	}{{kindWarp, &r.draft.Warp}, {kindWeft, &r.draft.Weft}} {
		if c.s.TooFine() {
			r.tooFine(c.kind, c.s)
		}
	}
}

func (r *reader) tooFine(k kind, s *schema.System) {
	l := r.locator()
	at, _ := l.key(k, "Spacing")
	line := lex(r.text, at.Start)
	value := string(r.text[line.value.Start:line.value.End])
	why, todo := "", "correct it, or its Units"
	if s.Unit == schema.UnitUnstated {
		why, todo = " without Units is in decipoints, which", "say what it is measured in, as in Units=Centimeters"
	}
	r.report(schema.FileBadValue, line.span(),
		s.WhyTooFine("Spacing="+schema.Plain(value, 30)+" in section "+sections[k].name+why, todo),
		schema.Data{{Key: "section", Value: sections[k].name}, {Key: "key", Value: "Spacing"},
			{Key: "value", Value: schema.Plain(value, 60)}, {Key: "expected", Value: "a distance from thread to thread"}})
}

func (r *reader) rangeUnstated(at schema.Span, high int32) {
	expected := fmt.Sprintf("Range=0,%d", high)
	var fixes []schema.Fix
	l := r.locator()
	if _, said := l.key(kindColorPalette, "Range"); !said && l.has(kindColorPalette) {
		fixes = append(fixes, schema.Fix{Title: "write " + expected,
			Edits: l.setKey(kindColorPalette, "Range", strings.TrimPrefix(expected, "Range="))})
	}
	r.report(schema.FileBadValue, lex(r.text, at.Start).span(),
		fmt.Sprintf("the colors go beyond 255 and the palette does not say its range; they are read as 0 to %d: write %s in COLOR PALETTE", high, expected),
		schema.Data{{Key: "section", Value: sections[kindColorPalette].name}, {Key: "key", Value: "Range"},
			{Key: "value", Value: ""}, {Key: "expected", Value: expected}}, fixes...)
}

func (r *reader) decimalComma(l line, at schema.Span) {
	text := string(r.text[at.Start:at.End])
	comma := at.Start + strings.IndexByte(text, ',')
	fix := mend("", schema.Span{Start: comma, End: comma + 1}, ".")
	if r.fold(alike{schema.FileDecimalComma, r.kind, ""}, l.span(), r.inTable(r.kind), fix.Edits...) {
		return
	}
	point := strings.Replace(text, ",", ".", 1)
	fix.Title = "write " + point
	name := string(r.text[l.name.Start:l.name.End])
	r.report(schema.FileDecimalComma, l.span(),
		fmt.Sprintf("%s has a decimal comma, which other programs misread; write %s", schema.Quote(text), point),
		schema.Data{{Key: "section", Value: sections[r.kind].name}, {Key: "key", Value: schema.Plain(name, 60)}, {Key: "value", Value: text}},
		fix)
}

func (r *reader) foreignVersion(l line) {
	text := string(r.text[l.value.Start:l.value.End])
	r.report(schema.FileVersion, l.span(),
		fmt.Sprintf("version %s of the format is not one of 1.0 and 1.1; it is read as 1.1: look whether all of it came over", schema.Quote(text)),
		schema.Data{{Key: "version", Value: schema.Plain(text, 60)}},
		schema.Fix{Title: "write 1.1", Risky: true, Edits: []schema.Edit{{Span: l.value, New: "1.1"}}})
}

func (r *reader) indexFinding(section string, index int, at schema.Span, limit int, message string, fixes ...schema.Fix) {
	r.report(schema.FileIndex, lex(r.text, at.Start).span(), message,
		schema.Data{{Key: "section", Value: section}, {Key: "index", Value: index}, {Key: "limit", Value: limit}}, fixes...)
	r.unread()
}

// badIndex is for a row numbered 0, or with more digits than any row can have.
func (r *reader) badIndex(l line, name []byte) {
	section, what := sections[r.kind].name, "far"
	if len(bytes.Trim(name, "0")) == 0 {
		what = "zero"
	}
	if r.fold(alike{schema.FileIndex, r.kind, what}, l.span(), true, commentOut(l.start).Edits...) {
		return
	}
	index, err := strconv.Atoi(string(name))
	if err != nil {
		index = int(^uint(0) >> 1)
	}
	limit := r.tables[r.kind].listed + schema.Belief
	row := fmt.Sprintf("row %s of section %s", schema.Plain(string(name), 30), section)
	message := row + " is left out: rows are numbered from 1; number it right, or take it out"
	if index > 0 {
		message = schema.Unbelieved(row, limit, "number it right, or take it out")
	}
	r.indexFinding(section, index, l.span(), limit, message, commentOut(l.start))
}

// outside is for a row beyond what the section's rows belong to.
func (r *reader) outside(k kind, index int, at schema.Span, limit int, fixes ...schema.Fix) {
	if r.fold(alike{schema.FileIndex, k, "outside"}, at, true) {
		return
	}
	section := sections[k].name
	left := "left out"
	if sections[k].form == verbatim {
		left = "kept but not read"
	}
	message := fmt.Sprintf("row %d of section %s stands beyond the last of %s and is %s; take it out, or declare more",
		index, section, schema.Counted(limit, threadOf(k)), left)
	switch k {
	case kindColorTable:
		message = fmt.Sprintf("color %d stands beyond Entries=%d of COLOR PALETTE; it is read all the same: raise Entries", index, limit)
	case kindWarpSymbolTable, kindWeftSymbolTable:
		message = fmt.Sprintf("row %d of section %s stands beyond Entries=%d of its palette; it is kept all the same: raise Entries", index, section, limit)
	}
	r.indexFinding(section, index, at, limit, message, fixes...)
	if k == kindColorTable || sections[k].form == verbatim {
		r.kept()
	}
}

// threadOf is what a row of a table by thread is of.
func threadOf(k kind) string {
	if strings.HasPrefix(sections[k].name, "WARP") {
		return "end"
	}
	return "pick"
}

// kindAt is the section that an offset lies in.
func (r *reader) kindAt(at int) kind {
	i := sort.Search(len(r.parts), func(i int) bool { return r.parts[i].header.Start > at })
	return r.parts[max(i-1, 0)].kind
}

// problems reports rows of a section that cannot be placed.
func (r *reader) problems(k kind) problems {
	return problems{
		twice: func(index int32, at schema.Span) { r.repeated(k, index, at) },
		beyond: func(index int32, at schema.Span, limit int) {
			l := lex(r.text, at.Start)
			if r.fold(alike{schema.FileIndex, k, "far"}, l.span(), true, commentOut(l.start).Edits...) {
				return
			}
			row := fmt.Sprintf("row %d of section %s", index, sections[k].name)
			r.indexFinding(sections[k].name, int(index), at, limit,
				schema.Unbelieved(row, limit, "number it right, or take it out"), commentOut(l.start))
		},
	}
}
