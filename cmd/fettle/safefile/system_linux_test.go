package safefile

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"

	"golang.org/x/sys/unix"
)

// asRoot skips a test that only root can set up.
func asRoot(t *testing.T) {
	t.Helper()
	if os.Getuid() != 0 {
		t.Skip("only root can give files to others")
	}
}

func TestOwnerStays(t *testing.T) {
	asRoot(t)
	for name, write := range map[string]func(w *Writer, path string) error{
		"replace":   func(w *Writer, path string) error { return w.Replace(path, []byte("old"), []byte("new")) },
		"overwrite": func(w *Writer, path string) error { return overwrite(w, path, []byte("new")) },
	} {
		t.Run(name, func(t *testing.T) {
			path := given(t, "old")
			if err := errors.Join(os.Chown(path, 1234, 5678), os.Chmod(path, 0o604)); err != nil {
				t.Fatal(err)
			}
			if err := write(new(Writer), path); err != nil {
				t.Fatal(err)
			}
			want(t, path, "new")
			info, err := os.Stat(path)
			if err != nil {
				t.Fatal(err)
			}
			if s := info.Sys().(*syscall.Stat_t); s.Uid != 1234 || s.Gid != 5678 || info.Mode() != 0o604 {
				t.Errorf("owner %d, group %d, mode %v", s.Uid, s.Gid, info.Mode())
			}
		})
	}
}

// TestOwnerRefused checks that a file stays if replacing it would change its owner.
func TestOwnerRefused(t *testing.T) {
	asRoot(t)
	path := given(t, "old")
	folder := filepath.Dir(path)
	if err := errors.Join(os.Chmod(filepath.Dir(folder), 0o755), os.Chmod(folder, 0o777), os.Chmod(path, 0o666), os.Chown(path, 0, 5678)); err != nil {
		t.Fatal(err)
	}
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	if err := syscall.Setfsuid(65534); err != nil {
		t.Fatal(err)
	}
	defer syscall.Setfsuid(0)
	err := new(Writer).Replace(path, []byte("old"), []byte("new"))
	if owner := (OwnerError{}); !errors.As(err, &owner) || owner != (OwnerError{"root", "5678"}) {
		t.Errorf("%v", err)
	}
	want(t, path, "old")
}

func TestAttributesStay(t *testing.T) {
	path := given(t, "old")
	if unix.Setxattr(path, "user.comment", []byte("mine"), 0) != nil {
		t.Skip("the file system has no extended attributes")
	}
	if err := new(Writer).Replace(path, []byte("old"), []byte("new")); err != nil {
		t.Fatal(err)
	}
	value := make([]byte, 100)
	n, err := unix.Getxattr(path, "user.comment", value)
	if err != nil || string(value[:n]) != "mine" {
		t.Errorf("%q, %v", value[:max(n, 0)], err)
	}
	want(t, path, "new")
}
