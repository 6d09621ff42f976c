package report

import (
	"bufio"
	"bytes"
	"encoding/json"
	"io"

	"fettle/schema"
)

// jsonReport writes the form of schema/findings.schema.json, a file at a time,
// so that a large collection is never held whole.
type jsonReport struct {
	out   *bufio.Writer
	begun bool
}

func newJSON(to io.Writer, _ Options) Writer { return &jsonReport{out: bufio.NewWriter(to)} }

// jsonFile is a file in the report.
type jsonFile struct {
	Path     string        `json:"path"`
	Format   string        `json:"format"`
	Findings []jsonFinding `json:"findings"`
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
	Data      schema.Data     `json:"data"`
}

func (j *jsonReport) File(f File) error {
	file := jsonFile{Path: f.Path, Format: f.Format, Findings: make([]jsonFinding, len(f.Findings))}
	for i := range f.Findings {
		x := &f.Findings[i]
		file.Findings[i] = jsonFinding{x.Rule, x.Severity, x.Position.Line, x.Position.Column, x.Position.EndLine,
			x.Position.EndColumn, x.Pointer, x.Message, x.Fixable(), x.Data}
	}
	separator := "\n    "
	if j.begun {
		separator = ",\n    "
	} else {
		j.out.WriteString("{\n  \"fettle\": 1,\n  \"files\": [")
	}
	j.begun = true
	j.out.WriteString(separator)
	return j.value(file, "    ")
}

func (j *jsonReport) value(v any, indent string) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent(indent, "  ")
	if err := e.Encode(v); err != nil {
		return err
	}
	_, err := j.out.Write(bytes.TrimSuffix(b.Bytes(), []byte("\n")))
	return err
}

func (j *jsonReport) Close(s Summary) error {
	if !j.begun {
		j.out.WriteString("{\n  \"fettle\": 1,\n  \"files\": [")
	} else {
		j.out.WriteString("\n  ")
	}
	j.out.WriteString("],\n  \"summary\": ")
	if err := j.value(s, "  "); err != nil {
		return err
	}
	j.out.WriteString("\n}\n")
	return j.out.Flush()
}
