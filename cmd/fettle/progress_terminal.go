//go:build !js

package main

import (
	"io"

	"github.com/schollz/progressbar/v3"
)

func newDrawnBar(to io.Writer, files int, what string) drawnBar {
	return progressbar.NewOptions(files, progressbar.OptionSetWriter(to), progressbar.OptionSetDescription(what),
		progressbar.OptionShowCount(), progressbar.OptionClearOnFinish())
}
