package report

import (
	"io"
	"net/url"
	"path"
	"strings"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/wording"
)

// Limits of services that show SARIF: the results they show, and the results they
// accept; common practice, no source.
const (
	mostShown = 5_000
	mostTaken = 25_000
)

// Crowded returns a warning about a report with more results than services show, or "".
func Crowded(form string, s Summary) string {
	n := s.AtOrAbove(schema.Note) + s.Suppressed + s.Known
	switch {
	case form != "sarif" || n <= mostShown:
		return ""
	case n <= mostTaken:
		return wording.Counted(n, "result") + " in the SARIF report; many services show only the first 5,000 (errors come first), so use a baseline, or check one folder at a time"
	}
	return wording.Counted(n, "result") + " in the SARIF report; many services refuse more than 25,000, so use a baseline, or check one folder at a time"
}

// sarifReport writes SARIF 2.1.0. It sorts results by severity, errors first and ignored
// or known findings last, because some services show only the first results.
type sarifReport struct {
	out     *jsonWriter
	options Options
	index   map[string]int // rule number by id
	results map[schema.Severity]*spool
	missed  []sarifNotification
	buffer  *jsonWriter // writes to one of results at a time

	replacement sarifReplacement // the current one
}

func newSARIF(to io.Writer, o Options) Writer {
	s := &sarifReport{out: newJSONWriter(to), buffer: newJSONWriter(nil), options: o, index: map[string]int{}, results: map[schema.Severity]*spool{}}
	for i := range o.Rules {
		s.index[o.Rules[i].ID] = i
	}
	for _, severity := range shownFirst() {
		s.results[severity] = &spool{scratch: o.Scratch}
	}
	return s
}

// leftOut is the severity under which results that don't count are kept. No finding has
// severity Off.
const leftOut = schema.Off

func shownFirst() []schema.Severity { return append(worstFirst(), leftOut) }

func worstFirst() []schema.Severity {
	return []schema.Severity{schema.Error, schema.Warning, schema.Note}
}

type sarifText struct {
	Text     string `json:"text"`
	Markdown string `json:"markdown,omitempty"`
}

type sarifRule struct {
	ID      string       `json:"id"`
	Name    string       `json:"name"`
	Short   sarifText    `json:"shortDescription"`
	Full    sarifText    `json:"fullDescription"`
	Help    sarifText    `json:"help"`
	Default sarifDefault `json:"defaultConfiguration"`
	More    sarifMore    `json:"properties"`
}

type sarifDefault struct {
	Enabled bool   `json:"enabled"`
	Level   string `json:"level"`
}

type sarifMore struct {
	Tags []string `json:"tags"`
}

type sarifResult struct {
	Rule         string             `json:"ruleId"`
	Index        *int               `json:"ruleIndex,omitempty"`
	Level        string             `json:"level"`
	Message      sarifText          `json:"message"`
	Locations    []sarifLocation    `json:"locations"`
	Prints       map[string]string  `json:"partialFingerprints"`
	State        string             `json:"baselineState,omitempty"`
	Suppressions []sarifSuppression `json:"suppressions,omitempty"`
}

// sarifSuppression says why a result doesn't count: the draft ignores it (inSource), or
// it is in the baseline (external).
type sarifSuppression struct {
	Kind          string `json:"kind"`
	Justification string `json:"justification,omitempty"`
}

type sarifLocation struct {
	Physical sarifPhysical `json:"physicalLocation"`
}

type sarifPhysical struct {
	Artifact sarifArtifact `json:"artifactLocation"`
	Region   sarifRegion   `json:"region"`
}

// sarifArtifact is a file. Its URI is relative to the root of the run if it is below it;
// no report contains the path of the root.
type sarifArtifact struct {
	URI  string `json:"uri"`
	Base string `json:"uriBaseId,omitempty"`
}

// rootBase is the name of the root of the run in artifacts.
const rootBase = "%SRCROOT%"

func artifactOf(path string) sarifArtifact {
	a := sarifArtifact{URI: uriOf(path)}
	if path != "-" && !strings.HasPrefix(a.URI, "file:") && !strings.HasPrefix(a.URI, "../") {
		a.Base = rootBase
	}
	return a
}

