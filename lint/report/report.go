// Package report writes findings for people and for other programs.
package report

import (
	"fmt"
	"io"
	"strings"

	"fettle/schema"
)

// File is a file that was looked at, and what was found in it.
type File struct {
	Path       string
	Format     string         // "" where it holds no draft
	Source     *schema.Source // for the lines that findings stand at
	Findings   []schema.Finding
	Suppressed int // left out at the draft's own word
}

// Summary counts what was found in all files.
type Summary struct {
	Files      int `json:"files"`
	Errors     int `json:"errors"`
	Warnings   int `json:"warnings"`
	Notes      int `json:"notes"`
	Suppressed int `json:"suppressed"`
}

// Add counts a file.
func (s *Summary) Add(f File) {
	s.Files++
	s.Suppressed += f.Suppressed
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
	text := count(s.Files, "file") + ": "
	if s.Errors+s.Warnings+s.Notes == 0 {
		text += "nothing found"
	} else {
		text += strings.Join([]string{count(s.Errors, "error"), count(s.Warnings, "warning"), count(s.Notes, "note")}, ", ")
	}
	if s.Suppressed > 0 {
		text += fmt.Sprintf(", %d ignored", s.Suppressed)
	}
	return text
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// Writer takes files one by one, in the order in which they are to be shown, and
// is told when there are no more.
type Writer interface {
	File(File) error
	Close(Summary) error
}

// Options say how a report is written.
type Options struct {
	Color bool // in colours, on a terminal
}

// form is a form of report.
type form struct {
	name string
	new  func(io.Writer, Options) Writer
}

func forms() []form {
	return []form{{"text", newText}, {"json", newJSON}}
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
	return nil, fmt.Errorf("%s is not a form of report: say %s", schema.Quote(name), strings.Join(Names(), " or "))
}
