//go:build !js

package main

import (
	"context"
	"encoding/base64"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

var long = flag.Bool("long", false, "run every command on the whole corpus, and look at times and memory")

// thorough reports whether to try all; otherwise the tests try a part, which is fast.
func thorough() bool { return *long || os.Getenv("CI") != "" }

// needsTime skips a test that opens a page of its own, which takes seconds, unless all are
// to run.
func needsTime(t *testing.T) {
	t.Helper()
	if !thorough() {
		t.Skip("takes seconds; CI and -long run it")
	}
}

// browser is the headless browser that all tests share. Each test gets a tab with storage
// of its own.
var browser struct {
	sync.Once
	context context.Context
	close   func()
	err     error
}

func TestMain(m *testing.M) {
	flag.Parse()
	status := m.Run()
	if browser.close != nil {
		browser.close()
	}
	if folder != "" {
		os.RemoveAll(folder)
	}
	os.Exit(status)
}

// folder holds the page and the native program.
var folder string

// built builds the page and the native program once, and returns their folder.
var built = sync.OnceValues(func() (string, error) {
	var err error
	if folder, err = os.MkdirTemp("", "fettle-page-test-"); err != nil {
		return "", err
	}
	page, err := build("", "")
	if err != nil {
		return "", err
	}
	if err := os.WriteFile(filepath.Join(folder, "fettle.html"), page, 0o644); err != nil {
		return "", err
	}
	_, err = goSays(nil, "build", "-trimpath", "-buildvcs=false", "-o", filepath.Join(folder, "fettle"), "fettle/cmd/fettle")
	return folder, err
})

func builtFile(t testing.TB, name string) string {
	t.Helper()
	sourcesRead()
	folder, err := built()
	if err != nil {
		t.Fatal(err)
	}
	return filepath.Join(folder, name)
}

// sourcesRead reads all folders of the module once. The tests build the program with the go
// command; so go test learns that their results depend on its sources.
var sourcesRead = sync.OnceFunc(func() {
	_ = filepath.WalkDir(filepath.Join("..", ".."), func(path string, e fs.DirEntry, err error) error {
		if err == nil && e.IsDir() && e.Name() == ".git" {
			return fs.SkipDir
		}
		return err
	})
})

func browserOptions(path string) []chromedp.ExecAllocatorOption {
	return append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.WSURLReadTimeout(most))
}

// tab is a tab of the browser with a page.
type tab struct {
	testing.TB
	context context.Context

	lock     sync.Mutex
	requests []string // for anything but the page itself
	errors   []string // what the browser complains about
}

// openTab opens an empty tab. At the end of the test, the page must have been silent and
// must have asked for nothing.
func openTab(t testing.TB) *tab {
	t.Helper()
	path, err := exec.LookPath("chromium")
	switch {
	case err != nil && os.Getenv("CI") != "":
		t.Fatal("chromium is missing: install chromium")
	case err != nil:
		t.Skip("chromium is missing")
	}
	browser.Do(func() {
		all, cancel := chromedp.NewExecAllocator(context.Background(), browserOptions(path)...)
		browser.context, browser.close = chromedp.NewContext(all)
		if browser.err = chromedp.Do(browser.context); browser.err != nil {
			cancel()
		}
	})
	if browser.err != nil {
		t.Fatal(browser.err)
	}
	b := &tab{TB: t}
	within, cancel := chromedp.NewContext(browser.context, chromedp.WithNewBrowserContext(), chromedp.WithListener(b.listen))
	t.Cleanup(cancel)
	b.context = within
	b.run(chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, log.Enable, cdp.Empty{})
		return err
	}))
	t.Cleanup(func() {
		b.lock.Lock()
		defer b.lock.Unlock()
		for _, r := range b.requests {
			t.Errorf("the page asks for %.200s", r)
		}
		for _, e := range b.errors {
			t.Errorf("the browser says: %s", e)
		}
	})
	return b
}

func (b *tab) listen(event any) {
	b.lock.Lock()
	defer b.lock.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		url := e.Request.URL
		ours := strings.HasPrefix(url, "file://") && strings.HasSuffix(strings.SplitN(url, "#", 2)[0], "/fettle.html")
		if !ours && !strings.HasPrefix(url, "blob:") && !strings.HasPrefix(url, "data:image/") {
			b.requests = append(b.requests, url)
		}
	case *log.EventEntryAdded:
		b.errors = append(b.errors, fmt.Sprintf("%s %s", e.Entry.Level, e.Entry.Text))
	case *runtime.EventConsoleAPICalled:
		b.errors = append(b.errors, fmt.Sprintf("console.%s %v", e.Type, e.Args))
	case *runtime.EventExceptionThrown:
		b.errors = append(b.errors, fmt.Sprintf("%s %+v", e.ExceptionDetails.Text, e.ExceptionDetails.Exception))
	}
}

