//go:build !js

package main

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/heapprofiler"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// loomLine is what the view for the loom shows.
type loomLine struct{ Step, Now string }

// atLoom opens a draft and its settings, and goes to the loom.
func (b *tab) atLoom(draft, settings string) {
	b.Helper()
	b.openForLoom(draft, settings)
	b.show("loom")
	b.until(`!document.getElementById("loom-overview").hidden || !document.getElementById("loom-stage").hidden`)
}

func (b *tab) openForLoom(draft, settings string) {
	b.Helper()
	b.fill("settings", settings)
	b.upload("#open", map[string]string{"towel.wif": draft})
	b.until(`document.getElementById("chosen").value === "towel.wif"`)
}

// press presses a key some times, as slowly as the view wants, and returns the line after
// each.
func (b *tab) press(key string, times int) []loomLine {
	b.Helper()
	return ask[[]loomLine](b, fmt.Sprintf(`((key, times) => {
		const lines = [];
		for (let i = 0; i < times; i++) {
			const event = new KeyboardEvent("keydown", {key, bubbles: true, cancelable: true});
			window.pressed = Math.max(window.pressed ?? 0, performance.now()) + 200;
			Object.defineProperty(event, "timeStamp", {value: window.pressed});
			(document.activeElement ?? document.body).dispatchEvent(event);
			lines.push({Step: document.getElementById("loom").dataset.step, Now: document.getElementById("now").textContent});
		}
		return lines;
	})(%s, %d)`, quoted(b, key), times))
}

func (b *tab) loomNow() loomLine {
	b.Helper()
	return ask[loomLine](b, `({Step: document.getElementById("loom").dataset.step, Now: document.getElementById("now").textContent})`)
}

// kept waits until the last place is in the database.
func (b *tab) kept() {
	b.Helper()
	b.until(`document.getElementById("loom").dataset.kept && !document.getElementById("loom-kept").textContent`)
	time.Sleep(100 * time.Millisecond)
}

// loomPlan is the part of the plan that tests compare with.
type loomPlan struct {
	Groups []struct {
		From, To int
		Shafts   [][]int
	}
	Heddles []any
	Winding struct{ Bouts []any }
	Sley    struct {
		Tens struct {
			First  []struct{ Ends []int } `json:"first_half"`
			Second []struct{ Ends []int } `json:"second_half"`
		}
	}
	Stretches []struct {
		Picks int
		UpTo  int `json:"up_to_pick"`
	}
	Steps []struct{ Step string }
}

// planFor returns the plan, and the shafts of each pick of the whole work, which the
// program writes as a draft.
func planFor(t testing.TB, draft, settings string) (plan loomPlan, lifts []string) {
	t.Helper()
	files := map[string]string{"towel.wif": draft, "fettle.ini": settings}
	if err := json.Unmarshal([]byte(natively(t, []string{"plan", "--format", "json", "towel.wif"}, files, "").Stdout), &plan); err != nil {
		t.Fatal(err)
	}
	work := natively(t, []string{"plan", "--format", "wif", "--output", "work.wif", "towel.wif"}, files, "").Files["work.wif"]
	_, rows, found := strings.Cut(work, "[LIFTPLAN]")
	if !found {
		t.Fatal("the whole work has no lift plan")
	}
	for row := range strings.Lines(strings.TrimLeft(rows, "\r\n")) {
		_, shafts, more := strings.Cut(strings.TrimSpace(row), "=")
		if !more {
			break
		}
		lifts = append(lifts, strings.ReplaceAll(strings.TrimPrefix(shafts, "0"), ",", " "))
	}
	return plan, lifts
}

// towelSettings are short items with hems on a loom of four shafts.
func towelSettings(length, order string) string {
	return "[loom]\nshafts = 4\ntreadles = 6\n[heddles]\neach = 180\n[reed]\ndents = 8/in\nwidth = 40 in\n[project]\nsett = 24/in\npicks = 22/in\nbout = 60\n" +
		"items = 2\nhem = 1 cm\nfringe = 4 cm\nloom waste = 50 cm\ndressing = " + order + "\nfinished length = " + length + "\n"
}

// walk goes through all steps with the space bar and compares each line with the plan.
// interrupt runs now and then.
func (b *tab) walk(plan loomPlan, lifts []string, interrupt func(pressed int)) {
	b.Helper()
	var lines []loomLine
	want := 0
	for _, step := range plan.Steps {
		if step.Step == "weave" {
			want = len(lifts)
		}
	}
	for pressed := 0; pressed < want+2000; {
		some := b.press(" ", 40)
		lines = append(lines, some...)
		pressed += 40
		if n := len(lines); lines[n-1] == lines[n-3] && lines[n-1].Step == "weave" {
			break
		}
		if interrupt != nil {
			interrupt(pressed)
		}
	}
	lines = slices.Compact(lines)
	byStep := map[string][]string{}
	var order []string
	for _, l := range lines {
		if len(order) == 0 || order[len(order)-1] != l.Step {
			order = append(order, l.Step)
		}
		byStep[l.Step] = append(byStep[l.Step], l.Now)
	}
	var steps []string
	for _, s := range plan.Steps {
		steps = append(steps, s.Step)
	}
	if !slices.Equal(order, steps) {
		b.Errorf("the steps are %v, not %v", order, steps)
	}
	var groups []string
	for _, g := range plan.Groups {
		text := fmt.Sprintf("Ends %d–%d", g.From, g.To)
		for _, shafts := range g.Shafts {
			text += " " + strings.Trim(strings.ReplaceAll(fmt.Sprint(shafts), " ", "+"), "[]")
		}
		groups = append(groups, text)
	}
	compareLines(b, "thread", byStep["thread"], groups)
	var dents []string
	for _, ten := range slices.Concat(plan.Sley.Tens.First, plan.Sley.Tens.Second) {
		dents = append(dents, strings.Trim(fmt.Sprint(ten.Ends), "[]"))
	}
	var sleyed []string
	for _, line := range byStep["sley"] {
		_, ends, _ := strings.Cut(strings.TrimPrefix(line, "Dents "), " ")
		sleyed = append(sleyed, ends)
	}
	compareLines(b, "sley", sleyed, dents)
	if got := len(byStep["heddles"]); got != len(plan.Heddles) {
		b.Errorf("%d lines of heddles, want %d", got, len(plan.Heddles))
	}
	if got := len(byStep["wind"]); got != len(plan.Winding.Bouts) {
		b.Errorf("%d lines of bouts, want %d", got, len(plan.Winding.Bouts))
	}
	var picks, woven []string
	for i, lift := range lifts {
		picks = append(picks, fmt.Sprintf("%d: %s", i+1, lift))
	}
	for _, line := range byStep["weave"] {
		if pick, ok := strings.CutPrefix(line, "Pick "); ok {
			number, _, _ := strings.Cut(pick, " ")
			_, shafts, _ := strings.Cut(pick, "shafts ")
			woven = append(woven, number+": "+shafts)
		}
	}
	compareLines(b, "weave", woven, picks)
}

