package clean

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/aymanbagabas/go-udiff"

	"fettle/formats"
	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

// work is a draft being cleaned. What a round does depends only on the bytes
// that the round before it left, and the last round tries every fix, so that
// cleaning again changes nothing.
type work struct {
	*Cleaner
	doc    *schema.Document
	trace  *trace
	first  *schema.Source // the text that changes apply to
	result Result
	made   map[fixID]bool // fixes counted so far, so that each counts once
	held   map[fixID]bool // parts of fixes refused in rounds before; they are tried again at the end
	trials int            // texts tried out
}

// work begins to clean a document.
func (c *Cleaner) work(doc *schema.Document) *work {
	return &work{Cleaner: c, doc: doc, trace: newTrace(len(doc.Source.Text)), first: doc.Source, made: map[fixID]bool{},
		result: Result{Source: doc.Source, After: doc.Source.Raw, base: doc.Source.Text}}
}

// fixID names a fix or a part of one through several rounds.
type fixID struct {
	rule, title string
	at          int // in the first text
}

// round makes what can be made at once. It says false where there is nothing, or
// nothing that may be.
func (w *work) round() (bool, error) {
	checked, err := w.Checker.Check(w.doc)
	if err != nil {
		return false, err
	}
	found := checked.Findings
	w.result.Refused, w.result.Waiting = nil, nil
	switch {
	case w.encoding(found), w.mends(lint.Mends(found, false, nil), false):
	case w.Risky && w.risky(lint.Mends(found, true, nil)):
	case w.Canonical && w.rewrite():
	case len(w.held) > 0:
		w.held = nil // what was refused before may do now
	default:
		if !w.Risky {
			w.count(found)
		}
		return false, nil
	}
	return true, nil
}

// risky makes the mends that keep the draft as it was read, or where there are
// none those that make another draft on purpose.
func (w *work) risky(list []lint.Mend) bool {
	var keep, change []lint.Mend
	for _, m := range list {
		if m.Fix.Changes {
			change = append(change, m)
		} else {
			keep = append(keep, m)
		}
	}
	return w.mends(keep, false) || w.mends(change, true)
}

// count counts the findings that can be mended only at a risk.
func (w *work) count(found []schema.Finding) {
	for i := range found {
		if f := &found[i]; len(f.Fixes) > 0 && !f.Fixable() {
			w.result.Waiting.Add(f.Rule, 1)
		}
	}
}

// encoding has the file written in UTF-8, or with like line endings, where a
// finding asks for it. These fixes have no edits: they are about the whole file.
// Where both cannot be made, one may.
func (w *work) encoding(found []schema.Finding) bool {
	src := w.doc.Source
	var plain, alike []string // what is said of each
	for i := range found {
		f := &found[i]
		if len(f.Fixes) == 0 || !f.Fixable() && !w.Risky {
			continue
		}
		switch f.Fixes[0].Rewrite {
		case schema.InUTF8:
			plain = append(plain, becomesUTF8(src))
		case schema.EndLinesAlike:
			alike = append(alike, formats.LineBreaks(src.Text)+" become alike")
		}
	}
	if len(plain) > 0 && len(alike) > 0 && w.encode(plain, alike) {
		return true
	}
	return len(plain) > 0 && w.encode(plain, nil) || len(alike) > 0 && w.encode(nil, alike)
}

func (w *work) encode(plain, alike []string) bool {
	text := w.doc.Source.Text
	if len(alike) > 0 {
		text = formats.EndLinesAlike(text)
	}
	next, why := w.read(text, len(plain) > 0)
	if why == "" {
		why = listed(differences(w.doc.Draft, next.Draft))
	}
	if why != "" {
		w.result.refuse(Refusal{Rule: schema.FileEncoding, Reason: why})
		return false
	}
	w.doc, w.first, w.trace = next, next.Source, newTrace(len(next.Source.Text))
	w.result.Made.Add(schema.FileEncoding, len(plain)+len(alike))
	w.result.remarks = append(append(w.result.remarks, plain...), alike...)
	w.result.base = w.doc.Source.Text
	return true
}

// mostLetters bounds how many letters a remark shows.
const mostLetters = 16

// lettersOf lists the characters beyond ASCII of a text, as they were read, so
// that wrong ones are noticed.
func lettersOf(text []byte) string {
	var letters []string
	for _, r := range string(text) {
		if r < utf8.RuneSelf || slices.Contains(letters, string(r)) {
			continue
		}
		if len(letters) == mostLetters {
			letters = append(letters, "…")
			break
		}
		letters = append(letters, string(wording.Printable(r)))
	}
	if len(letters) == 0 {
		return ""
	}
	return ": " + strings.Join(letters, " ")
}

// mends makes as many of the mends as it can, and refuses those that would make
// another draft. It says false where it makes none.
func (w *work) mends(list []lint.Mend, lenient bool) bool {
	list = slices.DeleteFunc(list, func(m lint.Mend) bool { return w.idle(m) || w.held[w.id(m)] })
	for len(list) > 0 {
		now, later := lint.Together(list)
		if len(now) == 0 {
			for _, m := range later {
				w.result.refuse(Refusal{Rule: m.Finding.Rule, Line: w.line(m.Edits[0].Span.Start), Reason: "its edits overlap, which is a fault of fettle: please report it with the draft"})
			}
			break
		}
		s := w.search(now, lenient)
		if s.made() {
			w.hold(s.refused)
			w.take(s)
			return true
		}
		list = later
	}
	return false
}

