package sheet

import (
	"bytes"
	"flag"
	"fmt"
	"html"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/corpus/golden"
	"fettle/formats/diagram"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/wording"
)

// htmlOf and pdfOf write the sheet of a corpus draft to a file.
func htmlOf(t testing.TB, p planned) string {
	t.Helper()
	var b bytes.Buffer
	if err := HTML(&b, p.plan, Options{}); err != nil {
		t.Fatal(err)
	}
	return inFile(t, "sheet.html", b.Bytes())
}

func pdfOf(t testing.TB, p planned) string {
	t.Helper()
	var b bytes.Buffer
	if err := writePDF(&b, p.plan, Options{}); err != nil {
		t.Fatal(err)
	}
	return inFile(t, "sheet.pdf", b.Bytes())
}

// writePDF writes the sheet and ignores missing characters.
func writePDF(w io.Writer, p *dressing.Plan, o Options) error {
	_, err := PDF(w, p, o)
	return err
}

// TestPDFNamesWhatItCannotShow puts texts into the sheet in scripts that the fonts lack,
// and in one that they have.
func TestPDFNamesWhatItCannotShow(t *testing.T) {
	for _, row := range []struct {
		title, yarn string
		want        string
	}{
		{"Handtuch für Ærø", "Лён", ""},
		{"שלום", "natural", "שלום"},
		{"towel", "綿", "綿"},
		{"雪 and 綿", "綿 雪", "雪綿"},
		{"cafe\u0301", "x\u0304", "\u0304"}, // é is one character, x with a bar is not
		{"yarn \U0001F9F6", "\u263A\uFE0F", "\U0001F9F6"},
	} {
		d, s := towel()
		d.Texts.Title, s.Yarns[0].Name = row.title, row.yarn
		unset, err := PDF(io.Discard, planOf(t, d, s, dressing.Options{}), Options{})
		if err != nil || string(unset) != row.want {
			t.Errorf("%s, %s: %q %v, want %q", row.title, row.yarn, string(unset), err, row.want)
		}
	}
}

