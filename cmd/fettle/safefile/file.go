package safefile

import (
	"os"
	"path/filepath"
)

// File is a file that is written piece by piece. It has a temporary name until
// Create or Overwrite gives it its own. Discard deletes it instead.
type File struct {
	writer *Writer
	path   string
	temp   *temp
}

// Begin starts a file that is to have this path.
func (w *Writer) Begin(path string) (*File, error) {
	folder, mode := filepath.Dir(path), os.FileMode(0o644)
	if target, err := filepath.EvalSymlinks(path); err == nil {
		folder, mode = filepath.Dir(target), 0o600 // Overwrite gives it the mode of the old one
	}
	t, err := w.newTemp(folder, mode)
	if err != nil {
		return nil, err
	}
	return &File{w, path, t}, nil
}

// Write adds to the file. After Stop it never returns.
func (f *File) Write(text []byte) (int, error) {
	f.writer.renaming.RLock()
	defer f.writer.renaming.RUnlock()
	return f.temp.file.Write(text)
}

// Create gives a new file its name. The error is fs.ErrExist where something has
// that name by now.
func (f *File) Create() error {
	defer f.Discard()
	if err := f.temp.file.Sync(); err != nil {
		return err
	}
	return f.writer.place(f.temp, func() error { return moveToNew(f.temp.file.Name(), f.path) })
}

// Overwrite puts the file in the place of another, whatever that holds. It follows
// symbolic links. The error is ErrAlreadyWritten where the same Writer has written the other.
func (f *File) Overwrite() error {
	defer f.Discard()
	content := func(string) (*temp, error) { return f.temp, nil }
	return f.writer.replace(f.path, content, os.O_WRONLY, f.writer.notWritten,
		func(t *temp, target string, _ func(*os.File) error) error { return rename(t.file.Name(), target) })
}

// Discard deletes the file unless it has its name.
func (f *File) Discard() { f.writer.discard(f.temp) }

// Scratch makes a file for content that is read back in the same run. Clean and
// Stop delete it.
func (w *Writer) Scratch() (*os.File, error) {
	t, err := w.newTemp(os.TempDir(), 0o600)
	if err != nil {
		return nil, err
	}
	return t.file, nil
}

// Clean deletes the temporary files that are left at the end of a run.
func (w *Writer) Clean() {
	w.mu.Lock()
	var left []*temp
	for t := range w.temps {
		left = append(left, t)
	}
	w.mu.Unlock()
	for _, t := range left {
		w.discard(t)
	}
}
