// Package safefile writes files without losing anyone's work. At any moment a file holds
// its complete old or new content. Edits made in the meantime are kept, and so are owner,
// group, mode and attributes.
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

// Errors of Writer. All others come from package os.
var (
	// ErrChanged means that the file no longer holds what the caller read.
	ErrChanged = errors.New("the file has changed")
	// ErrNotKept means that the file was edited again while an earlier edit was put back, and
	// that one of the two could not be kept.
	ErrNotKept = errors.New("an edit could not be kept")
	// ErrAlreadyWritten means that this run has already written the file.
	ErrAlreadyWritten = errors.New("the file has already been written")
	// ErrNotRegular means that the path is a device, a pipe or a folder.
	ErrNotRegular = errors.New("not a regular file")
)

// LinksError means that the file has several hard links, and replacing it would separate
// them.
type LinksError struct{ Links uint64 }

func (e LinksError) Error() string { return fmt.Sprintf("the file has %d hard links", e.Links) }

// OwnerError means that a new file can't get the owner and group of the old one. Owner
// and Group are names, or numbers if there are no names.
type OwnerError struct{ Owner, Group string }

func (e OwnerError) Error() string {
	return fmt.Sprintf("the file belongs to user %s and group %s", e.Owner, e.Group)
}

// AttributeError means that an extended attribute or an access list can't be copied.
type AttributeError struct{ Name string }

func (e AttributeError) Error() string { return "the attribute " + e.Name + " can't be kept" }

// InUseError means that another program has the file open, and the system doesn't allow
// replacing it.
type InUseError struct{ Err error }

func (e InUseError) Error() string { return "the file is open in another program: " + e.Err.Error() }

func (e InUseError) Unwrap() error { return e.Err }

// Writer writes the files of one run. The zero value is ready for use. It is safe for use
// by several goroutines at once. Clean ends the run.
type Writer struct {
	// renaming is locked by every step that changes a folder: writers share it, and Stop
	// keeps it.
	renaming sync.RWMutex

	mu      sync.Mutex
	temps   map[*temp]bool
	swept   map[string]bool // folders already swept
	written map[id]bool
}

// Replace replaces the content of a file that holds old. It follows symbolic links. The
// error is ErrChanged if the file holds anything else by the time the new content is
// ready.
func (w *Writer) Replace(path string, old, text []byte) error {
	return w.replace(path, w.whole(text), os.O_RDWR, func(f *os.File) error { return holds(f, old) }, exchange)
}

// whole returns a function that writes a text to a temporary file.
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

// replace replaces a file if check accepts it. access is the mode for opening it, content
// creates the temporary file in its folder, and move renames that.
func (w *Writer) replace(path string, content func(folder string) (*temp, error), access int, check func(*os.File) error,
	move func(t *temp, target string, check func(*os.File) error) error) error {
	target, err := filepath.EvalSymlinks(path)
	if err != nil {
		return err
	}
	w.sweep(filepath.Dir(target))            // a swept file may be another name of this one
	f, err := os.OpenFile(target, access, 0) // fails for a read-only file
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
	if err := f.Close(); err != nil { // some systems can't replace an open file
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

// exchange replaces a file by a temporary one if check accepts the old one. If the system
// can, it first exchanges their names. Nobody can open the old file after that, so
// exchange can detect an edit made between check and the rename, and undo the exchange.
func exchange(t *temp, target string, check func(*os.File) error) error {
	name := t.file.Name()
	old, err := os.Open(target)
	if err != nil {
		return ErrChanged
	}
	_ = lock(old) // its new name looks temporary, and others would delete it
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
			return errors.Join(ErrChanged, keepEdit(name, target)) // keep even an edit made in between
		}
	}
	return ErrChanged
}

// keepEdit renames a file that holds an edit to an unused name beside its target.
func keepEdit(name, target string) error {
	to := target + ".edited"
	err := moveToNew(name, to)
	for n := 2; errors.Is(err, fs.ErrExist) && n <= 100; n++ {
		err = moveToNew(name, fmt.Sprintf("%s-%d", to, n))
	}
	if err != nil {
		return errors.Join(ErrNotKept, err)
	}
	return nil
}

// holds returns ErrChanged unless the file has exactly this content.
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

// place runs the step that gives a temporary file its final name.
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

// link creates a hard link; tests replace it.
var link = os.Link

// moveToNew renames a file to an unused name. Without hard links, an empty file reserves
// the name first.
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

// Stop waits for the current rename and deletes the temporary files. It keeps both locks,
// so unfinished writes never return; the caller must end the process.
func (w *Writer) Stop() {
	w.renaming.Lock()
	w.mu.Lock()
	for t := range w.temps {
		_ = t.file.Close()
		_ = os.Remove(t.file.Name())
	}
}

// NameAllowed reports whether the system accepts the name of a new file unchanged.
// Windows reserves names such as CON and AUX.WIF, and drops dots and spaces at the end of
// a name. NUL, the null device, is allowed.
func NameAllowed(path string) bool { return nameAllowed(filepath.Base(path)) }

// Key returns equal strings for paths of the same file, whether it exists yet or not. It
// follows symbolic links. It returns "" if even the folder is unknown.
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

// KeyOf returns the Key of an open file, "" if the system doesn't know it.
func KeyOf(f *os.File) string {
	is, err := factsOf(f)
	if err != nil || is.id == (id{}) {
		return ""
	}
	return fmt.Sprintf("%x:%x", is.device, is.number)
}

// facts holds what the system knows about an open file.
type facts struct {
	info fs.FileInfo
	id
	links       uint64
	user, group int // ids of the owner and group
}

// id identifies the file.
type id struct{ device, number uint64 }
