//go:build !js

package main

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"fettle/schema/settings"
)

// fieldFor is an expression for the form's field of a key.
func fieldFor(section, name, key string) string {
	return fmt.Sprintf(`[...document.querySelectorAll("#loom-form [data-key]")].find((f) => f.dataset.section === %q && f.dataset.name === %q && f.dataset.key === %q)`, section, name, key)
}

// enter types a value into the form's field of a key.
func (b *tab) enter(section, name, key, value string) {
	b.Helper()
	ask[any](b, fmt.Sprintf(`{ const f = %s; f.focus(); f.value = %s; f.dispatchEvent(new Event("input", {bubbles: true})); f.dispatchEvent(new Event("change", {bubbles: true})); }`,
		fieldFor(section, name, key), quoted(b, value)))
}

func (b *tab) settingsText() string {
	b.Helper()
	return ask[string](b, `document.getElementById("settings").value`)
}

// stated is a setting as 'fettle settings' lists it.
type stated struct {
	Section, Key, Value, File string
}

func statedIn(t testing.TB, files map[string]string) []stated {
	t.Helper()
	r := natively(t, []string{"settings", "--format", "json"}, files, "")
	var report struct{ Settings []stated }
	if err := json.Unmarshal([]byte(r.Stdout), &report); err != nil || r.Status != 0 {
		t.Fatalf("%s%s", r.Stdout, r.Stderr)
	}
	return slices.DeleteFunc(report.Settings, func(s stated) bool {
		return s.File != "fettle.ini" || s.Section == "rules" || s.Section == "files" || s.Key == "include"
	})
}

// TestFormShowsText compares the form with what the program reads in the same text.
func TestFormShowsText(t *testing.T) {
	needsTime(t)
	b := openPage(t)
	b.show("your-loom")
	files := corpusFiles(t, "guild/fettle.ini", "guild/looms")
	texts := map[string]string{
		"by hand": "  [LOOM] ; mine\nSHAFTS=16 ;of them\n treadles \t= 10 ; x ; y\n[Heddles]\neach = 40\n1-4 = 60\n 7=12\n[Project]\nTake_Up = 5%\nfinished-width = 10 in\ndressing = Back to Front\n[yarn  Sea  Blue]\ncolor = #123456, #abcdef ; two\nuse = Warp, Weft\n",
	}
	for path, text := range files {
		texts[path] = text
	}
	for name, text := range texts {
		files := map[string]string{"fettle.ini": text, "looms/table16.ini": files["guild/looms/table16.ini"]}
		if slices.Contains([]string{"guild/looms/table16.ini"}, name) {
			delete(files, "looms/table16.ini")
		}
		b.fill("settings", text)
		shown := ask[map[string]string](b, `Object.fromEntries([...document.querySelectorAll("#loom-form [data-key]")].filter((f) => f.value !== "").map(
			(f) => [(f.dataset.section + " " + f.dataset.name).trim().toLowerCase() + "." + f.dataset.key, f.value.toLowerCase()]))`)
		for _, s := range statedIn(t, files) {
			head := strings.ToLower(strings.Join(strings.Fields(s.Section), " "))
			if strings.Contains(s.Key, "-") && head == "heddles" {
				continue // a range shows in the boxes of its shafts
			}
			if got := shown[head+"."+s.Key]; got != strings.ToLower(s.Value) {
				t.Errorf("%s: [%s] %s is %q in the form, and %q for the program", name, s.Section, s.Key, got, s.Value)
			}
			delete(shown, head+"."+s.Key)
		}
		if got := ask[string](b, fieldFor("heddles", "", "2")+`?.placeholder ?? ""`); name == "by hand" && got != "60" {
			t.Errorf("the box of shaft 2 offers %q", got)
		}
		for key, value := range shown {
			t.Errorf("%s: the form shows %s = %s, which the program doesn't read", name, key, value)
		}
	}
}

