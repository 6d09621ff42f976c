//go:build !js

package main

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// found is a finding, in the page or in the program's JSON.
type found struct {
	Rule string
	Path string
	Line int
}

// findingsInPage returns the findings in the document, sorted.
func (b *tab) findingsInPage() []found {
	b.Helper()
	list := ask[[]found](b, `[...document.querySelectorAll("[data-rule]")].map((e) => ({Rule: e.dataset.rule, Path: e.dataset.path, Line: Number(e.dataset.line)}))`)
	slices.SortFunc(list, compareFound)
	return list
}

func compareFound(a, b found) int {
	return strings.Compare(fmt.Sprint(a.Path, a.Line+1e6, a.Rule), fmt.Sprint(b.Path, b.Line+1e6, b.Rule))
}

// findingsOf returns what the native program finds in files.
func findingsOf(t testing.TB, files map[string]string) []found {
	t.Helper()
	args := []string{"lint", "--format", "json", "--"}
	for _, path := range slices.Sorted(maps.Keys(files)) {
		if path != "fettle.ini" && !strings.HasSuffix(path, ".ini") {
			args = append(args, path)
		}
	}
	var report struct {
		Files []struct {
			Path     string
			Findings []found
		}
	}
	if err := json.Unmarshal([]byte(natively(t, args, files, "").Stdout), &report); err != nil {
		t.Fatal(err)
	}
	list := []found{}
	for _, file := range report.Files {
		for _, f := range file.Findings {
			list = append(list, found{f.Rule, file.Path, f.Line})
		}
	}
	slices.SortFunc(list, compareFound)
	return list
}

// upload chooses files in an input element, as a person would.
func (b *tab) upload(selector string, files map[string]string) {
	b.Helper()
	folder := b.TempDir()
	var paths []string
	for _, name := range slices.Sorted(maps.Keys(files)) {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(files[name]), 0o644); err != nil {
			b.Fatal(err)
		}
		paths = append(paths, path)
	}
	b.run(chromedp.SetUploadFiles(chromedp.CSS(selector), paths))
}

// until waits until an expression holds in the page.
func (b *tab) until(expression string) {
	b.Helper()
	for start := time.Now(); time.Since(start) < most; time.Sleep(20 * time.Millisecond) {
		if ask[bool](b, `Boolean(`+expression+`)`) {
			return
		}
	}
	b.Fatalf("after %v, this still doesn't hold: %s\nThe page says: %s", most, expression,
		ask[string](b, `document.getElementById("status").textContent + " " + document.getElementById("problems").textContent`))
}

// untilFindings waits until the page has exactly these findings.
func (b *tab) untilFindings(want []found) {
	b.Helper()
	var got []found
	for start := time.Now(); time.Since(start) < most; time.Sleep(20 * time.Millisecond) {
		if got = b.findingsInPage(); slices.Equal(got, want) {
			return
		}
	}
	b.Fatalf("the page has %v, not %v", got, want)
}

func (b *tab) click(selector string) {
	b.Helper()
	b.run(chromedp.ScrollIntoView(chromedp.CSS(selector)), chromedp.Click(chromedp.CSS(selector)))
}

