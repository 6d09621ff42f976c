// Package report writes findings for people and for programs.
package report

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"os"
	"strings"
	"unicode"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

// File is a checked file with its findings.
type File struct {
	Path       string         // as typed or found, for people
	RootPath   string         // from the root of the run, for programs; "" means Path
	Format     string         // "" if the file holds no draft
	Source     *schema.Source // for the lines of the findings
	Draft      *schema.Draft  // nil if the file holds no draft
	Findings   []schema.Finding
	Prints     func() []string // returns the fingerprints of Findings
	Suppressed []lint.Suppressed
	// SuppressedPrints returns the fingerprints of Suppressed.
	SuppressedPrints func() []string
	Worse            []int            // indexes in Findings that are in the baseline, but were less bad
	Known            []schema.Finding // findings in the baseline, in order; Findings doesn't have them
	KnownPrints      []string         // the fingerprints of Known
}

// Missed is a file or folder that fettle could not check.
type Missed struct {
	Path     string `json:"path"` // as typed or found, for people
	RootPath string `json:"-"`    // from the root of the run, for programs; "" means Path
	Reason   string `json:"reason"`
}

// place returns the path for programs.
func (f *File) place() string { return cmp.Or(f.RootPath, f.Path) }

// place returns the path for programs.
func (m *Missed) place() string { return cmp.Or(m.RootPath, m.Path) }

// Summary counts the findings in all files.
type Summary struct {
	Files      int `json:"files"`
	Errors     int `json:"errors"`
	Warnings   int `json:"warnings"`
	Notes      int `json:"notes"`
	Suppressed int `json:"suppressed"`
	Known      int `json:"known,omitempty"` // in the baseline
	NotChecked int `json:"not_looked_at,omitempty"`
}

// Add counts a file and its findings.
func (s *Summary) Add(f File) {
	s.Files++
	s.Suppressed += len(f.Suppressed)
	s.Known += len(f.Known)
	for i := range f.Findings {
		switch f.Findings[i].Severity {
		case schema.Error:
			s.Errors++
		case schema.Warning:
			s.Warnings++
		case schema.Note:
			s.Notes++
		}
	}
}

// AtOrAbove returns the number of findings that are at least that severe.
func (s Summary) AtOrAbove(least schema.Severity) int {
	counts := map[schema.Severity]int{schema.Error: s.Errors, schema.Warning: s.Errors + s.Warnings,
		schema.Note: s.Errors + s.Warnings + s.Notes}
	return counts[least]
}

// String returns the summary as one line.
func (s Summary) String() string {
	text := wording.Counted(s.Files, "file")
	switch {
	case s.Files == 0 && s.NotChecked > 0: // "nothing found" would be wrong: nothing was checked
	case s.Errors+s.Warnings+s.Notes == 0:
		text += ": nothing found"
	default:
		text += ": " + strings.Join([]string{wording.Counted(s.Errors, "error"), wording.Counted(s.Warnings, "warning"), wording.Counted(s.Notes, "note")}, ", ")
	}
	if s.Suppressed > 0 {
		text += fmt.Sprintf(", %d ignored", s.Suppressed)
	}
	if s.Known > 0 {
		text += fmt.Sprintf(", %d in the baseline", s.Known)
	}
	if s.NotChecked > 0 {
		text += fmt.Sprintf(", %d not checked", s.NotChecked)
	}
	return text
}

// Writer writes a report. It takes files, in the order of the report, and missed files;
// Close ends the report.
type Writer interface {
	File(File) error
	Missed(Missed) error
	Close(Summary) error
}

// Options are the options of a report.
type Options struct {
	Color   bool            // use terminal colors
	Rules   []lint.Rule     // the rules that were run
	Version string          // of fettle
	FailOn  schema.Severity // findings at least this severe fail the run; Off means none
	// Baseline is set if the run compared its findings with a baseline. Then the Findings
	// of a File are new, except those in Worse.
	Baseline bool
	// Scratch creates a temporary file for parts of a report that can't be written yet;
	// the caller deletes it. If it is nil, they stay in memory.
	Scratch func() (*os.File, error)
}

func (o Options) fails(f *schema.Finding) bool {
	return o.FailOn != schema.Off && f.Severity >= o.FailOn
}

type form struct {
	name string
	new  func(io.Writer, Options) Writer
}

func forms() []form {
	return []form{{"text", newText}, {"json", newJSON}, {"sarif", newSARIF}, {"junit", newJUnit},
		{"annotations", newAnnotations}, {"quality", newQuality}, {"html", newHTML}}
}

// Names returns the names of all report formats, for --format.
func Names() []string {
	var names []string
	for _, f := range forms() {
		names = append(names, f.name)
	}
	return names
}

// New returns a Writer for a report format. It fails for an unknown name.
func New(name string, to io.Writer, o Options) (Writer, error) {
	for _, f := range forms() {
		if f.name == name {
			return f.new(to, o), nil
		}
	}
	return nil, fmt.Errorf("unknown report format %s; use %s", wording.Quote(name), List())
}

// List returns Names as a phrase.
func List() string { return wording.Either(Names()) }

// isShown reports whether a report for people shows the line of a finding. A blank line says
// nothing. A file that isn't a draft may be a picture or an archive, so its line must be text.
func isShown(line []byte, rule string) bool {
	binary := func(r rune) bool { return r != '\t' && unicode.IsControl(r) }
	return len(bytes.TrimSpace(line)) > 0 && (rule != schema.FileUnreadable || !bytes.ContainsFunc(line, binary))
}

// All returns a Writer that writes several reports.
func All(writers ...Writer) Writer { return several(writers) }

type several []Writer

func (s several) each(do func(Writer) error) error {
	for _, w := range s {
		if err := do(w); err != nil {
			return err
		}
	}
	return nil
}

func (s several) File(f File) error { return s.each(func(w Writer) error { return w.File(f) }) }

func (s several) Missed(m Missed) error { return s.each(func(w Writer) error { return w.Missed(m) }) }

func (s several) Close(sum Summary) error {
	return s.each(func(w Writer) error { return w.Close(sum) })
}
