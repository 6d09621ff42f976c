package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// annotations writes one line for each finding. CI services show it beside the line
// of the draft.
type annotations struct {
	out *bufio.Writer
	// ends escapes what would end a message; marks escapes what would end a property.
	ends, marks *strings.Replacer
}

func newAnnotations(to io.Writer, _ Options) Writer {
	return &annotations{bufio.NewWriter(to), strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A"), strings.NewReplacer(":", "%3A", ",", "%2C")}
}

func (a *annotations) File(f File) error {
	for i := range f.Findings {
		x := &f.Findings[i]
		p := x.Position
		level := x.Severity.String()
		if x.Severity == schema.Note {
			level = "notice"
		}
		fmt.Fprintf(a.out, "::%s file=%s,line=%d,", level, a.property(wording.PathName(f.place())), p.Line)
		if p.EndLine == p.Line { // the format has columns only within one line
			fmt.Fprintf(a.out, "col=%d,", p.Column)
		}
		fmt.Fprintf(a.out, "endLine=%d,", p.EndLine)
		if p.EndLine == p.Line {
			fmt.Fprintf(a.out, "endColumn=%d,", p.EndColumn)
		}
		fmt.Fprintf(a.out, "title=%s::%s\n", a.property(x.Rule), a.message(x.Message))
	}
	return a.out.Flush()
}

func (a *annotations) Missed(m Missed) error {
	fmt.Fprintf(a.out, "::error file=%s,title=not checked::%s\n", a.property(wording.PathName(m.place())), a.message(m.Reason))
	return a.out.Flush()
}

func (a *annotations) Close(Summary) error { return a.out.Flush() }

// message escapes a text for an annotation, and breaks marks that other CI services
// would run as commands.
func (a *annotations) message(s string) string {
	return wording.LogSafe(strings.Map(wording.Printable, a.ends.Replace(s)))
}

// property escapes a text for the value of a property, which ends at a colon or comma.
func (a *annotations) property(s string) string {
	return a.marks.Replace(a.message(s))
}
