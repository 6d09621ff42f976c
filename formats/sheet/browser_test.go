package sheet

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html"
	"io"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"fettle/schema/dressing"
)

// browser is a browser without a window. It is driven over two pipes, with a message of
// JSON at a time, each closed with a zero byte.
type browser struct {
	t       testing.TB
	in      io.Writer
	out     *bufio.Reader
	session string
	calls   int
	events  []message // that nobody has waited for
}

// message is an answer, which has the number of its call, or an event.
type message struct {
	ID     int             `json:"id"`
	Method string          `json:"method"`
	Params json.RawMessage `json:"params"`
	Result json.RawMessage `json:"result"`
	Error  json.RawMessage `json:"error"`
}

func startBrowser(t testing.TB) *browser {
	t.Helper()
	ourOut, theirIn := pipe(t)
	theirOut, ourIn := pipe(t)
	command := exec.Command(tool(t, "chromium", "chromium"), "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--user-data-dir="+t.TempDir(), "--remote-debugging-pipe")
	command.ExtraFiles = []*os.File{theirOut, theirIn}
	if err := command.Start(); err != nil {
		t.Fatal(err)
	}
	late := time.AfterFunc(5*time.Minute, func() { command.Process.Kill() })
	b := &browser{t: t, in: ourIn, out: bufio.NewReader(ourOut)}
	t.Cleanup(func() {
		b.session = ""
		b.call("Browser.close", nil, nil)
		command.Wait()
		late.Stop()
	})
	theirIn.Close()
	theirOut.Close()
	var target struct{ TargetID string }
	b.call("Target.createTarget", map[string]any{"url": "about:blank"}, &target)
	var attached struct{ SessionID string }
	b.call("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &attached)
	b.session = attached.SessionID
	for _, domain := range []string{"Page", "Runtime", "Log"} {
		b.call(domain+".enable", nil, nil)
	}
	return b
}

func pipe(t testing.TB) (r, w *os.File) {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { r.Close(); w.Close() })
	return r, w
}

// call has the browser do something, and puts its answer into result.
func (b *browser) call(method string, params map[string]any, result any) {
	b.t.Helper()
	if refused := b.try(method, params, result); refused != "" {
		b.t.Fatalf("%s: %s", method, refused)
	}
}

// try is call, and returns the reason if the browser refuses.
func (b *browser) try(method string, params map[string]any, result any) (refused string) {
	b.t.Helper()
	b.calls++
	call := map[string]any{"id": b.calls, "method": method, "params": params}
	if params == nil {
		delete(call, "params")
	}
	if b.session != "" {
		call["sessionId"] = b.session
	}
	text, err := json.Marshal(call)
	if err != nil {
		b.t.Fatal(err)
	}
	if _, err := b.in.Write(append(text, 0)); err != nil {
		b.t.Fatal(err)
	}
	for {
		m := b.next()
		switch {
		case m.ID != b.calls:
			b.events = append(b.events, m)
		case m.Error != nil:
			return string(m.Error)
		default:
			if result != nil {
				if err := json.Unmarshal(m.Result, result); err != nil {
					b.t.Fatal(err)
				}
			}
			return ""
		}
	}
}

func (b *browser) next() (m message) {
	b.t.Helper()
	text, err := b.out.ReadBytes(0)
	if err == nil {
		err = json.Unmarshal(text[:len(text)-1], &m)
	}
	if err != nil {
		b.t.Fatal(err)
	}
	return m
}