// sarifInvocation is the run. It is unsuccessful if fettle missed a file.
type sarifInvocation struct {
	Successful    bool                `json:"executionSuccessful"`
	Notifications []sarifNotification `json:"toolExecutionNotifications,omitempty"`
}

type sarifNotification struct {
	Level     string         `json:"level"`
	Message   sarifText      `json:"message"`
	Locations []sarifMissing `json:"locations"`
}

// sarifMissing is the place of a missed file.
type sarifMissing struct {
	Physical struct {
		Artifact sarifArtifact `json:"artifactLocation"`
	} `json:"physicalLocation"`
}

// sarifRegion is a range of text. EndColumn is the first column after it.
type sarifRegion struct {
	Line      int `json:"startLine"`
	Column    int `json:"startColumn"`
	EndLine   int `json:"endLine"`
	EndColumn int `json:"endColumn"`
}

type sarifFix struct {
	Description sarifText `json:"description"`
}

type sarifChange struct {
	Artifact sarifArtifact `json:"artifactLocation"`
}

type sarifReplacement struct {
	Deleted  sarifRegion `json:"deletedRegion"`
	Inserted sarifText   `json:"insertedContent"`
}

func (s *sarifReport) File(f File) error {
	if len(f.Findings) > 0 {
		prints, worse := f.Prints(), f.Worse
		for i := range f.Findings {
			x := &f.Findings[i]
			result := s.result(&f, x, prints[i])
			switch {
			case !s.options.Baseline:
			case len(worse) > 0 && worse[0] == i:
				result.State, worse = "updated", worse[1:]
			default:
				result.State = "new"
			}
			if err := s.add(x.Severity, result, &f, x); err != nil {
				return err
			}
		}
	}
	return s.leftOut(&f)
}

// leftOut adds the results that the run doesn't count, with the reason.
func (s *sarifReport) leftOut(f *File) error {
	for i := range f.Known {
		x := &f.Known[i]
		result := s.result(f, x, f.KnownPrints[i])
		result.State = "unchanged"
		result.Suppressions = []sarifSuppression{{Kind: "external", Justification: "it is in the baseline"}}
		if err := s.add(leftOut, result, f, x); err != nil {
			return err
		}
	}
	if len(f.Suppressed) == 0 {
		return nil
	}
	prints := f.SuppressedPrints()
	for i := range f.Suppressed {
		x := &f.Suppressed[i].Finding
		result := s.result(f, x, prints[i])
		result.Suppressions = []sarifSuppression{{Kind: "inSource", Justification: f.Suppressed[i].Reason}}
		if err := s.add(leftOut, result, f, x); err != nil {
			return err
		}
	}
	return nil
}

func (s *sarifReport) result(f *File, x *schema.Finding, fingerprint string) sarifResult {
	artifact := artifactOf(f.place())
	result := sarifResult{Rule: x.Rule, Level: x.Severity.String(), Message: sarifText{Text: x.Message},
		Locations: []sarifLocation{{sarifPhysical{artifact, region(x.Position)}}},
		Prints:    map[string]string{"primaryLocationLineHash": fingerprint}}
	if n, ok := s.index[x.Rule]; ok {
		result.Index = &n
	}
	return result
}

func (s *sarifReport) Missed(m Missed) error {
	place := sarifMissing{}
	place.Physical.Artifact = artifactOf(m.place())
	s.missed = append(s.missed, sarifNotification{"error", sarifText{Text: "not checked: " + m.Reason}, []sarifMissing{place}})
	return nil
}

// add writes a result with its fixes. It writes one edit at a time: a fix may have one
// for each line of a large file.
func (s *sarifReport) add(severity schema.Severity, result sarifResult, f *File, x *schema.Finding) error {
	to := s.results[severity]
	out := s.buffer
	out.Reset(to)
	if to.written {
		out.WriteString(",\n")
	}
	var lists []list
	if fixes := withEdits(x); len(fixes) > 0 {
		lists = append(lists, list{"fixes", len(fixes), func(i int, _ layout) error { return s.writeFix(out, f, fixes[i]) }})
	}
	if err := out.object(result, layout{}, lists...); err != nil {
		return err
	}
	return out.Flush()
}

