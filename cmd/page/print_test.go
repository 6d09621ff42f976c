//go:build !js

package main

import (
	"encoding/base64"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// printed prints the page and returns the number of sheets of paper.
func (b *tab) printed() int {
	b.Helper()
	r, err := chromedp.Call(b.context, page.PrintToPDF, page.PrintToPDFParams{})
	if err != nil {
		b.Fatal(err)
	}
	text := string(r.Data)
	if !strings.HasPrefix(text, "%PDF") {
		bytes, err := base64.StdEncoding.DecodeString(text)
		if err != nil {
			b.Fatal(err)
		}
		text = string(bytes)
	}
	return len(regexp.MustCompile(`/Type /Page\b[^s]`).FindAllString(text, -1))
}

const sheetReady = `document.querySelector("#sheet iframe")?.contentDocument?.querySelector("h1")`

// TestPrint prints each view: without blank pages, and the sheet as it prints alone.
func TestPrint(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.fill("settings", "[loom]\nshafts = 4\ntreadles = 3\n")
	b.upload("#open", map[string]string{"comma.wif": read(t, "wild/decimal-comma.wif")})
	b.until(`document.querySelectorAll("[data-rule]").length === 4`)
	for view, most := range map[string]int{"drafts": 2, "all-drafts": 1, "your-loom": 1, "fit-view": 1, "loom": 1} {
		b.show(view)
		b.until(`document.getElementById("progress").hidden`)
		if pages := b.printed(); pages < 1 || pages > most {
			t.Errorf("%s takes %d pages, not %d", view, pages, most)
		}
	}
	b.show("sheet-view")
	b.until(sheetReady)
	ask[any](b, `document.querySelector("#sheet iframe").contentDocument.querySelector("#thread-1").click()`)
	pages := b.printed()

	b.media("print", "prefers-color-scheme", "dark")
	ask[any](b, `window.dispatchEvent(new Event("beforeprint"))`)
	inside := `document.querySelector("#sheet iframe").contentDocument`
	if got := ask[bool](b, `document.getElementById("sheet-paper").shadowRoot.querySelector("h1").textContent === `+inside+`.querySelector("h1").textContent
		&& document.getElementById("sheet-paper").shadowRoot.getElementById("thread-1").checked && document.getElementById("sheet-paper").offsetHeight > 500`); !got {
		t.Error("the sheet isn't on paper")
	}
	for what, of := range map[string]string{"the page": "document.documentElement", "the sheet": inside + ".body"} {
		if got := ask[string](b, `getComputedStyle(`+of+`).backgroundColor`); got != "rgb(255, 255, 255)" {
			t.Errorf("%s prints on %s", what, got)
		}
	}
	text := natively(t, []string{"plan", "comma.wif", "--format", "html"}, map[string]string{"comma.wif": read(t, "wild/decimal-comma.wif"), "fettle.ini": "[loom]\nshafts = 4\ntreadles = 3\n"}, "").Stdout
	b.media("", "prefers-color-scheme", "light")
	before, _, _ := strings.Cut(text, "<script")
	ask[any](b, `{ document.open(); document.write(`+quoted(t, before)+`); document.close(); }`)
	if alone := b.printed(); pages != alone {
		t.Errorf("the sheet takes %d pages in the page, and %d alone", pages, alone)
	}
}

// TestSheetOnScreen checks that the sheet follows the color scheme, and that its tables scroll
// in their boxes on a small telephone.
func TestSheetOnScreen(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.run(chromedp.EmulateViewport(360, 740, chromedp.EmulateMobile))
	b.media("", "prefers-color-scheme", "dark")
	b.fill("settings", "[loom]\nshafts = 4\ntreadles = 4\n[heddles]\neach = 100\n")
	b.upload("#open", map[string]string{"towel.wif": read(t, "guild/goose-eye-towel.wif")})
	b.show("sheet-view")
	b.until(sheetReady)
	if wide := ask[string](b, `(() => { const page = document.querySelector("#sheet iframe").contentDocument;
		const wide = [...page.querySelectorAll("body *")].filter((e) => e.getBoundingClientRect().right > page.documentElement.clientWidth && !(e.closest(".wide") && e.closest(".wide").getBoundingClientRect().right <= page.documentElement.clientWidth && page.defaultView.getComputedStyle(e.closest(".wide")).overflowX === "auto" && e.closest(".wide").tabIndex === 0));
		return wide.map((e) => e.outerHTML.slice(0, 100)).join("\n"); })()`); wide != "" {
		t.Errorf("cut on a small telephone:\n%s", wide)
	}
	if got := ask[int](b, `Math.max(...[...document.querySelector("#sheet iframe").contentDocument.querySelectorAll(".wide")].map((e) => e.offsetHeight))`); got > 600 {
		t.Errorf("a table is %d pixels high", got)
	}
	if got := ask[string](b, `getComputedStyle(document.querySelector("#sheet iframe").contentDocument.body).backgroundColor`); got == "rgb(255, 255, 255)" {
		t.Error("the sheet is white in the dark")
	}
}
