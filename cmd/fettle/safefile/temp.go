package safefile

import (
	"crypto/rand"
	"errors"
	"os"
	"path/filepath"
	"regexp"
)

// temp is a new file with a temporary name in its final folder. It is locked while in
// use.
type temp struct{ file *os.File }

// tempName is the pattern of temporary names.
var tempName = regexp.MustCompile(`^\.fettle-[A-Z2-7]{26}\.tmp$`)

// tries limits the attempts to create a file. An attempt fails only if another run sweeps
// the file before it is locked.
const tries = 10

// newTemp sweeps the folder and creates a temporary file in it.
func (w *Writer) newTemp(folder string, mode os.FileMode) (*temp, error) {
	w.sweep(folder)
	w.renaming.RLock()
	defer w.renaming.RUnlock()
	for range tries {
		f, err := openTemp(filepath.Join(folder, ".fettle-"+rand.Text()+".tmp"), mode)
		if err != nil {
			return nil, err
		}
		if !lock(f) {
			_ = f.Close()
			continue
		}
		t := &temp{f}
		w.mu.Lock()
		defer w.mu.Unlock()
		if w.temps == nil {
			w.temps = map[*temp]bool{}
		}
		w.temps[t] = true
		return t, nil
	}
	return nil, errors.New("another program keeps deleting the temporary file")
}

// discard deletes a temporary file unless it has its final name.
func (w *Writer) discard(t *temp) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.temps[t] {
		delete(w.temps, t)
		_ = os.Remove(t.file.Name())
		_ = t.file.Close()
	}
}

// sweep deletes the temporary files of killed runs in a folder, once per run.
func (w *Writer) sweep(folder string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.swept[folder] {
		return
	}
	if w.swept == nil {
		w.swept = map[string]bool{}
	}
	w.swept[folder] = true
	f, err := os.Open(folder)
	if err != nil {
		return
	}
	defer f.Close()
	names, _ := f.Readdirnames(-1)
	for _, name := range names {
		if tempName.MatchString(name) {
			removeAbandoned(filepath.Join(folder, name))
		}
	}
}
