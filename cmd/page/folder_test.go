//go:build !js

package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// TestFit shows what fit says, takes its result and undoes it.
func TestFit(t *testing.T) {
	needsTime(t)
	b := openPage(t)
	files := map[string]string{"towel.wif": read(t, "guild/goose-eye-towel.wif"), "fettle.ini": read(t, "guild/looms/jack8.ini")}
	b.fill("settings", files["fettle.ini"])
	b.upload("#open", map[string]string{"towel.wif": files["towel.wif"]})
	b.show("fit-view")
	report := natively(t, []string{"fit", "towel.wif"}, files, "")
	words, _, _ := strings.Cut(strings.TrimPrefix(report.Stdout, "towel.wif: f"), "\n")
	b.until(`document.getElementById("fit-words").textContent.includes(` + quoted(t, words) + `)`)
	for line := range strings.Lines(report.Stdout) {
		if _, line, is := strings.Cut(line, "  "); is && !strings.Contains(ask[string](b, `document.getElementById("fit-report").textContent`), strings.TrimSpace(line)) {
			t.Errorf("the page lacks %q", line)
		}
	}
	want := natively(t, []string{"fit", "towel.wif", "--output", "fitted.wif"}, files, "").Files["fitted.wif"]
	if got := b.downloaded(func() { b.click("#fit-download") }); string(got) != want {
		t.Error("the fitted draft differs from the program's")
	}
	b.click("#fit-take")
	b.until(`document.getElementById("fit-take").disabled && document.getElementById("fit-words").textContent.includes("as it is")`)
	b.until(`document.getElementById("status").textContent.startsWith("towel.wif is now")`)
	if got := b.downloaded(func() { ask[any](b, `document.getElementById("download").click()`) }); string(got) != want {
		t.Error("the draft that was taken differs from the program's")
	}
	b.show("drafts")
	b.click("#undo")
	b.show("fit-view")
	b.until(`!document.getElementById("fit-take").disabled`)
	b.fill("fit-shafts", "3")
	b.until(`document.getElementById("fit-words").classList.contains("cannot") && document.getElementById("fit-take").disabled`)
	b.fill("fit-shafts", "many")
	b.until(`document.getElementById("fit-words").textContent.includes("many")`)
}

// TestFitChanges shows the old and the new tie-up and the ends that change shafts, as the
// program's JSON has them.
func TestFitChanges(t *testing.T) {
	needsTime(t)
	t.Parallel()
	settings := "[loom]\nshafts = 8\ntreadles = 4\ntreadles at once = 2\n[heddles]\neach = 80\n"
	files := map[string]string{"coverlet.wif": read(t, "guild/winter-coverlet.wif"), "fettle.ini": settings}
	var results []struct {
		Threading struct {
			Moves []struct {
				From, To    []int
				Ends, First int
			}
		}
		Tieup struct{ Before, After struct{ Shafts [][]int } }
	}
	if err := json.Unmarshal([]byte(natively(t, []string{"fit", "--format", "json", "coverlet.wif"}, files, "").Stdout), &results); err != nil {
		t.Fatal(err)
	}
	b := openPage(t)
	b.fill("settings", settings)
	b.upload("#open", map[string]string{"coverlet.wif": files["coverlet.wif"]})
	b.show("fit-view")
	b.until(`document.querySelectorAll("#fit-tables .ties").length === 2`)
	// tied reads a drawn tie-up: the shafts of each treadle, ascending.
	tied := func(table int) [][]int {
		return ask[[][]int](b, fmt.Sprintf(`{
			const table = document.querySelectorAll("#fit-tables .ties")[%d];
			[...table.tHead.rows[0].cells].slice(1).map((head, i) => [...table.tBodies[0].rows].reverse()
				.filter((row) => row.cells[i + 1].classList.contains("tied")).map((row) => Number(row.cells[0].textContent.replace("shaft ", ""))));
		}`, table))
	}
	for table, want := range [][][]int{results[0].Tieup.Before.Shafts, results[0].Tieup.After.Shafts} {
		if got := tied(table); len(want) == 0 || fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("tie-up %d is %v, not %v", table, got, want)
		}
	}
	var moves []string
	for _, m := range results[0].Threading.Moves {
		moves = append(moves, fmt.Sprint(m.From[0], m.To[0], m.Ends, m.First))
	}
	got := ask[[]string](b, `[...[...document.querySelectorAll("#fit-tables table")].at(-1).tBodies[0].rows].map((row) => [...row.cells].map((cell) => cell.textContent).join(" "))`)
	if len(moves) == 0 || !slices.Equal(got, moves) {
		t.Errorf("the ends that change shafts are %q, not %q", got, moves)
	}
	ask[any](b, axe(t)+"; undefined")
	b.violations("the changes")
}