func inFile(t testing.TB, name string, text []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// tool returns a program's path. In CI a missing program fails the test.
func tool(t testing.TB, name, pack string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil && os.Getenv("CI") != "" {
		t.Fatalf("%s is missing: install %s", name, pack)
	}
	if err != nil {
		t.Skipf("%s is missing", name)
	}
	return path
}

// poppler runs a program of poppler.
func poppler(t testing.TB, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(tool(t, name, "poppler-utils"), args...).Output()
	if err != nil {
		t.Fatalf("%s %s: %v", name, strings.Join(args, " "), err)
	}
	return string(out)
}

func pages(t testing.TB, pdf string) int {
	t.Helper()
	for line := range strings.Lines(poppler(t, "pdfinfo", pdf)) {
		if n, ok := strings.CutPrefix(line, "Pages:"); ok {
			count, err := strconv.Atoi(strings.TrimSpace(n))
			if err != nil {
				t.Fatal(err)
			}
			return count
		}
	}
	t.Fatal("no count of pages")
	return 0
}

// The sheets to print, and the most pages each may take on A4 or Letter. Without -long
// only the first is printed.
var printedSheets = []struct {
	draft string
	most  int
	flags []schema.Setting
	says  []string
}{
	{"goose-eye-towel", 6, nil, []string{"8. Thread the heddles", "60 natural cotton", "480 ends in 160 dents"}},
	{"tideline-blanket", 12, nil, []string{"= 1 on 1, 2 each on 2-5, 1 on 6", "Picks 1-80, 2 times over, to pick 160:"}},
	{"aurora-coverlet", 13, nil, []string{"The draft goes up to shaft 20 but the loom has 16 shafts", "This is its beginning:"}},
	{"shadow-scarf", 6, []schema.Setting{project("fringe", "20 cm"), project("items", "2")}, []string{"item 2, fringe"}},
}

// TestPrintedPDF reads the PDF of sheets back.
func TestPrintedPDF(t *testing.T) {
	for i, row := range printedSheets {
		if i > 0 && !*long {
			break
		}
		t.Run(row.draft, func(t *testing.T) {
			p := fromCorpus(t, "guild/"+row.draft+".wif", dressing.Options{}, row.flags...)
			checkPrinted(t, p, pdfOf(t, p), row.most, row.says)
		})
	}
}

// checkPrinted checks the pages of a sheet: their number, the steps and other texts,
// unbroken groups, and text below each heading.
func checkPrinted(t *testing.T, p planned, pdf string, most int, says []string) {
	t.Helper()
	n := pages(t, pdf)
	if n > most {
		t.Errorf("%d pages, want %d at most", n, most)
	}
	text := poppler(t, "pdftotext", "-layout", pdf, "-")
	flat := strings.Join(strings.Fields(text), " ")
	for _, step := range of(p.plan, Options{}).steps {
		says = append(says, step.title)
	}
	for _, want := range says {
		if !strings.Contains(flat, want) {
			t.Errorf("no %q on the pages: %s", want, flat)
		}
	}
	for i, page := range strings.Split(strings.TrimSuffix(text, "\f"), "\f") {
		lines := strings.Split(strings.TrimSpace(page), "\n")
		want := fmt.Sprintf("page %d of %d", i+1, n)
		if last := lines[len(lines)-1]; !strings.HasSuffix(last, want) {
			t.Errorf("page %d ends with %q, want %q", i+1, last, want)
		}
		above := lines[:len(lines)-1]
		for len(above) > 0 && strings.TrimSpace(above[len(above)-1]) == "" {
			above = above[:len(above)-1]
		}
		for _, step := range of(p.plan, Options{}).steps {
			if len(above) == 0 || strings.TrimSpace(above[len(above)-1]) == step.title && !slices.ContainsFunc(step.parts, func(p part) bool { return p.drawing != nil }) {
				t.Errorf("the last line of page %d is a heading, or there is none:\n%s", i+1, page)
			}
		}
	}
	if strings.HasSuffix(p.plan.Title, "blanket") {
		groupsStayOnAPage(t, text, len(p.plan.Groups))
	}
}

// TestPages checks how all sheets of the corpus are divided into pages, on A4 and Letter.
func TestPages(t *testing.T) {
	for i, path := range corpusDrafts(t) {
		if i%4 != 0 && !*long && !strings.Contains(path, "goose-eye") {
			continue
		}
		t.Run(path, func(t *testing.T) {
			p := fromCorpus(t, path, dressing.Options{})
			for _, paper := range []diagram.Page{diagram.A4, diagram.Letter} {
				s, doc := of(p.plan, Options{Paper: paper}), newDocument("sheet", paper)
				checkPages(t, doc, doc.pages(doc.sheet(&s)))
			}
		})
	}
}

func checkPages(t *testing.T, doc *document, pages [][]piece) {
	t.Helper()
	at := map[*printed][]int{} // the pages of each table
	rows := map[*printed][]piece{}
	for i, page := range pages {
		if high := highOf(page); high > doc.high+1e-6 {
			t.Errorf("page %d is %v mm high, and %v is the room", i+1, high, doc.high)
		}
		last := page[len(page)-1]
		if i+1 < len(pages) && last.hold >= holdLead {
			t.Errorf("page %d parts what stays together: %d", i+1, last.hold)
		}
		if i+1 < len(pages) && highOf(slices.Concat(page, pages[i+1])) <= doc.high {
			t.Errorf("pages %d and %d have room on one", i+1, i+2)
		}
		for _, p := range page {
			if p.table == nil {
				continue
			}
			if on := at[p.table]; len(on) == 0 || on[len(on)-1] != i {
				at[p.table] = append(on, i)
			}
			rows[p.table] = append(rows[p.table], p)
		}
	}
	for table, on := range at {
		if table.wide > doc.wide+1e-6 {
			t.Errorf("a table is %v mm wide, and %v is the room: %q", table.wide, doc.wide, table.heads)
		}
		if len(on) > 1 && runHigh(rows[table]) <= tallTable*doc.high && !slices.Contains(table.bound(), true) {
			t.Errorf("a table that isn't tall is on %v: %q", on, table.rows[0])
		}
	}
}

// A tall table is split where a part of the page would stay empty, with some lines on each
// page; another table isn't. A paragraph fills a page even if its step doesn't end there.
func TestPagesAreFull(t *testing.T) {
	doc := newDocument("full", diagram.A4)
	row := doc.table(&table{heads: []string{"x"}, rows: [][]string{{"x"}}})[0].high
	filler := func(share float64) piece { return piece{high: share * doc.high, hold: holdStep} }
	lines := func(share float64) []piece {
		var tall table
		for range int(share * doc.high / row) {
			tall.add("x")
		}
		return doc.table(&tall)
	}
	for _, c := range []struct {
		name string
		list []piece
		high float64 // of the first page, at least
	}{
		{"a tall table", append([]piece{filler(0.7)}, lines(0.6)...), 0.95},
		{"a tall table, little room", append([]piece{filler(0.9)}, lines(0.6)...), 0.9},
		{"a short table", append([]piece{filler(0.7)}, lines(0.35)...), 0.7},
		{"paragraphs of a step", []piece{filler(0.6), {high: 0.3 * doc.high, hold: holdPart}, filler(0.3)}, 0.9},
	} {
		pages := doc.pages(c.list)
		if high := highOf(pages[0]) / doc.high; high < c.high-1e-9 || high > c.high+0.05 {
			t.Errorf("%s: the first page is %.2f full, want %.2f", c.name, high, c.high)
		}
		checkPages(t, doc, pages)
	}
}

// highOf returns the total height of pieces.
func highOf(page []piece) float64 {
	high := 0.0
	for len(page) > 0 {
		n := runLength(page)
		if high > 0 {
			high += page[0].above
		}
		high, page = high+runHigh(page[:n]), page[n:]
	}
	return high
}

// TestLanes checks that a long table has lanes on each page and that its groups stay
// whole.
func TestLanes(t *testing.T) {
	narrow := table{heads: []string{"", "pick"}, large: true}
	for i := range 200 {
		narrow.add([]string{"x", ""}[i%2], strconv.Itoa(i+1))
	}
	doc := newDocument("lanes", diagram.A4)
	pages := doc.pages(doc.table(&narrow))
	if len(pages) != 2 || pages[0][0].table.lanes != maxLanes {
		t.Fatalf("%d pages, %d lanes", len(pages), pages[0][0].table.lanes)
	}
	for _, page := range pages {
		for _, lane := range inLanes(page, maxLanes) {
			if len(lane)%2 != 0 {
				t.Errorf("a lane of %d rows breaks a group", len(lane))
			}
		}
	}
	checkPages(t, doc, pages)
}

// groupsStayOnAPage checks that no page break splits a group of the threading: its tally
// follows the last line of shafts on the page.
func groupsStayOnAPage(t *testing.T, text string, want int) {
	t.Helper()
	groups := 0
	for _, page := range strings.Split(text, "\f") {
		_, threading, found := strings.Cut(page, "shafts in order, and how many heddles on each")
		if !found {
			continue
		}
		threading, _, _ = strings.Cut(threading, "The whole warp:")
		last := "tally"
		for line := range strings.Lines(threading) {
			fields := strings.Fields(line)
			if strings.HasPrefix(strings.TrimSpace(line), "= ") {
				last, groups = "tally", groups+1
			} else if len(fields) > 4 && strings.Trim(line, " 0123456789-x\n") == "" {
				last = "shafts"
			}
		}
		if last != "tally" {
			t.Errorf("a group is broken:\n%s", page)
		}
	}
	if groups != want {
		t.Errorf("%d groups, want %d", groups, want)
	}
}

// unmarked matches a figure that stays on one line.
var unmarked = regexp.MustCompile(`<span class="figure">([^<]*)</span>`)

// Text and PDF keep a number and its unit on one line, and the page marks them.
func TestFiguresStayOnOneLine(t *testing.T) {
	const say = "Each half of the warp is 28 19/32 in wide, 16.5 cm or 5 %; 2 x 500 g is 12 inches, 3 lb 4 oz."
	figures := []string{"28 19/32 in", "16.5 cm", "5 %", "500 g", "3 lb", "4 oz"}
	var marked []string
	for _, m := range unmarked.FindAllStringSubmatch(string(markFigures(say)), -1) {
		marked = append(marked, m[1])
	}
	if !slices.Equal(marked, figures) {
		t.Errorf("marked %q", marked)
	}
	doc := newDocument("figures", diagram.A4)
	for n := 1; n < 60; n++ {
		text := &page{}
		text.part(part{say: strings.Repeat("x", n) + " " + say})
		lines := strings.Split(text.String(), "\n")
		lines = append(lines, doc.wrapped(textFace(), say, 30+float64(n))...)
		for _, f := range figures {
			if count := strings.Count(strings.Join(lines, "\n"), f); count != 2 {
				t.Fatalf("%q is broken in %q", f, lines)
			}
		}
		if joined := strings.Join(lines, " "); strings.ContainsRune(joined, wording.NoBreak) {
			t.Fatalf("%q has non-breaking spaces", joined)
		}
	}
}

// TestHTMLHoldsTheSheet checks that each page has every sentence, figure and box of its
// sheet, for all drafts in the corpus.
func TestHTMLHoldsTheSheet(t *testing.T) {
	for _, path := range corpusDrafts(t) {
		t.Run(path, func(t *testing.T) {
			p := fromCorpus(t, path, dressing.Options{})
			raw, err := os.ReadFile(htmlOf(t, p))
			if err != nil {
				t.Fatal(err)
			}
			page := string(raw)
			if strings.Count(page, "<script") != 1 || strings.Contains(page, "src=") || strings.Contains(page, "@import") || strings.Contains(page, "<link") {
				t.Error("the page needs something beside it")
			}
			page = unmarked.ReplaceAllString(page, "$1")
			boxes := 0
			for _, step := range of(p.plan, Options{}).steps {
				for _, part := range step.parts {
					boxes += len(part.ticks)
					if !strings.Contains(html.UnescapeString(page), part.say) {
						t.Errorf("no %q", part.say)
					}
					if part.table == nil {
						continue
					}
					for _, r := range part.table.rows {
						for _, cell := range r {
							if cell == box {
								boxes++
							}
						}
					}
				}
			}
			if got := strings.Count(page, `<input type="checkbox"`); got != boxes {
				t.Errorf("%d boxes, want %d", got, boxes)
			}
		})
	}
}

// TestLinesAtTheLoom checks that the threading of every corpus sheet is in 14-point type
// and that no line is wider than the page, on A4 and Letter.
func TestLinesAtTheLoom(t *testing.T) {
	papers := map[diagram.Page]*document{diagram.A4: newDocument("sheet", diagram.A4), diagram.Letter: newDocument("sheet", diagram.Letter)}
	for _, path := range corpusDrafts(t) {
		t.Run(path, func(t *testing.T) {
			p := fromCorpus(t, path, dressing.Options{})
			for _, part := range largeParts(p) {
				for paper, doc := range papers {
					fitted := doc.fitted(part.table)
					last := len(fitted.columns) - 1
					if size := fitted.types[last].size; !part.table.whole && size < largeType {
						t.Errorf("on %s a line is in %v points", paper, size)
					}
					used := -between
					for _, w := range fitted.widths {
						used += w + between
					}
					if used > doc.wide+1e-6 {
						t.Errorf("on %s a table is %v mm wide, and %v is the room", paper, used, doc.wide)
					}
					for _, r := range part.table.rows {
						line := r[len(r)-1]
						if part.table.even && !strings.HasPrefix(line, "=") && doc.width(fitted.types[last], line) > fitted.widths[last]+1e-6 {
							t.Errorf("on %s the line %q would break", paper, line)
						}
					}
				}
			}
		})
	}
}

// largeParts returns the tables that are read at the loom.
func largeParts(p planned) (list []part) {
	for _, step := range of(p.plan, Options{}).steps {
		for _, part := range step.parts {
			if part.table != nil && part.table.large {
				list = append(list, part)
			}
		}
	}
	return list
}

// TestCorpusPrints prints the sheet of every fourth draft in the corpus; with -long, of
// all.
func TestCorpusPrints(t *testing.T) {
	for i, path := range corpusDrafts(t) {
		if i%4 != 0 && !*long {
			continue
		}
		t.Run(path, func(t *testing.T) {
			p := fromCorpus(t, path, dressing.Options{})
			if err := writePDF(io.Discard, p.plan, Options{}); err != nil {
				t.Error(err)
			}
		})
	}
}

// TestAnySheetPrints prints sheets of random drafts and setups, more of them with -long.
// No page overflows.
func TestAnySheetPrints(t *testing.T) {
	if !*long {
		checks := flag.Lookup("rapid.checks")
		all := checks.Value.String()
		checks.Value.Set("20")
		defer checks.Value.Set(all)
	}
	rapid.Check(t, func(t *rapid.T) {
		d, s := anyDraft(t), anySetup(t)
		p := planOf(t, d, s, dressing.Options{})
		o := Options{}
		set, doc := of(p, o), newDocument("sheet", o.Paper)
		for _, page := range doc.pages(doc.sheet(&set)) {
			if high := highOf(page); high > doc.high {
				t.Fatalf("a page is %v mm high, and %v is the room", high, doc.high)
			}
		}
		if *long || rapid.IntRange(0, 3).Draw(t, "pdf") == 0 {
			if err := writePDF(io.Discard, p, o); err != nil {
				t.Fatal(err)
			}
		}
		if err := HTML(io.Discard, p, o); err != nil {
			t.Fatal(err)
		}
	})
}

// TestMarkupInNames uses names that look like markup.
func TestMarkupInNames(t *testing.T) {
	d, s := towel()
	d.Texts.Title = `</title><script>alert(1)</script>`
	s.Yarns[0].Name = `"><img src=x onerror=alert(1)>`
	s.Loom.Name = "\U0001F9F6 loom"
	p := planned{d, planOf(t, d, s, dressing.Options{})}
	raw, err := os.ReadFile(htmlOf(t, p))
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{"<script>alert", "<img"} {
		if strings.Contains(string(raw), bad) {
			t.Errorf("%s got into the page", bad)
		}
	}
	if text := poppler(t, "pdftotext", pdfOf(t, p), "-"); !strings.Contains(text, "<script>alert(1)</script>") {
		t.Errorf("the title is not in %q", text)
	}
}

func TestSheetsAreDeterministic(t *testing.T) {
	p := fromCorpus(t, "guild/goose-eye-towel.wif", dressing.Options{})
	for name, write := range map[string]func(io.Writer, *dressing.Plan, Options) error{"html": HTML, "pdf": writePDF} {
		var a, b bytes.Buffer
		if err := write(&a, p.plan, Options{}); err != nil {
			t.Fatal(err)
		}
		if err := write(&b, p.plan, Options{}); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s: written twice, it is not the same", name)
		}
	}
}