// most is the longest that an action may take. A busy machine needs many times as long as a
// quiet one.
const most = 3 * time.Minute

func (b *tab) run(actions ...chromedp.Action[chromedp.Void]) {
	b.Helper()
	for _, action := range actions {
		act(b, action)
	}
}

// act runs an action in the tab and returns its value.
func act[T any](b *tab, action chromedp.Action[T]) T {
	b.Helper()
	within := b.context
	if chromedp.FromContext(within).Target != nil { // the first action must not have a limit
		limited, cancel := context.WithTimeout(within, most)
		defer cancel()
		within = limited
	}
	value, err := chromedp.Run(within, action)
	if err != nil {
		b.Fatal(err)
	}
	return value
}

// openPage opens the page in a new tab.
func openPage(t testing.TB) *tab {
	t.Helper()
	b := openTab(t)
	b.run(chromedp.Navigate("file://" + builtFile(t, "fettle.html")))
	t.Cleanup(func() {
		if said := ask[string](b, `document.getElementById("problems")?.textContent ?? ""`); faultOfScript.MatchString(said) {
			t.Errorf("the page complains about itself: %s", said)
		}
	})
	return b
}

// faultOfScript matches what a browser says of a mistake in a script, which the page shows as a
// problem.
var faultOfScript = regexp.MustCompile(`Cannot (read|set)|is not (a function|defined|iterable)|of (null|undefined)`)

// ask evaluates an expression in the page, waits if it is a promise, and returns its value.
func ask[T any](b *tab, expression string) T {
	b.Helper()
	return act(b, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

// result is the result of a run. Files are those that the run wrote; Deleted are inputs
// that are gone.
type result struct {
	Status         int
	Stdout, Stderr string
	Files          map[string]string
	Deleted        []string
}

// give sets window.given, files by path, for runs in the page.
func (b *tab) give(files map[string]string) {
	b.Helper()
	encoded := map[string]string{}
	for path, text := range files {
		encoded[path] = base64.StdEncoding.EncodeToString([]byte(text))
	}
	ask[any](b, fmt.Sprintf(`void (window.given = Object.fromEntries(Object.entries(%s).map(
		([path, text]) => [path, Uint8Array.from(atob(text), (c) => c.charCodeAt(0))])))`, quoted(b, encoded)))
}

// inPage runs the program in the page, as a script would, over the given files with these
// paths, one of them as standard input.
func (b *tab) inPage(args, paths []string, input string) result {
	b.Helper()
	r := ask[result](b, fmt.Sprintf(`(async (args, paths, input) => {
		const files = Object.fromEntries(paths.map((path) => [path, window.given[path]]));
		if (input) files["-"] = window.given[input];
		const text = (bytes) => { let s = ""; for (let i = 0; i < bytes.length; i += 9000) s += String.fromCharCode(...bytes.subarray(i, i + 9000)); return btoa(s); };
		const same = (a, b) => a && a.length === b.length && a.every((x, i) => x === b[i]);
		const r = await window.fettle.run(args, files);
		return { Status: r.status, Stdout: text(r.stdout), Stderr: text(r.stderr),
			Files: Object.fromEntries(Object.entries(r.files).filter(([path, bytes]) => !same(files[path], bytes)).map(([path, bytes]) => [path, text(bytes)])),
			Deleted: paths.filter((path) => !(path in r.files)) };
	})(%s, %s, %s)`, quoted(b, args), quoted(b, paths), quoted(b, input)))
	r.Stdout, r.Stderr = decoded(b, r.Stdout), decoded(b, r.Stderr)
	for path, text := range r.Files {
		r.Files[path] = decoded(b, text)
	}
	return r
}

func decoded(t testing.TB, text string) string {
	t.Helper()
	bytes, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		t.Fatal(err)
	}
	return string(bytes)
}

// media sets the medium, "screen", "print" or "" for the usual one, and a preference of
// the reader.
func (b *tab) media(medium, preference, value string) {
	b.Helper()
	if _, err := chromedp.Call(b.context, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Media: medium, Features: []*emulation.MediaFeature{{Name: preference, Value: value}}}); err != nil {
		b.Fatal(err)
	}
}