// read returns a file of the corpus.
func read(t testing.TB, path string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "corpus", path))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// TestOpen opens ten files at once. All their findings are in the document, each once, as
// the program finds them, and settings apply as soon as they are typed.
func TestOpen(t *testing.T) {
	t.Parallel()
	b := openPage(t)
	files := map[string]string{}
	for _, name := range []string{"wild/decimal-comma", "wild/symbols", "wild/tieup-and-liftplan", "wild/utf16-le", "wild/cp850-swedish",
		"faulty/long-weft-float", "faulty/missing-heddles", "faulty/slip", "guild/ferry-scarf", "guild/two-sided-blanket"} {
		files[filepath.Base(name)+".wif"] = read(t, name+".wif")
	}
	b.upload("#open", files)
	b.untilFindings(findingsOf(t, files))
	if got := ask[bool](b, `[...document.querySelectorAll(".file")].every((file) => {
		const order = [...file.querySelectorAll("[data-severity]")].map((e) => ["error", "warning", "note"].indexOf(e.dataset.severity));
		return order.every((n, i) => i === 0 || order[i - 1] <= n);
	})`); !got {
		t.Error("the most severe findings of a draft are not first")
	}

	files["fettle.ini"] = "[loom]\nshafts = 2\ntreadles = 2\n"
	b.run(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`{
		const area = document.getElementById("settings");
		area.value = %s;
		area.dispatchEvent(new Event("input", {bubbles: true}));
	}`, quoted(t, files["fettle.ini"]))))
	want := findingsOf(t, files)
	if !slices.ContainsFunc(want, func(f found) bool { return f.Rule == "loom/too-many-shafts" }) {
		t.Fatal("the settings make no difference")
	}
	b.untilFindings(want)
	b.until(`localStorage.getItem("fettle/1/settings")?.includes("shafts = 2")`)
	b.run(chromedp.Reload())
	b.until(`document.getElementById("settings").value.includes("shafts = 2")`)
}

// TestOpenMore opens one draft after another, then a dozen. The page scrolls to the
// last one. If there are many, it says where the others are.
func TestOpenMore(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.upload("#open", map[string]string{"first.wif": read(t, "wild/zero-and-empty.wif")})
	b.until(`document.querySelector('.file[data-file="first.wif"] [data-rule]')`)
	b.upload("#open", map[string]string{"second.wif": read(t, "wild/decimal-comma.wif")})
	b.until(`document.getElementById("chosen").value === "second.wif" && Math.abs(document.querySelector('.file[data-file="second.wif"]')?.getBoundingClientRect().top ?? 999) < innerHeight / 2`)
	if ask[bool](b, `document.querySelector("#findings").textContent.includes("All drafts")`) {
		t.Error("the page points to All drafts, although it shows every draft")
	}
	b.click("#mend")
	b.until(`document.querySelector(".said")`)
	b.click("#paste")
	dozen := map[string]string{}
	for i := range 12 {
		dozen[fmt.Sprintf("draft-%02d.wif", i)] = read(t, "wild/decimal-comma.wif")
	}
	b.upload("#open", dozen)
	b.until(`document.getElementById("chosen").value === "draft-00.wif" && document.querySelectorAll("#findings .file").length === 1 && !document.querySelector(".said")`)
	b.until(`document.getElementById("paste-form").hidden && document.getElementById("paste").getAttribute("aria-expanded") === "false"`)
	b.until(`document.querySelector("#findings > .aside")?.textContent.includes("one of 14 drafts")`)
	b.click("#findings > .aside button, #findings > .aside a")
	b.until(`!document.getElementById("all-drafts").hidden`)
}

// TestLargeDrawing opens a draft that is drawn in parts, around its findings.
func TestLargeDrawing(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	text := read(t, "guild/goose-eye-towel.wif")
	row := regexp.MustCompile(`(?m)^240=[1-4](\r?)$`)
	at := row.FindStringIndex(text)
	if at == nil {
		t.Fatal("the draft has no row 240")
	}
	b.upload("#open", map[string]string{"large.wif": text[:at[0]] + row.ReplaceAllString(text[at[0]:at[1]], "240=$1") + text[at[1]:]})
	b.until(`document.querySelectorAll("[data-rule]").length > 0 && document.querySelector("#drawing svg")`)
	if words := ask[string](b, `document.querySelector("#drawing .aside")?.textContent ?? ""`); !strings.Contains(words, "Part of the draft") {
		t.Errorf("the words beside the drawing are %q", words)
	}
	b.click("#findings .number")
	b.until(`document.querySelector("#drawing .ring")`)
}