func compareLines(t testing.TB, step string, got, want []string) {
	t.Helper()
	for i := range got {
		got[i] = strings.Join(strings.Fields(got[i]), " ")
	}
	for i := range max(len(got), len(want)) {
		if i >= len(got) || i >= len(want) || got[i] != want[i] {
			t.Errorf("%s: line %d of %d (want %d) is %q, want %q", step, i+1, len(got), len(want), got[min(i, len(got)):min(i+1, len(got))], want[min(i, len(want)):min(i+1, len(want))])
			return
		}
	}
}

// TestLoom walks through every step from the first line to the last with keys alone, in
// both orders of dressing, once with a sample that is cut off.
func TestLoom(t *testing.T) {
	t.Parallel()
	draft := read(t, "guild/goose-eye-towel.wif")
	for _, order := range []string{"front to back", "back to front"} {
		t.Run(order, func(t *testing.T) {
			if order == "back to front" {
				needsTime(t)
			}
			t.Parallel()
			settings := towelSettings("4 cm", order)
			if order == "back to front" {
				settings += "sample = 3 cm\ncut off sample = yes\n"
			}
			plan, lifts := planFor(t, draft, settings)
			b := openPage(t)
			b.atLoom(draft, settings)
			b.walk(plan, lifts, nil)
			if back := b.press("PageUp", 2); back[1].Step != "weave" || !strings.HasPrefix(back[1].Now, fmt.Sprintf("Pick %d ", len(lifts)-1)) {
				// the fringe of the last item is a line, too
				if back = b.press("ArrowLeft", 1); !strings.HasPrefix(back[0].Now, fmt.Sprintf("Pick %d ", len(lifts)-1)) {
					t.Errorf("unweaving shows %v", back)
				}
			}
		})
	}
}

// reopen reloads the page and opens the same draft again.
func (b *tab) reopen(draft string) {
	b.Helper()
	b.run(chromedp.Reload())
	b.until(`document.getElementById("loom") && !document.getElementById("loom-stage").hidden`)
	if draft != "" {
		b.upload("#open", map[string]string{"towel.wif": draft})
		b.until(`document.getElementById("chosen").value === "towel.wif" && !document.getElementById("loom-stage").hidden`)
	}
}

// TestLoomPlace keeps the place: over a double press, a reload without the draft, a reload
// with it, and a jump. It asks after the settings changed.
func TestLoomPlace(t *testing.T) {
	needsTime(t)
	t.Parallel()
	draft, settings := read(t, "guild/goose-eye-towel.wif"), towelSettings("4 cm", "front to back")
	b := openPage(t)
	b.atLoom(draft, settings)
	b.click("#loom-begin")
	first := b.loomNow()
	if first.Step != "heddles" {
		t.Fatalf("it begins with %v", first)
	}
	ask[any](b, `document.getElementById("loom").focus(), addEventListener("keydown", (event) => { window.last = event.timeStamp; }, true)`)
	b.run(chromedp.KeyEvent(" "))
	again := func(after int) loomLine {
		return ask[loomLine](b, fmt.Sprintf(`(() => {
			const event = new KeyboardEvent("keydown", {key: " ", bubbles: true, cancelable: true});
			Object.defineProperty(event, "timeStamp", {value: window.last + %d});
			document.activeElement.dispatchEvent(event);
			return {Now: document.getElementById("now").textContent};
		})()`, after))
	}
	if got := again(199); !strings.HasPrefix(got.Now, "Shaft 2:") {
		t.Errorf("a double press goes to %v", got)
	}
	if got := again(200); !strings.HasPrefix(got.Now, "Shaft 3:") {
		t.Errorf("two presses go to %v", got)
	}
	for b.loomNow().Step != "thread" {
		b.press("PageDown", 1)
	}
	b.press("ArrowDown", 5)
	want := b.loomNow()
	b.kept()
	for _, with := range []string{"", draft} {
		b.reopen(with)
		if got := b.loomNow(); got != want {
			t.Errorf("after a reload it shows %v, not %v", got, want)
		}
	}
	ask[any](b, `document.getElementById("loom-to-overview").click(); scrollTo(0, 1e6)`)
	b.fill("settings", strings.Replace(settings, "items = 2", "items = 3", 1))
	b.until(`!document.getElementById("loom-ask").hidden`)
	if !ask[bool](b, `{ const box = document.getElementById("loom-ask").getBoundingClientRect(); box.top >= 0 && box.bottom <= innerHeight; }`) {
		t.Error("the question is out of sight")
	}
	if got := b.press(" ", 1); got[0].Step != "overview" {
		t.Errorf("a key answers the question: %v", got)
	}
	b.click("#loom-ask button")
	if got := b.loomNow(); got != want {
		t.Errorf("the place in the changed plan is %v, not %v", got, want)
	}
	b.click("#loom-to-overview")
	b.click(`#loom-steps [data-of="weave"] button`)
	b.click("#loom-go-open")
	b.fill("loom-go-number", "50")
	b.click("#loom-go .main")
	if got := b.loomNow(); !strings.HasPrefix(got.Now, "Pick 50 ") {
		t.Errorf("the jump leads to %v", got)
	}
}

