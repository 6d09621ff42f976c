//go:build !js

package main

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// tabTo presses the tabulator until a control has the focus, as someone without a mouse does.
func (b *tab) tabTo(selector string) {
	b.Helper()
	for range 150 {
		if ask[bool](b, `document.activeElement.matches(`+quoted(b, selector)+`)`) {
			return
		}
		b.run(chromedp.KeyEvent("\t"))
	}
	b.Fatalf("the tabulator never reaches %s", selector)
}

// typeAt goes to a control with the tabulator and presses keys there.
func (b *tab) typeAt(selector, keys string) {
	b.Helper()
	b.tabTo(selector)
	b.run(chromedp.KeyEvent(keys))
}

// TestKeyboardYarn names a yarn and goes on to its next field with the Tab key. The first yarn
// needs no name.
func TestKeyboardYarn(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.show("your-loom")
	b.click("#cards-yarn > .add")
	if got, want := b.settingsText(), "[yarn]\n"; got != want {
		t.Errorf("the text is\n%s\nnot\n%s", got, want)
	}
	b.run(chromedp.KeyEvent("sea"), chromedp.KeyEvent("\t"), chromedp.KeyEvent("8/2 cotton"), chromedp.KeyEvent("\t"))
	if got, want := b.settingsText(), "[yarn sea]\ngrist = 8/2 cotton\n"; got != want {
		t.Errorf("the text is\n%s\nnot\n%s", got, want)
	}
	if got := ask[string](b, `document.querySelector("#cards-yarn legend").textContent + ", " + document.querySelector("#cards-yarn .remove").getAttribute("aria-label")`); got != "yarn sea, Remove the yarn sea" {
		t.Errorf("the card says %q", got)
	}
}

// TestKeyboardForm describes a loom with the keyboard alone.
func TestKeyboardForm(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.typeAt(`#views a[href="#your-loom"]`, "\r")
	b.until(`!document.getElementById("your-loom").hidden`)
	b.tabTo(`#unit input`)
	if ask[string](b, `document.activeElement.value`) == "cm" {
		b.run(chromedp.KeyEvent(kb.ArrowRight))
	}
	b.until(`document.querySelector("#unit input:checked").value === "in"`)
	b.typeAt(`[data-section="loom"][data-key="shafts"]`, "4")
	b.typeAt(`[data-section="loom"][data-key="treadles"]`, "6")
	b.tabTo(`[data-section="loom"][data-key="shed"]`)
	b.run(chromedp.KeyEvent("r"))
	b.typeAt(`[data-section="heddles"][data-key="each"]`, "100")
	b.typeAt(`[data-box][data-key="2"]`, "150")
	b.typeAt(`#cards-reed .add`, "\r")
	b.until(`document.activeElement.closest(".card")?.dataset.section === "reed"`)
	b.typeAt(`[data-section="reed"][data-key="dents"]`, "10")
	b.typeAt(`#cards-yarn .add`, "\r")
	b.until(`document.activeElement.closest(".card")?.dataset.section === "yarn"`)
	b.typeAt(`[data-section="yarn"][data-key="grist"]`, "8/2 cotton")
	b.typeAt(`#cards-yarn .remove`, "\r")
	b.until(`document.activeElement.id === "put-back"`)
	b.run(chromedp.KeyEvent("\r"))
	b.until(`document.querySelector("#cards-yarn .card")`)
	b.typeAt(`[data-section="project"] .more > summary`, "\r")
	b.typeAt(`[data-section="project"][data-key="fringe"]`, "8")
	b.run(chromedp.KeyEvent("\t"))
	want := "[loom]\nshafts = 4\ntreadles = 6\nshed = rising\n\n[heddles]\neach = 100\n2 = 150\n\n[reed]\ndents = 10/in\n\n[yarn]\ngrist = 8/2 cotton\n\n[project]\nfringe = 8 in\n"
	if got := b.settingsText(); got != want {
		t.Errorf("the settings are\n%s\nnot\n%s", got, want)
	}
	b.until(`document.getElementById("settings-errors").childElementCount === 0`)
}

// TestKeyboardTable sorts, filters and leafs through the table of a folder, mends it and opens a
// draft, with the keyboard alone.
func TestKeyboardTable(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.run(chromedp.SetUploadFiles(chromedp.CSS("#open-folder"), []string{folderOf(t, 55)}))
	b.until(`document.querySelector("#findings .file")`)
	ask[any](b, `document.activeElement.blur()`)
	b.typeAt(`#views a[href="#all-drafts"]`, "\r")
	b.until(`document.getElementById("table-words").textContent === "1–50 of 55 drafts"`)
	b.typeAt(`#table-after`, "\r")
	b.until(`document.getElementById("table-words").textContent === "51–55 of 55 drafts"`)
	b.typeAt(`#table [data-sort="path"] button`, "\r")
	b.until(`document.querySelector('#table [data-sort="path"]').getAttribute("aria-sort") === "ascending" && document.getElementById("table-words").textContent === "1–50 of 55 drafts"`)
	if !ask[bool](b, `document.activeElement.closest("[data-sort]")?.dataset.sort === "path"`) {
		t.Error("sorting loses the focus")
	}
	b.run(chromedp.KeyEvent("\r"))
	b.until(`document.querySelector('#table [data-sort="path"]').getAttribute("aria-sort") === "descending"`)
	b.typeAt(`#table-text`, "-001")
	b.until(`document.querySelectorAll("#table tbody tr").length === 10`)
	b.typeAt(`#all-mend`, "\r")
	b.until(`!document.getElementById("all-undo").disabled`)
	b.typeAt(`#all-undo`, " ")
	b.until(`document.getElementById("all-undo").disabled`)
	b.tabTo(`#table tbody tr:nth-child(2) button`)
	name := ask[string](b, `document.activeElement.textContent`)
	b.run(chromedp.KeyEvent("\r"))
	b.until(`!document.getElementById("drafts").hidden && document.getElementById("chosen").value === ` + quoted(t, name))
	b.tabTo("#chosen")
}