// shut is a writer that always fails.
type shut struct{}

func (shut) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

// TestPapers prints the sheet on other sizes of paper.
func TestPapers(t *testing.T) {
	p := fromCorpus(t, "guild/goose-eye-towel.wif", dressing.Options{})
	for _, row := range []struct {
		paper diagram.Page
		size  string
	}{{diagram.A4, "595.28 x 841.89"}, {diagram.Letter, "612 x 792"}, {diagram.Legal, "612 x 1008"}, {diagram.A3, "841.89 x 1190.55"}} {
		t.Run(row.paper.String(), func(t *testing.T) {
			o := Options{Paper: row.paper}
			var pdf, page bytes.Buffer
			if err := writePDF(&pdf, p.plan, o); err != nil {
				t.Fatal(err)
			}
			if got := poppler(t, "pdfinfo", inFile(t, "sheet.pdf", pdf.Bytes())); !strings.Contains(got, row.size) {
				t.Errorf("no page of %s: %s", row.size, got)
			}
			if err := HTML(&page, p.plan, o); err != nil {
				t.Fatal(err)
			}
			if want := "@page { size: " + row.paper.String() + ";"; !strings.Contains(page.String(), want) {
				t.Errorf("no %q", want)
			}
		})
	}
}

func TestSheetErrors(t *testing.T) {
	d, s := towel()
	p := planOf(t, d, s, dressing.Options{})
	for name, err := range map[string]error{"html": HTML(shut{}, p, Options{}), "pdf": writePDF(shut{}, p, Options{})} {
		if err == nil || !strings.Contains(err.Error(), "the sheet could not be written") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestDrawing draws the whole draft, one repeat of it, or its beginning. The sheet says
// which.
func TestDrawing(t *testing.T) {
	plain := func(ends, picks int) *schema.Draft {
		d := &schema.Draft{}
		for i := range ends {
			d.Threading.Append(int32(i%2) + 1)
		}
		for i := range picks {
			d.LiftPlan.Append(int32(i%2) + 1)
		}
		return d
	}
	uneven := func(ends, picks int) *schema.Draft {
		d, x := &schema.Draft{}, 1
		next := func() int32 { x = x * 75 % 65537; return int32(x%5) + 1 }
		for range ends {
			d.Threading.Append(next())
		}
		for range picks {
			d.LiftPlan.Append(next())
		}
		return d
	}
	many := plain(4, 4)
	many.Threading.Append(500)
	for name, d := range map[string]*schema.Draft{
		"whole": plain(10, 20), "repeat": plain(1000, 20), "beginning": uneven(1000, 2000), "many shafts": many, "nothing": {},
	} {
		t.Run(name, func(t *testing.T) {
			p := planOf(t, d, &schema.Setup{}, dressing.Options{})
			text := string(Text(p, Options{}))
			_, said, found := strings.Cut(text, drawingTitle+"\n")
			if found != (d.Ends() > 0) {
				t.Errorf("the drawing is missing, or there is one of nothing:\n%s", text)
			}
			golden.Words(t, said)
			var b bytes.Buffer
			if err := HTML(&b, p, Options{}); err != nil {
				t.Fatal(err)
			}
			if drawn := strings.Contains(b.String(), "<svg"); drawn != (d.Ends() > 0 && name != "many shafts") {
				t.Errorf("drawn in HTML: %v", drawn)
			}
		})
	}
}

// The sentence above the lifts stays with the title of their first table, and that with the
// table. Where half a page shows as much of the draft, the drawing leaves the rest free.
func TestIntroductionsStayWithWhatFollows(t *testing.T) {
	d, s := towel()
	w := workOf(planOf(t, d, s, dressing.Options{}), Options{})
	weave := w.weave()
	found := false
	for i, p := range weave.parts {
		if strings.HasPrefix(p.say, "The treadles of each pick") {
			found = true
			if !weave.leads(i) || !weave.leads(i+1) || weave.parts[i+2].table == nil {
				t.Errorf("%q may be alone at the foot of a page", p.say)
			}
		}
	}
	if !found {
		t.Error("no sentence above the lifts")
	}
	for _, p := range w.drawing().parts {
		if p.drawing == nil {
			continue
		}
		if _, high := p.drawing.Size(); high > 130 {
			t.Errorf("a draft of 8 ends and 4 picks is drawn %v mm high", high)
		}
	}
}

// The drawing shows as many repeats of the weave as it takes to show every color, or the
// sheet names the colors that it leaves out.
func TestDrawingShowsEveryColor(t *testing.T) {
	stripes := func(at int) *schema.Draft {
		d, _ := towel()
		d.Threading = schema.Singles(slices.Repeat([]int32{1, 2, 3, 4}, 250)...)
		d.Warp.Colors = make([]int32, at)
		d.Warp.Colors[at-1] = 2
		return d
	}
	for name, row := range map[string]struct {
		draft     *schema.Draft
		want, not string
	}{
		"near the edge":   {stripes(10), "Several repeats of the weave, to show every color: ends 1-12 and picks 1-4.", "doesn't reach"},
		"far away":        {stripes(900), "The drawing doesn't reach indigo in the warp.", "Several"},
		"in every repeat": {stripes(3), "One repeat of the weave: ends 1-4 and picks 1-4.", "doesn't reach"},
	} {
		t.Run(name, func(t *testing.T) {
			_, s := towel()
			s.Project.Repeats = 1
			_, said, _ := strings.Cut(textOf(t, row.draft, s, dressing.Options{}, Options{}), drawingTitle+"\n")
			if said = strings.Join(strings.Fields(said), " "); !strings.Contains(said, row.want) || strings.Contains(said, row.not) {
				t.Errorf("%s", said)
			}
		})
	}
}
