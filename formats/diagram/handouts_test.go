package diagram_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fettle/formats/diagram"
)

// TestHandouts makes a PDF of 40 drafts and reads its text back: two pages of contents, and a
// page for each draft with the number that the contents give.
func TestHandouts(t *testing.T) {
	h := diagram.NewHandouts(diagram.Options{})
	for i := range 40 {
		d := stripedTwill(20+i, 20)
		d.Texts.Title = fmt.Sprintf("Draft %d", i+1)
		if err := h.Add(d, fmt.Sprintf("draft-%d.wif", i+1), diagram.Options{}); err != nil {
			t.Fatal(err)
		}
	}
	path := filepath.Join(t.TempDir(), "handouts.pdf")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := h.Write(f); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	pages := strings.Split(output(t, "pdftotext", "-layout", path, "-"), "\f")
	if len(pages) != 43 { // the last is empty
		t.Fatalf("%d pages", len(pages)-1)
	}
	for i := range 40 {
		title := fmt.Sprintf("Draft %d", i+1)
		if page := pages[i+2]; !strings.Contains(page, title+"\n") || !strings.Contains(page, fmt.Sprintf("page %d\n", i+3)) {
			t.Errorf("page %d lacks %q or its number:\n%s", i+3, title, page)
		}
		if contents := strings.Join(strings.Fields(pages[0]+pages[1]), " "); !strings.Contains(contents, fmt.Sprintf("%s %d ", title, i+3)) {
			t.Errorf("the contents lack %q on page %d", title, i+3)
		}
	}
}

// TestTooManyHandouts adds one draft more than a PDF holds.
func TestTooManyHandouts(t *testing.T) {
	h, d := diagram.NewHandouts(diagram.Options{}), twill()
	var err error
	for range diagram.MostHandouts + 1 {
		err = h.Add(d, "twill.wif", diagram.Options{})
	}
	if err == nil || h.Len() != diagram.MostHandouts || !strings.Contains(err.Error(), "--out-dir") {
		t.Errorf("%d drafts: %v", h.Len(), err)
	}
}

// TestLargeHandoutOfARepeat checks that a repeat with cells a little under those of large type
// is drawn rather than the whole draft with tiny ones.
func TestLargeHandoutOfARepeat(t *testing.T) {
	var remarks []string
	o := diagram.Options{Large: true, Page: diagram.A4, Remark: func(text string) { remarks = append(remarks, text) }}
	h := diagram.NewHandouts(o)
	if err := h.Add(guild(t, "lighthouse-towel"), "lighthouse-towel.wif", o); err != nil {
		t.Fatal(err)
	}
	if len(remarks) != 1 || !strings.Contains(remarks[0], "48 ends by 48 picks with cells of ") {
		t.Errorf("remarks: %q", remarks)
	}
}
