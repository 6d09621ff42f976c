//go:build !js

package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// folderOf writes many drafts, copies of sound and faulty ones, and returns their folder.
func folderOf(t testing.TB, count int) string {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "library")
	sources := []string{read(t, "guild/ferry-scarf.wif"), read(t, "wild/decimal-comma.wif"), read(t, "faulty/long-weft-float.wif"), read(t, "guild/goose-eye-towel.wif")}
	if err := os.Mkdir(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	for i := range count {
		text := strings.Replace(sources[i%len(sources)], "Title=", fmt.Sprintf("Title=%d ", i), 1)
		if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("draft-%04d.wif", i)), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

// TestFolder opens a folder with more drafts than have their findings on the page at once,
// and stops and repeats a long run over them.
func TestFolder(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.run(chromedp.SetUploadFiles(chromedp.CSS("#open-folder"), []string{folderOf(t, 60)}))
	b.until(`document.getElementById("chosen").options.length === 60`)
	b.until(`document.getElementById("status").textContent.startsWith("60 files: ")`)
	ask[any](b, `{ const c = document.getElementById("chosen"); c.value = "library/draft-0001.wif"; c.dispatchEvent(new Event("change")); }`)
	b.until(`document.querySelectorAll('[data-path="library/draft-0001.wif"]').length === 3 && document.querySelectorAll("[data-rule]").length === 3`)
	b.until(`document.querySelector("#drawing svg")`)

	ask[any](b, `void (window.long = (async () => {
		const files = Object.fromEntries(Array.from({length: 400}, (_, i) => ["x/" + i + ".wif", document.getElementById("examples").textContent && JSON.parse(document.getElementById("examples").textContent).sound["goose-eye-towel.wif"]]));
		return window.fettle.run(["convert", "x", "--to", "pdf", "--out-dir", "y"], files).then(() => "finished", (error) => "stopped");
	})())`)
	b.until(`!document.getElementById("progress").hidden`)
	b.click("#stop")
	if got := ask[string](b, `window.long`); got != "stopped" {
		t.Errorf("the run is %s", got)
	}
	b.until(`document.getElementById("progress").hidden`)
	b.click("#mend")
	b.until(`document.getElementById("status").textContent.includes("fixed")`)
	if changed := ask[string](b, `document.getElementById("undo").textContent`); !strings.Contains(changed, "safe fixes") {
		t.Errorf("the button says %q", changed)
	}
}

// TestFigures measures what DEVELOPERS.md says about the page.
func TestFigures(t *testing.T) {
	if !*long {
		t.Skip("it takes minutes; -long runs it")
	}
	info, err := os.Stat(builtFile(t, "fettle.html"))
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("the page has %d bytes", info.Size())
	b := openTab(t)
	b.run(chromedp.Navigate("about:blank"))
	for range 3 {
		start := time.Now()
		b.run(chromedp.Navigate("file://" + builtFile(t, "fettle.html")))
		ask[any](b, `window.fettle.run(["--version"]).then(() => null)`)
		t.Logf("ready after %d ms", time.Since(start).Milliseconds())
	}
	b.give(map[string]string{"a.wif": read(t, "guild/goose-eye-towel.wif")})
	lint := `(async (n) => { let last; for (let i = 0; i < n; i++) { const start = performance.now(); await window.fettle.run(["lint", "a.wif"], window.given); last = performance.now() - start; } return last; })`
	t.Logf("first lint: %.0f ms", ask[float64](b, lint+`(1)`))
	t.Logf("hundredth lint: %.0f ms", ask[float64](b, lint+`(99)`))
	before := memory(t)
	ask[float64](b, lint+`(200)`)
	after := memory(t)
	t.Logf("memory of the browser: %d MiB after 100 runs, %d MiB after 300", before, after)
	if after > before+200 {
		t.Errorf("200 runs take %d MiB", after-before)
	}

	folder := folderOf(t, 1000)
	start := time.Now()
	b.run(chromedp.SetUploadFiles(chromedp.CSS("#open-folder"), []string{folder}))
	b.until(`document.getElementById("status").textContent.startsWith("1000 files: ")`)
	t.Logf("1,000 drafts opened and linted: %d ms", time.Since(start).Milliseconds())
	for _, args := range [][]string{{"lint", "--quiet", filepath.Join(folder, "draft-0003.wif")}, {"lint", "--format", "json", "--quiet", folder}} {
		start := time.Now()
		command := exec.Command(builtFile(t, "fettle"), args...)
		_ = command.Run() // its status says what it finds
		t.Logf("natively, %s: %d ms", args[len(args)-1][strings.LastIndex(args[len(args)-1], "/")+1:], time.Since(start).Milliseconds())
	}
}

// memory returns what the browser's processes take, in MiB, shared memory counted once.
func memory(t testing.TB) int {
	t.Helper()
	total := 0
	for _, pid := range descendants(t, chromedp.FromContext(browser.context).Browser.Process().Pid) {
		text, err := os.ReadFile(fmt.Sprintf("/proc/%d/smaps_rollup", pid))
		if err != nil {
			continue // it has ended
		}
		for line := range strings.Lines(string(text)) {
			if rest, is := strings.CutPrefix(line, "Pss:"); is {
				kib, _ := strconv.Atoi(strings.Fields(rest)[0])
				total += kib
			}
		}
	}
	return total / 1024
}

// descendants returns a process and all that it started.
func descendants(t testing.TB, pid int) []int {
	t.Helper()
	list := []int{pid}
	tasks, _ := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/children", pid))
	for _, task := range tasks {
		text, err := os.ReadFile(task)
		if err != nil {
			continue
		}
		for _, word := range strings.Fields(string(text)) {
			child, _ := strconv.Atoi(word)
			list = append(list, descendants(t, child)...)
		}
	}
	return list
}
