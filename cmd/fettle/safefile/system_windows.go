package safefile

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"time"

	"golang.org/x/sys/windows"
)

// hasLocks reports whether removeAbandoned knows which files are in use.
const hasLocks = true

// openTemp creates a file that can be renamed while it is open.
func openTemp(name string, _ os.FileMode) (*os.File, error) {
	return open(name, windows.GENERIC_READ|windows.GENERIC_WRITE,
		windows.FILE_SHARE_READ|windows.FILE_SHARE_WRITE|windows.FILE_SHARE_DELETE, windows.CREATE_NEW, windows.FILE_ATTRIBUTE_NORMAL)
}

// openToLook opens a file or folder only to query it.
func openToLook(path string) (*os.File, error) {
	return open(path, windows.FILE_READ_ATTRIBUTES,
		windows.FILE_SHARE_READ|windows.FILE_SHARE_WRITE|windows.FILE_SHARE_DELETE, windows.OPEN_EXISTING, windows.FILE_FLAG_BACKUP_SEMANTICS)
}

func open(path string, access, share, creation, flags uint32) (*os.File, error) {
	name, err := windows.UTF16PtrFromString(path)
	if err != nil {
		return nil, err
	}
	h, err := windows.CreateFile(name, access, share, nil, creation, flags, 0)
	if err != nil {
		return nil, &os.PathError{Op: "open", Path: path, Err: err}
	}
	return os.NewFile(uintptr(h), path), nil
}

// lock does nothing: removeAbandoned can't delete an open file.
func lock(*os.File) bool { return true }

// removeAbandoned deletes a temporary file that no program has open. It doesn't follow
// links.
func removeAbandoned(path string) {
	if info, err := os.Lstat(path); err != nil || !info.Mode().IsRegular() {
		return
	}
	f, err := open(path, windows.GENERIC_READ|windows.DELETE, windows.FILE_SHARE_DELETE, windows.OPEN_EXISTING,
		windows.FILE_FLAG_OPEN_REPARSE_POINT)
	if err != nil {
		return
	}
	_ = os.Remove(path)
	_ = f.Close()
}

func factsOf(f *os.File) (facts, error) {
	info, err := f.Stat()
	if err != nil {
		return facts{}, err
	}
	var i windows.ByHandleFileInformation
	if err := windows.GetFileInformationByHandle(windows.Handle(f.Fd()), &i); err != nil {
		return facts{}, err
	}
	number := uint64(i.FileIndexHigh)<<32 | uint64(i.FileIndexLow)
	return facts{info: info, id: id{uint64(i.VolumeSerialNumber), number}, links: uint64(i.NumberOfLinks)}, nil
}

// keep does nothing: a new file gets its permissions from its folder.
func keep(*os.File, facts, *os.File) error { return nil }

// Virus scanners briefly open new files, so try a rename for a while.
const (
	renameTries = 20
	renamePause = 20 * time.Millisecond
)

func rename(from, to string) error {
	err := os.Rename(from, to)
	for n := 1; n < renameTries && errors.As(inUse(err), new(InUseError)); n++ {
		time.Sleep(renamePause)
		err = os.Rename(from, to)
	}
	return err
}

// inUse returns an InUseError if another program has the file open.
func inUse(err error) error {
	if errors.Is(err, windows.ERROR_SHARING_VIOLATION) || errors.Is(err, windows.ERROR_LOCK_VIOLATION) ||
		errors.Is(err, windows.ERROR_USER_MAPPED_FILE) || errors.As(err, new(*os.LinkError)) && errors.Is(err, windows.ERROR_ACCESS_DENIED) {
		return InUseError{err}
	}
	return err
}

func nameAllowed(name string) bool {
	return strings.EqualFold(name, "NUL") || filepath.IsLocal(name) && strings.TrimRight(name, ". ") == name
}

func sameName(name string) string { return strings.ToLower(name) }
