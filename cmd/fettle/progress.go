package main

import (
	"sync/atomic"

	"github.com/urfave/cli/v2"
)

// manyFiles is the smallest number of files that gets a progress bar.
const manyFiles = 200

// drawnBar is a progress bar on a terminal.
type drawnBar interface {
	Add(n int) error
	Clear() error
	Finish() error
}

// bar counts finished files and may draw a progress bar. It ignores drawing errors.
type bar struct {
	files int
	steps atomic.Int64
	drawn drawnBar // nil if not drawn
}

// bar starts to count the files of a run. It draws a bar only on a terminal, for many
// files.
func (p *program) bar(c *cli.Context, files int, what string) *bar {
	b := &bar{files: files}
	if files >= manyFiles && !c.Bool("quiet") && isTerminal(p.err) {
		b.drawn = newDrawnBar(p.err, files, what)
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

// wipe clears the bar before something is printed. The next step draws it again.
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
