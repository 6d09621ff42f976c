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

// mostBytes is the largest settings file that is read.
const mostBytes = 1 << 20

// problem is why a file was not read, in a weaver's words.
type problem string

func (p problem) Error() string { return string(p) }

// Files that are refused, whatever is in them.
const (
	errLink     = problem("this is a symbolic link; put the file itself here, or include it by its own path")
	errNotPlain = problem("this isn't a plain file; name a text file")
	errTooLarge = problem("a settings file holds at most 1 MiB, and this one is larger; check that it is the right file")
	errChanged  = problem("the file changed while it was read; try again")
	errOutside  = problem("a file beside a draft may include only files from its own folder down; include this one from fettle.ini")
)

// why puts a failure to read a file in a weaver's words.
func why(err error) string {
	var told problem
	switch {
	case errors.As(err, &told):
		return string(told)
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file"
	case errors.Is(err, fs.ErrPermission):
		return "the file may not be read; look at its permissions"
	}
	return "the file cannot be read"
}

// readPlain reads a plain file. It follows a symbolic link only where told to.
func readPlain(path string, follow bool) ([]byte, error) {
	look := os.Lstat
	if follow {
		look = os.Stat
	}
	return readVia(path, look, os.OpenFile)
}

// readBelow reads a plain file that lies in a folder, or below it, once all
// symbolic links on the way are followed.
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
		return nil, errOutside // the root, and not the system, refused a link on the way
	}
	return text, err
}

// readVia reads a plain file by a way to look at it and a way to open it. Of a file
// that is too large it gives the beginning with errTooLarge.
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

// patience is how long a file that says it is plain may let a reader wait. Plain
// files on a disk never do, and have no such limit.
const patience = time.Second

// readAll reads a file of a size. A file that holds more than its size is not
// plain: the kernel makes up what is in it, as it does below /proc.
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