// TestLoomKilled kills the browser right after a step. The next start shows that view and
// that place, without the draft.
func TestLoomKilled(t *testing.T) {
	needsTime(t)
	t.Parallel()
	path, err := exec.LookPath("chromium")
	if err != nil {
		openTab(t) // skips or fails
	}
	home := t.TempDir()
	start := func() *tab {
		all, cancel := chromedp.NewExecAllocator(context.Background(), append(browserOptions(path), chromedp.UserDataDir(home))...)
		t.Cleanup(cancel)
		within, closeTab := chromedp.NewContext(all)
		t.Cleanup(closeTab)
		b := &tab{TB: t, context: within}
		b.run(chromedp.Navigate("file://" + builtFile(t, "fettle.html")))
		return b
	}
	b := start()
	b.atLoom(read(t, "guild/goose-eye-towel.wif"), towelSettings("4 cm", "front to back"))
	b.click(`#loom-steps [data-of="thread"] button`)
	want := b.press("PageDown", 11)[10]
	b.kept()
	process := chromedp.FromContext(b.context).Browser.Process()
	if err := process.Kill(); err != nil {
		t.Fatal(err)
	}
	time.Sleep(500 * time.Millisecond)
	for _, lock := range []string{"SingletonLock", "SingletonSocket", "SingletonCookie"} {
		os.Remove(filepath.Join(home, lock))
	}
	b = start()
	b.until(`document.getElementById("loom") && !document.getElementById("loom-stage").hidden`)
	if got := b.loomNow(); got != want {
		t.Errorf("after the browser was killed it shows %v, not %v", got, want)
	}
}

// TestLoomFile saves the place to a file and opens it in a browser that has neither the draft
// nor the settings. A file of another kind changes nothing.
func TestLoomFile(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openPage(t)
	b.atLoom(read(t, "guild/goose-eye-towel.wif"), towelSettings("4 cm", "front to back"))
	b.click(`#loom-steps [data-of="weave"] button`)
	want := b.press(" ", 7)[6]
	b.click("#loom-to-overview")
	ask[any](b, `{
		const make = URL.createObjectURL;
		URL.createObjectURL = (blob) => { window.saved = blob; return make.call(URL, blob); };
	}`)
	words := ask[string](b, `document.getElementById("loom-save").textContent + ". " + document.getElementById("loom-keeps").innerText`)
	for _, part := range []string{"to a file", "by itself", "another device"} {
		if !strings.Contains(words, part) {
			t.Errorf("%q doesn't say %q", words, part)
		}
	}
	b.click("#loom-save")
	b.until(`window.saved`)
	file := ask[string](b, `window.saved.text()`)
	other := openPage(t)
	other.show("loom")
	other.upload("#loom-open", map[string]string{"place.json": `{"fettle_loom": 1, "place": {"key": 1}}`})
	other.until(`document.getElementById("problems").textContent.includes("no place")`)
	other.upload("#loom-open", map[string]string{"place.json": file})
	other.until(`!document.getElementById("loom-stage").hidden`)
	if got := other.loomNow(); got != want {
		t.Errorf("the file leads to %v, not %v", got, want)
	}
}

// TestLoomNotes marks a mistake, which goes on the sheet, and counts the picks of today.
func TestLoomNotes(t *testing.T) {
	needsTime(t)
	t.Parallel()
	draft, settings := read(t, "guild/goose-eye-towel.wif"), towelSettings("4 cm", "front to back")
	b := openPage(t)
	b.atLoom(draft, settings)
	b.click(`#loom-steps [data-of="thread"] button`)
	b.click("#loom-note-open")
	b.fill("loom-note-number", "7")
	b.fill("loom-note-text", "moved <b>")
	b.click("#loom-note .main")
	b.click("#loom-to-overview")
	b.click(`#loom-steps [data-of="weave"] button`)
	b.fill("loom-every", "10")
	ask[any](b, `document.getElementById("loom-every").dispatchEvent(new Event("change"))`)
	marked := 0
	for range 24 {
		b.press(" ", 1)
		if strings.Contains(ask[string](b, `document.getElementById("loom-notice").textContent`), "Mark here") {
			marked++
		}
	}
	b.press("ArrowLeft", 2)
	if got := ask[string](b, `document.getElementById("loom-count").textContent`); !strings.HasPrefix(got, "22 ") && !strings.HasPrefix(got, "21 ") || marked == 0 {
		t.Errorf("%q, with %d marks", got, marked)
	}
	b.kept()
	b.show("sheet-view")
	b.until(`document.querySelector("#sheet iframe")?.contentDocument?.querySelector("#as-woven li")`)
	if got := ask[string](b, `document.querySelector("#sheet iframe").contentDocument.querySelector("#as-woven li").textContent`); got != "End 7: moved <b>" {
		t.Errorf("the sheet says %q", got)
	}
	if !ask[bool](b, `document.getElementById("sheet-notes").offsetHeight > 0`) {
		t.Error("the page doesn't say that the PDF has no notes")
	}
	sheet := string(b.downloaded(func() { b.click("#sheet-html") }))
	files := map[string]string{"towel.wif": draft, "fettle.ini": settings}
	paper := ask[string](b, `document.getElementById("sheet-page").value`)
	want := natively(t, []string{"plan", "--page", paper, "--format", "html", "towel.wif"}, files, "").Stdout
	notes := `<section id="as-woven"><h2>As woven</h2><ul><li>End 7: moved &lt;b&gt;</li></ul></section>` + "\n"
	if strings.Replace(sheet, notes, "", 1) != want || !strings.Contains(sheet, notes) {
		t.Error("the downloaded page isn't the sheet with the notes")
	}
	b.show("loom")
	b.until(`!document.getElementById("loom-stage").hidden`)
	b.click("#loom-to-overview")
	b.click("#loom-notes button")
	b.kept()
	ask[any](b, `document.querySelector("#sheet iframe").remove()`)
	b.show("sheet-view")
	b.until(sheetReady)
	if sheet := string(b.downloaded(func() { b.click("#sheet-html") })); sheet != want || ask[bool](b, `document.getElementById("sheet-notes").offsetHeight > 0`) {
		t.Error("the deleted note is still there")
	}
}

