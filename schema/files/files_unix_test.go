//go:build unix

package files

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// TestOpenPipe opens a pipe that nobody writes to.
func TestOpenPipe(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skip("no pipes here")
	}
	opened := make(chan error, 1)
	go func() {
		f, err := Open(path)
		if err == nil {
			err = f.Close()
		}
		opened <- err
	}()
	select {
	case err := <-opened:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(time.Minute):
		if w, err := os.OpenFile(path, os.O_WRONLY, 0); err == nil { // let it go
			_ = w.Close()
		}
		t.Error("Open waits")
	}
}
