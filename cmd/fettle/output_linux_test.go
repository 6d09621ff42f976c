package main

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"fettle/corpus/golden"
)

// asNobody runs a function without special rights to files.
func asNobody(t *testing.T, do func()) {
	t.Helper()
	if os.Getuid() == 0 {
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		if err := syscall.Setfsuid(65534); err != nil {
			t.Fatal(err)
		}
		defer syscall.Setfsuid(0)
	}
	do()
}

// TestWithoutPermission expects errors that name the read-only file or folder, and no loss.
func TestWithoutPermission(t *testing.T) {
	for _, c := range []struct {
		name         string
		folder, file os.FileMode
	}{
		{"a folder", 0o555, 0o666},
		{"a file", 0o777, 0o444},
	} {
		t.Run(c.name, func(t *testing.T) {
			folder := t.TempDir()
			path := filepath.Join(folder, "a.wif")
			if err := os.WriteFile(path, []byte("old"), 0o666); err != nil {
				t.Fatal(err)
			}
			above := filepath.Dir(folder) // otherwise others can't open it
			if os.Chmod(above, 0o755) != nil || os.Chmod(path, c.file) != nil || os.Chmod(folder, c.folder) != nil {
				t.Fatal("the permissions could not be set")
			}
			defer os.Chmod(folder, 0o755)
			var refused error
			asNobody(t, func() { refused = new(program).replace(path, []byte("old"), []byte("new")) })
			refusedHere(t, folder, refused)
			if text, err := os.ReadFile(path); err != nil || string(text) != "old" {
				t.Errorf("%q, %v", text, err)
			}
		})
	}
}

// TestNewFileWithoutPermission checks that the error for a new file names the folder that
// can't be written to.
func TestNewFileWithoutPermission(t *testing.T) {
	folder := t.TempDir()
	if os.Chmod(filepath.Dir(folder), 0o755) != nil || os.Chmod(folder, 0o555) != nil {
		t.Fatal("the permissions could not be set")
	}
	defer os.Chmod(folder, 0o755)
	var file, below error
	asNobody(t, func() {
		file = new(program).write(filepath.Join(folder, "a.wif"), nil, false)
		below = folderFor(filepath.Join(folder, "below", "a.wif"))
	})
	refusedHere(t, folder, file)
	refusedHere(t, folder, below)
}

// refusedHere compares an error with its stored text, without the folder's name.
func refusedHere(t *testing.T, folder string, err error) {
	t.Helper()
	if err == nil {
		t.Fatal("it was written")
	}
	golden.Words(t, strings.ReplaceAll(err.Error(), folder, "FOLDER"))
}
