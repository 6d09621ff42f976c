package report

import (
	"bufio"
	"io"

	"fettle/schema"
	"fettle/schema/wording"
)

// jsonReport writes the form of schema/jsonschema/findings.schema.json, a file at a time,
// so that a large collection is never held whole.
type jsonReport struct {
	out    *bufio.Writer
	begun  bool
	missed []Missed
}

func newJSON(to io.Writer, _ Options) Writer { return &jsonReport{out: bufio.NewWriter(to)} }

// jsonFile is a file in the report.
type jsonFile struct {
	Path       string           `json:"path"`
	Format     string           `json:"format"`
	Findings   []jsonFinding    `json:"findings"`
	Suppressed []jsonSuppressed `json:"suppressed,omitempty"`
}

type jsonSuppressed struct {
	Rule   string `json:"rule"`
	Line   int    `json:"line"`
	Reason string `json:"reason"`
}

type jsonFinding struct {
	Rule      string          `json:"rule"`
	Severity  schema.Severity `json:"severity"`
	Line      int             `json:"line"`
	Column    int             `json:"column"`
	EndLine   int             `json:"end_line"`
	EndColumn int             `json:"end_column"`
	Pointer   string          `json:"pointer,omitempty"`
	Message   string          `json:"message"`
	Fixable   bool            `json:"fixable"`
	Lines     []int           `json:"lines,omitempty"`
	Data      schema.Data     `json:"data"`
	Fixes     []jsonFix       `json:"fixes,omitempty"`
}

type jsonFix struct {
	Title string     `json:"title"`
	Risky bool       `json:"risky"`
	Edits []jsonEdit `json:"edits"`
}

type jsonEdit struct {
	Start     int    `json:"start"`
	End       int    `json:"end"`
	Line      int    `json:"line"`
	Column    int    `json:"column"`
	EndLine   int    `json:"end_line"`
	EndColumn int    `json:"end_column"`
	Text      string `json:"text"`
}

func (j *jsonReport) File(f File) error {
	file := jsonFile{Path: wording.PathName(f.Path), Format: f.Format, Findings: make([]jsonFinding, len(f.Findings))}
	for i := range f.Findings {
		x := &f.Findings[i]
		file.Findings[i] = jsonFinding{x.Rule, x.Severity, x.Position.Line, x.Position.Column, x.Position.EndLine,
			x.Position.EndColumn, x.Pointer, x.Message, x.Fixable(), x.Lines, x.Data, jsonFixes(f.Source, x)}
	}
	for _, x := range f.Suppressed {
		file.Suppressed = append(file.Suppressed, jsonSuppressed{x.Rule, x.Position.Line, x.Reason})
	}
	if j.begun {
		j.out.WriteString(",\n    ")
	} else {
		j.begun = true
		j.out.WriteString(jsonHead + "\n    ")
	}
	return writeJSON(j.out, file, "    ", "  ")
}

func (j *jsonReport) Missed(m Missed) error {
	m.Path = wording.PathName(m.Path)
	j.missed = append(j.missed, m)
	return nil
}

const jsonHead = "{\n  \"fettle\": 1,\n  \"files\": ["

// jsonFixes are the fixes of a finding that say how the text changes.
func jsonFixes(src *schema.Source, f *schema.Finding) []jsonFix {
	var fixes []jsonFix
	for _, x := range f.Fixes {
		if len(x.Edits) == 0 {
			continue
		}
		fix := jsonFix{Title: x.Title, Risky: x.Risky}
		for _, e := range x.Edits {
			p := src.Position(e.Span)
			fix.Edits = append(fix.Edits, jsonEdit{e.Span.Start, e.Span.End, p.Line, p.Column, p.EndLine, p.EndColumn, e.New})
		}
		fixes = append(fixes, fix)
	}
	return fixes
}

// writeJSON writes a value as wording.JSON has it.
func writeJSON(to *bufio.Writer, v any, prefix, indent string) error {
	text, err := wording.JSON(v, prefix, indent)
	if err != nil {
		return err
	}
	_, err = to.Write(text)
	return err
}

func (j *jsonReport) Close(s Summary) error {
	if !j.begun {
		j.out.WriteString(jsonHead)
	} else {
		j.out.WriteString("\n  ")
	}
	j.out.WriteString("],\n  ")
	if j.missed != nil {
		j.out.WriteString("\"not_looked_at\": ")
		if err := writeJSON(j.out, j.missed, "  ", "  "); err != nil {
			return err
		}
		j.out.WriteString(",\n  ")
	}
	j.out.WriteString("\"summary\": ")
	if err := writeJSON(j.out, s, "  ", "  "); err != nil {
		return err
	}
	j.out.WriteString("\n}\n")
	return j.out.Flush()
}
