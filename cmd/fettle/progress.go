package main

import (
	"sync/atomic"

	"github.com/schollz/progressbar/v3"
	"github.com/urfave/cli/v2"
)

// manyFiles is from how many files on a run is long enough for a progress bar.
const manyFiles = 200

// bar counts the files that are done, and may show it. A bar that cannot be drawn is
// no reason to stop.
type bar struct {
	files int
	steps atomic.Int64
	drawn *progressbar.ProgressBar // nil where nothing is shown
}

// bar begins to count the files of a run. It shows how far a long run is, on a
// terminal only.
func (p *program) bar(c *cli.Context, files int, what string) *bar {
	b := &bar{files: files}
	if files >= manyFiles && !c.Bool("quiet") && isTerminal(p.err) {
		b.drawn = progressbar.NewOptions(files, progressbar.OptionSetWriter(p.err), progressbar.OptionSetDescription(what),
			progressbar.OptionShowCount(), progressbar.OptionClearOnFinish())
	}
	p.progress.Store(b)
	return b
}

func (b *bar) step() {
	b.steps.Add(1)
	if b.drawn != nil {
		_ = b.drawn.Add(1)
	}
}

// wipe takes the bar away before something is printed; the next step draws it
// again.
func (b *bar) wipe() {
	if b.drawn != nil {
		_ = b.drawn.Clear()
	}
}

func (b *bar) done() {
	if b.drawn != nil {
		_ = b.drawn.Finish()
	}
}