// TestLoomSpeech reads lines aloud with a local voice, never with a remote one.
func TestLoomSpeech(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openTab(t)
	b.speaking()
	b.run(chromedp.Navigate("file://" + builtFile(t, "fettle.html")))
	b.atLoom(read(t, "guild/goose-eye-towel.wif"), towelSettings("4 cm", "front to back"))
	b.click(`#loom-steps [data-of="thread"] button`)
	b.press(" ", 1)
	b.click("#loom-to-overview")
	b.click(`#loom-steps [data-of="weave"] button`)
	for !strings.HasPrefix(b.loomNow().Now, "Pick 3 ") {
		b.press(" ", 1)
	}
	heard := ask[[][]string](b, `window.heard`)
	var texts []string
	for _, h := range heard {
		if h[0] != "near" || h[2] != "0.8" {
			t.Errorf("read with %v", h)
		}
		texts = append(texts, h[1])
	}
	for _, want := range []string{"Right half. 1, 2, 3, 4, 3, 2, 1, 2, 3, 4, 3, 2.", "1, 2, 3, 4, 3, 2, 1, 2, 3, 4, 3, 2.", "treadle 2.", "treadle 3."} {
		if !slices.Contains(texts, want) {
			t.Errorf("nobody reads %q; they read %q", want, texts)
		}
	}
	choice := func() string {
		return ask[string](b, `{
			window.speechSynthesis.dispatchEvent(new Event("voiceschanged"));
			[...document.getElementById("loom-voice").options].map((o) => o.value).join() + " " + document.getElementById("loom-aloud").disabled + " " + document.getElementById("loom-no-voice").hidden;
		}`)
	}
	if got := choice(); got != "near false true" {
		t.Errorf("with a local voice the choice is %q", got)
	}
	ask[any](b, `void (window.mute = true)`)
	b.press(" ", 3)
	if after := ask[int](b, `window.heard.length`); after != len(heard) {
		t.Error("a remote voice reads")
	}
	if got := choice(); got != " true false" {
		t.Errorf("without a local voice the choice is %q", got)
	}
}

// TestLoomReadButton switches reading aloud at the stage, by the button and by the key R, and
// says whether it is on. The key does nothing while you write, or without a voice.
func TestLoomReadButton(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openTab(t)
	b.speaking()
	b.beforeScripts(`localStorage.setItem("fettle/1/loom", JSON.stringify({aloud: false}))`)
	b.run(chromedp.Navigate("file://" + builtFile(t, "fettle.html")))
	b.atLoom(read(t, "guild/goose-eye-towel.wif"), towelSettings("4 cm", "front to back"))
	b.goTo("thread", 0)
	check := func(when, button, notice string, heard int) {
		t.Helper()
		got := ask[[]string](b, `{ const read = document.getElementById("loom-read");
			[read.textContent + " " + read.ariaPressed, document.getElementById("loom-notice").textContent, String(window.heard.length), String(document.getElementById("loom-aloud").checked)]; }`)
		if want := []string{button, notice, strconv.Itoa(heard), strconv.FormatBool(strings.HasSuffix(button, "true"))}; !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", when, got, want)
		}
	}
	check("at first", "Aloud: off false", "", 0)
	b.click("#loom-read")
	check("after the button", "Aloud: on true", "Reading aloud is on.", 1)
	if last := ask[string](b, `window.heard.at(-1)[1]`); !strings.HasPrefix(last, "Right half. 1, 2, 3, 4") {
		t.Errorf("it reads %q", last)
	}
	b.press(" ", 1)
	check("at the next line", "Aloud: on true", "", 2)
	b.press("r", 1)
	check("after the key", "Aloud: off false", "Reading aloud is off.", 2)
	b.press("R", 1)
	check("after the key again", "Aloud: on true", "Reading aloud is on.", 3)
	b.click("#loom-note-open")
	b.press("r", 1)
	b.click("#loom-note .cancel")
	check("after a note", "Aloud: on true", "Reading aloud is on.", 3)
	ask[any](b, `void (window.mute = true)`)
	b.press("r", 1)
	if !ask[bool](b, `document.getElementById("loom-read").hidden && document.getElementById("loom-notice").textContent.includes("no voice")`) {
		t.Error("without a voice, the button shows")
	}
}

// speaking makes the browser note what it would read aloud, in a page that is about to open.
func (b *tab) speaking() {
	b.Helper()
	b.beforeScripts(`{
		window.heard = [];
		const voices = [{name: "far", lang: "en", localService: false}, {name: "near", lang: "en-GB", localService: true}];
		Object.defineProperty(window, "speechSynthesis", {configurable: true, value: Object.assign(new EventTarget(), {
			getVoices: () => window.mute ? voices.slice(0, 1) : voices, cancel() {}, speak(s) { window.heard.push([s.voice.name, s.text, String(s.rate)]); }})});
		window.SpeechSynthesisUtterance = class { constructor(text) { this.text = text; } };
		localStorage.setItem("fettle/1/loom", JSON.stringify({aloud: true, pace: 0.8}));
	}`)
}

