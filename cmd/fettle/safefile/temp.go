package safefile

import (
	"crypto/rand"
	"errors"
	"os"
	"path/filepath"
	"regexp"
)

// temp is a new file under a name of its own, in the folder where it is to stay.
// It is locked as long as it is in use.
type temp struct{ file *os.File }

// tempName is the shape of temporary names.
var tempName = regexp.MustCompile(`^\.fettle-[A-Z2-7]{26}\.tmp$`)

// tries is how often a name is tried. The first fails only where another run
// sweeps the file between its creation and its lock.
const tries = 10

// newTemp makes a temporary file, after sweeping the folder.
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

// discard deletes a temporary file unless it has been placed.
func (w *Writer) discard(t *temp) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.temps[t] {
		delete(w.temps, t)
		_ = os.Remove(t.file.Name())
		_ = t.file.Close()
	}
}

// sweep deletes temporary files that a killed run left in a folder. Each folder
// is swept once.
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
