package main

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
)

// asNobody does something with no more rights to files than anyone has.
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
		says         string
	}{
		{"a folder", 0o555, 0o666, "the folder may not be written to; look at its permissions"},
		{"a file", 0o777, 0o444, "the file may not be written to; look at its permissions"},
	} {
		t.Run(c.name, func(t *testing.T) {
			folder := t.TempDir()
			path := filepath.Join(folder, "a.wif")
			if err := os.WriteFile(path, []byte("old"), 0o666); err != nil {
				t.Fatal(err)
			}
			above := filepath.Dir(folder) // others may not look into it otherwise
			if os.Chmod(above, 0o755) != nil || os.Chmod(path, c.file) != nil || os.Chmod(folder, c.folder) != nil {
				t.Fatal("the permissions could not be set")
			}
			defer os.Chmod(folder, 0o755)
			asNobody(t, func() {
				if err := new(program).replace(path, []byte("old"), []byte("new")); err == nil || !strings.Contains(err.Error(), c.says) {
					t.Errorf("%v, want %q", err, c.says)
				}
			})
			if text, err := os.ReadFile(path); err != nil || string(text) != "old" {
				t.Errorf("%q, %v", text, err)
			}
		})
	}
}

// TestNewFileWithoutPermission says of a file that is not there yet what may not be
// written to.
func TestNewFileWithoutPermission(t *testing.T) {
	folder := t.TempDir()
	if os.Chmod(filepath.Dir(folder), 0o755) != nil || os.Chmod(folder, 0o555) != nil {
		t.Fatal("the permissions could not be set")
	}
	defer os.Chmod(folder, 0o755)
	asNobody(t, func() {
		p := &program{}
		for want, err := range map[string]error{
			"a.wif not written: you have no permission to write to this folder; check its permissions":       p.write(filepath.Join(folder, "a.wif"), nil, false),
			"below not created: you have no permission to write to its parent folder; check its permissions": folderFor(filepath.Join(folder, "below", "a.wif")),
		} {
			if err == nil || !strings.HasSuffix(err.Error(), want) {
				t.Errorf("%v, want %q", err, want)
			}
		}
	})
}