// beforeScripts runs a script in each page that opens, before the page's own.
func (b *tab) beforeScripts(script string) {
	b.Helper()
	if _, err := chromedp.Call(b.context, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script}); err != nil {
		b.Fatal(err)
	}
}

// TestLoomSpokenColors reads aloud where the weft changes its color, and how a bout is wound.
func TestLoomSpokenColors(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openTab(t)
	b.speaking()
	b.run(chromedp.Navigate("file://" + builtFile(t, "fettle.html")))
	work := pictureWorks(t)["shuttles"]
	b.atLoom(work[0], work[1])
	b.goTo("wind", 3)
	b.goTo("heddles", 0)
	b.goTo("weave", 0)
	b.press(" ", 1)
	var texts []string
	for _, h := range ask[[][]string](b, `window.heard`) {
		texts = append(texts, h[1])
	}
	for _, want := range []string{"Shaft 1. Keep 30 on the right, 30 on the left. Push aside 60 to the right and 60 to the left.",
		"Sample. Begin with color 1. treadle 1.", "Change to color 2. treadle 2.",
		"Bout 4: 5 times (1 color 2, 1 color 1), then 1 color 2, 2 color 1, then 11 times (1 color 2, 1 color 1), then 2 color 2, then 11 times (1 color 1, 1 color 2), then 1 color 1."} {
		if !slices.Contains(texts, want) {
			t.Errorf("nobody reads %q; they read %q", want, texts)
		}
	}
}

// TestLoomScreen keeps the screen on while lines show. If the browser takes that back when
// the page is hidden, the page asks again when it shows; if it refuses, the page says so.
func TestLoomScreen(t *testing.T) {
	needsTime(t)
	t.Parallel()
	b := openTab(t)
	b.beforeScripts(`{
		window.asked = window.held = 0;
		window.refuse = true;
		let seen = "visible";
		Object.defineProperty(document, "visibilityState", {get: () => seen});
		window.see = (state) => { seen = state; document.dispatchEvent(new Event("visibilitychange")); };
		Object.defineProperty(navigator, "wakeLock", {value: {request: async () => {
			window.asked++;
			if (window.refuse) throw new DOMException("no", "NotAllowedError");
			window.held++;
			window.lock = Object.assign(new EventTarget(), {release: async () => { window.held--; window.lock.dispatchEvent(new Event("release")); }});
			return window.lock;
		}}});
	}`)
	b.run(chromedp.Navigate("file://" + builtFile(t, "fettle.html")))
	b.atLoom(read(t, "guild/goose-eye-towel.wif"), towelSettings("4 cm", "front to back"))
	check := func(when string, asked, held int, says bool) {
		t.Helper()
		got := ask[[]any](b, `new Promise((done) => setTimeout(() => // after everything that the last action began
			done([window.asked, window.held, document.getElementById("loom-screen").textContent !== ""]), 50))`)
		if fmt.Sprint(got) != fmt.Sprint([]any{asked, held, says}) {
			t.Errorf("%s: asked, held and said %v, not %v", when, got, []any{asked, held, says})
		}
	}
	check("in the overview", 0, 0, false)
	ask[any](b, `document.getElementById("loom-begin").click()`)
	check("refused", 1, 0, true)
	ask[any](b, `void (window.refuse = false)`)
	b.press(" ", 1)
	check("granted", 2, 1, false)
	b.press(" ", 2)
	check("granted before", 2, 1, false)
	ask[any](b, `window.see("hidden"), window.lock.release()`)
	check("hidden", 2, 0, false)
	ask[any](b, `window.see("visible")`)
	check("shown again", 3, 1, false)
	ask[any](b, `document.getElementById("loom-to-overview").click()`)
	check("back in the overview", 3, 0, false)
	ask[any](b, `window.see("hidden"), window.see("visible")`)
	check("shown in the overview", 3, 0, false)
	ask[any](b, `document.getElementById("loom-begin").click()`)
	check("at a line again", 4, 1, false)
	b.show("drafts")
	check("in another view", 4, 0, false)
}

// TestLoomLong threads 576 ends and weaves an item of 2,000 picks with interruptions, and
// then looks at the memory of 5,000 more steps.
func TestLoomLong(t *testing.T) {
	t.Parallel()
	if !*long {
		t.Skip("takes a minute: run it with -long")
	}
	text := read(t, "guild/goose-eye-towel.wif")
	settings := strings.Replace(towelSettings("230.9 cm", "front to back"), "items = 2\nhem = 1 cm\nfringe = 4 cm\n", "repeats = 1\nbalance = 96\n", 1)
	plan, lifts := planFor(t, text, settings)
	if ends := plan.Groups[len(plan.Groups)-1].To; ends != 576 || len(lifts) != 2000 {
		t.Fatalf("%d ends and %d picks", ends, len(lifts))
	}
	b := openPage(t)
	b.atLoom(text, settings)
	b.walk(plan, lifts, func(pressed int) {
		if pressed%400 != 0 {
			return
		}
		before := b.loomNow()
		b.kept()
		b.reopen(map[bool]string{true: text}[pressed%800 == 0])
		if after := b.loomNow(); after != before {
			t.Fatalf("after %d presses and a reload it shows %v, not %v", pressed, after, before)
		}
	})
	heap := func() int {
		used := act(b, chromedp.Action[float64](func(ctx context.Context, target *chromedp.Target) (float64, error) {
			if _, err := cdp.Call(ctx, target, heapprofiler.CollectGarbage, cdp.Empty{}); err != nil {
				return 0, err
			}
			usage, err := cdp.Call(ctx, target, runtime.GetHeapUsage, cdp.Empty{})
			return usage.UsedSize, err
		}))
		return int(used / 1024)
	}
	b.press("PageUp", 1000)
	before, elements := heap(), ask[int](b, `document.querySelectorAll("*").length`)
	for range 5 {
		b.press("PageDown", 500)
		b.press("PageUp", 500)
	}
	b.kept()
	after := heap()
	t.Logf("memory %d KiB before 5,000 steps, %d KiB after", before, after)
	if after > before+1_000 {
		t.Errorf("memory grew from %d to %d KiB", before, after)
	}
	if now := ask[int](b, `document.querySelectorAll("*").length`); now > elements+50 {
		t.Errorf("the page grew from %d to %d elements", elements, now)
	}
}

