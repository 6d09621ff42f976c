package clean

import (
	"bytes"
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

// work is a draft being cleaned. Each round depends only on the bytes from the round
// before, and the last round tries every fix. So cleaning again changes nothing.
type work struct {
	*Cleaner
	doc       *schema.Document
	trace     *trace
	start     *schema.Source // holds the text that the trace starts from
	result    Result
	made      map[fixID]bool // the fixes counted so far
	postponed map[fixID]bool // parts of fixes refused in earlier rounds, tried again at the end
	trials    int            // number of texts read so far
}

func (c *Cleaner) work(doc *schema.Document) *work {
	return &work{Cleaner: c, doc: doc, trace: newTrace(len(doc.Source.Text)), start: doc.Source, made: map[fixID]bool{},
		result: Result{Source: doc.Source, After: doc.Source.Raw, base: doc.Source.Text}}
}

// fixID identifies a fix, or a part of one, through all rounds.
type fixID struct {
	rule, title string
	at          int // in the first text
}

// round makes fixes of one kind. It returns false if there are none left to make.
func (w *work) round() (bool, error) {
	checked, err := w.Checker.Check(w.doc)
	if err != nil {
		return false, err
	}
	found := w.asked(checked.Findings)
	w.result.Refused, w.result.Waiting = nil, nil
	switch {
	case w.encoding(found), w.fix(lint.FixParts(found, false), false):
	case w.Risky && w.risky(lint.FixParts(found, true)):
	case w.Canonical && w.rewrite():
	case len(w.postponed) > 0:
		w.postponed = nil // they may work now
	default:
		if !w.Risky {
			w.countWaiting(found)
		}
		return false, nil
	}
	return true, nil
}

// asked returns the findings on the line that was asked for.
func (w *work) asked(found []schema.Finding) []schema.Finding {
	if w.Line == 0 {
		return found
	}
	return slices.DeleteFunc(found, func(f schema.Finding) bool { return w.line(f.Span.Start) != w.Line })
}

// risky makes the fixes that don't change the draft. If there are none, it makes those
// that change the draft on purpose.
func (w *work) risky(list []lint.FixPart) bool {
	var keep, change []lint.FixPart
	for _, part := range list {
		if part.Fix.Changes {
			change = append(change, part)
		} else {
			keep = append(keep, part)
		}
	}
	return w.fix(keep, false) || w.fix(change, true)
}

// countWaiting counts the findings with only risky fixes.
func (w *work) countWaiting(found []schema.Finding) {
	for i := range found {
		if f := &found[i]; len(f.Fixes) > 0 && !f.Fixable() {
			w.result.Waiting.Add(f.Rule, 1)
		}
	}
}

// encoding rewrites the file in UTF-8, or with equal line endings, if a finding asks
// for it. These fixes change the whole file and have no edits. If both together fail,
// it tries each alone.
func (w *work) encoding(found []schema.Finding) bool {
	src := w.doc.Source
	var plain, alike []string // the remarks on each
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
	w.doc, w.start, w.trace = next, next.Source, newTrace(len(next.Source.Text))
	w.result.Made.Add(schema.FileEncoding, len(plain)+len(alike))
	w.result.remarks = append(append(w.result.remarks, plain...), alike...)
	w.result.base = w.doc.Source.Text
	return true
}

// mostLetters limits the letters in a remark.
const mostLetters = 16

// lettersOf lists the characters beyond ASCII in a text, as fettle read them, so that you
// can notice wrong ones.
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

// fix makes all parts that don't change the draft, and refuses the others. It returns
// false if it makes none.
func (w *work) fix(list []lint.FixPart, mayChange bool) bool {
	list = slices.DeleteFunc(list, func(part lint.FixPart) bool { return w.changesNothing(part) || w.postponed[w.id(part)] })
	for len(list) > 0 {
		now, later := lint.Together(list)
		if len(now) == 0 {
			for _, part := range later {
				w.result.refuse(Refusal{Rule: part.Finding.Rule, Line: w.line(part.Edits[0].Span.Start), Reason: "its edits overlap; this is a bug in fettle, please report it with the draft"})
			}
			break
		}
		s := w.search(now, mayChange)
		if s.made() {
			w.postpone(s.refused)
			w.take(s)
			return true
		}
		list = later
	}
	return false
}

// changesNothing reports whether the edits of a part change nothing.
func (w *work) changesNothing(part lint.FixPart) bool {
	text := w.doc.Source.Text
	return !slices.ContainsFunc(part.Edits, func(e schema.Edit) bool {
		return e.Span.Start < 0 || e.Span.End > len(text) || e.Span.Start > e.Span.End || e.New != string(text[e.Span.Start:e.Span.End])
	})
}

// id returns the identity of a part: its fix and its place in the first text.
func (w *work) id(part lint.FixPart) fixID {
	return fixID{part.Finding.Rule, part.Fix.Title, w.trace.origin(part.Edits[0].Span.Start)}
}

// take commits the result of a search.
func (w *work) take(s *search) {
	steps := make([]step, 0, len(s.list))
	var risky []lint.FixPart       // for each risky fix, the first part made
	parts := map[*schema.Fix]int{} // for each fix, the number of parts made
	for i, part := range s.list {
		if !s.in[i] {
			continue
		}
		for j := range part.Edits {
			steps = append(steps, step{&part.Edits[j], part.Finding.Rule})
		}
		if part.Fix.Risky {
			if parts[part.Fix]++; parts[part.Fix] == 1 {
				risky = append(risky, part)
			}
		}
		if id := (fixID{part.Finding.Rule, part.Fix.Title, w.trace.origin(part.Finding.Span.Start)}); !w.made[id] {
			w.made[id] = true
			w.result.Made.Add(part.Finding.Rule, 1)
		}
	}
	for _, part := range risky {
		more := ""
		if n := parts[part.Fix] - 1; n > 0 {
			more = " and " + wording.Counted(n, "other place")
		}
		w.result.Risks = append(w.result.Risks, fmt.Sprintf("line %d%s: %s (%s)", w.line(part.Finding.Span.Start), more, part.Fix.Title, part.Finding.Rule))
	}
	w.result.Risks = append(w.result.Risks, s.risks...)
	slices.SortStableFunc(steps, func(a, b step) int { return a.Span.Compare(b.Span) })
	w.trace.apply(steps)
	w.doc = s.next
}

// postpone excludes fixes from the next rounds, until nothing else is left to do.
func (w *work) postpone(list []refused) {
	for _, part := range list {
		if w.postponed == nil {
			w.postponed = map[fixID]bool{}
		}
		w.postponed[w.id(part.FixPart)] = true
	}
}

// line returns the line of the first text that an offset in the last comes from.
func (w *work) line(offset int) int {
	at := w.trace.origin(offset)
	return w.start.Position(schema.Span{Start: at, End: at}).Line
}

// rewrite writes the draft in canonical form.
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

// read reads a text as the draft's file, in UTF-8 if plain is set, otherwise in the
// file's own encoding. why is the reason if it fails.
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

// listed returns the differences between two drafts as words, "" for none.
func listed(threads, rest []string) string {
	if len(threads)+len(rest) == 0 {
		return ""
	}
	return "the draft would have " + wording.Listed(append(threads, rest...))
}

// becomesUTF8 returns the remark on a new encoding.
func becomesUTF8(src *schema.Source) string {
	if src.Encoding == "utf-8" { // with a byte order mark
		return "the byte order mark is removed"
	}
	return src.Encoding + " becomes UTF-8" + lettersOf(src.Text)
}
