package settings

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"time"

	"fettle/schema/files"
)

// mostBytes is the size limit of a settings file.
const mostBytes = 1 << 20

// problem is the reason, in a weaver's words, why a file can't be read.
type problem string

func (p problem) Error() string { return string(p) }

const (
	errLink     = problem("this is a symbolic link; put the file itself here, or include it by its own path")
	errNotPlain = problem("this isn't a plain file; name a text file")
	errTooLarge = problem("this file is larger than 1 MiB, the limit for settings; check that it is the right file")
	errChanged  = problem("the file changed while fettle was reading it; try again")
	errOutside  = problem("a file beside a draft can include only files from its own folder down; include this one from fettle.ini")
)

// reason returns why a file can't be read, in a weaver's words.
func reason(err error) string {
	var known problem
	switch {
	case errors.As(err, &known):
		return string(known)
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file"
	case errors.Is(err, fs.ErrPermission):
		return "you have no permission to read this file; check its permissions"
	}
	return "the file can't be read"
}

// readPlain reads a plain file. It refuses a symbolic link unless follow is set.
func readPlain(path string, follow bool) ([]byte, error) {
	look := os.Lstat
	if follow {
		look = os.Stat
	}
	return readVia(path, look, os.OpenFile)
}

// readBelow reads a plain file in a folder or below it. The path may contain
// symbolic links, but must not leave the folder.
func readBelow(folder, path string) ([]byte, error) {
	rel, err := filepath.Rel(folder, path)
	if err != nil || !filepath.IsLocal(rel) {
		return nil, errOutside
	}
	root, err := os.OpenRoot(folder)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	text, err := readVia(rel, root.Lstat, root.OpenFile)
	if err != nil && !errors.As(err, new(problem)) && !errors.As(err, new(syscall.Errno)) {
		return nil, errOutside // os.Root refused a link, not the system
	}
	return text, err
}

// readVia reads a plain file with these functions. If the file is too large, it
// returns the beginning with errTooLarge.
func readVia(path string, look func(string) (fs.FileInfo, error), open func(string, int, fs.FileMode) (*os.File, error)) ([]byte, error) {
	info, err := look(path)
	switch {
	case err != nil:
		return nil, err
	case info.Mode()&os.ModeSymlink != 0:
		return nil, errLink
	case !info.Mode().IsRegular():
		return nil, errNotPlain
	}
	f, err := open(path, os.O_RDONLY|files.NoWait, 0)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	now, err := f.Stat()
	if err != nil || !os.SameFile(info, now) {
		return nil, errChanged
	}
	return readAll(f, now.Size())
}

// patience limits how long reading may block on a file that claims to be regular. Files
// on a disk never block, and can't have a deadline.
const patience = time.Second

// readAll reads a file of a known size. A file with more bytes than its size isn't
// plain: the kernel generates it, as it does below /proc.
func readAll(f *os.File, size int64) ([]byte, error) {
	_ = f.SetReadDeadline(time.Now().Add(patience))
	text := make([]byte, min(size, mostBytes)+1)
	n, err := io.ReadFull(f, text)
	switch {
	case errors.Is(err, os.ErrDeadlineExceeded):
		return nil, errNotPlain
	case err != nil && err != io.EOF && err != io.ErrUnexpectedEOF:
		return nil, err
	case size > mostBytes:
		return text[:min(n, mostBytes)], errTooLarge
	case int64(n) > size:
		return nil, errNotPlain
	}
	return text[:n], nil
}
