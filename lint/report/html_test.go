package report

import (
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fettle/schema"
)

func pageOf(t *testing.T, files ...File) string {
	t.Helper()
	var b bytes.Buffer
	w, err := New("html", &b, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var s Summary
	for _, f := range files {
		s.Add(f)
		if err := w.File(f); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(s); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// plainWeave returns a draft on two shafts with n ends and n picks.
func plainWeave(threads int) *schema.Draft {
	d := &schema.Draft{Tieup: schema.Singles(1, 2)}
	for i := range int32(threads) {
		d.Threading.Append(i%2 + 1)
		d.Treadling.Append(i%2 + 1)
	}
	return d
}

// found returns a finding about some ends.
func found(message string, ends ...int) schema.Finding {
	return schema.Finding{Rule: "draft/any", Severity: schema.Warning, Message: message, System: schema.Warp, Threads: ends,
		Position: schema.Position{Line: 2, Column: 1, EndLine: 2, EndColumn: 2}}
}

func source(text string) *schema.Source { return &schema.Source{Text: []byte(text)} }

func TestDrawingsBesideFindings(t *testing.T) {
	for _, row := range []struct {
		name  string
		draft *schema.Draft
		drawn bool
		mark  bool
		says  string
	}{
		{"whole", plainWeave(6), true, true, ""},
		{"large: cut to the place", plainWeave(500), true, true, "Part of the draft: ends 1 to 40, picks 1 to 40."},
		{"no draft", nil, false, false, "No draft to draw."},
		{"no cloth", &schema.Draft{Threading: schema.Singles(1)}, false, false, "No drawing: there is no cloth to draw"},
	} {
		t.Run(row.name, func(t *testing.T) {
			page := pageOf(t, File{Path: "a.wif", Draft: row.draft, Source: source("[WIF]\n3=0\n"), Findings: []schema.Finding{found("end 3 is odd", 3)}})
			if got := strings.Contains(page, "<svg"); got != row.drawn {
				t.Errorf("drawn is %v", got)
			}
			if got := strings.Contains(page, `class="warning drawn"`); got != row.mark {
				t.Errorf("marked is %v", got)
			}
			for _, want := range []string{row.says, "line 2, column 1: end 3 is odd", "[draft/any]", "<code>3=0</code>", "1 warning"} {
				if !strings.Contains(page, want) {
					t.Errorf("no %q in:\n%s", want, page)
				}
			}
		})
	}
}

// TestCutToThePlace draws a large draft around the threads of its findings, one drawing for
// neighbouring places, and one repeat without threads.
func TestCutToThePlace(t *testing.T) {
	weft := found("pick 300", 300)
	weft.System = schema.Weft
	none := found("nowhere")
	none.Threads = nil
	many := []schema.Finding{}
	for end := 1; end <= 900; end += 100 {
		many = append(many, found("here", end))
	}
	for _, row := range []struct {
		name     string
		findings []schema.Finding
		says     []string
		drawings int
	}{
		{"neighbours share a drawing", []schema.Finding{found("a", 500, 700), found("b", 510)}, []string{"ends 480 to 519, picks 1 to 40"}, 1},
		{"apart", []schema.Finding{found("a", 500), weft}, []string{"ends 480 to 519, picks 1 to 40", "ends 1 to 40, picks 280 to 319"}, 2},
		{"the last end", []schema.Finding{found("a", 1000)}, []string{"ends 961 to 1000"}, 1},
		{"no threads", []schema.Finding{none}, []string{"One repeat: 2 ends by 2 picks."}, 1},
		{"threads beyond the draft", []schema.Finding{found("a", 1001)}, []string{"One repeat"}, 1},
		{"too many places", many, []string{"Other places aren"}, mostCuts},
	} {
		t.Run(row.name, func(t *testing.T) {
			page := pageOf(t, File{Path: "a.wif", Draft: plainWeave(1000), Source: source(""), Findings: row.findings})
			for _, want := range row.says {
				if !strings.Contains(page, want) {
					t.Errorf("no %q in the page", want)
				}
			}
			if n := strings.Count(page, "<svg"); n != row.drawings {
				t.Errorf("%d drawings", n)
			}
		})
	}
}

func TestPageOfHugeDraft(t *testing.T) {
	d := &schema.Draft{}
	for i := range int32(500) {
		d.Threading.Append(i + 1)
		d.LiftPlan.Append(i + 1)
	}
	page := pageOf(t, File{Path: "a.wif", Draft: d, Source: source(""), Findings: []schema.Finding{found("x")}})
	if strings.Contains(page, "<svg") || !strings.Contains(page, "too large to draw here") {
		t.Error("a drawing of 500 ends that all weave differently")
	}
}

// TestMarkupInDrafts puts markup into every text of a draft.
func TestMarkupInDrafts(t *testing.T) {
	const bad = `</svg></code><script>alert(1)</script><img src=x onerror=alert(1)>`
	d := plainWeave(4)
	d.Texts.Title = bad
	page := pageOf(t, File{Path: bad + ".wif", Draft: d, Source: source("\n" + bad + "\n"), Findings: []schema.Finding{found(bad)}})
	for _, tag := range []string{"<script", "<img"} {
		if strings.Contains(page, tag) {
			t.Errorf("%s got into the page", tag)
		}
	}
	if strings.Count(page, "&lt;script&gt;") < 4 {
		t.Error("the texts are not shown as they are")
	}
}

func TestIdsAreUnique(t *testing.T) {
	f := File{Path: "a.wif", Draft: plainWeave(30), Source: source(""), Findings: []schema.Finding{found("x")}}
	seen := map[string]bool{}
	for _, id := range regexp.MustCompile(` id="[^"]*"`).FindAllString(pageOf(t, f, f, File{Path: "sound.wif"}, f), -1) {
		if seen[id] {
			t.Errorf("%s appears twice", id)
		}
		seen[id] = true
	}
	if len(seen) < 4 {
		t.Errorf("only %d ids", len(seen))
	}
}

func TestPageWithoutFindings(t *testing.T) {
	if page := pageOf(t); !strings.Contains(page, "<h1>") || !strings.Contains(page, "nothing found") || !strings.HasSuffix(page, "</html>\n") {
		t.Errorf("no whole page:\n%s", page)
	}
}

func TestPageThatCannotBeWritten(t *testing.T) {
	w, err := New("html", shut{}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := w.Close(Summary{}); !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("got %v", err)
	}
}

// shut is a writer that always fails.
type shut struct{}

func (shut) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

// TestPageInBrowser opens a page in a browser. The browser must report no error and
// print it on one sheet.
func TestPageInBrowser(t *testing.T) {
	browser, err := exec.LookPath("chromium")
	if err != nil && os.Getenv("CI") != "" {
		t.Fatal("chromium is missing: install chromium")
	}
	if err != nil {
		t.Skip("chromium is missing")
	}
	dir := t.TempDir()
	path, printed := filepath.Join(dir, "page.html"), filepath.Join(dir, "page.pdf")
	f := File{Path: "a.wif", Draft: plainWeave(30), Source: source("a\nb\n"),
		Findings: []schema.Finding{found("ends 3 and 4 are odd", 3, 4)}}
	if err := os.WriteFile(path, []byte(pageOf(t, f)), 0o644); err != nil {
		t.Fatal(err)
	}
	said, err := exec.Command(browser, "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--enable-logging=stderr",
		"--user-data-dir="+t.TempDir(), "--no-pdf-header-footer", "--print-to-pdf="+printed, "file://"+path).CombinedOutput()
	if err != nil || bytes.Contains(said, []byte("CONSOLE")) {
		t.Fatalf("%v: %s", err, said)
	}
	pdf, err := os.ReadFile(printed)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(regexp.MustCompile(`/Type ?/Page\b`).FindAll(pdf, -1)); n != 1 {
		t.Errorf("printed on %d pages", n)
	}
}