// TestNumbers numbers the marked findings in the order of the list, and the drawing has the
// same numbers: those of pick 5 beside the picks, those of end 4 above the ends.
func TestNumbers(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	rows := func(without int) (text string) {
		for n := 1; n <= 12; n++ {
			if n != without {
				text += fmt.Sprintf("%d=%d\n", n, (n-1)%4+1)
			}
		}
		return text
	}
	b.upload("#open", map[string]string{"gaps.wif": "[WIF]\nVersion=1.1\n[CONTENTS]\nWEAVING=yes\nWARP=yes\nWEFT=yes\nTHREADING=yes\nTIEUP=yes\nTREADLING=yes\n" +
		"[WEAVING]\nShafts=4\nTreadles=4\n[WARP]\nThreads=12\n[WEFT]\nThreads=12\n[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n" +
		"[TREADLING]\n" + rows(5) + "[THREADING]\n" + rows(4) + "[COLOR PALETTE]\nEntries=4\nRange=0,255\n[COLOR TABLE]\n1=9,9,9\n2=90,9,9\n3=9,90,9\n4=9,9,90\n[WARP COLORS]\n" + rows(13)})
	b.until(`document.querySelectorAll("#findings .number").length === 4 && document.querySelector("#drawing svg")`)
	list := ask[[]string](b, `[...document.querySelectorAll("#findings .number")].map((button) => button.textContent + " " + /(pick|end) \d/.exec(button.closest("li").querySelector(".message").textContent)[0])`)
	if want := []string{"1 pick 5", "2 end 4", "3 pick 5", "4 end 4"}; !slices.Equal(list, want) {
		t.Errorf("the list has %q, not %q", list, want)
	}
	palette := ask[string](b, `[...document.querySelectorAll('#drawing text[font-weight=bold][fill="#202024"]')].map((text) => text.textContent).join("")`)
	if !strings.Contains(palette, "123412341234") {
		t.Errorf("the palette numbers of the ends are %q", palette)
	}
	above := ask[[]string](b, `[...document.querySelectorAll('#drawing text[font-weight=bold][fill="#c02a1d"]')].map((text) => text.textContent + (text.getAttribute("text-anchor") === "middle" ? " end 4" : " pick 5")).sort()`)
	if !slices.Equal(above, list) {
		t.Errorf("the drawing has %q, not %q", above, list)
	}
	b.click("#findings .number")
	b.until(`document.querySelector("#drawing .ring")?.nextSibling.textContent === "1"`)
}

// TestMend fixes the faults of the example: all safe ones, then the risky one. Each step
// can be undone.
func TestMend(t *testing.T) {
	t.Parallel()
	b := openPage(t)
	b.click("#example-faulty")
	b.until(`document.querySelectorAll("[data-rule]").length === 5`)
	before := b.findingsInPage()
	b.click("#mend")
	b.until(`document.querySelectorAll("[data-rule]").length === 3`)
	b.click("#undo")
	b.untilFindings(before)
	b.until(`document.querySelector("#undo + .said.done")?.textContent === "Undone: safe fixes." && document.querySelectorAll(".said").length === 1`)
	b.click("#mend")
	b.until(`document.querySelectorAll("[data-rule]").length === 3`)
	b.click("#mend")
	b.until(`document.querySelector("#mend + .said:not(.done)")?.textContent.includes("no finding has a safe fix")`)
	b.click(`[data-rule="draft/slip"] .risky button:last-of-type`)
	b.until(`document.querySelectorAll("[data-rule]").length === 2`)
	b.until(`document.querySelectorAll("#change-list .diff").length === 2`)
	b.until(`document.getElementById("status").textContent.includes("different cloth")`)
	b.run(chromedp.Reload())
	b.until(`document.querySelectorAll("[data-rule]").length === 2`)
	b.until(`document.getElementById("status").textContent.includes("back after the reload")`)
}