// open opens a page and waits until it is there; "" opens the same page again. The old page
// is marked, so that it isn't taken for the new one.
func (b *browser) open(path string) {
	b.t.Helper()
	b.ask(`window.old = true`)
	if path == "" {
		b.call("Page.reload", nil, nil)
	} else {
		b.call("Page.navigate", map[string]any{"url": "file://" + path}, nil)
	}
	for {
		if there, _ := b.evaluate(`!window.old && location.protocol === "file:" && document.readyState === "complete"`); there == "true" {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// ask evaluates an expression in the page.
func (b *browser) ask(expression string) string {
	b.t.Helper()
	value, refused := b.evaluate(expression)
	if refused != "" {
		b.t.Fatalf("%s: %s", expression, refused)
	}
	return value
}

func (b *browser) evaluate(expression string) (value, refused string) {
	b.t.Helper()
	var answer struct {
		Result           struct{ Value any }
		ExceptionDetails json.RawMessage
	}
	if refused := b.try("Runtime.evaluate", map[string]any{"expression": expression, "returnByValue": true}, &answer); refused != "" {
		return "", refused
	}
	return fmt.Sprint(answer.Result.Value), string(answer.ExceptionDetails)
}

// print prints the page to a file.
func (b *browser) print(t testing.TB) string {
	t.Helper()
	var printed struct{ Data string }
	b.call("Page.printToPDF", map[string]any{"preferCSSPageSize": true}, &printed)
	pdf, err := base64.StdEncoding.DecodeString(printed.Data)
	if err != nil {
		t.Fatal(err)
	}
	return inFile(t, "printed.pdf", pdf)
}

// silent checks that the page threw nothing, and broke no rule of its own.
func (b *browser) silent(t testing.TB) {
	t.Helper()
	for _, m := range b.events {
		if strings.HasPrefix(m.Method, "Log.entry") || m.Method == "Runtime.exceptionThrown" || m.Method == "Runtime.consoleAPICalled" {
			t.Errorf("the browser says: %s %s", m.Method, m.Params)
		}
	}
}

// TestInBrowser opens sheets in a browser: they print well, and keep their ticks.
func TestInBrowser(t *testing.T) {
	b := startBrowser(t)
	for i, row := range printedSheets {
		if i > 0 && !*long {
			break
		}
		t.Run("printed/"+row.draft, func(t *testing.T) {
			p := fromCorpus(t, "guild/"+row.draft+".wif", dressing.Options{}, row.flags...)
			b.open(htmlOf(t, p))
			checkPrinted(t, p, b.print(t), row.most, row.says)
			b.silent(t)
		})
	}
	t.Run("ticks", func(t *testing.T) { testTicks(t, b) })
}

// ticked is an expression for the ids of the boxes that are ticked.
const ticked = `[...document.querySelectorAll("input:checked")].map((b) => b.id).join(" ")`

func testTicks(t *testing.T, b *browser) {
	towel := fromCorpus(t, "guild/goose-eye-towel.wif", dressing.Options{})
	first := htmlOf(t, towel)
	other := htmlOf(t, fromCorpus(t, "guild/goose-eye-towel.wif", dressing.Options{}, project("items", "3")))
	want := func(what, want string) {
		t.Helper()
		if got := b.ask(ticked); got != want {
			t.Errorf("%s: ticked are %q, want %q", what, got, want)
		}
	}
	click := func(selector string) {
		t.Helper()
		b.ask(`document.querySelector(` + "`" + selector + "`" + `).click()`)
	}

	b.open(first)
	if got := b.ask(`[...document.querySelectorAll("input")].filter((b) => b.labels.length !== 1 || document.querySelectorAll("#" + b.id).length !== 1).length`); got != "0" {
		t.Errorf("%s boxes have no label or no id of their own", got)
	}
	want("a new sheet", "")
	click(`label[for="wind-2"]`)
	click("#thread-1")
	click("#weave-13")
	click("#weave-1")
	click("#weave-1")
	want("some are clicked", "wind-2 thread-1 weave-13")
	ticks := b.print(t)
	time.Sleep(time.Second) // the browser saves what a page stores a little later
	b.open("")
	want("opened again", "wind-2 thread-1 weave-13")
	b.open(other)
	want("another sheet", "")
	b.open(first)
	want("back again", "wind-2 thread-1 weave-13")

	b.ask(`window.confirm = () => false`)
	click("button")
	want("not confirmed", "wind-2 thread-1 weave-13")
	b.ask(`window.confirm = () => true`)
	click("button")
	want("cleared", "")
	none := b.print(t)
	b.open("")
	want("cleared and opened again", "")
	if poppler(t, "pdftoppm", "-r", "40", "-gray", ticks) == poppler(t, "pdftoppm", "-r", "40", "-gray", none) {
		t.Error("ticks are not printed")
	}

	b.ask(`localStorage.setItem(document.body.dataset.key, "}")`)
	b.open("")
	want("what is stored makes no sense", "")
	b.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{
		"source": `Object.defineProperty(window, "localStorage", {get() { throw new DOMException("denied", "SecurityError"); }})`}, nil)
	b.open("")
	click("#wind-1")
	want("storage is denied", "wind-1")
	b.silent(t)
}

// TestScriptIsAllowed holds the page's policy against the script that it has.
func TestScriptIsAllowed(t *testing.T) {
	d, s := towel()
	raw, err := os.ReadFile(htmlOf(t, planned{d, planOf(t, d, s, dressing.Options{})}))
	if err != nil {
		t.Fatal(err)
	}
	page := string(raw)
	_, script, _ := strings.Cut(page, "<script>")
	script, _, found := strings.Cut(script, "</script>")
	if !found || script != sheetScript {
		t.Errorf("the script is not the one that is embedded: %q", script)
	}
	if want := "script-src 'sha256-" + scriptHash() + "'"; !strings.Contains(html.UnescapeString(page), want) {
		t.Errorf("no %q in the page", want)
	}
}
