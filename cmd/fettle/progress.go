package main

import (
	"github.com/schollz/progressbar/v3"
	"github.com/urfave/cli/v2"
)

// manyFiles is from how many files on a run is long enough for a progress bar.
const manyFiles = 200

// bar is a progress bar. A nil one shows nothing. One that cannot be drawn is no
// reason to stop.
type bar struct{ drawn *progressbar.ProgressBar }

// bar shows how far a long run is, on a terminal only.
func (p *program) bar(c *cli.Context, files int, what string) *bar {
	if files < manyFiles || c.Bool("quiet") || !isTerminal(p.err) {
		return nil
	}
	return &bar{progressbar.NewOptions(files, progressbar.OptionSetWriter(p.err), progressbar.OptionSetDescription(what),
		progressbar.OptionShowCount(), progressbar.OptionClearOnFinish())}
}

func (b *bar) step() {
	if b != nil {
		_ = b.drawn.Add(1)
	}
}

// wipe takes the bar away before something is printed; the next step draws it
// again.
func (b *bar) wipe() {
	if b != nil {
		_ = b.drawn.Clear()
	}
}

func (b *bar) done() {
	if b != nil {
		_ = b.drawn.Finish()
	}
}