// goTo goes to a line of a step, from 0.
func (b *tab) goTo(step string, line int) {
	b.Helper()
	ask[any](b, fmt.Sprintf(`{
		document.getElementById("loom-to-overview").click();
		document.querySelector('#loom-steps [data-of=%q] button').click();
		document.getElementById("loom-go-open").click();
		const field = document.getElementById("loom-go-number");
		field.value = Number(field.min) + %d;
		document.querySelector("#loom-go .main").click();
	}`, step, line))
}

// TestLoomStage looks at every step on screens of several sizes: the name of the draft
// shows, nothing is cut off, the type is large, and the buttons stay where they are.
func TestLoomStage(t *testing.T) {
	needsTime(t)
	t.Parallel()
	type stage struct {
		Name, Buttons  string
		Size           float64
		Cut, Low, Many bool
	}
	works := pictureWorks(t)
	for _, screen := range []struct {
		name string
		size [2]int64
	}{{"shuttles", [2]int64{768, 1024}}, {"shuttles", [2]int64{740, 360}}, {"countermarch", [2]int64{1024, 768}}, {"lifts", [2]int64{360, 740}}, {"long", [2]int64{3840, 2160}}, {"long", [2]int64{1366, 768}}} {
		name, size := screen.name, screen.size
		b := openTab(t)
		b.speaking() // so the button for reading aloud shows
		b.run(chromedp.Navigate("file://"+builtFile(t, "fettle.html")), chromedp.EmulateViewport(size[0], size[1]))
		b.atLoom(works[name][0], works[name][1])
		look := func() stage {
			return ask[stage](b, `(async () => {
				await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
				const tap = document.getElementById("loom-tap");
				const boxes = ["loom-back", "loom-forward"].map((id) => document.getElementById(id).getBoundingClientRect());
				return {Name: document.getElementById("loom-name").textContent, Buttons: boxes.map((r) => [r.x, r.y, r.width, r.height].map(Math.round)).join(" "),
					Size: parseFloat(getComputedStyle(tap).fontSize), Cut: tap.scrollHeight > tap.clientHeight || tap.scrollWidth > tap.clientWidth,
					Low: boxes[0].bottom > innerHeight, Many: document.documentElement.scrollHeight > innerHeight};
			})()`)
		}
		ask[any](b, `document.getElementById("loom-begin").click()`)
		first := look()
		if !strings.Contains(works[name][0], "Title="+first.Name) || first.Name == "" {
			t.Errorf("%s: the name is %q", name, first.Name)
		}
		steps := ask[[]string](b, `[...document.querySelectorAll("#loom-steps li")].map((e) => e.dataset.of)`)
		for _, step := range steps {
			for _, line := range []int{0, 1, 2} {
				b.goTo(step, line)
				for _, about := range []bool{true, false} {
					if about && size[1] < 400 {
						continue // this screen hides the help
					}
					ask[any](b, fmt.Sprintf(`document.getElementById("loom-about").open = %v`, about))
					got := look()
					what := fmt.Sprintf("%s, line %d of %s with help %v: %+v", name, line, step, about, got)
					if got.Buttons != first.Buttons {
						t.Errorf("%s: the buttons move from %s", what, first.Buttons)
					}
					if got.Cut || got.Low || got.Many || got.Name != first.Name {
						t.Errorf("%s: it doesn't fit", what)
					}
					if least := float64(min(size[0], size[1])) / 32; !about && got.Size < least {
						t.Errorf("%s: the type is smaller than %g", what, least)
					}
				}
			}
		}
	}
}

// TestLoomAround checks the list beside the current line on a wide screen. It has the next line,
// cuts no line off, and says what is done and what is left. Other screens show the next line
// below the current one.
func TestLoomAround(t *testing.T) {
	needsTime(t)
	t.Parallel()
	type around struct {
		Shown, Cut, Beside, NextBelow bool
		Lines                         []string
		Current                       int
		Done, Then                    string
	}
	work := pictureWorks(t)["long"]
	b := openPage(t)
	b.run(chromedp.EmulateViewport(1024, 768))
	b.atLoom(work[0], work[1])
	look := func() around {
		return ask[around](b, `(async () => {
			await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
			const box = document.getElementById("loom-around");
			const lines = [...document.querySelectorAll("#loom-lines li")];
			return {Shown: box.offsetHeight > 0, Cut: box.scrollHeight > box.clientHeight || box.scrollWidth > box.clientWidth,
				Beside: document.getElementById("loom-tap").getBoundingClientRect().right <= box.getBoundingClientRect().left, NextBelow: document.getElementById("loom-next").offsetHeight > 0,
				Lines: lines.map((line) => line.innerText.replace(/\s+/g, " ")), Current: lines.findIndex((line) => line.ariaCurrent === "step"),
				Done: document.getElementById("loom-done").innerText, Then: document.getElementById("loom-then").innerText};
		})()`)
	}
	for _, row := range []struct {
		step       string
		line       int
		current    string // how its line begins
		next       string
		done, then string
	}{
		{"heddles", 1, "Shaft 2 ", "Shaft 3 ", "1 of 4 shafts done, 3 left", "Wind the warp"},
		{"thread", 287, "Ends 277–288 1 2 3 4", "Ends 289–300 1 2 3 4", "276 of 576 ends done, 300 left", "Check the threading"},
		{"beam", 0, "1 Wind on", "2 Tighten", "0 of 3 lines done, 3 left", "Tie to the front rod"},
		{"weave", 999, "Pick 1000 treadle 4 (1 4)", "Pick 1001 treadle 3 (3 4)", "999 of 2000 picks done, 1001 left", ""},
	} {
		b.goTo(row.step, row.line)
		got := look()
		if !got.Shown || got.Cut || !got.Beside || got.NextBelow {
			t.Errorf("%s: %+v", row.step, got)
		}
		if got.Current < 0 || got.Current+1 >= len(got.Lines) || !strings.HasPrefix(got.Lines[got.Current], row.current) || !strings.HasPrefix(got.Lines[got.Current+1], row.next) {
			t.Errorf("%s: line %d of %q, want %q and %q", row.step, got.Current, got.Lines, row.current, row.next)
		}
		if got.Done != row.done || !strings.HasSuffix(got.Then, row.then) {
			t.Errorf("%s: %q, %q", row.step, got.Done, got.Then)
		}
	}
	b.run(chromedp.EmulateViewport(768, 1024))
	if got := look(); got.Shown || !got.NextBelow || len(got.Lines) > 0 {
		t.Errorf("on a tall screen: %+v", got)
	}
}

