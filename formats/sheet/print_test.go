package sheet

import (
	"bytes"
	"html"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/formats/diagram"
	"fettle/schema"
	"fettle/schema/dressing"
)

// htmlOf and pdfOf are the sheet of a draft of the corpus in a file.
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

// writePDF writes the sheet, whatever characters it lacks.
func writePDF(w io.Writer, p *dressing.Plan, o Options) error {
	_, err := PDF(w, p, o)
	return err
}

// TestPDFNamesWhatItCannotShow has every text of a sheet in scripts that the fonts
// lack, and in one that they have.
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

// tool is a program that has to be there in CI.
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

// browser runs a browser without a window and gives what it says.
func browser(t testing.TB, args ...string) string {
	t.Helper()
	args = append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync",
		"--enable-logging=stderr", "--user-data-dir=" + t.TempDir()}, args...)
	out, err := exec.Command(tool(t, "chromium", "chromium"), args...).CombinedOutput()
	if err != nil {
		t.Fatalf("the browser: %v\n%s", err, out)
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

// TestPrinted prints three sheets: those of the corpus, whose pages have been
// looked at one by one. The page is printed by a browser as well, which must
// have nothing to say of it.
func TestPrinted(t *testing.T) {
	for _, row := range []struct {
		name      string
		html, pdf int // pages
		says      []string
	}{
		{"goose-eye-towel", 7, 7, []string{"8. Thread the heddles", "60 natural cotton", "480 ends in 160 dents"}},
		{"tideline-blanket", 14, 12, []string{"= 1 on 1, 2 each on 2-5, 1 on 6", "Picks 1-80, 2 times over, to pick 160:"}},
		{"aurora-coverlet", 14, 12, []string{"The draft goes up to shaft 20 but the loom has 16 shafts"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			p := fromCorpus(t, "guild/"+row.name+".wif", dressing.Options{})
			pdf := pdfOf(t, p)
			if got := pages(t, pdf); got != row.pdf {
				t.Errorf("%d pages of PDF, want %d", got, row.pdf)
			}
			text := strings.Join(strings.Fields(poppler(t, "pdftotext", "-layout", pdf, "-")), " ")
			for _, step := range of(p.plan, Options{}).steps {
				if !strings.Contains(text, step.title) {
					t.Errorf("no %q in the PDF", step.title)
				}
			}
			for _, want := range row.says {
				if !strings.Contains(text, want) {
					t.Errorf("no %q in the PDF: %s", want, text)
				}
			}
			if row.name == "goose-eye-towel" && !*long {
				return // the two others have more for the browser
			}
			printed := filepath.Join(t.TempDir(), "printed.pdf")
			if said := browser(t, "--no-pdf-header-footer", "--print-to-pdf="+printed, "file://"+htmlOf(t, p)); strings.Contains(said, "CONSOLE") {
				t.Errorf("the browser says:\n%s", said)
			}
			if got := pages(t, printed); got != row.html {
				t.Errorf("%d pages of HTML, want %d", got, row.html)
			}
			if row.name == "tideline-blanket" {
				t.Run("groups in the PDF", func(t *testing.T) { groupsStayOnAPage(t, pdf, len(p.plan.Groups)) })
				t.Run("groups as a browser prints", func(t *testing.T) { groupsStayOnAPage(t, printed, len(p.plan.Groups)) })
			}
		})
	}
}

// groupsStayOnAPage checks that no group of the threading is broken: the last line of
// shafts on a page is followed by its tally.
func groupsStayOnAPage(t *testing.T, pdf string, want int) {
	groups := 0
	for _, page := range strings.Split(poppler(t, "pdftotext", "-layout", pdf, "-"), "\f") {
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

// TestHTMLHoldsTheSheet looks for every sentence, figure and box of every sheet
// of the corpus in its page.
func TestHTMLHoldsTheSheet(t *testing.T) {
	for _, path := range corpusDrafts(t) {
		t.Run(path, func(t *testing.T) {
			p := fromCorpus(t, path, dressing.Options{})
			raw, err := os.ReadFile(htmlOf(t, p))
			if err != nil {
				t.Fatal(err)
			}
			page := string(raw)
			if strings.Contains(page, "<script") || strings.Contains(page, "src=") || strings.Contains(page, "@import") || strings.Contains(page, "<link") {
				t.Error("the page needs something beside it")
			}
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
			if got := strings.Count(page, `<span class="box">`); got != boxes {
				t.Errorf("%d boxes, want %d", got, boxes)
			}
		})
	}
}

// TestLinesAtTheLoom has the threading of every sheet of the corpus in type of
// 14 points, on either paper that homes have, and no line wider than the page.
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
					if used > doc.room+1e-6 {
						t.Errorf("on %s a table is %v mm wide, and %v is the room", paper, used, doc.room)
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

// largeParts are the tables of a sheet that are read at the loom.
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

// TestCorpusPrints prints the sheet of every fourth draft of the corpus; with -long,
// of each.
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

// TestAnySheetPrints prints sheets of any draft and setup.
func TestAnySheetPrints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := anyDraft(t), anySetup(t)
		p := planOf(t, d, s, dressing.Options{})
		o := Options{}
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

// TestMarkupInNames has names that would be markup.
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
	for _, bad := range []string{"<script", "<img"} {
		if strings.Contains(string(raw), bad) {
			t.Errorf("%s got into the page", bad)
		}
	}
	if text := poppler(t, "pdftotext", pdfOf(t, p), "-"); !strings.Contains(text, "<script>alert(1)</script>") {
		t.Errorf("the title is not in %q", text)
	}
}

func TestSheetsAreTheSameTwice(t *testing.T) {
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

// shut is a writer that takes nothing.
type shut struct{}

func (shut) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

// TestPapers prints the sheet on other paper.
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

func TestSheetErrorsAreTold(t *testing.T) {
	d, s := towel()
	p := planOf(t, d, s, dressing.Options{})
	for name, err := range map[string]error{"html": HTML(shut{}, p, Options{}), "pdf": writePDF(shut{}, p, Options{})} {
		if err == nil || !strings.Contains(err.Error(), "the sheet could not be written") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestNoDrawingOfLargeRepeats(t *testing.T) {
	drawn := func(d *schema.Draft) bool {
		var b bytes.Buffer
		if err := HTML(&b, planOf(t, d, &schema.Setup{}, dressing.Options{}), Options{}); err != nil {
			t.Fatal(err)
		}
		return strings.Contains(b.String(), "<svg")
	}
	d := &schema.Draft{Threading: schema.Singles(1, 2), LiftPlan: schema.Singles(1, 2)}
	if !drawn(d) || drawn(&schema.Draft{}) {
		t.Error("plain weave isn't drawn, or a draft of nothing is")
	}
	for i := range int32(mostDrawn + 1) {
		d.LiftPlan.Append(i%7%2 + 1)
	}
	if drawn(d) {
		t.Error("a repeat of more picks than fit a page is drawn")
	}
}
