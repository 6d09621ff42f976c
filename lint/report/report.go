// Package report writes findings for people and for other programs.
package report

import (
	"cmp"
	"fmt"
	"io"
	"os"
	"strings"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

// File is a file that was looked at, and what was found in it.
type File struct {
	Path       string         // as it was typed or met, for people
	RootPath   string         // from the root of the run, for other programs; "" is Path
	Format     string         // "" where it holds no draft
	Source     *schema.Source // for the lines that findings stand at
	Draft      *schema.Draft  // nil where it holds no draft
	Findings   []schema.Finding
	Prints     func() []string // gives the fingerprint of each finding
	Suppressed []lint.Suppressed
	// SuppressedPrints gives the fingerprint of each of them.
	SuppressedPrints func() []string
	Worse            []int            // the indexes in Findings of those that a baseline knows less bad
	Known            []schema.Finding // that a baseline knows and Findings leaves out, in order
	KnownPrints      []string         // the fingerprint of each of them
}

// Missed is a file or a folder that could not be looked at.
type Missed struct {
	Path     string `json:"path"` // as it was typed or met, for people
	RootPath string `json:"-"`    // from the root of the run, for other programs; "" is Path
	Reason   string `json:"reason"`
}

// place returns the path that reports for other programs give.
func (f *File) place() string { return cmp.Or(f.RootPath, f.Path) }

// place returns the path that reports for other programs give.
func (m *Missed) place() string { return cmp.Or(m.RootPath, m.Path) }

// Summary counts what was found in all files.
type Summary struct {
	Files       int `json:"files"`
	Errors      int `json:"errors"`
	Warnings    int `json:"warnings"`
	Notes       int `json:"notes"`
	Suppressed  int `json:"suppressed"`
	Known       int `json:"known,omitempty"` // in the baseline
	NotLookedAt int `json:"not_looked_at,omitempty"`
}

// Add counts a file.
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

// AtOrAbove counts findings at least that severe.
func (s Summary) AtOrAbove(least schema.Severity) int {
	counts := map[schema.Severity]int{schema.Error: s.Errors, schema.Warning: s.Errors + s.Warnings,
		schema.Note: s.Errors + s.Warnings + s.Notes}
	return counts[least]
}

// String is the summary in a line.
func (s Summary) String() string {
	text := wording.Counted(s.Files, "file")
	switch {
	case s.Files == 0 && s.NotLookedAt > 0: // nothing is found where nothing is looked at
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
	if s.NotLookedAt > 0 {
		text += fmt.Sprintf(", %d not looked at", s.NotLookedAt)
	}
	return text
}

// Writer takes files one by one, in the order in which they are to be shown, and
// what could not be looked at, and is told when there are no more.
type Writer interface {
	File(File) error
	Missed(Missed) error
	Close(Summary) error
}

// Options say how a report is written.
type Options struct {
	Color   bool            // in colors, on a terminal
	Rules   []lint.Rule     // all that could have found something
	Version string          // of the program
	FailOn  schema.Severity // findings at least this severe fail the run; Off: none do
	// Baseline says that the findings were compared with a baseline: those of a
	// File are new but for its Worse, and those in its Known are known.
	Baseline bool
	// Scratch makes a temporary file for parts of a report that are found before
	// their place in it comes; the caller deletes it. nil holds them in memory.
	Scratch func() (*os.File, error)
}

// fails says whether a finding fails the run.
func (o Options) fails(f *schema.Finding) bool {
	return o.FailOn != schema.Off && f.Severity >= o.FailOn
}

// form is a form of report.
type form struct {
	name string
	new  func(io.Writer, Options) Writer
}

func forms() []form {
	return []form{{"text", newText}, {"json", newJSON}, {"sarif", newSARIF}, {"junit", newJUnit},
		{"annotations", newAnnotations}, {"quality", newQuality}, {"html", newHTML}}
}

// Names are the forms of report, as --format has them.
func Names() []string {
	var names []string
	for _, f := range forms() {
		names = append(names, f.name)
	}
	return names
}

// New gives a Writer for a form of report.
func New(name string, to io.Writer, o Options) (Writer, error) {
	for _, f := range forms() {
		if f.name == name {
			return f.new(to, o), nil
		}
	}
	return nil, fmt.Errorf("%s is not a form of report: say %s", wording.Quote(name), List())
}

// List is Names for a sentence.
func List() string { return wording.Either(Names()) }

// All gives a Writer that hands everything to several.
func All(writers ...Writer) Writer { return several(writers) }

type several []Writer

func (s several) File(f File) error {
	for _, w := range s {
		if err := w.File(f); err != nil {
			return err
		}
	}
	return nil
}

func (s several) Missed(m Missed) error {
	for _, w := range s {
		if err := w.Missed(m); err != nil {
			return err
		}
	}
	return nil
}

func (s several) Close(sum Summary) error {
	for _, w := range s {
		if err := w.Close(sum); err != nil {
			return err
		}
	}
	return nil
}
