package report

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// junit writes JUnit XML with a suite for each file and a case for each finding. A file
// without findings gets one case that passes. Findings that fail the run are failures,
// other findings are skipped cases, and unreadable files are errors.
type junit struct {
	out   *bufio.Writer
	xml   *xml.Encoder
	fails func(*schema.Finding) bool
	keys  map[string][]string // by rule
	begun bool
}

func newJUnit(to io.Writer, o Options) Writer {
	out := bufio.NewWriter(to)
	j := &junit{out: out, xml: xml.NewEncoder(out), fails: o.fails, keys: map[string][]string{}}
	for i := range o.Rules {
		j.keys[o.Rules[i].ID] = o.Rules[i].Keys
	}
	j.xml.Indent("  ", "  ")
	return j
}

// junitSuite is a file. Its times are 0: readers of the format need them, and the same
// files must give the same report.
type junitSuite struct {
	XMLName  xml.Name    `xml:"testsuite"`
	Name     string      `xml:"name,attr"`
	Tests    int         `xml:"tests,attr"`
	Failures int         `xml:"failures,attr"`
	Errors   int         `xml:"errors,attr"`
	Skipped  int         `xml:"skipped,attr"`
	Time     string      `xml:"time,attr"`
	Cases    []junitCase `xml:"testcase"`
}

type junitCase struct {
	Name      string     `xml:"name,attr"`
	ClassName string     `xml:"classname,attr"`
	File      string     `xml:"file,attr"`
	Line      int        `xml:"line,attr,omitempty"`
	Time      string     `xml:"time,attr"`
	Failure   *junitText `xml:"failure"`
	Error     *junitText `xml:"error"`
	Skipped   *junitText `xml:"skipped"`
}

type junitText struct {
	Message string `xml:"message,attr"`
	Type    string `xml:"type,attr,omitempty"`
	Text    string `xml:",chardata"`
}

func (j *junit) File(f File) error {
	path := wording.PathName(f.place())
	suite := junitSuite{Name: path, Time: "0", Tests: max(len(f.Findings), 1)}
	names := j.caseNames(f.Findings)
	for i := range f.Findings {
		suite.add(path, names[i], &f.Findings[i], j.fails)
	}
	if suite.Cases == nil {
		suite.Cases = []junitCase{{Name: "no findings", ClassName: path, File: path, Time: "0"}}
	}
	return j.write(suite)
}

func (j *junit) Missed(m Missed) error {
	path := wording.PathName(m.place())
	c := junitCase{Name: "not checked", ClassName: path, File: path, Time: "0",
		Error: &junitText{m.Reason, "not checked", path + ": not checked: " + m.Reason}}
	return j.write(junitSuite{Name: path, Time: "0", Tests: 1, Errors: 1, Cases: []junitCase{c}})
}

func (j *junit) write(suite junitSuite) error {
	j.begin()
	if err := j.xml.Encode(suite); err != nil {
		return err
	}
	return j.out.Flush()
}

// caseNames returns a name for the case of each finding, such as "loom/missing-heddles
// (shaft 3)" or "file/stray-line #2": the rule, its keys, and a number from the second
// of that name on. CI services compare cases by name from run to run, so a name
// contains no line and no measure.
func (j *junit) caseNames(findings []schema.Finding) []string {
	names := make([]string, len(findings))
	met := map[string]int{}
	for i := range findings {
		f := &findings[i]
		var about []string
		for _, d := range f.Data {
			if !slices.Contains(j.keys[f.Rule], d.Key) {
				continue
			}
			word, is := d.Value.(string)
			switch {
			case !is:
				about = append(about, fmt.Sprint(d.Key, " ", d.Value))
			case word != "":
				about = append(about, wording.Plain(word, 60))
			}
		}
		name := f.Rule
		if about != nil {
			name += " (" + strings.Join(about, ", ") + ")"
		}
		names[i] = name
		if met[name]++; met[name] > 1 {
			names[i] = fmt.Sprintf("%s #%d", name, met[name])
		}
	}
	return names
}

func (s *junitSuite) add(path, name string, f *schema.Finding, fails func(*schema.Finding) bool) {
	p := f.Position
	where := fmt.Sprintf("%s:%d:%d", path, p.Line, p.Column)
	c := junitCase{Name: name, ClassName: path, File: path, Line: p.Line, Time: "0"}
	text := &junitText{f.Message, f.Severity.String(), fmt.Sprintf("%s: %s: %s [%s]", where, f.Severity, f.Message, f.Rule)}
	switch {
	case f.Rule == schema.FileUnreadable && f.Severity == schema.Error:
		s.Errors++
		c.Error = text
	case fails(f):
		s.Failures++
		c.Failure = text
	default:
		s.Skipped++
		text.Type = "" // skipped cases have no type
		c.Skipped = text
	}
	s.Cases = append(s.Cases, c)
}

func (j *junit) begin() {
	if !j.begun {
		j.begun = true
		j.out.WriteString(xml.Header + "<testsuites name=\"fettle\">\n")
	}
}

func (j *junit) Close(Summary) error {
	j.begin()
	j.out.WriteString("\n</testsuites>\n")
	return j.out.Flush()
}