// TestLoomWords reads every step without the sheet: no word is about the paper, and none is for
// a terminal.
func TestLoomWords(t *testing.T) {
	needsTime(t)
	t.Parallel()
	wrong := regexp.MustCompile(`(?i)\bsheet\b|\bthe table\b|\btick\b|last step|lines above|:$`)
	for _, name := range []string{"shuttles", "lifts"} {
		work := pictureWorks(t)[name]
		b := openPage(t)
		b.atLoom(work[0], work[1])
		for _, step := range ask[[]string](b, `[...document.querySelectorAll("#loom-steps li")].map((e) => e.dataset.of)`) {
			b.goTo(step, 0)
			words := ask[[]string](b, `["loom-about-text", "now", "loom-more", "loom-next"].map((id) => document.getElementById(id).textContent)`)
			for _, text := range words {
				if found := cmp.Or(wrong.FindString(text), terminalWords.FindString(text)); found != "" {
					t.Errorf("%s, %s: %q in %q", name, step, found, text)
				}
			}
		}
	}
}

// TestLoomBouts folds the color order of a bout as the sheet does.
func TestLoomBouts(t *testing.T) {
	needsTime(t)
	t.Parallel()
	work := pictureWorks(t)["shuttles"]
	b := openPage(t)
	b.atLoom(work[0], work[1])
	b.goTo("wind", 0)
	_, order, _ := strings.Cut(b.loomNow().Now, "60 ")
	if !strings.HasPrefix(order, "11 times (1 color 1, 1 color 2), then 1 color 1") {
		t.Errorf("the bout is %q", order)
	}
	sheet := natively(t, []string{"plan", "--format", "html", "towel.wif"}, map[string]string{"towel.wif": work[0], "fettle.ini": work[1]}, "").Stdout
	if order = strings.NewReplacer("color 1", "#2c4361", "color 2", "#f2ead8").Replace(order); !strings.Contains(sheet, ">"+order+"<") {
		t.Errorf("the sheet doesn't have the order %q", order)
	}
	// The settings state the loom waste, but no take-up.
	if more := ask[string](b, `document.getElementById("loom-more").textContent`); !strings.Contains(more, "take-up") || strings.Contains(more, "loom waste") {
		t.Errorf("of the length it says %q", more)
	}
}

// TestLoomAccessible runs the checks of axe-core on the overview, on steps of each kind, and
// on both forms, in both color schemes.
func TestLoomAccessible(t *testing.T) {
	t.Parallel()
	script := axe(t)
	b := openPage(t)
	ask[any](b, script+"; undefined")
	b.atLoom(read(t, "guild/goose-eye-towel.wif"), towelSettings("4 cm", "front to back"))
	b.violations("the overview")
	for _, step := range []string{"heddles", "wind", "cross", "sley", "thread", "tie-up", "weave"} {
		ask[any](b, fmt.Sprintf(`document.getElementById("loom-to-overview").click(); document.querySelector('#loom-steps [data-of="%s"] button').click()`, step))
		b.violations(step)
	}
	for _, form := range []string{"loom-go", "loom-note"} {
		b.click("#" + form + "-open")
		b.violations(form)
		b.click("#" + form + " .cancel")
	}
	b.run(chromedp.EmulateViewport(360, 740, chromedp.EmulateMobile))
	for _, step := range []string{"wind", "sley", "thread", "weave"} {
		ask[any](b, fmt.Sprintf(`document.getElementById("loom-to-overview").click(); document.querySelector('#loom-steps [data-of="%s"] button').click()`, step))
		if wide := ask[int](b, `document.documentElement.scrollWidth`); wide > 360 {
			t.Errorf("%s is %d pixels wide", step, wide)
		}
	}
}

