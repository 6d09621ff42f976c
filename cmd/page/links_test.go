//go:build !js

package main

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// terminalWords match what only a terminal has: commands, flags, and sections in brackets.
var terminalWords = regexp.MustCompile(`(^|\s|\()--[a-z]|fettle (clean|convert|fit|plan|lint)\b|\[(project|loom|heddles|reed|yarn|warp)`)

// checkWords checks that a text of the page has no words for a terminal.
func (b *tab) checkWords(what, expression string) {
	b.Helper()
	text := ask[string](b, expression)
	if at := terminalWords.FindStringIndex(text); at != nil {
		b.Errorf("%s has words for a terminal: %.150s", what, text[max(0, at[0]-60):])
	}
}

// TestNoTerminalWords opens all faulty drafts. Their findings, the pages of the rules and the
// sheets name buttons and fields of the page, not commands.
func TestNoTerminalWords(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.checkWords("the form", `[...document.querySelectorAll("#loom-form .hint, #loom-form label, #loom-form legend")].map((e) => e.textContent).join("\n")`)
	paths, err := filepath.Glob(filepath.Join("..", "..", "corpus", "faulty", "*.wif"))
	if err != nil {
		t.Fatal(err)
	}
	for some := range slices.Chunk(paths, 10) {
		files := map[string]string{}
		for _, path := range some {
			files[filepath.Base(path)] = read(t, "faulty/"+filepath.Base(path))
			settings := strings.TrimSuffix(filepath.Base(path), ".wif") + ".ini"
			if text, err := os.ReadFile(filepath.Join(filepath.Dir(path), settings)); err == nil {
				files[settings] = string(text)
			}
		}
		ask[any](b, `window.confirm = () => true; document.getElementById("close-all").click()`)
		b.upload("#open", files)
		b.untilFindings(findingsOf(t, files))
		b.checkWords("a finding", `document.getElementById("findings").innerText`)
	}
	ask[any](b, `{ for (const rule of new Set([...document.querySelectorAll("[data-rule]")].map((f) => f.dataset.rule))) document.querySelector('[data-rule="' + rule + '"] .why summary').click(); }`)
	b.until(`[...document.querySelectorAll(".why[open] .rule-page")].every((page) => page.textContent.length > 100)`)
	b.checkWords("the page of a rule", `[...document.querySelectorAll(".why[open] .rule-page p")].map((p) => p.textContent).join("\n")`)
	if got := ask[string](b, `[...document.querySelectorAll(".rule-page")].map((p) => p.textContent).join("\n")`); strings.Contains(got, "Data:") {
		t.Error("the page of a rule shows the keys of its data")
	}
	b.show("sheet-view")
	for _, name := range slices.Sorted(maps.Keys(ask[map[string]int](b, `Object.fromEntries([...document.getElementById("chosen").options].map((o) => [o.value, 1]))`))) {
		ask[any](b, fmt.Sprintf(`{ const c = document.getElementById("chosen"); c.value = %s; c.dispatchEvent(new Event("change")); }`, quoted(t, name)))
		b.until(fmt.Sprintf(`document.querySelector("#sheet iframe")?.title.includes(%s) && document.querySelector("#sheet iframe").contentDocument.readyState === "complete" && document.querySelector("#sheet iframe").contentDocument.querySelector("h1")
			|| document.getElementById("sheet-words").textContent.startsWith("No sheet")`, quoted(t, name)))
		b.checkWords("the sheet of "+name, `(document.querySelector("#sheet iframe")?.contentDocument.body.innerText ?? "") + document.getElementById("sheet-words").textContent`)
	}
}

// TestLinks follows the links in messages to the button or the field that they name.
func TestLinks(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.fill("settings", "[loom]\nshafts = 4\ntreadles = 3\nshed = rising\n")
	files := map[string]string{"comma.wif": read(t, "wild/decimal-comma.wif"), "sinking.wif": read(t, "faulty/shed-mismatch.wif"), "slip.wif": read(t, "faulty/slip.wif"), "fettle.ini": "[loom]\nshafts = 4\ntreadles = 3\nshed = rising\n"}
	drafts := maps.Clone(files)
	delete(drafts, "fettle.ini")
	b.upload("#open", drafts)
	b.untilFindings(findingsOf(t, files))
	follow := func(rule, words, focus string) {
		t.Helper()
		b.show("drafts")
		ask[any](b, fmt.Sprintf(`{ const link = [...document.querySelectorAll('[data-rule="%s"] a')].find((a) => a.textContent.includes(%q)); if (!link) throw new Error("no link %s"); link.click(); }`, rule, words, words))
		b.until(fmt.Sprintf(`document.activeElement.matches(%s)`, quoted(t, focus)))
	}
	follow("loom/shed-mismatch", "Fit and convert", "#fit-shafts, #fit-take")
	follow("loom/shed-mismatch", "Shed: rising", "#convert-shed")
	if got := ask[string](b, `document.getElementById("convert-shed").value`); got != "rising" {
		t.Errorf("the link chooses the shed %q", got)
	}
	follow("draft/unused-treadle", "risky fix", `[data-rule="draft/unused-treadle"] .make`)
	follow("loom/too-many-treadles", "Fit it", "#fit-title")
	follow("loom/too-many-treadles", "Your loom", "#loom-title")

	b.show("sheet-view")
	b.until(`document.querySelector("#sheet iframe")?.contentDocument?.querySelector("a")`)
	ask[any](b, `[...document.querySelector("#sheet iframe").contentDocument.querySelectorAll("a")].find((a) => a.textContent === "finished length (project)").click()`)
	b.until(`document.activeElement.dataset.key === "finished length" && document.activeElement.dataset.section === "project" && !document.getElementById("your-loom").hidden`)
}

// TestLinksKeepDraft checks that words of a draft stay as they are, even if they look like a
// command or a setting.
func TestLinksKeepDraft(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	text := strings.Replace(read(t, "guild/ferry-scarf.wif"), "Title=", "Title=fettle clean --risky [yarn] ", 1)
	text = strings.Replace(text, "Threads=", "Threads=--risky", 1)
	b.upload("#open", map[string]string{"fettle.ini.wif": text})
	b.until(`document.querySelector('[data-rule="file/bad-value"]')`)
	if got := ask[string](b, `document.querySelector('[data-rule="file/bad-value"] .message').textContent`); !strings.Contains(got, "'--risky") {
		t.Errorf("the message is %q", got)
	}
	b.show("sheet-view")
	b.until(sheetReady)
	b.until(`document.querySelector("#sheet iframe").contentDocument.querySelector("a")`)
	got := ask[string](b, `document.querySelector("#sheet iframe").contentDocument.body.innerText`)
	for _, want := range []string{"fettle clean --risky [yarn] ", "fettle.ini.wif"} {
		if !strings.Contains(got, want) {
			t.Errorf("the sheet lacks %q", want)
		}
	}
}

// TestScriptNames checks that no two scripts give one name to two things. They share a scope,
// in which the later one would count.
func TestScriptNames(t *testing.T) {
	source, err := joined("script", scripts)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^(?:async )?(?:function|class|const|let) (\w+)`).FindAllStringSubmatch(source, -1) {
		if seen[m[1]] {
			t.Errorf("two things are called %s", m[1])
		}
		seen[m[1]] = true
	}
	if len(seen) < 100 {
		t.Errorf("only %d names", len(seen))
	}
}
