package main

import (
	"os"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestShots is for development only.
func TestShots(t *testing.T) {
	if os.Getenv("SHOTS") == "" {
		t.Skip()
	}
	b := openPage(t)
	shot := func(name string) {
		for _, w := range []int64{360, 1024, 1600} {
			if os.Getenv("SHOTS") != "all" && w != 1024 {
				continue
			}
			b.run(chromedp.EmulateViewport(w, 900))
			png := act(b, chromedp.FullScreenshot(100))
			os.WriteFile("/tmp/shots/"+name+"-"+map[int64]string{360: "360", 1024: "1024", 1600: "1600"}[w]+".png", png, 0o644)
		}
	}
	ask[any](b, `new Promise((r) => setTimeout(r, 1500))`)
	shot("start")
	ask[any](b, `document.getElementById("example-faulty").click()`)
	ask[any](b, `new Promise((r) => setTimeout(r, 1500))`)
	shot("faulty")
	ask[any](b, `document.getElementById("mend").click()`)
	ask[any](b, `new Promise((r) => setTimeout(r, 1500))`)
	shot("mended")
	ask[any](b, `location.hash = "#sheet-view"`)
	ask[any](b, `new Promise((r) => setTimeout(r, 1500))`)
	shot("sheet")
}