// pictureWorks are works of different kinds for pictures: a long threading, two shuttles,
// a countermarch, and 24 shafts with a lift plan.
func pictureWorks(t testing.TB) map[string][2]string {
	var many strings.Builder
	many.WriteString("[WIF]\nVersion=1.1\n[CONTENTS]\nTEXT=yes\nWEAVING=yes\nWARP=yes\nWEFT=yes\nTHREADING=yes\nLIFTPLAN=yes\n" +
		"[TEXT]\nTitle=Sea ice on twenty-four shafts\n[WEAVING]\nShafts=24\nRising Shed=yes\n[WARP]\nThreads=460\n[WEFT]\nThreads=92\n[THREADING]\n")
	for end := range 460 {
		fmt.Fprintf(&many, "%d=%d\n", end+1, 1+min(end%46, 46-end%46))
	}
	many.WriteString("[LIFTPLAN]\n")
	for pick := range 92 {
		var lift []string
		for shaft := range 24 {
			if (shaft+pick)%5 < 2 || (shaft*pick+pick)%11 == 3 {
				lift = append(lift, strconv.Itoa(shaft+1))
			}
		}
		fmt.Fprintf(&many, "%d=%s\n", pick+1, strings.Join(lift, ","))
	}
	return map[string][2]string{
		"long": {read(t, "guild/goose-eye-towel.wif"), strings.Replace(towelSettings("230.9 cm", "front to back"), "items = 2\nhem = 1 cm\nfringe = 4 cm\n", "repeats = 1\nbalance = 96\n", 1)},
		"shuttles": {read(t, "guild/log-cabin-mat.wif"), "[loom]\nshafts = 4\ntreadles = 6\n[heddles]\neach = 180\n[reed]\ndents = 10/in\nwidth = 40 in\n[project]\nsett = 20/in\npicks = 18/in\nbout = 80\n" +
			"items = 4\nhem = 2 in\nfringe = 3 in\nloom waste = 24 in\ndressing = back to front\nfinished length = 24 in\nsample = 6 in\ncut off sample = yes\n"},
		"countermarch": {read(t, "guild/lighthouse-towel.wif"), "[loom]\nshafts = 8\ntreadles = 10\nshed = countermarch\n[heddles]\neach = 90\n[reed]\ndents = 60/10 cm\nwidth = 100 cm\n[project]\npicks = 9/cm\n" +
			"items = 3\nhem = 4 cm\nfringe = 6 cm\nloom waste = 60 cm\ndressing = back to front\nfinished length = 70 cm\n"},
		"lifts": {many.String(), "[loom]\nshafts = 24\n[heddles]\neach = 40\n[reed]\ndents = 12/in\nwidth = 30 in\n[project]\nsett = 24/in\npicks = 24/in\nbout = 60\nloom waste = 50 cm\nfinished length = 180 cm\n"},
	}
}

// TestLoomPictures takes pictures of every step of several works into a folder, to be
// looked at: in each the first line, a line in the middle, and the last line.
func TestLoomPictures(t *testing.T) {
	folder := os.Getenv("FETTLE_LOOM_PICTURES")
	if folder == "" {
		t.Skip("FETTLE_LOOM_PICTURES is not set")
	}
	for name, work := range pictureWorks(t) {
		if only := os.Getenv("FETTLE_LOOM_WORK"); only != "" && !strings.Contains(only, name) {
			continue
		}
		b := openTab(t)
		b.speaking() // so the button for reading aloud shows
		b.run(chromedp.Navigate("file://" + builtFile(t, "fettle.html")))
		b.atLoom(work[0], work[1])
		steps := ask[[]string](b, `[...document.querySelectorAll("#loom-steps li")].map((e) => e.dataset.of)`)
		// everywhere takes pictures on each screen.
		everywhere := func(what func(take func(state string))) {
			for _, size := range [][2]int64{{768, 1024}, {1024, 768}, {1366, 768}, {360, 740}, {1920, 1080}, {3840, 2160}} {
				if only := os.Getenv("FETTLE_LOOM_WIDTH"); only != "" && only != strconv.FormatInt(size[0], 10) {
					continue
				}
				b.run(chromedp.EmulateViewport(size[0], size[1]))
				for _, scheme := range []string{"light", "dark"} {
					if scheme == "dark" && name != "shuttles" {
						continue
					}
					b.media("", "prefers-color-scheme", scheme)
					what(func(state string) {
						t.Helper()
						picture := act(b, chromedp.CaptureScreenshot())
						file := strings.Join([]string{name, strconv.FormatInt(size[0], 10), scheme, state}, "-") + ".png"
						if err := os.WriteFile(filepath.Join(folder, file), picture, 0o644); err != nil {
							t.Fatal(err)
						}
					})
				}
			}
		}
		everywhere(func(take func(state string)) {
			ask[any](b, `document.getElementById("loom-to-overview").click()`)
			take("overview")
			for i, id := range steps {
				step := fmt.Sprintf("%02d-%s", i+1, id)
				b.goTo(id, 0)
				most := ask[int](b, `document.getElementById("loom-go-number").max - document.getElementById("loom-go-number").min`)
				take(step + "-a")
				if most > 1 {
					b.goTo(id, most/2)
					take(step + "-b")
				}
				if most > 0 {
					b.goTo(id, most)
					b.press(" ", 1)
					b.press("PageUp", 1)
					take(step + "-c")
				}
				if id == "thread" || id == "weave" {
					b.click("#loom-note-open")
					take(step + "-note")
					b.click("#loom-note .cancel")
					b.click("#loom-go-open")
					take(step + "-jump")
					b.click("#loom-go .cancel")
				}
			}
		})
		for _, note := range []string{"thread", "weave"} {
			b.goTo(note, 40)
			b.click("#loom-note-open")
			b.fill("loom-note-text", "Broken; tied to a new length of yarn.")
			b.click("#loom-note .main")
		}
		everywhere(func(take func(state string)) {
			b.goTo("weave", 40)
			take("noted")
			ask[any](b, `document.getElementById("loom-to-overview").click(); document.getElementById("loom-options").open = true; scrollTo(0, 1e6)`)
			take("overview-end")
		})
		ask[any](b, `document.getElementById("loom-options").open = false`)
		b.fill("settings", strings.NewReplacer("loom waste = ", "loom waste = 1", "bout = ", "bout = 1").Replace(work[1]))
		b.until(`!document.getElementById("loom-ask").hidden`)
		everywhere(func(take func(state string)) { take("ask") })
	}
}
