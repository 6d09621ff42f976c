package clean

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/aymanbagabas/go-udiff"

	"fettle/formats"
	"fettle/lint"
	"fettle/schema"
)

// work is a draft being cleaned. What a round does hangs on nothing but the
// bytes that the one before it left, so that where a run ends the next has
// nothing to do.
type work struct {
	*Cleaner
	doc    *schema.Document
	trace  *trace
	result Result
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
		return true, nil
	case w.Risky && w.risky(lint.Mends(found, true, nil)):
		return true, nil
	case w.Canonical && w.rewrite():
		return true, nil
	}
	if !w.Risky {
		w.count(found)
	}
	return false, nil
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
func (w *work) encoding(found []schema.Finding) bool {
	src := w.doc.Source
	plain, alike := false, false
	var remarks []string
	for i := range found {
		f := &found[i]
		if f.Rule != schema.FileEncoding || !f.Fixable() && (!w.Risky || len(f.Fixes) == 0) {
			continue
		}
		if f.Data.Get("encoding") == src.Encoding {
			plain = true
			remarks = append(remarks, src.Encoding+" becomes UTF-8")
		} else {
			alike = true
			remarks = append(remarks, fmt.Sprint(f.Data.Get("encoding"), " become alike"))
		}
	}
	text := src.Text
	if alike {
		text = formats.EndLinesAlike(text)
	}
	if len(remarks) == 0 || !w.try(text, attempt{plain: plain, rules: []string{schema.FileEncoding}}) {
		return false
	}
	w.result.Made.Add(schema.FileEncoding, len(remarks))
	w.result.remarks = append(w.result.remarks, remarks...)
	w.result.base, w.trace = w.doc.Source.Text, newTrace(len(w.doc.Source.Text))
	return true
}

// mends makes those of the mends that go together, or where that would make
// another draft, those of the first rule that goes alone.
func (w *work) mends(list []lint.Mend, lenient bool) bool {
	if len(list) == 0 {
		return false
	}
	before := len(w.result.Refused)
	if w.make(lint.Together(list), lenient) {
		return true
	}
	rules := rulesOf(list)
	if len(rules) == 1 {
		return false
	}
	w.result.Refused = w.result.Refused[:before]
	for _, rule := range rules {
		alone := slices.DeleteFunc(slices.Clone(list), func(m lint.Mend) bool { return m.Finding.Rule != rule })
		if w.make(lint.Together(alone), lenient) {
			return true
		}
	}
	return false
}

func rulesOf(list []lint.Mend) []string {
	var rules []string
	for _, m := range list {
		if !slices.Contains(rules, m.Finding.Rule) {
			rules = append(rules, m.Finding.Rule)
		}
	}
	return rules
}

// make makes mends that go together.
func (w *work) make(list []lint.Mend, lenient bool) bool {
	var edits []schema.Edit
	for _, m := range list {
		edits = append(edits, m.Fix.Edits...)
	}
	rules := rulesOf(list)
	text, err := lint.Apply(w.doc.Source.Text, edits)
	if err != nil {
		w.refuse(rules, err.Error())
		return false
	}
	before, told := len(w.result.Told), w.risks(list)
	if bytes.Equal(text, w.doc.Source.Text) || !w.try(text, attempt{rules: rules, lenient: lenient}) {
		return false
	}
	for _, m := range list {
		w.result.Made.Add(m.Finding.Rule, 1)
	}
	w.result.Told = slices.Insert(w.result.Told, before, told...)
	w.trace.apply(stepsOf(list))
	return true
}

// risks says what the risky ones of the mends do, and in which line of the file
// as it was.
func (w *work) risks(list []lint.Mend) []string {
	var told []string
	first := &schema.Source{Text: w.result.base}
	for _, m := range list {
		if m.Fix.Risky {
			at := w.trace.origin(m.Finding.Span.Start)
			line := first.Position(schema.Span{Start: at, End: at}).Line
			told = append(told, fmt.Sprintf("line %d: %s (%s)", line, m.Fix.Title, m.Finding.Rule))
		}
	}
	return told
}

// rewrite puts the draft in canonical form.
func (w *work) rewrite() bool {
	text, lost, err := formats.Write(w.doc.Format, w.doc.Draft, formats.Options{})
	lost = append(w.doc.Unread(), lost...)
	if err == nil && len(lost) > 0 {
		err = fmt.Errorf("it would lose %s", schema.Listed(lost))
	}
	before := w.doc.Source.Text
	switch {
	case err != nil:
		w.refuse([]string{Canonical}, err.Error())
		return false
	case bytes.Equal(text, before) || !w.try(text, attempt{rules: []string{Canonical}}):
		return false
	}
	w.result.Made.Add(Canonical, 1)
	var steps []step
	for _, e := range udiff.Lines(string(before), string(text)) {
		steps = append(steps, step{schema.Edit{Span: schema.Span{Start: e.Start, End: e.End}, New: e.New}, Canonical})
	}
	w.trace.apply(steps)
	return true
}

// attempt is how a text is tried out, and which rules want it.
type attempt struct {
	rules   []string
	plain   bool // it is to be written in UTF-8, and not as the file is
	lenient bool // the draft may become another
}

// try takes a text over for the draft's, if what is read of it is the same
// draft.
func (w *work) try(text []byte, as attempt) bool {
	raw := text
	if src := w.doc.Source; src.Encoding != "" && !as.plain {
		var err error
		if raw, err = formats.Encode(text, src.Raw); err != nil {
			w.refuse(as.rules, err.Error())
			return false
		}
	}
	next := formats.Read(w.doc.Source.Path, raw)
	if next.Draft == nil || next.Format != w.doc.Format {
		w.refuse(as.rules, "it would be read as a draft no more")
		return false
	}
	threads, rest := differences(w.doc.Draft, next.Draft)
	switch {
	case len(threads)+len(rest) > 0 && !as.lenient:
		w.refuse(as.rules, "the draft would have "+schema.Listed(append(threads, rest...)))
		return false
	case len(threads)+len(rest) > 0:
		w.result.Told = append(w.result.Told, "the draft now has "+schema.Listed(append(threads, rest...)))
	}
	w.doc = next
	return true
}

func (w *work) refuse(rules []string, why string) {
	why = "not mended for " + strings.Join(rules, ", ") + ": " + why
	if !slices.Contains(w.result.Refused, why) {
		w.result.Refused = append(w.result.Refused, why)
	}
}
