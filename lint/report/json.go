package report

import (
	"io"

	"fettle/schema"
	"fettle/schema/wording"
)

// jsonReport writes JSON as in findings.schema.json. It writes one file at a time and
// keeps none of them.
type jsonReport struct {
	out    *jsonWriter
	begun  bool
	missed []Missed
	edit   jsonEdit // the current one
}

func newJSON(to io.Writer, _ Options) Writer { return &jsonReport{out: newJSONWriter(to)} }

type jsonFile struct {
	Path   string `json:"path"`
	Format string `json:"format"`
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
}

type jsonFix struct {
	Title string `json:"title"`
	Risky bool   `json:"risky"`
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
	before := ",\n    "
	if !j.begun {
		before, j.begun = jsonHead+"\n    ", true
	}
	j.out.WriteString(before)
	lists := []list{{"findings", len(f.Findings), func(i int, l layout) error { return j.finding(f.Source, &f.Findings[i], l) }}}
	if len(f.Suppressed) > 0 {
		lists = append(lists, list{"suppressed", len(f.Suppressed), func(i int, l layout) error {
			x := &f.Suppressed[i]
			return j.out.value(jsonSuppressed{x.Rule, x.Position.Line, x.Reason}, l)
		}})
	}
	return j.out.object(jsonFile{wording.PathName(f.Path), f.Format}, layout{"    ", "  "}, lists...)
}

func (j *jsonReport) Missed(m Missed) error {
	m.Path = wording.PathName(m.Path)
	j.missed = append(j.missed, m)
	return nil
}

const jsonHead = "{\n  \"fettle\": 1,\n  \"files\": ["

// finding writes a finding. It writes one edit at a time: a fix may have one for each
// line of a large file.
func (j *jsonReport) finding(src *schema.Source, x *schema.Finding, l layout) error {
	finding := jsonFinding{x.Rule, x.Severity, x.Position.Line, x.Position.Column, x.Position.EndLine,
		x.Position.EndColumn, x.Pointer, x.Message, x.Fixable(), x.Lines, x.Data}
	fixes := withEdits(x)
	if len(fixes) == 0 {
		return j.out.value(finding, l)
	}
	return j.out.object(finding, l, list{"fixes", len(fixes), func(i int, l layout) error {
		fix := fixes[i]
		return j.out.object(jsonFix{fix.Title, fix.Risky}, l, list{"edits", len(fix.Edits), func(i int, l layout) error {
			e := fix.Edits[i]
			p := src.Position(e.Span)
			j.edit = jsonEdit{e.Span.Start, e.Span.End, p.Line, p.Column, p.EndLine, p.EndColumn, e.New}
			return j.out.value(&j.edit, l)
		}})
	}})
}

// withEdits returns the fixes of a finding that have edits.
func withEdits(f *schema.Finding) (fixes []*schema.Fix) {
	for i := range f.Fixes {
		if len(f.Fixes[i].Edits) > 0 {
			fixes = append(fixes, &f.Fixes[i])
		}
	}
	return fixes
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
		if err := j.out.value(j.missed, layout{"  ", "  "}); err != nil {
			return err
		}
		j.out.WriteString(",\n  ")
	}
	j.out.WriteString("\"summary\": ")
	if err := j.out.value(s, layout{"  ", "  "}); err != nil {
		return err
	}
	j.out.WriteString("\n}\n")
	return j.out.Flush()
}