// downloaded returns what the page saves while it does something.
func (b *tab) downloaded(act func()) []byte {
	b.Helper()
	ask[any](b, `{ window.saved = undefined;
		window.makeURL ??= URL.createObjectURL;
		window.clickLink ??= HTMLAnchorElement.prototype.click;
		const made = new Map();
		URL.createObjectURL = (blob) => { const url = window.makeURL.call(URL, blob); made.set(url, blob); return url; };
		HTMLAnchorElement.prototype.click = function () { window.saved = made.get(this.href); window.clickLink.call(this); };
	}`)
	act()
	b.until(`window.saved`)
	text := ask[string](b, `window.saved.arrayBuffer().then((buffer) => { let s = ""; for (const byte of new Uint8Array(buffer)) s += String.fromCharCode(byte); return btoa(s); })`)
	return []byte(decoded(b, text))
}

// unzip returns the files of an archive, and checks their sums.
func unzip(t testing.TB, archive []byte) map[string]string {
	t.Helper()
	r, err := zip.NewReader(bytes.NewReader(archive), int64(len(archive)))
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for _, f := range r.File {
		part, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(part)
		if err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		files[f.Name] = string(text)
	}
	return files
}

// TestMendOne makes one of two fixes of a rule. Its change shows lines with their numbers.
func TestMendOne(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	files := map[string]string{"comma.wif": read(t, "wild/decimal-comma.wif")}
	b.upload("#open", files)
	b.untilFindings(findingsOf(t, files))
	comma := `[data-rule="file/decimal-comma"][data-line="27"] `
	b.click(comma + ".fix button")
	b.until(`document.querySelector(` + quoted(t, comma+".diff table") + `)`)
	rows := ask[[]string](b, `[...document.querySelectorAll(`+quoted(t, comma+".diff .deleted, "+comma+".diff .added")+`)].map((row) => row.innerText.replace(/\s+/g, " ").trim())`)
	if want := []string{"27 − Spacing=0,25", "27 + Spacing=0.25"}; !slices.Equal(rows, want) {
		t.Errorf("the change shows %q, not %q", rows, want)
	}
	if text := ask[string](b, `document.querySelector(`+quoted(t, comma+".diff")+`).innerText`); regexp.MustCompile(`@@|---|\+\+\+`).MatchString(text) {
		t.Errorf("the change has headers for programs: %s", text)
	}
	b.click(comma + ".make")
	files["comma.wif"] = strings.Replace(files["comma.wif"], "Spacing=0,25", "Spacing=0.25", 1)
	b.untilFindings(findingsOf(t, files))
	if got := b.downloaded(func() { b.click("#download") }); string(got) != files["comma.wif"] {
		t.Error("the draft has other changes")
	}
	b.click("#undo")
	b.until(`document.querySelectorAll('[data-rule="file/decimal-comma"]').length === 2`)
}

// TestEdit corrects lines that have no fix: it writes another, adds one, deletes one, and
// undoes that. All other bytes stay, with their line breaks.
func TestEdit(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	text := strings.ReplaceAll(read(t, "wild/zero-and-empty.wif"), "\n", "\r\n")
	edit := func(line int, act string) {
		b.Helper()
		b.until(fmt.Sprintf(`document.querySelector('[data-rule][data-line="%d"] .edit button')`, line))
		ask[any](b, fmt.Sprintf(`{ const edit = document.querySelector('[data-rule][data-line="%d"] .edit');
			edit.querySelector("button").click();
			const field = edit.querySelector("textarea");
			%s
		}`, line, act))
	}
	expect := func() {
		b.Helper()
		b.untilFindings(findingsOf(t, map[string]string{"empty.wif": text}))
		if got := b.downloaded(func() { b.click("#download") }); string(got) != text {
			t.Fatalf("the draft is now %q, not %q", got, text)
		}
	}
	b.upload("#open", map[string]string{"empty.wif": text})
	line := func(row string) int {
		before, _, ok := strings.Cut(text, "\n"+row+"\r")
		if !ok {
			t.Fatalf("no row %s", row)
		}
		return strings.Count(before, "\n") + 2
	}
	edit(line("2="), `if (field.value !== "2=") throw new Error(field.value); field.value = "2=2"; edit.querySelector("form").requestSubmit();`)
	text = strings.Replace(text, "\n2=\r", "\n2=2\r", 1)
	expect()
	edit(line("2=0"), `field.value = "2=2\n; two"; edit.querySelector("form").requestSubmit();`)
	before := text
	text = strings.Replace(text, "\n2=0\r\n", "\n2=2\r\n; two\r\n", 1)
	expect()
	b.click("#undo")
	text = before
	expect()
	edit(line("2=0"), `edit.querySelector(".delete").click();`)
	text = strings.Replace(text, "\n2=0\r\n", "\n", 1)
	expect()
}

