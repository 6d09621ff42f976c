package report

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"

	"fettle/schema"
	"fettle/schema/wording"
)

// quality writes the JSON array of a code quality report, one issue on each line.
type quality struct {
	out   *jsonWriter
	begun bool
}

func newQuality(to io.Writer, _ Options) Writer { return &quality{out: newJSONWriter(to)} }

type qualityIssue struct {
	Description string          `json:"description"`
	CheckName   string          `json:"check_name"`
	Fingerprint string          `json:"fingerprint"`
	Severity    string          `json:"severity"`
	Location    qualityLocation `json:"location"`
}

type qualityLocation struct {
	Path  string       `json:"path"`
	Lines qualityLines `json:"lines"`
}

type qualityLines struct {
	Begin int `json:"begin"`
	End   int `json:"end"`
}

func (q *quality) File(f File) error {
	if len(f.Findings) == 0 {
		return nil
	}
	path, prints := wording.PathName(f.place()), f.Prints()
	for i := range f.Findings {
		x := &f.Findings[i]
		issue := qualityIssue{x.Message, x.Rule, uniquePrint(path, prints[i]), qualityWord(x.Severity),
			qualityLocation{path, qualityLines{x.Position.Line, x.Position.EndLine}}}
		if err := q.issue(issue); err != nil {
			return err
		}
	}
	return q.out.Flush()
}

// Missed reports a file as an issue, because the format has nothing else. It is worse
// than any finding: the file may contain anything.
func (q *quality) Missed(m Missed) error {
	path := wording.PathName(m.place())
	err := q.issue(qualityIssue{"not checked: " + m.Reason, "not-checked", uniquePrint(path, "not checked"), "blocker",
		qualityLocation{path, qualityLines{1, 1}}})
	if err != nil {
		return err
	}
	return q.out.Flush()
}

func (q *quality) issue(issue qualityIssue) error {
	before := ",\n"
	if !q.begun {
		before, q.begun = "[\n", true
	}
	q.out.WriteString(before)
	return q.out.value(issue, layout{})
}

// uniquePrint returns a fingerprint that no other file has.
func uniquePrint(path, fingerprint string) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%s\n%s", path, fingerprint))
	return hex.EncodeToString(sum[:16])
}

func qualityWord(s schema.Severity) string {
	switch s {
	case schema.Error:
		return "critical"
	case schema.Warning:
		return "major"
	}
	return "info"
}

func (q *quality) Close(Summary) error {
	if !q.begun {
		q.out.WriteString("[")
	}
	q.out.WriteString("\n]\n")
	return q.out.Flush()
}