func region(p schema.Position) sarifRegion {
	return sarifRegion{p.Line, p.Column, p.EndLine, p.EndColumn}
}

func (s *sarifReport) writeFix(out *jsonWriter, f *File, fix *schema.Fix) error {
	title := fix.Title
	if fix.Risky {
		title += " (risky: the draft may mean something else)"
	}
	replacements := list{"replacements", len(fix.Edits), func(i int, _ layout) error {
		e := fix.Edits[i]
		s.replacement = sarifReplacement{region(f.Source.Position(e.Span)), sarifText{Text: e.New}}
		return out.value(&s.replacement, layout{})
	}}
	return out.object(sarifFix{sarifText{Text: title}}, layout{}, list{"artifactChanges", 1, func(int, layout) error {
		return out.object(sarifChange{artifactOf(f.place())}, layout{}, replacements)
	}})
}

// uriOf returns a path as an escaped URI. A relative path gives a relative URI.
func uriOf(p string) string {
	u := url.URL{Path: p}
	if path.IsAbs(p) {
		u.Scheme = "file"
	} else if len(p) > 2 && p[1] == ':' && p[2] == '/' { // a Windows drive
		u = url.URL{Scheme: "file", Path: "/" + p}
	}
	return strings.ReplaceAll(u.String(), "'", "%27")
}

func sarifRuleOf(r *lint.Rule) sarifRule {
	return sarifRule{
		ID:      r.ID,
		Name:    identifier(r.ID),
		Short:   sarifText{Text: r.Title},
		Full:    sarifText{Text: r.Explanation()},
		Help:    sarifText{Text: string(lint.Page(r, lint.Text)), Markdown: string(lint.Page(r, lint.Markdown))},
		Default: sarifDefault{r.Default != schema.Off, levelOf(r.Default)},
		More:    sarifMore{[]string{r.Family()}},
	}
}

// identifier returns a rule id as one word: LoomMissingHeddles for loom/missing-heddles.
func identifier(id string) string {
	var b strings.Builder
	for _, word := range strings.FieldsFunc(id, func(r rune) bool { return r == '/' || r == '-' }) {
		b.WriteString(strings.ToUpper(word[:1]) + word[1:])
	}
	return b.String()
}

func levelOf(s schema.Severity) string {
	if s == schema.Off {
		return "none"
	}
	return s.String()
}

func (s *sarifReport) Close(Summary) error {
	s.out.WriteString("{\"$schema\": \"https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json\",\n" +
		"\"version\": \"2.1.0\", \"runs\": [{\n\"columnKind\": \"unicodeCodePoints\",\n" +
		"\"automationDetails\": {\"id\": \"fettle/\"},\n" +
		"\"originalUriBaseIds\": {\"" + rootBase + "\": {\"description\": {\"text\": \"the folder that paths in this report are relative to\"}}},\n" +
		"\"tool\": {\"driver\": {\"name\": \"fettle\",\n\"version\": ")
	if err := s.out.value(s.options.Version, layout{}); err != nil {
		return err
	}
	s.out.WriteString(",\n\"rules\": [\n")
	for i := range s.options.Rules {
		if i > 0 {
			s.out.WriteString(",\n")
		}
		if err := s.out.value(sarifRuleOf(&s.options.Rules[i]), layout{}); err != nil {
			return err
		}
	}
	s.out.WriteString("\n]}},\n\"invocations\": [")
	if err := s.out.value(sarifInvocation{s.missed == nil, s.missed}, layout{}); err != nil {
		return err
	}
	s.out.WriteString("],\n\"results\": [")
	before := "\n"
	for _, severity := range shownFirst() {
		if results := s.results[severity]; results.written {
			s.out.WriteString(before)
			if _, err := results.WriteTo(s.out); err != nil {
				return err
			}
			before = ",\n"
		}
	}
	s.out.WriteString("\n]}]}\n")
	return s.out.Flush()
}
