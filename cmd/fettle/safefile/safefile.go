// Package safefile writes files so that nobody's work is lost. A file holds its
// old content or its new content at every moment, never half of one. An edit that
// someone makes meanwhile stays, and so do owner, group, mode and attributes.
package safefile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
)

// Errors of Writer. The other errors are those of package os.
var (
	// ErrChanged means that the file no longer holds what the caller read.
	ErrChanged = errors.New("the file has changed")
	// ErrAlreadyWritten means that the same run has already written the file.
	ErrAlreadyWritten = errors.New("the file has already been written")
	// ErrNotRegular means that the path leads to a device, a pipe or a folder.
	ErrNotRegular = errors.New("not a regular file")
)

// LinksError means that the file has several names, which replacing it would
// separate.
type LinksError struct{ Links uint64 }

func (e LinksError) Error() string { return fmt.Sprintf("the file has %d hard links", e.Links) }

// OwnerError means that a new file can't be given the owner and group of the old
// one. Owner and Group are names, or numbers where there are none.
type OwnerError struct{ Owner, Group string }

func (e OwnerError) Error() string {
	return fmt.Sprintf("the file belongs to user %s and group %s", e.Owner, e.Group)
}

// AttributeError means that an extended attribute or an access list can't be kept.
type AttributeError struct{ Name string }

func (e AttributeError) Error() string { return "the attribute " + e.Name + " can't be kept" }

// InUseError means that another program has the file open and the system lets
// nobody replace it meanwhile.
type InUseError struct{ Err error }

func (e InUseError) Error() string { return "the file is open in another program: " + e.Err.Error() }

func (e InUseError) Unwrap() error { return e.Err }

// Writer writes the files of one run. The zero value is ready for use. Several
// goroutines may use it at once. Clean ends the run.
type Writer struct {
	// renaming is held by every step that changes a folder: shared by writers,
	// and for good by Stop.
	renaming sync.RWMutex

	mu      sync.Mutex
	temps   map[*temp]bool
	swept   map[string]bool // folders
	written map[id]bool
}

// Replace puts text in the place of a file that holds old. It follows symbolic
// links. The error is ErrChanged where the file holds anything else by the time the
// content is ready.
func (w *Writer) Replace(path string, old, text []byte) error {
	return w.replace(path, w.whole(text), os.O_RDWR, func(f *os.File) error { return holds(f, old) }, exchange)
}

// whole returns what makes a temporary file that holds a text.
func (w *Writer) whole(text []byte) func(folder string) (*temp, error) {
	return func(folder string) (*temp, error) {
		t, err := w.newTemp(folder, 0o600)
		if err != nil {
			return nil, err
		}
		if _, err := t.file.Write(text); err != nil {
			w.discard(t)
			return nil, err
		}
		return t, nil
	}
}

// notWritten returns ErrAlreadyWritten for a file that this Writer has written.
func (w *Writer) notWritten(f *os.File) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	if is, err := factsOf(f); err == nil && w.written[is.id] {
		return ErrAlreadyWritten
	}
	return nil
}

// replace replaces a file that check finds nothing wrong with. access is how it is
// opened, content makes the temporary file in its folder, and move puts that in
// its place.
func (w *Writer) replace(path string, content func(folder string) (*temp, error), access int, check func(*os.File) error,
	move func(t *temp, target string, check func(*os.File) error) error) error {
	target, err := filepath.EvalSymlinks(path)
	if err != nil {
		return err
	}
	w.sweep(filepath.Dir(target))            // what is swept may be another name of the file
	f, err := os.OpenFile(target, access, 0) // refuses a file that may not be written to
	if err != nil {
		return inUse(err)
	}
	defer f.Close()
	is, err := factsOf(f)
	switch {
	case err != nil:
		return err
	case !is.info.Mode().IsRegular():
		return ErrNotRegular
	case is.links > 1:
		return LinksError{is.links}
	}
	t, err := content(filepath.Dir(target))
	if err != nil {
		return err
	}
	defer w.discard(t)
	if err := t.file.Sync(); err != nil {
		return err
	}
	if err := keep(f, is, t.file); err != nil {
		return err
	}
	before, err := f.Stat()
	if err != nil {
		return err
	}
	if err := check(f); err != nil {
		return err
	}
	if err := f.Close(); err != nil { // some systems replace no file that is open
		return err
	}
	return w.place(t, func() error {
		now, err := os.Lstat(target)
		if err != nil || !os.SameFile(before, now) || now.Size() != before.Size() || !now.ModTime().Equal(before.ModTime()) {
			return ErrChanged
		}
		return inUse(move(t, target, check))
	})
}