// idle says whether the edits of a mend leave everything as it is.
func (w *work) idle(m lint.Mend) bool {
	text := w.doc.Source.Text
	return !slices.ContainsFunc(m.Edits, func(e schema.Edit) bool {
		return e.Span.Start < 0 || e.Span.End > len(text) || e.Span.Start > e.Span.End || e.New != string(text[e.Span.Start:e.Span.End])
	})
}

// id names a mend by where it comes from.
func (w *work) id(m lint.Mend) fixID {
	return fixID{m.Finding.Rule, m.Fix.Title, w.trace.origin(m.Edits[0].Span.Start)}
}

// take has the outcome of a search be the draft.
func (w *work) take(s *search) {
	steps := make([]step, 0, len(s.list))
	var risky []lint.Mend          // the first part made of each risky fix
	parts := map[*schema.Fix]int{} // how many were made
	for i, m := range s.list {
		if !s.in[i] {
			continue
		}
		for j := range m.Edits {
			steps = append(steps, step{&m.Edits[j], m.Finding.Rule})
		}
		if m.Fix.Risky {
			if parts[m.Fix]++; parts[m.Fix] == 1 {
				risky = append(risky, m)
			}
		}
		if id := (fixID{m.Finding.Rule, m.Fix.Title, w.trace.origin(m.Finding.Span.Start)}); !w.made[id] {
			w.made[id] = true
			w.result.Made.Add(m.Finding.Rule, 1)
		}
	}
	for _, m := range risky {
		more := ""
		if n := parts[m.Fix] - 1; n > 0 {
			more = " and " + wording.Counted(n, "other place")
		}
		w.result.Told = append(w.result.Told, fmt.Sprintf("line %d%s: %s (%s)", w.line(m.Finding.Span.Start), more, m.Fix.Title, m.Finding.Rule))
	}
	w.result.Told = append(w.result.Told, s.told...)
	slices.SortStableFunc(steps, func(a, b step) int {
		return cmp.Or(cmp.Compare(a.Span.Start, b.Span.Start), cmp.Compare(a.Span.End, b.Span.End))
	})
	w.trace.apply(steps)
	w.doc = s.next
}

// hold leaves mends out of the rounds to come, until there is nothing else to do.
func (w *work) hold(list []refused) {
	for _, m := range list {
		if w.held == nil {
			w.held = map[fixID]bool{}
		}
		w.held[w.id(m.Mend)] = true
	}
}

// line is the line of the first text that an offset of the last comes from.
func (w *work) line(offset int) int {
	at := w.trace.origin(offset)
	return w.first.Position(schema.Span{Start: at, End: at}).Line
}

// rewrite puts the draft in canonical form.
func (w *work) rewrite() bool {
	text, lost, err := formats.Write(w.doc.Format, w.doc.Draft, formats.Options{})
	lost = append(w.doc.Unread(), lost...)
	if err == nil && len(lost) > 0 {
		err = fmt.Errorf("it would lose %s", wording.Listed(lost))
	}
	before := w.doc.Source.Text
	var next *schema.Document
	why := ""
	if err != nil {
		why = err.Error()
	} else if bytes.Equal(text, before) {
		return false
	} else if next, why = w.read(text, false); why == "" {
		why = listed(differences(w.doc.Draft, next.Draft))
	}
	if why != "" {
		w.result.refuse(Refusal{Rule: Canonical, Reason: why})
		return false
	}
	w.doc = next
	w.result.Made.Add(Canonical, 1)
	var steps []step
	for _, e := range udiff.Lines(string(before), string(text)) {
		steps = append(steps, step{&schema.Edit{Span: schema.Span{Start: e.Start, End: e.End}, New: e.New}, Canonical})
	}
	w.trace.apply(steps)
	return true
}

// read reads a text as the draft's file, in the encoding that the file has
// unless it is to be plain UTF-8. It says why where that cannot be.
func (w *work) read(text []byte, plain bool) (next *schema.Document, why string) {
	w.trials++
	src, raw := w.doc.Source, text
	if src.Encoding != "" && !plain {
		var err error
		if raw, err = formats.Encode(text, src); err != nil {
			return nil, err.Error()
		}
	}
	stated := src.Stated
	if plain {
		stated = ""
	}
	next = formats.ReadAs(src.Path, raw, stated)
	if next.Draft == nil || next.Format != w.doc.Format {
		return nil, "the file would no longer be read as a draft"
	}
	return next, ""
}

// listed says what a draft would have otherwise; "" for nothing.
func listed(threads, rest []string) string {
	if len(threads)+len(rest) == 0 {
		return ""
	}
	return "the draft would have " + wording.Listed(append(threads, rest...))
}

// becomesUTF8 says how a file's encoding changes.
func becomesUTF8(src *schema.Source) string {
	if src.Encoding == "utf-8" { // already, but with a mark
		return "the byte order mark is removed"
	}
	return src.Encoding + " becomes UTF-8" + lettersOf(src.Text)
}
