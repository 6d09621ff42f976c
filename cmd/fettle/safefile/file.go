package safefile

import (
	"os"
	"path/filepath"
)

// File is a file that is written piece by piece. It has a temporary name until Create or
// Overwrite renames it. Discard deletes it instead.
type File struct {
	writer *Writer
	path   string
	temp   *temp
}

// Begin starts a file for this path.
func (w *Writer) Begin(path string) (*File, error) {
	folder, mode := filepath.Dir(path), os.FileMode(0o644)
	if target, err := filepath.EvalSymlinks(path); err == nil {
		folder, mode = filepath.Dir(target), 0o600 // Overwrite copies the mode of the old file
	}
	t, err := w.newTemp(folder, mode)
	if err != nil {
		return nil, err
	}
	return &File{w, path, t}, nil
}

// Write appends to the file. After Stop it never returns.
func (f *File) Write(text []byte) (int, error) {
	f.writer.renaming.RLock()
	defer f.writer.renaming.RUnlock()
	return f.temp.file.Write(text)
}

// Create gives a new file its name. The error is fs.ErrExist if a file with that name
// exists by now.
func (f *File) Create() error {
	defer f.Discard()
	if err := f.temp.file.Sync(); err != nil {
		return err
	}
	return f.writer.place(f.temp, func() error { return moveToNew(f.temp.file.Name(), f.path) })
}

// Overwrite replaces another file, whatever it holds. It follows symbolic links. The
// error is ErrAlreadyWritten if the same Writer wrote the other file.
func (f *File) Overwrite() error {
	defer f.Discard()
	content := func(string) (*temp, error) { return f.temp, nil }
	return f.writer.replace(f.path, content, os.O_WRONLY, f.writer.notWritten,
		func(t *temp, target string, _ func(*os.File) error) error { return rename(t.file.Name(), target) })
}

// Discard deletes the file unless Create or Overwrite has renamed it.
func (f *File) Discard() { f.writer.discard(f.temp) }

// Scratch creates a file for data that the same run reads back. Clean and Stop delete it.
func (w *Writer) Scratch() (*os.File, error) {
	t, err := w.newTemp(os.TempDir(), 0o600)
	if err != nil {
		return nil, err
	}
	return t.file, nil
}

// Clean deletes the temporary files left at the end of a run.
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