// TestFormHasEveryKey types the example of each key into its field. The program reads it
// from the text, and the field shows its advice.
func TestFormHasEveryKey(t *testing.T) {
	needsTime(t)
	b := openPage(t)
	b.show("your-loom")
	for _, s := range settings.Known() {
		if s.Name == "" || s.Name == "rules" || s.Name == "files" {
			continue
		}
		head, name, base := s.Name, "", "[reed fine]\ndents = 10/in\n"
		if s.MayBeNamed {
			head, name = s.Name+" one", "one"
			base += "[" + head + "]\n"
		}
		var want []stated
		b.fill("settings", base)
		check := func() {
			t.Helper()
			got := statedIn(t, map[string]string{"fettle.ini": b.settingsText()})
			for _, w := range want {
				if !slices.Contains(got, w) {
					t.Errorf("the program doesn't read %v in\n%s", w, b.settingsText())
				}
			}
			want = nil
		}
		for _, k := range s.Keys {
			if k.Name == "SHAFT" {
				continue
			}
			if k.Name == "picks per item" || k.Name == "repeats per item" { // in place of the finished length
				check()
				b.fill("settings", base)
			}
			if k.Name == "finished width" || s.Name == "warp" && k.Name != "take-up" { // at most one way to state the item, or a warp's ends
				check()
				b.fill("settings", base)
			}
			b.enter(s.Name, name, k.Name, k.Example)
			want = append(want, stated{head, k.Name, k.Example, "fettle.ini"})
			if words := ask[string](b, fieldFor(s.Name, name, k.Name)+`.closest(".field").textContent`); k.Advice != "" && !strings.Contains(words, k.Advice[1:]) {
				t.Errorf("%s: the field lacks its advice", k.Name)
			}
			if s.Name == "warp" && (k.Name == "take-up" || k.Name == "loom waste" || k.Name == "beam") {
				b.enter(s.Name, name, "ends", "1-400")
			}
		}
		check()
	}
}

// TestFormEdits changes the text through the form, and the form through the text.
func TestFormEdits(t *testing.T) {
	needsTime(t)
	b := openPage(t)
	b.show("your-loom")
	const before = "; at the window\n[loom]\nshafts = 4 ; it creaks\nsheds = 3\n\n# yarn of last year\n[yarn sea]\ngrist = 8/2 cotton\n"
	b.fill("settings", before)
	b.enter("loom", "", "shafts", "8")
	b.enter("loom", "", "treadles", "10")
	b.enter("yarn", "sea", "stock", "2 x 250 g")
	want := "; at the window\n[loom]\nshafts = 8 ; it creaks\ntreadles = 10\nsheds = 3\n\n# yarn of last year\n[yarn sea]\ngrist = 8/2 cotton\nstock = 2 x 250 g\n"
	if got := b.settingsText(); got != want {
		t.Errorf("the text is\n%s\nnot\n%s", got, want)
	}
	b.until(`document.querySelectorAll("#settings-errors p").length === 1 && document.querySelector("#settings-lines b").textContent === "5"`)
	b.until(`document.querySelector('.section[data-section="loom"] > .mistake').textContent.includes("sheds")`)

	b.fill("settings", "[loom]\nshafts = many\n")
	b.until(fieldFor("loom", "", "shafts") + `.getAttribute("aria-invalid") === "true"`)
	if got := ask[string](b, fieldFor("loom", "", "shafts")+`.closest(".field").querySelector(".mistake").textContent`); !strings.Contains(got, "many") {
		t.Errorf("the field says %q", got)
	}
	b.enter("loom", "", "shafts", "3")
	b.until(`!document.querySelector("#loom-form [aria-invalid=true]") && document.getElementById("settings-errors").childElementCount === 0 && !document.querySelector("#settings-lines b")`)

	// Numbers without a unit get the weaver's.
	b.click(`#unit input[value="in"]`)
	b.enter("loom", "", "weaving width", "34 1/2")
	b.enter("project", "", "sett", "20")
	b.enter("project", "", "take-up", "100 cm -> 90 cm")
	b.click(`#unit input[value="cm"]`)
	b.enter("project", "", "hem", "4,5")
	b.enter("project", "", "shrinkage", "8")
	for _, line := range []string{"weaving width = 34 1/2 in\n", "sett = 20/in\n", "take-up = 100 cm -> 90 cm\n", "hem = 4,5 cm\n", "shrinkage = 8 %\n"} {
		if text := b.settingsText(); !strings.Contains(text, line) {
			t.Errorf("the text lacks %q:\n%s", line, text)
		}
	}

	// Heddles: the boxes, and counting.
	b.fill("settings", "[loom]\nshafts = 4\n[heddles]\neach = 40\n2-3 = 50\n")
	b.enter("heddles", "", "3", "60")
	b.click(`#heddle-buttons [aria-label="Add 10"]`)
	b.click(`#heddle-buttons button:last-child`)
	b.click(`#heddle-buttons [aria-label="Add 10"]`)
	b.click(`#heddle-buttons [aria-label="Add 1"]`)
	if got, want := b.settingsText(), "[loom]\nshafts = 4\n[heddles]\neach = 40\n2-3 = 50\n3 = 70\n4 = 11\n"; got != want {
		t.Errorf("the text is\n%s\nnot\n%s", got, want)
	}
	b.enter("heddles", "", "3", "50") // as the range says
	b.enter("heddles", "", "4", "")
	if got, want := b.settingsText(), "[loom]\nshafts = 4\n[heddles]\neach = 40\n2-3 = 50\n"; got != want {
		t.Errorf("the text is\n%s\nnot\n%s", got, want)
	}

	// Sections with names.
	b.fill("settings", "")
	for range 2 {
		b.click(`#cards-reed > .add`)
	}
	ask[any](b, `{ const f = document.querySelectorAll("#cards-reed .card")[1].querySelector("input"); f.value = "fine ]"; f.dispatchEvent(new Event("change")); }`)
	b.enter("reed", "fine", "dents", "12/in")
	b.enter("project", "", "reed", "fine")
	if got, want := b.settingsText(), "[reed]\n\n[reed fine]\ndents = 12/in\n\n[project]\nreed = fine\n"; got != want {
		t.Errorf("the text is\n%s\nnot\n%s", got, want)
	}
	ask[any](b, `{ const f = document.querySelectorAll("#cards-reed .card")[1].querySelector("input"); f.value = "narrow"; f.dispatchEvent(new Event("change")); }`)
	text := b.settingsText()
	if want := "[reed]\n\n[reed narrow]\ndents = 12/in\n\n[project]\nreed = narrow\n"; text != want {
		t.Errorf("the text is\n%s\nnot\n%s", text, want)
	}
	b.click(`#cards-reed .card:nth-of-type(2) .remove`)
	if got, want := b.settingsText(), "[reed]\n\n[project]\nreed = narrow\n"; got != want {
		t.Errorf("the text is\n%s\nnot\n%s", got, want)
	}
	b.click("#put-back")
	if got := b.settingsText(); got != text {
		t.Errorf("the text is\n%s\nnot\n%s", got, text)
	}
	b.run(chromedp.Reload())
	b.until(`document.getElementById("settings")?.value`)
	if got := ask[string](b, fieldFor("reed", "narrow", "dents")+`.value`); got != "12/in" {
		t.Errorf("after a reload, the form says %q", got)
	}
	if saved := b.downloaded(func() { b.click("#settings-save") }); string(saved) != text {
		t.Errorf("the saved file is\n%s", saved)
	}
	b.upload("#settings-open", map[string]string{"mine.ini": "[loom]\nname = From a file\n"})
	b.until(fieldFor("loom", "", "name") + `.value === "From a file"`)
}

