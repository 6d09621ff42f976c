//go:build !js

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// views are the views of the page, by the element that their links lead to.
var views = []string{"drafts", "all-drafts", "your-loom", "fit-view", "sheet-view", "loom"}

// show goes to a view by its link.
func (b *tab) show(view string) {
	b.Helper()
	b.click(`#views a[href="#` + view + `"]`)
	b.until(fmt.Sprintf(`!document.getElementById(%q).hidden`, view))
}

// fill puts text into a field, as typing does.
func (b *tab) fill(id, text string) {
	b.Helper()
	ask[any](b, fmt.Sprintf(`{
		const field = document.getElementById(%s);
		field.value = %s;
		field.dispatchEvent(new Event("input", {bubbles: true}));
	}`, quoted(b, id), quoted(b, text)))
}

// axe returns the script of axe-core, which is in the folder FETTLE_NODE_MODULES.
func axe(t testing.TB) string {
	t.Helper()
	folder := os.Getenv("FETTLE_NODE_MODULES")
	if folder == "" {
		if os.Getenv("CI") == "true" {
			t.Fatal("set FETTLE_NODE_MODULES to the folder with the npm package axe-core")
		}
		t.Skip("FETTLE_NODE_MODULES is not set")
	}
	script, err := os.ReadFile(filepath.Join(folder, "axe-core", "axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	return string(script)
}

// violations reports what axe-core finds in the page, in both color schemes.
func (b *tab) violations(what string) {
	b.Helper()
	for _, scheme := range []string{"light", "dark"} {
		b.media("", "prefers-color-scheme", scheme)
		for _, found := range ask[[]string](b, `axe.run(document, {iframes: false, runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}).then((r) =>
			r.violations.flatMap((v) => v.nodes.map((n) => v.id + ": " + v.help + ": " + n.html.slice(0, 200) + " " + n.failureSummary)))`) {
			b.Errorf("%s, %s: %s", what, scheme, found)
		}
	}
}

// TestAccessible runs the checks of axe-core for WCAG A and AA on every view, in both color
// schemes. It needs the package in the folder FETTLE_NODE_MODULES.
func TestAccessible(t *testing.T) {
	t.Parallel()
	script := axe(t)
	b := openPage(t)
	ask[any](b, script+"; undefined")
	check := b.violations
	check("first visit")
	b.click("#paste")
	check("pasting")
	b.click("#example-faulty")
	b.until(`document.querySelectorAll("[data-rule]").length === 5`)
	b.click(`[data-rule="draft/slip"] .fix button`)
	b.until(`document.querySelector(".finding .diff")`)
	b.click(`[data-rule="draft/slip"] .why summary`)
	b.until(`document.querySelector('[data-rule="draft/slip"] .rule-page').textContent.length > 100`)
	b.click("#mend")
	b.until(`document.querySelectorAll("[data-rule]").length === 3`)
	b.click("#changes summary")
	for _, view := range views {
		b.show(view)
		if view == "sheet-view" {
			b.until(`document.querySelector("#sheet iframe")?.contentDocument?.querySelector("input")`)
		}
		if view == "fit-view" {
			b.fill("fit-shafts", "2")
			b.fill("fit-treadles", "2")
			b.until(`document.querySelectorAll("#fit-why li").length === 2`)
		}
		check(view)
	}
	b.fill("settings", "[loom]\nshafts = many\n")
	b.until(`document.querySelector("#settings-errors p")`)
	b.show("your-loom")
	check("a mistake in the settings")
}

// TestNarrow checks that nothing is wider than a small telephone.
func TestNarrow(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.run(chromedp.EmulateViewport(360, 740, chromedp.EmulateMobile))
	b.click("#example-faulty")
	b.until(`document.querySelectorAll("[data-rule]").length === 5`)
	b.click(`[data-rule="draft/slip"] .fix button`)
	b.click(`[data-rule="draft/slip"] .why summary`)
	b.until(`document.querySelector(".finding .diff") && document.querySelector('[data-rule="draft/slip"] .rule-page').textContent.length > 100`)
	for _, view := range views {
		b.show(view)
		if wide := ask[int](b, `document.documentElement.scrollWidth`); wide > 360 {
			t.Errorf("%s is %d pixels wide", view, wide)
		}
	}
}

// TestKeyboard fixes a draft with the keyboard alone.
func TestKeyboard(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	press := func(id, key string) {
		t.Helper()
		for range 60 {
			if ask[string](b, `document.activeElement?.id || document.activeElement?.hash || ""`) == id {
				b.run(chromedp.KeyEvent(key))
				return
			}
			b.run(chromedp.KeyEvent("\t"))
		}
		t.Fatalf("the tabulator never reaches %s", id)
	}
	press("example-faulty", "\r")
	b.until(`document.querySelectorAll("[data-rule]").length === 5`)
	press("mend", "\r")
	b.until(`document.querySelectorAll("[data-rule]").length === 3`)
	press("undo", " ")
	b.until(`document.querySelectorAll("[data-rule]").length === 5`)
	press("#your-loom", "\r")
	press("settings", "[")
	b.until(`document.getElementById("settings").value === "["`)
}

// TestSheet shows the sheet, keeps its ticks over a reload, and clears them.
func TestSheet(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.click("#example-sound")
	b.show("sheet-view")
	ready := `document.querySelector("#sheet iframe")?.contentDocument?.querySelector("#thread-1")`
	ticked := `[...document.querySelector("#sheet iframe").contentDocument.querySelectorAll("input:checked")].map((box) => box.id).join()`
	b.until(ready)
	want := natively(t, []string{"plan", "goose-eye-towel.wif", "--format", "html"}, map[string]string{"goose-eye-towel.wif": read(t, "guild/goose-eye-towel.wif")}, "")
	if heading := ask[string](b, `document.querySelector("#sheet iframe").contentDocument.querySelector("h1").textContent`); !strings.Contains(want.Stdout, "<h1>"+heading+"</h1>") {
		t.Errorf("the sheet is called %q", heading)
	}
	ask[any](b, `document.querySelector("#sheet iframe").contentDocument.querySelector("#thread-1").click()`)
	b.run(chromedp.Reload())
	b.click("#example-sound")
	b.until(ready)
	if got := ask[string](b, ticked); got != "thread-1" {
		t.Errorf("after a reload %q are ticked", got)
	}
	ask[any](b, `window.confirm = () => true; undefined`)
	b.click("#sheet-clear")
	if got := ask[string](b, ticked); got != "" {
		t.Errorf("after clearing %q are ticked", got)
	}
}

// hostile is a draft whose texts try to become elements, with a settings file to match.
const hostile = "[WIF]\nVersion=1.1\n[CONTENTS]\nTEXT=true\nWEAVING=true\nWARP=true\nWEFT=true\nTHREADING=true\nLIFTPLAN=true\nNOTES=true\n" +
	"[TEXT]\nTitle=<img src=x onerror=document.title='hacked'></title><script>document.title='hacked'</script>\n[WEAVING]\nShafts=2\nTreadles=0\n" +
	"[WARP]\nThreads=2\n[WEFT]\nThreads=2\n[THREADING]\n1=1\n2=2\n[LIFTPLAN]\n1=1\n2=<svg onload=alert(1)>\n[NOTES]\n1=]]></style><iframe src=javascript:alert(1)>\n" +
	"<b>stray</b>\n"

// TestHostile opens drafts whose names and texts try to become elements of the page.
func TestHostile(t *testing.T) {
	t.Parallel()
	b := openPage(t)
	ask[any](b, `window.alert = () => { document.title = "hacked"; }; undefined`)
	files := map[string]string{"<img src=x onerror=alert(1)>.wif": hostile, "-rf.wif": hostile, "a[1]*.wif": hostile, "__proto__": hostile, "%2e%2e&quot;.json": "{\"fettle\": 1, \"title\": \"<img src=x onerror=alert(1)>\"}"}
	b.upload("#open", files)
	want := findingsOf(t, files)
	b.untilFindings(want)
	if len(want) < 10 {
		t.Errorf("only %d findings", len(want))
	}
	for _, name := range []string{"<img src=x onerror=alert(1)>.wif", "a[1]*.wif"} {
		ask[any](b, fmt.Sprintf(`{ const c = document.getElementById("chosen"); c.value = %s; c.dispatchEvent(new Event("change")); }`, quoted(t, name)))
		b.until(`document.getElementById("drawing-title").textContent.includes(` + quoted(t, name) + `)`)
		for _, view := range views {
			b.show(view)
			time.Sleep(200 * time.Millisecond)
		}
	}
	if title := ask[string](b, `document.title`); strings.Contains(title, "hacked") {
		t.Error("a script of a draft ran")
	}
	if strange := ask[int](b, `document.querySelectorAll("main img, main script, #findings iframe, #drawing iframe, #drawing a, #drawing foreignObject, #drawing image, #drawing style").length`); strange > 0 {
		t.Errorf("%d elements come from drafts", strange)
	}
}

// TestStorageRefused opens the page in a browser that keeps nothing, and in one that is full.
func TestStorageRefused(t *testing.T) {
	needsTime(t)
	t.Parallel()
	for name, source := range map[string]string{
		"denied": `Object.defineProperty(window, "localStorage", {get() { throw new DOMException("denied", "SecurityError"); }})`,
		"full":   `Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }`,
		"broken": `localStorage.setItem("fettle/1/place", "{"); localStorage.setItem("fettle/1/settings", "{}"); localStorage.setItem("fettle/1/place", '{"view": 3, "hidden": 4, "chosen": []}')`,
	} {
		if name != "denied" && !thorough() {
			continue
		}
		t.Run(name, func(t *testing.T) {
			b := openTab(t)
			if _, err := chromedp.Call(b.context, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: source}); err != nil {
				t.Fatal(err)
			}
			b.run(chromedp.Navigate("file://" + builtFile(t, "fettle.html")))
			b.click("#example-faulty")
			b.until(`document.querySelectorAll("[data-rule]").length === 5`)
			b.show("your-loom")
			b.fill("settings", "[loom]\nshafts = 2\n")
			b.until(`document.querySelector('[data-rule="loom/too-many-shafts"]')`)
			if said := ask[bool](b, `document.getElementById("settings-note").textContent !== ""`); said != (name != "broken") {
				t.Errorf("the page says that settings are lost: %v", said)
			}
		})
	}
}

// TestReload reloads the page at each view: the view, the filter and the settings stay.
func TestReload(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.fill("settings", "[loom]\nshafts = 4\n")
	b.click("#example-faulty")
	b.until(`document.querySelectorAll("[data-rule]").length > 0`)
	b.click(`#severities input[value="note"]`)
	b.until(`localStorage.getItem("fettle/1/settings")?.includes("shafts = 4")`)
	for _, view := range views {
		b.show(view)
		b.until(fmt.Sprintf(`localStorage.getItem("fettle/1/place")?.includes('"view":"%s"') && localStorage.getItem("fettle/1/place").includes('["note"]')`, view))
		b.run(chromedp.Reload())
		b.until(fmt.Sprintf(`!document.getElementById(%q).hidden`, view))
		if got := ask[string](b, `document.getElementById("settings").value`); got != "[loom]\nshafts = 4\n" {
			t.Errorf("after a reload at %s the settings are %q", view, got)
		}
		if ask[bool](b, `document.querySelector('#severities input[value="note"]').checked`) {
			t.Errorf("after a reload at %s notes are shown", view)
		}
	}
}

// TestReloadKeepsDrafts reloads the page at the loom: the chosen draft and the others are
// open again. The other views then have all their parts.
func TestReloadKeepsDrafts(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.upload("#open", map[string]string{"a.wif": read(t, "guild/goose-eye-towel.wif"), "b.wif": read(t, "guild/ferry-scarf.wif")})
	b.until(`document.getElementById("chosen").options.length === 2`)
	ask[any](b, `{ const chosen = document.getElementById("chosen"); chosen.value = "b.wif"; chosen.dispatchEvent(new Event("change")); }`)
	b.show("loom")
	b.until(`!document.getElementById("loom-overview").hidden`)
	b.click("#loom-begin")
	b.until(`document.body.classList.contains("at-loom")`)
	b.run(chromedp.Reload())
	b.until(`document.getElementById("chosen").value === "b.wif" && document.getElementById("chosen").options.length === 2`)
	b.show("drafts")
	b.until(`document.getElementById("open-drafts").offsetHeight > 0`)
}

// TestStop stops a run. The next one works.
func TestStop(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.give(corpusFiles(t, "guild"))
	got := ask[string](b, `(async () => {
		await window.fettle.run(["--version"]);
		const run = window.fettle.run(["plan", "guild/goose-eye-towel.wif", "--output", "x.pdf"], window.given);
		setTimeout(() => window.fettle.stop(), 30);
		return run.then(() => "finished", (error) => error.message);
	})()`)
	if got == "finished" {
		t.Error("the run was not stopped")
	}
	if status := ask[int](b, `window.fettle.run(["info", "guild/ferry-scarf.wif"], window.given).then((r) => r.status)`); status != 0 {
		t.Errorf("the next run has status %d", status)
	}
	b.upload("#open", map[string]string{"a.wif": read(t, "wild/symbols.wif")})
	b.until(`document.querySelectorAll("[data-rule]").length === 3`)
}

// TestDownloads checks the mended file and the ZIP of all.
func TestDownloads(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	files := map[string]string{"one.wif": read(t, "wild/decimal-comma.wif"), "two é.wif": read(t, "guild/ferry-scarf.wif")}
	b.upload("#open", files)
	b.untilFindings(findingsOf(t, files))
	b.click("#mend")
	b.until(`document.getElementById("changes").hidden === false`)
	got := b.downloaded(func() { b.click("#download-all") })
	want := map[string]string{"one.wif": natively(t, []string{"clean", "one.wif", "--write"}, files, "").Files["one.wif"], "two é.wif": files["two é.wif"]}
	unpacked := unzip(t, got)
	if len(unpacked) != len(want) {
		t.Errorf("the ZIP has %d files", len(unpacked))
	}
	for name, text := range want {
		if unpacked[name] != text {
			t.Errorf("%s differs in the ZIP", name)
		}
	}
	if single := b.downloaded(func() { b.click("#download") }); string(single) != want["one.wif"] {
		t.Error("the mended draft differs")
	}
	if !slices.Contains([]string{"one.wif"}, ask[string](b, `document.getElementById("chosen").value`)) {
		t.Error("another draft is chosen")
	}
}

// TestSaidBeside checks that downloads say so beside their buttons.
func TestSaidBeside(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.run(chromedp.EmulateViewport(1024, 500))
	b.click("#example-faulty")
	b.until(`document.querySelectorAll("[data-rule]").length === 5`)
	beside := func(view, button string) {
		t.Helper()
		b.show(view)
		b.until(`!document.querySelector(` + quoted(t, button) + `).disabled`)
		b.downloaded(func() { b.click(button) })
		b.until(`(() => { const said = document.querySelector(".said"); const box = said?.getBoundingClientRect();
			return said && said.previousElementSibling.matches(` + quoted(t, button) + `) && said.textContent.includes("downloads") && box.top >= 0 && box.bottom <= innerHeight; })()`)
	}
	beside("sheet-view", "#sheet-pdf")
	b.show("fit-view")
	b.until(`document.querySelector("#fit-tables table")`)
	beside("fit-view", `[data-format="svg"]`)
	beside("drafts", "#download")
	beside("your-loom", "#settings-save")
	beside("all-drafts", "#all-convert")
	b.click("#all-download")
	b.until(`document.querySelector(".said")?.previousElementSibling.id === "all-download"`)
}
