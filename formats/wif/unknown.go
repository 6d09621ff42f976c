package wif

import (
	"fmt"

	"fettle/schema"
	"fettle/schema/wording"
)

// This file tells of names that the format does not have.

// unknownSection reports a section that the format does not have, and gives the
// one it is read as: the only one whose name is a single slip away, unless the
// file has that one too.
func (r *reader) unknownSection(l line, name []byte) kind {
	k := nearSection(name)
	said := wording.Quote(string(name))
	data := func(suggestion string) schema.Data {
		return schema.Data{{Key: "name", Value: wording.Plain(string(name), 60)}, {Key: "suggestion", Value: suggestion}}
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

func (r *reader) unknownKey(l line, name []byte, near int) {
	if kindWeaving.keyOf(name) >= 0 {
		r.doubt(schema.FileUnknownKey) // the shed or the shafts may be what it says
	}
	if r.fold(alike{schema.FileUnknownKey, r.kind, "unknown"}, l.span(), r.inTable(r.kind) || rowOf(r.text, l) > 0) {
		return
	}
	section, suggestion := sections[r.kind].name, ""
	message := fmt.Sprintf("section %s has no key %s; it is kept but not read: see whether it is misspelt", section, wording.Quote(string(name)))
	if near >= 0 {
		suggestion = sections[r.kind].keys[near].name
		message = fmt.Sprintf("section %s has no key %s; it is kept but not read, since the section has %s as well: take one out", section, wording.Quote(string(name)), suggestion)
	}
	if sections[r.kind].form != fields {
		message = fmt.Sprintf("%s is not a row number of section %s; the line is kept but not read: number it, or begin it with a semicolon", wording.Quote(string(name)), section)
	}
	r.report(schema.FileUnknownKey, l.span(), message,
		schema.Data{{Key: "name", Value: wording.Plain(string(name), 60)}, {Key: "suggestion", Value: suggestion}})
}

func (r *reader) misspeltKey(l line, name []byte, i int) {
	right := sections[r.kind].keys[i].name
	if r.fold(alike{schema.FileUnknownKey, r.kind, right}, l.span(), true, mend("", l.name, right).Edits...) {
		return
	}
	r.report(schema.FileUnknownKey, l.span(),
		fmt.Sprintf("section %s has no key %s; it is read as %s: write that", sections[r.kind].name, wording.Quote(string(name)), right),
		schema.Data{{Key: "name", Value: wording.Plain(string(name), 60)}, {Key: "suggestion", Value: right}},
		mend("write "+right, l.name, right))
}