// TestEditsKeepText sets and clears every key of the explained list. Only its line changes,
// and the list is as before in the end.
func TestEditsKeepText(t *testing.T) {
	needsTime(t)
	b := openTab(t)
	source, err := sources.ReadFile("script/ini.js")
	if err != nil {
		t.Fatal(err)
	}
	b.run(chromedp.Navigate("file://" + builtFile(t, "fettle.html")))
	ask[any](b, "void (window.ini = (() => {"+string(source)+"return {setValue, readIni}; })())")
	starter := natively(t, []string{"init", "--output", "-"}, nil, "").Stdout
	set := func(text, section, name string, keys []string, k settings.Key, value string) string {
		return ask[string](b, fmt.Sprintf(`window.ini.setValue(%s, %q, %q, %q, %s, %s, %s)`, quoted(t, text), section, name, k.Name, quoted(t, value), quoted(t, keys), quoted(t, k.Example)))
	}
	for _, crlf := range []bool{false, true} {
		original := starter
		if crlf {
			original = strings.ReplaceAll(starter, "\n", "\r\n")
		}
		for _, s := range settings.Known() {
			names := []string{}
			for _, k := range s.Keys {
				names = append(names, k.Name)
			}
			name := map[string]string{"warp": "pile", "yarn": "natural"}[s.Name]
			for _, k := range s.Keys {
				if strings.ToUpper(k.Name) == k.Name {
					continue
				}
				changed := set(original, s.Name, name, names, k, "12345")
				if changed == original {
					t.Errorf("[%s] %s: nothing changed", s.Name, k.Name)
				}
				before, after := strings.Split(original, "\n"), strings.Split(changed, "\n")
				different := 0
				for i := 0; i < len(after) && len(after) == len(before); i++ {
					if after[i] != before[i] {
						different++
						if strings.HasSuffix(after[i], "\r") != crlf {
							t.Errorf("[%s] %s: another line ending in %q", s.Name, k.Name, after[i])
						}
					}
				}
				if len(after) == len(before) && different != 1 {
					t.Errorf("[%s] %s: %d lines changed", s.Name, k.Name, different)
				}
				cleared := set(changed, s.Name, name, names, k, "")
				if strings.Join(strings.Fields(cleared), " ") != strings.Join(strings.Fields(original), " ") {
					t.Errorf("[%s] %s: clearing it leaves another text", s.Name, k.Name)
				}
			}
		}
	}
	shafts := settings.Key{Name: "shafts", Example: "16"}
	keys := []string{"name", "shafts", "treadles"}
	for _, test := range []struct{ text, value, want string }{
		{"", "8", "[loom]\nshafts = 8\n"},
		{"[loom]", "8", "[loom]\nshafts = 8"},
		{"[loom]\r\ntreadles = 2", "8", "[loom]\r\nshafts = 8\r\ntreadles = 2"},
		{"\ufeff[loom]\nshafts=4\n", "8", "\ufeff[loom]\nshafts= 8\n"},
		{"[loom]\nshafts = 4 ; odd\n", "", "[loom]\n#shafts = 16 ; odd\n"},
		{"[loom]\nshafts = 4\n", "", "[loom]\n"},
		{"[loom]\nshafts = 4\nshafts = 5\n", "8", "[loom]\nshafts = 8\nshafts = 5\n"},
		{"[loom]\nshafts =\n", "8", "[loom]\nshafts = 8\n"},
		{"[yarn x]\nshafts = 4\n[loom]\n", "8", "[yarn x]\nshafts = 4\n[loom]\nshafts = 8\n"},
		{"[loom\nshafts = 4\n", "8", "[loom\nshafts = 4\n\n[loom]\nshafts = 8\n"},
		{"[loom]\n", "8\n[files]", "[loom]\nshafts = 8 [files]\n"},
		{"[loom]\n# shafts = 16 on the old one\n#shafts = 16 and more\n", "8", "[loom]\nshafts = 8\n# shafts = 16 on the old one\n#shafts = 16 and more\n"},
	} {
		if got := set(test.text, "loom", "", keys, shafts, test.value); got != test.want {
			t.Errorf("%q with shafts = %q is %q, not %q", test.text, test.value, got, test.want)
		}
	}
}