// TestFitTooFewShafts fits a draft to a loom with fewer shafts, which have no heddles beyond the
// last.
func TestFitTooFewShafts(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.fill("settings", "[loom]\nshafts = 2\n[heddles]\neach = 300\n")
	b.upload("#open", map[string]string{"towel.wif": read(t, "guild/goose-eye-towel.wif")})
	b.show("fit-view")
	b.until(`document.getElementById("fit-words").classList.contains("cannot")`)
	if got := ask[string](b, `[...document.querySelectorAll("#fit-tables table:last-of-type")].at(-1).innerText.split("\n").slice(-4).map((row) => row.split("\t").at(-1)).join()`); got != "300,300,no such shaft,no such shaft" {
		t.Errorf("the heddles on the loom are %q", got)
	}
}

// TestSheetPage downloads the sheet as a PDF on the page that the weaver chose, also after a
// reload.
func TestSheetPage(t *testing.T) {
	t.Parallel()
	b := openPage(t)
	files := map[string]string{"scarf.wif": read(t, "guild/ferry-scarf.wif"), "fettle.ini": "[reed]\ndents = 40/10cm\n"}
	b.fill("settings", files["fettle.ini"])
	b.upload("#open", map[string]string{"scarf.wif": files["scarf.wif"]})
	b.show("sheet-view")
	compare := func(page string) {
		t.Helper()
		want := natively(t, []string{"plan", "--page", page, "--output", "sheet.pdf", "--", "scarf.wif"}, files, "").Files["sheet.pdf"]
		if got := b.downloaded(func() { b.click("#sheet-pdf") }); want == "" || string(got) != want {
			t.Errorf("the sheet on %s has %d bytes, not %d", page, len(got), len(want))
		}
	}
	b.until(`document.getElementById("sheet-page").value === "a4" && document.querySelector("#sheet iframe")`)
	compare("a4")
	ask[any](b, `{ const page = document.getElementById("sheet-page"); page.value = "letter"; page.dispatchEvent(new Event("change", {bubbles: true})); }`)
	compare("letter")
	b.run(chromedp.Reload())
	b.until(`document.getElementById("sheet-page").value === "letter"`)
}

// TestConvert downloads a draft in every format, with and without options.
func TestConvert(t *testing.T) {
	needsTime(t)
	b := openPage(t)
	files := map[string]string{"scarf é.wif": read(t, "guild/ferry-scarf.wif")}
	b.upload("#open", files)
	b.untilFindings(findingsOf(t, files))
	b.show("fit-view")
	b.until(`document.querySelectorAll("#convert-buttons button").length === 6`)
	if got := ask[string](b, `document.querySelector("#convert-buttons button").dataset.format + " " + document.getElementById("all-format").value`); got != "wif wif" {
		t.Errorf("the first formats are %q", got)
	}
	compare := func(format string, flags ...string) {
		t.Helper()
		got := b.downloaded(func() { b.click(`#convert-buttons [data-format="` + format + `"]`) })
		want := natively(t, append([]string{"convert", "scarf é.wif", "--to", format}, flags...), files, "")
		if string(got) != want.Stdout {
			t.Errorf("%s %q differs: %d bytes, not %d", format, flags, len(got), len(want.Stdout))
		}
	}
	for _, format := range []string{"wif", "json", "svg", "png", "pdf", "txt"} {
		compare(format)
	}
	ask[any](b, `{ for (const [id, value] of [["convert-lifts", "plan"], ["convert-shed", "sinking"], ["convert-turn", "--face-down"], ["convert-show", "yarn"], ["convert-page", "letter"]]) document.getElementById(id).value = value;
		document.getElementById("convert-repeat").checked = true; }`)
	compare("wif", "--lifts", "plan", "--shed", "sinking", "--face-down")
	compare("svg", "--lifts", "plan", "--shed", "sinking", "--face-down", "--show", "yarn", "--repeat")
	compare("pdf", "--lifts", "plan", "--shed", "sinking", "--face-down", "--show", "yarn", "--repeat", "--page", "letter")
}

