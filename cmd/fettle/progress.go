package main

import (
	"github.com/schollz/progressbar/v3"
	"github.com/urfave/cli/v2"
)

// manyFiles is from how many files on a run is long enough for a progress bar.
const manyFiles = 200

// progress shows how far a long run is, on a terminal only: step after each file,
// done at the end.
func (p *program) progress(c *cli.Context, files int, what string) (step, done func()) {
	nothing := func() {}
	if files < manyFiles || c.Bool("quiet") || !isTerminal(p.err) {
		return nothing, nothing
	}
	bar := progressbar.NewOptions(files, progressbar.OptionSetWriter(p.err), progressbar.OptionSetDescription(what),
		progressbar.OptionShowCount(), progressbar.OptionClearOnFinish())
	// A bar that cannot be drawn is no reason to stop.
	return func() { _ = bar.Add(1) }, func() { _ = bar.Finish() }
}