// TestUnitFollows checks that the switch for units follows the text, until the weaver sets it.
func TestUnitFollows(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	unit := func(want string) {
		t.Helper()
		b.until(`document.querySelector("#unit input:checked").value === ` + quoted(t, want))
	}
	b.fill("settings", "[loom]\nweaving width = 30 in\n")
	unit("in")
	b.fill("settings", "[loom]\nweaving width = 80 cm\n")
	unit("cm")
	ask[any](b, `document.querySelector('#unit input[value="in"]').click()`)
	b.fill("settings", "[loom]\nweaving width = 90 cm\n")
	unit("in")
}

// TestFormExamples checks that each field gives an example that the program reads, in the chosen
// unit, and that words for a density are read.
func TestFormExamples(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.show("your-loom")
	example := func(key string) string {
		return ask[string](b, fieldFor("project", "", key)+".placeholder")
	}
	for unit, want := range map[string][3]string{"in": {"such as 28", "such as 20", "such as 2"}, "cm": {"such as 70", "such as 8", "such as 5"}} {
		b.click(`#unit input[value="` + unit + `"]`)
		for i, key := range []string{"loom waste", "sett", "hem"} {
			if got := example(key); got != want[i] {
				t.Errorf("with %s, %s has %q, not %q", unit, key, got, want[i])
			}
		}
		if zero := ask[[]string](b, `[...document.querySelectorAll("#loom-form input[data-key]")].filter((f) => /as 0\b/.test(f.placeholder)).map((f) => f.dataset.key)`); len(zero) > 0 {
			t.Errorf("these fields have 0 as an example: %q", zero)
		}
		b.fill("settings", "")
		ask[any](b, `for (const f of document.querySelectorAll("#loom-form input[placeholder^='such as']")) if (f.dataset.section === "loom" || (f.dataset.section === "project" && !/per item|finished width/.test(f.dataset.key))) { f.value = f.placeholder.slice(8); f.dispatchEvent(new Event("input", {bubbles: true})); }`)
		statedIn(t, map[string]string{"fettle.ini": b.settingsText()})
	}
	b.fill("settings", "[reed]\n")
	b.enter("reed", "", "dents", "10 dents to the inch")
	if got := statedIn(t, map[string]string{"fettle.ini": b.settingsText()}); len(got) != 1 || got[0].Key != "dents" {
		t.Errorf("the program reads %v", got)
	}
	b.until(`document.getElementById("settings-errors").childElementCount === 0`)
}

// TestFormHostile types and opens texts that try to become elements of the page.
func TestFormHostile(t *testing.T) {
	needsTime(t)
	b := openPage(t)
	b.show("your-loom")
	evil := `<img src=x onerror="document.title='hacked'">`
	b.fill("settings", "[loom]\nname = "+evil+"\nshafts = "+evil+"\n[yarn "+evil+"]\ncolor = "+evil+"\n["+evil+"]\n__proto__ = 1\n[yarn __proto__]\n__proto__ = 1\n[heddles]\n99999999-999999999 = 3\nconstructor = 4\n"+strings.Repeat("[yarn x]\n", 50))
	b.until(`document.querySelector("#settings-errors p")`)
	b.enter("yarn", evil, "stock", evil)
	time.Sleep(300 * time.Millisecond)
	if got := ask[int](b, `document.querySelectorAll("main img").length`); got > 0 || ask[string](b, `document.title`) == "hacked" {
		t.Errorf("%d elements come from the settings", got)
	}
}
