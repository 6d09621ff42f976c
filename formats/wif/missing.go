package wif

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
)

// This file tells of the sections that a file lacks, and writes those that can be
// written.

// missing reports the sections without which a draft is none. What CONTENTS
// lists of a file that breaks off is told with its end.
func (r *reader) missing() {
	has := func(k kind) bool { return r.filled(k) || r.broken != "" && r.lists(k) }
	if !has(kindWIF) {
		r.missingSection(kindWIF, "it names the format and stands first, and other programs will not read the file without it; write it",
			r.writeHeader())
	}
	if !has(kindThreading) {
		r.missingSection(kindThreading, "it says which shaft each end is threaded on, so nothing can be woven; get the draft again, or write it in")
	}
	if !has(kindTreadling) && !has(kindLiftPlan) {
		r.missingSection(kindTreadling, "neither it nor LIFTPLAN is there to say what each pick lifts, so nothing can be woven; get the draft again, or write one of them in")
	}
	if has(kindTreadling) && !has(kindTieup) && !has(kindLiftPlan) {
		r.missingSection(kindTieup, "without it the treadles lift nothing; get the draft again, or write it or a LIFTPLAN in")
	}
	if has(kindColorTable) && !has(kindColorPalette) {
		r.missingSection(kindColorPalette, "it says which range the numbers of COLOR TABLE have; 0 to 255 is taken unless they go beyond; write it",
			r.writePalette())
	}
}

// toldMissing says whether missing reports that a section of the weave is not there.
func (r *reader) toldMissing(k kind) bool {
	lifted := r.filled(kindTreadling) || r.filled(kindLiftPlan)
	switch k {
	case kindThreading:
		return !r.filled(k)
	case kindTreadling, kindLiftPlan:
		return !lifted
	case kindTieup:
		return !r.filled(k) && r.filled(kindTreadling) && !r.filled(kindLiftPlan)
	}
	return false
}

// filled says whether the file has a section, and one of the weave more than blank
// lines and comments in it.
func (r *reader) filled(k kind) bool {
	if !k.isWeave() || r.tables[k].listed > 0 {
		return r.first[k] != 0
	}
	for i := range r.parts {
		p := &r.parts[i]
		for at := p.body; p.kind == k && at < p.end; {
			l := lex(r.text, at)
			if l.sort != sortBlank && l.sort != sortComment {
				return true
			}
			at = l.next
		}
	}
	return false
}

func (r *reader) missingSection(k kind, why string, fixes ...schema.Fix) {
	at, lacks := r.headOfFile(), "the file has no section "+sections[k].name
	if r.first[k] != 0 {
		at, lacks = r.parts[r.first[k]].header, "section "+sections[k].name+" has no rows"
	}
	r.report(schema.FileMissingSection, at, fmt.Sprintf("%s: %s", lacks, why),
		schema.Data{{Key: "section", Value: sections[k].name}}, fixes...)
}

// writeHeader is the section WIF that a file lacks, before its first section:
// what stands before that is the whole file's and stays before it.
func (r *reader) writeHeader() schema.Fix {
	at := r.headOfFile().Start
	text := strings.ReplaceAll(headerText()+"\n", "\n", r.lineBreak(lex(r.text, at)))
	return mend("write it", schema.Span{Start: at, End: at}, text)
}

// headOfFile is the first section line.
func (r *reader) headOfFile() schema.Span {
	if len(r.parts) > 1 {
		return r.parts[1].header
	}
	return schema.Span{}
}

// writePalette is the section COLOR PALETTE that a color table lacks, and its
// line of CONTENTS.
func (r *reader) writePalette() schema.Fix {
	at := r.parts[r.first[kindColorTable]].header
	eol := r.lineBreak(lex(r.text, at.Start))
	text := "[" + sections[kindColorPalette].name + "]" + eol + "Entries=" + strconv.Itoa(len(r.draft.Palette)) + eol +
		"Form=RGB" + eol + "Range=0," + strconv.Itoa(int(r.palette.high)) + eol + eol
	fix := mend("write it", schema.Span{Start: at.Start, End: at.Start}, text)
	fix.Risky = r.palette.high > 255 // a guess
	listed := slices.ContainsFunc(r.contents, func(c listing) bool { return c.kind == kindColorPalette })
	if r.first[kindContents] != 0 && !listed {
		fix.Edits = append(r.enlist(sections[kindColorPalette].name).Edits, fix.Edits...)
	}
	return fix
}

// weaveWhole says whether the file has all that the weave is made of, and goes
// on behind it or comes to its end.
func (r *reader) weaveWhole() bool {
	has := r.filled
	if !has(kindThreading) || !has(kindLiftPlan) && !(has(kindTreadling) && has(kindTieup)) {
		return false
	}
	if r.broken == "" {
		return true
	}
	switch r.kind {
	case kindWeaving, kindWarp, kindWeft, kindTieup, kindThreading, kindTreadling, kindLiftPlan:
		return false
	}
	return true
}