// filesIn returns the files of a folder, with paths that begin with its name.
func filesIn(t testing.TB, folder string) map[string]string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for _, e := range entries {
		text, err := os.ReadFile(filepath.Join(folder, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		files[filepath.Base(folder)+"/"+e.Name()] = string(text)
	}
	return files
}

const tableFiles = `[...document.querySelectorAll("#table tbody tr")].map((row) => row.dataset.file)`

// TestTable sorts, filters and leafs through the table of all drafts, and fixes, converts
// and reports them all.
func TestTable(t *testing.T) {
	needsTime(t)
	b := openPage(t)
	b.run(chromedp.EmulateViewport(1024, 700))
	folder := folderOf(t, 55)
	if err := os.WriteFile(filepath.Join(folder, `<img src=x onerror=alert(1)>.wif`), []byte("[WIF]\nVersion=1.1\n[TEXT]\nTitle=<script>alert(1)</script>\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	files := filesIn(t, folder)
	b.run(chromedp.SetUploadFiles(chromedp.CSS("#open-folder"), []string{folder}))
	b.show("all-drafts")
	b.until(`document.getElementById("table-words").textContent === "1–50 of 56 drafts"`)
	counts := map[string]int{}
	for _, f := range findingsOf(t, files) {
		counts[f.Path]++
	}
	for path, count := range ask[map[string]int](b, `Object.fromEntries([...document.querySelectorAll("#table tbody tr")].map((row) => [row.dataset.file, [...row.querySelectorAll(".count-of:not(:last-child)")].reduce((sum, cell) => sum + Number(cell.textContent), 0)]))`) {
		if counts[path] != count {
			t.Errorf("%s has %d findings in the table, and %d for the program", path, count, counts[path])
		}
	}

	// Only drawings in view are made.
	b.until(`document.querySelectorAll("#table .picture").length >= 2`)
	time.Sleep(300 * time.Millisecond)
	if drawn := ask[int](b, `document.querySelectorAll("#table .picture").length`); drawn > 15 {
		t.Errorf("%d drawings are made at once", drawn)
	}
	b.run(chromedp.ScrollIntoView(chromedp.CSS("#table tbody tr:nth-child(50)")))
	b.until(`document.querySelector("#table tbody tr:nth-child(50) .picture")`)

	b.click("#table-after")
	b.until(`document.getElementById("table-words").textContent === "51–56 of 56 drafts"`)
	b.click(`#table [data-sort="path"] button`)
	if got := ask[[]string](b, tableFiles); !slices.IsSorted(got) || len(got) != 50 {
		t.Errorf("sorted by name, the drafts are %q", got)
	}
	b.click(`#table [data-sort="path"] button`)
	if got := ask[[]string](b, tableFiles); slices.IsSorted(got) || ask[string](b, `document.querySelector("#table [aria-sort]").getAttribute("aria-sort")`) != "descending" {
		t.Errorf("sorted the other way, the drafts are %q", got)
	}
	b.fill("table-text", "-000")
	b.until(`document.getElementById("table-words").textContent === "1–10 of 10 drafts, 56 in all"`)
	choose := func(id, value string) {
		t.Helper()
		ask[any](b, fmt.Sprintf(`{ const c = document.getElementById(%q); c.value = %q; c.dispatchEvent(new Event("change")); }`, id, value))
	}
	choose("table-with", "fixes")
	b.until(`document.querySelectorAll("#table tbody tr").length === 3`)
	b.run(chromedp.Reload())
	b.until(`document.getElementById("table-text")?.value === "-000" || document.getElementById("table-text")?.value === ""`)
	b.run(chromedp.SetUploadFiles(chromedp.CSS("#open-folder"), []string{folder}))
	b.until(`document.getElementById("table-words").textContent === "1–3 of 3 drafts, 56 in all"`)
	b.fill("table-text", "")
	choose("table-with", "")

	report := func(form string, flags ...string) {
		t.Helper()
		choose("report-form", form)
		got := b.downloaded(func() { b.click("#report-download") })
		if want := natively(t, append(flags, "--", "library"), files, ""); string(got) != want.Stdout {
			t.Errorf("the report %s differs: %d bytes, not %d", form, len(got), len(want.Stdout))
		}
	}
	forms := []string{"json"}
	if *long {
		forms = []string{"text", "json", "sarif", "junit", "annotations", "quality", "html"}
	}
	for _, form := range forms {
		report(form, "lint", "--format", form)
	}
	choose("report-form", "html-folder")
	pages := unzip(t, b.downloaded(func() { b.click("#report-download") }))
	if _, ok := pages["index.html"]; !ok || len(pages) < 30 {
		t.Errorf("the report has the files %q", slices.Sorted(maps.Keys(pages)))
	}
	choose("all-format", "json")
	converted := unzip(t, b.downloaded(func() { b.click("#all-convert") }))
	for path, text := range natively(t, []string{"convert", "library", "--to", "json", "--out-dir", "out"}, files, "").Files {
		if !strings.ContainsAny(path, "<>") && converted[strings.TrimPrefix(path, "out/")] != text {
			t.Errorf("%s differs in the ZIP", path)
		}
	}

	want := natively(t, []string{"clean", "library", "--write"}, files, "").Files
	b.click("#all-mend")
	b.until(`!document.getElementById("all-undo").disabled`)
	mended := unzip(t, b.downloaded(func() { b.click("#all-download") }))
	for path, text := range files {
		if after, changed := want[path]; changed {
			text = after
		}
		if strings.ContainsAny(path, "<>") {
			continue // the ZIP has a name that is possible everywhere
		}
		if mended[path] != text {
			t.Errorf("%s differs after the fixes", path)
		}
	}
	b.click("#all-undo")
	b.until(`document.getElementById("all-undo").disabled`)
	if strange := ask[int](b, `document.querySelectorAll("main img, main script").length`); strange > 0 {
		t.Errorf("%d elements come from drafts", strange)
	}
	b.click(`#table tbody tr:nth-child(2) button`)
	b.until(`!document.getElementById("drafts").hidden && document.querySelector("#findings .file")`)
}

// TestManyDrafts measures the table with 1,000 drafts.
func TestManyDrafts(t *testing.T) {
	if !*long {
		t.Skip("only with -long")
	}
	b := openPage(t)
	b.show("all-drafts")
	b.run(chromedp.SetUploadFiles(chromedp.CSS("#open-folder"), []string{folderOf(t, 1000)}))
	start := time.Now()
	b.until(`document.getElementById("table-words").textContent === "1–50 of 1000 drafts"`)
	t.Logf("the table is there after %v", time.Since(start))
	for what, action := range map[string]string{
		"sorting":         `document.querySelector('#table [data-sort="notes"] button').click()`,
		"the next page":   `document.getElementById("table-after").click()`,
		"filtering":       `document.getElementById("table-text").value = "77"; document.getElementById("table-text").dispatchEvent(new Event("input"))`,
		"the other views": `for (const id of ["fit-view", "drafts", "all-drafts"]) location.hash = "#" + id`,
	} {
		ms := ask[float64](b, `(() => { const start = performance.now(); `+action+`; document.body.offsetHeight; return performance.now() - start; })()`)
		t.Logf("%s takes %.0f ms", what, ms)
		if ms > 1000 { // leaves room for a busy machine
			t.Errorf("%s takes %.0f ms", what, ms)
		}
	}
	start = time.Now()
	b.click("#all-mend")
	b.until(`!document.getElementById("all-undo").disabled`)
	t.Logf("all safe fixes take %v", time.Since(start))
}

// TestFitWords checks what the page shows of a result: a table of figures, and why a draft
// doesn't fit.
func TestFitWords(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.fill("settings", "[loom]\nshafts = 8\ntreadles = 3\n[heddles]\neach = 120\n")
	b.upload("#open", map[string]string{"towel.wif": read(t, "guild/goose-eye-towel.wif")})
	b.show("fit-view")
	cells := func(row int) string {
		return ask[string](b, fmt.Sprintf(`[...document.querySelectorAll("#fit-tables table")[0].tBodies[0].rows[%d].cells].map((cell) => cell.textContent).join(", ")`, row))
	}
	b.until(`document.querySelectorAll("#fit-why li").length === 1 && document.querySelectorAll("#fit-tables table").length === 2`)
	if got, want := cells(1), "treadles, pressing one at a time, 4, 4, 3"; got != want {
		t.Errorf("the row of the treadles is %q, not %q", got, want)
	}
	if got := ask[string](b, `document.querySelector("#fit-why a").textContent`); !strings.Contains(got, "2 at once") {
		t.Errorf("the page advises %q", got)
	}
	b.checkWords("the reason", `document.getElementById("fit-view").innerText`)
	b.fill("fit-treadles", "4")
	b.until(`document.getElementById("fit-why").hidden && !document.getElementById("fit-take").disabled`)
	if got, want := cells(0), "shafts, 4, 4, 8, 6"; got != want {
		t.Errorf("the row of the shafts is %q, not %q", got, want)
	}
	if got := ask[string](b, `document.querySelectorAll("#fit-tables table")[1].innerText`); !strings.Contains(got, "120") {
		t.Errorf("the table of the heddles is %q", got)
	}
}

// TestOwnSettings opens a folder with a fettle.ini. The page says that it is used instead of the
// weaver's own, and can leave it out or take it over.
func TestOwnSettings(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	folder := filepath.Join(t.TempDir(), "drafts")
	if err := os.Mkdir(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"fettle.ini": "[loom]\nshafts = 16\n", "towel.wif": read(t, "guild/goose-eye-towel.wif")} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	b.fill("settings", "[loom]\nshafts = 3\n")
	open := func() {
		t.Helper()
		b.run(chromedp.SetUploadFiles(chromedp.CSS("#open-folder"), []string{folder}))
		b.until(`document.getElementById("own-settings").textContent.includes("drafts/fettle.ini") && !document.getElementById("own-settings").hidden`)
	}
	open()
	b.until(`document.querySelector("#findings .file") && document.querySelectorAll("[data-rule]").length === 0`)
	b.click("#own-settings button")
	b.until(`document.querySelector('[data-rule="loom/too-many-shafts"]') && document.getElementById("own-settings").hidden`)
	ask[any](b, `window.confirm = () => true; undefined`)
	open()
	b.click("#own-settings button:last-of-type")
	b.until(`document.getElementById("settings").value === "[loom]\nshafts = 16\n" && document.getElementById("own-settings").hidden && document.querySelectorAll("[data-rule]").length === 0`)
}

// TestIgnored shows which findings a comment in the draft ignores, and why.
func TestIgnored(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.upload("#open", map[string]string{"bedspread.wif": read(t, "guild/double-width-bedspread.wif")})
	b.until(`document.querySelector(".ignored li")`)
	b.click(".ignored summary")
	b.fill("settings", "[loom]\nshafts = 2\n")
	b.until(`document.querySelector('[data-rule="loom/too-many-shafts"]') && document.querySelector(".ignored[open]")`)
	if got := ask[string](b, `document.querySelector(".ignored").textContent`); !strings.Contains(got, "cloth/layers") || !strings.Contains(got, "folded at one edge") {
		t.Errorf("the page says %q", got)
	}
	if problems := ask[string](b, `document.getElementById("problems").textContent`); problems != "" {
		t.Errorf("the page complains: %s", problems)
	}
}