// TestZoom makes the drawing of 480 ends larger until its cells can be read, and smaller again.
func TestZoom(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.upload("#open", map[string]string{"towel.wif": read(t, "guild/goose-eye-towel.wif")})
	b.until(`document.querySelector("#drawing svg")?.viewBox.baseVal.width > 400`)
	cell := `(() => { const svg = document.querySelector("#drawing svg"); return svg.getBoundingClientRect().width / svg.viewBox.baseVal.width; })()`
	whole := ask[float64](b, cell)
	for range 3 {
		b.click("#drawing-size")
	}
	if got := ask[float64](b, cell); got < 20 {
		t.Errorf("after three steps a cell is %v pixels wide", got)
	}
	if box := ask[string](b, `(() => { const box = document.getElementById("drawing"); box.scrollLeft = 1e6; return box.scrollLeft > 5000 && box.getBoundingClientRect().right <= innerWidth ? "" : box.scrollLeft + " " + box.getBoundingClientRect().right; })()`); box != "" {
		t.Errorf("the drawing doesn't scroll in its box: %s", box)
	}
	for range 3 {
		b.click("#drawing-smaller")
	}
	if got := ask[float64](b, cell); got != whole || !ask[bool](b, `document.getElementById("drawing-smaller").disabled`) {
		t.Errorf("the whole drawing has cells of %v, not %v", got, whole)
	}
}

// TestChooser chooses a draft in each view that shows one. The others then show it too.
func TestChooser(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.upload("#open", map[string]string{"scarf.wif": read(t, "guild/ferry-scarf.wif"), "towel.wif": read(t, "guild/goose-eye-towel.wif")})
	b.until(`document.getElementById("chosen").options.length === 2`)
	shows := map[string]string{
		"drafts":     `document.getElementById("drawing-title").textContent.includes("%s.wif")`,
		"fit-view":   `document.querySelector("#fit-report").textContent !== "" && document.querySelector("#fit-tables td")`,
		"sheet-view": `document.querySelector("#sheet iframe")?.title.includes("%s.wif")`,
		"loom":       `document.getElementById("loom-draft").textContent.toLowerCase().includes("%s")`,
	}
	for i, view := range []string{"drafts", "fit-view", "sheet-view", "loom"} {
		name := []string{"towel", "scarf"}[i%2]
		b.show(view)
		b.until(`document.getElementById("chosen").offsetHeight > 0`)
		ask[any](b, fmt.Sprintf(`{ const c = document.getElementById("chosen"); c.value = "%s.wif"; c.dispatchEvent(new Event("change")); }`, name))
		for _, other := range []string{view, "sheet-view", "drafts"} {
			b.show(other)
			condition := shows[other]
			if strings.Contains(condition, "%s") {
				condition = fmt.Sprintf(condition, name)
			}
			b.until(condition)
		}
	}
	for _, view := range []string{"your-loom", "all-drafts"} {
		b.show(view)
		if ask[int](b, `document.getElementById("chosen").offsetHeight`) > 0 {
			t.Errorf("%s shows no single draft, but lets choose one", view)
		}
	}
}
