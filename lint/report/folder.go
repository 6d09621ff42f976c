package report

import (
	"bufio"
	"cmp"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"maps"
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// Index is the name of the page of NewFolder that leads to all others.
const Index = "index.html"

//go:embed folder.tmpl
var folderTemplate string

// folder writes an HTML page for each draft, and an index with the counts by file and by
// rule, which readers search.
type folder struct {
	page
	create  func(name string) (io.WriteCloser, error)
	options Options
	taken   map[string]int // names of pages, in lower case, and how often each was wanted
	rules   map[string]ruleCount
}

type ruleCount struct{ findings, files int }

// NewFolder returns a Writer for a folder of HTML pages. It writes the index as the files
// come, and create makes each page. Memory grows only with the names of the pages.
func NewFolder(index io.Writer, create func(name string) (io.WriteCloser, error), o Options) Writer {
	parts, err := template.New("folder").Parse(folderTemplate)
	return &folder{page: page{out: bufio.NewWriter(index), parts: parts, err: err}, create: create, options: o,
		taken: map[string]int{Index: 1}, rules: map[string]ruleCount{}}
}

// File writes the page of a draft and its line in the index.
func (w *folder) File(f File) error {
	if w.err != nil {
		return w.err
	}
	var sum Summary
	sum.Add(f)
	name := w.nameFor(f.place())
	if w.err = w.writePage(name, f, sum); w.err != nil {
		return w.err
	}
	w.put("file", struct {
		Page, Path string
		Rules      []string
		Summary
	}{name, wording.PathName(f.Path), w.count(f.Findings), sum})
	if w.err == nil {
		w.err = w.out.Flush()
	}
	return w.err
}

func (w *folder) writePage(name string, f File, sum Summary) error {
	to, err := w.create(name)
	if err != nil {
		return err
	}
	p := newHTML(to, w.options).(*page)
	p.index = Index
	if err := cmp.Or(p.File(f), p.Close(sum)); err != nil {
		return err
	}
	return to.Close()
}

// count adds findings to the counts by rule, and returns their rules.
func (w *folder) count(findings []schema.Finding) (rules []string) {
	for i := range findings {
		rule := findings[i].Rule
		c := w.rules[rule]
		c.findings++
		if !slices.Contains(rules, rule) {
			c.files++
			rules = append(rules, rule)
		}
		w.rules[rule] = c
	}
	slices.Sort(rules)
	return rules
}

// Close writes the end of the index.
func (w *folder) Close(s Summary) error {
	type row struct {
		Rule            string
		Findings, Files int
	}
	var rules []row
	for _, rule := range slices.Sorted(maps.Keys(w.rules)) {
		rules = append(rules, row{rule, w.rules[rule].findings, w.rules[rule].files})
	}
	w.put("foot", struct {
		shownFoot
		Rules []row
	}{shownFoot{s.String(), w.missed, s.NotChecked - len(w.missed)}, rules})
	if w.err == nil {
		w.err = w.out.Flush()
	}
	return w.err
}

// mostOfName is the most characters of a path in the name of its page.
const mostOfName = 120

// nameFor returns a name for the page of a file that no other page has: its path with a
// hyphen for each character that a file name or a link may not hold.
func (w *folder) nameFor(path string) string {
	plain := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '.', r == '_':
			return r
		}
		return '-'
	}, path)
	plain = cmp.Or(strings.TrimLeft(plain[max(0, len(plain)-mostOfName):], ".-"), "draft")
	if !strings.Contains(plain, ".") {
		plain = "draft-" + plain // Windows gives names such as con.html another meaning
	}
	for name := plain; ; name = fmt.Sprintf("%s-%d", plain, w.taken[strings.ToLower(plain+".html")]) {
		key := strings.ToLower(name + ".html")
		w.taken[key]++
		if w.taken[key] == 1 {
			return name + ".html"
		}
		if name != plain {
			w.taken[strings.ToLower(plain+".html")]++
		}
	}
}
