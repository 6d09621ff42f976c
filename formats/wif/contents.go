package wif

import (
	"fmt"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// This file reads CONTENTS and compares it with the sections of the file.

type listing struct {
	name    string
	kind    kind
	present bool
	at      int // where its line begins
}

func (r *reader) contentsKey(l line) {
	name := r.text[l.name.Start:l.name.End]
	k := kindOf(name)
	c := listing{name: sections[k].name, kind: k, at: l.start}
	if !k.named() {
		c.name = upperName(name)
	}
	if k == kindUnknown {
		c.kind = nearSection(name)
	}
	r.attach(c.name)
	for _, has := range r.contents[:min(len(r.contents), int(kinds))] {
		if has.name == c.name {
			r.duplicateKey(l, c.name, has.present == c.present)
			return
		}
	}
	answer := r.yesOrNo(l)
	c.present = answer == schema.Yes
	if answer == schema.Unsaid {
		return
	}
	if r.contents == nil {
		r.contents = make([]listing, 0, usualSections)
	}
	r.contents = append(r.contents, c)
	if k.named() && r.listed[k] == 0 {
		r.listed[k] = len(r.contents)
	}
}

func (r *reader) finishContents() {
	if r.first[kindContents] == 0 {
		r.noContents()
		return
	}
	for i := range r.contents {
		c := &r.contents[i]
		if c.kind.named() && c.name != sections[c.kind].name && r.first[c.kind] != 0 && r.listed[c.kind] == 0 {
			r.listed[c.kind] = i + 1
			r.misspeltListing(c)
		}
		if c.present && !r.has(c) && r.truncated == "" && !r.reportsMissing(c.kind) {
			line := lex(r.text, c.at)
			fix := r.relist(line, "false")
			fix.Risky = c.kind.concernsThreads()
			r.contentsFinding(line.span(), c.name, true, false, r.absent(c), fix)
		}
	}
	others := r.otherListings()
	for i := range r.parts {
		name, ok := r.listedName(i)
		if !ok || r.parts[i].kind == kindContents {
			continue
		}
		p, c := &r.parts[i], others[name]
		if p.kind.named() && r.listed[p.kind] > 0 {
			c = &r.contents[r.listed[p.kind]-1]
		}
		switch {
		case c == nil && p.kind == kindUnknown && nearSection([]byte(name)) != kindUnknown: // reported as misspelt
		case c == nil:
			r.contentsFinding(p.header, name, false, true,
				fmt.Sprintf("CONTENTS doesn't list section %s, so other programs may skip it; list it", wording.Quote(name)), r.enlist(name))
		case !c.present:
			r.contentsFinding(p.header, name, false, true,
				fmt.Sprintf("CONTENTS says that the file lacks section %s, but the file has it; write true there", wording.Quote(name)), r.relist(lex(r.text, c.at), "true"))
		}
	}
}

// concernsThreads reports whether a section is about threads. If CONTENTS lists it
// and the file lacks it, it may have been lost.
func (k kind) concernsThreads() bool {
	switch sections[k].part {
	case schema.PartFile, schema.PartText, schema.PartNotes:
		return false
	}
	return true
}

func (r *reader) absent(c *listing) string {
	message := fmt.Sprintf("CONTENTS lists %s, but the file lacks it", wording.Quote(c.name))
	if c.kind.concernsThreads() {
		return message + ". If it was lost, restore it; otherwise write false there"
	}
	return message + "; write false there"
}

// otherListings returns the lines of CONTENTS for private and unknown sections, by
// name.
func (r *reader) otherListings() map[string]*listing {
	if r.names == nil {
		return nil
	}
	listed := make(map[string]*listing, len(r.contents))
	for i := range r.contents {
		listed[r.contents[i].name] = &r.contents[i]
	}
	return listed
}

// listedName returns the name by which CONTENTS has to list a part. ok is false for
// WIF, for duplicates, and for names that can't be a key.
func (r *reader) listedName(i int) (name string, ok bool) {
	p := &r.parts[i]
	switch {
	case i == 0 || p.kind == kindWIF:
		return "", false
	case p.kind.named():
		return sections[p.kind].name, r.first[p.kind] == i
	}
	return p.name, p.name != "" && listable(p.name)
}

// has reports whether the file has the section that a line of CONTENTS lists.
func (r *reader) has(c *listing) bool {
	if c.kind.named() {
		return r.first[c.kind] != 0
	}
	return r.names[c.name] != 0
}

func (r *reader) contentsFinding(at schema.Span, section string, listed, present bool, message string, fixes ...schema.Fix) {
	if len(fixes) == 1 && r.merge(similar{schema.FileContents, kindContents, fmt.Sprint(listed, present, fixes[0].Risky)}, at, false, fixes[0].Edits...) {
		return
	}
	r.report(schema.FileContents, at, message, schema.Data{
		{Key: "section", Value: wording.Plain(section, 60)}, {Key: "listed", Value: listed}, {Key: "present", Value: present}}, fixes...)
}

// misspeltListing reports a line of CONTENTS that misspells the name of a section.
func (r *reader) misspeltListing(c *listing) {
	l := lex(r.text, c.at)
	right := sections[c.kind].name
	r.contentsFinding(l.span(), r.str(l.name), true, true,
		fmt.Sprintf("CONTENTS lists %s, which WIF calls %s; write that", wording.Quote(r.str(l.name)), right), replacement("write "+right, l.name, right))
}

// relist changes the answer on a line of CONTENTS.
func (r *reader) relist(l line, answer string) schema.Fix {
	return replacement("write "+answer, plainPart(r.text, l.value), answer)
}

// enlist adds a section to CONTENTS, after its last line.
func (r *reader) enlist(name string) schema.Fix {
	at := r.parts[r.first[kindContents]].header
	if len(r.contents) > 0 {
		at = lex(r.text, r.contents[len(r.contents)-1].at).span()
	}
	l := lex(r.text, at.Start)
	return replacement("list it", schema.Span{Start: l.end, End: l.end}, r.lineBreak(l)+name+"=true")
}

// noContents reports that the file lacks CONTENTS. If it lacks WIF too, that must be
// fixed first, because CONTENTS follows it.
func (r *reader) noContents() {
	if len(r.parts) == 1 {
		return
	}
	var fixes []schema.Fix
	if r.first[kindWIF] != 0 {
		fixes = append(fixes, r.writeContents())
	}
	r.contentsFinding(r.headOfFile(), sections[kindContents].name, false, false,
		"the file lacks section CONTENTS, which lists its sections, so other programs may refuse it; write it", fixes...)
}

// writeContents returns the fix that adds CONTENTS after WIF.
func (r *reader) writeContents() schema.Fix {
	wif := &r.parts[r.first[kindWIF]]
	eol := r.lineBreak(lex(r.text, wif.header.Start))
	var b strings.Builder
	if wif.end == len(r.text) {
		b.WriteString(eol)
	}
	b.WriteString("[" + sections[kindContents].name + "]" + eol)
	for i := range r.parts {
		if name, ok := r.listedName(i); ok {
			b.WriteString(name + "=true" + eol)
		}
	}
	b.WriteString(eol)
	return replacement("write CONTENTS", schema.Span{Start: wif.end, End: wif.end}, b.String())
}

// lists reports whether CONTENTS says that the file has a section.
func (r *reader) lists(k kind) bool {
	return r.listed[k] > 0 && r.contents[r.listed[k]-1].present
}
