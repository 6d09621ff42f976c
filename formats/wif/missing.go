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
	has := func(k kind) bool { return r.first[k] != 0 || r.broken != "" && r.lists(k) }
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

func (r *reader) missingSection(k kind, why string, fixes ...schema.Fix) {
	r.report(schema.FileMissingSection, r.headOfFile(), fmt.Sprintf("the file has no section %s: %s", sections[k].name, why),
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
	has := func(k kind) bool { return r.first[k] != 0 }
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