// exchange puts a temporary file in the place of another that check finds nothing
// wrong with. Where the system can, the two exchange their names first: nobody can
// open the old one by then, so that an edit which came between check and rename is
// found, and put back.
func exchange(t *temp, target string, check func(*os.File) error) error {
	name := t.file.Name()
	old, err := os.Open(target)
	if err != nil {
		return ErrChanged
	}
	_ = lock(old) // it gets a name that others would sweep
	err = swap(name, target)
	if errors.Is(err, errors.ErrUnsupported) {
		_ = old.Close()
		return rename(name, target)
	}
	defer old.Close()
	if err != nil {
		return err
	}
	named, err := os.Open(name)
	if err != nil {
		return err
	}
	defer named.Close()
	if unwritten(named, check) {
		return os.Remove(name)
	}
	if err := swap(name, target); err != nil {
		return err
	}
	if is, err := os.Lstat(name); err == nil {
		if ours, err := t.file.Stat(); err == nil && !os.SameFile(is, ours) {
			_ = moveToNew(name, target+".edited") // even what was edited in between is kept
		}
	}
	return ErrChanged
}

// holds returns ErrChanged unless a file holds exactly this.
func holds(f *os.File, want []byte) error {
	buffer := make([]byte, 64<<10)
	for {
		n, err := f.Read(buffer)
		if n > len(want) || !bytes.Equal(buffer[:n], want[:n]) {
			return ErrChanged
		}
		want = want[n:]
		switch {
		case err == io.EOF && len(want) == 0:
			return nil
		case err == io.EOF:
			return ErrChanged
		case err != nil:
			return err
		}
	}
}

// place takes the step that gives a temporary file its lasting name.
func (w *Writer) place(t *temp, move func() error) error {
	w.renaming.RLock()
	defer w.renaming.RUnlock()
	is, err := factsOf(t.file)
	if err != nil {
		return err
	}
	if err := move(); err != nil {
		return err
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	delete(w.temps, t)
	if w.written == nil {
		w.written = map[id]bool{}
	}
	w.written[is.id] = true
	return t.file.Close()
}

// link gives a file a second name; tests replace it.
var link = os.Link

// moveToNew gives a file a name that no other has. Where the file system has no
// hard links, an empty file holds the name first.
func moveToNew(from, to string) error {
	err := link(from, to)
	switch {
	case err == nil:
		return os.Remove(from)
	case errors.Is(err, fs.ErrExist):
		return err
	}
	holder, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	if err := errors.Join(holder.Close(), rename(from, to)); err != nil {
		_ = os.Remove(to)
		return err
	}
	return nil
}

// Stop waits for a rename that is under way and deletes the temporary files. It
// keeps both locks, so that writes which are not done by then never return: the
// caller ends the process.
func (w *Writer) Stop() {
	w.renaming.Lock()
	w.mu.Lock()
	for t := range w.temps {
		_ = t.file.Close()
		_ = os.Remove(t.file.Name())
	}
}

// NameAllowed reports whether the system takes the name of a new file as it is.
// Windows reserves names such as CON and AUX.WIF, and drops dots and spaces at the
// end of a name. NUL, the device that swallows everything, is allowed.
func NameAllowed(path string) bool { return nameAllowed(filepath.Base(path)) }

// Key returns equal strings for paths that lead to the same file, whether the file
// exists yet or not. It follows symbolic links. "" means that even the folder
// can't be told.
func Key(path string) string {
	if key := keyOf(path); key != "" {
		return key
	}
	folder := keyOf(filepath.Dir(path))
	if folder == "" {
		return ""
	}
	return folder + "/" + sameName(filepath.Base(path))
}

func keyOf(path string) string {
	f, err := openToLook(path)
	if err != nil {
		return ""
	}
	defer f.Close()
	return KeyOf(f)
}

// KeyOf returns the Key of an open file, "" where the system doesn't tell it.
func KeyOf(f *os.File) string {
	is, err := factsOf(f)
	if err != nil || is.id == (id{}) {
		return ""
	}
	return fmt.Sprintf("%x:%x", is.device, is.number)
}

// facts are what the system knows about an open file.
type facts struct {
	info fs.FileInfo
	id
	links       uint64
	user, group int // owner and group
}

// id tells one file from all others.
type id struct{ device, number uint64 }
