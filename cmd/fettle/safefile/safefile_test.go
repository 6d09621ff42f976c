package safefile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// given is a file with this text in a new folder.
func given(t *testing.T, text string) (path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "a.wif")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// want checks the text of a file, and that its folder holds nothing else.
func want(t *testing.T, path, text string) {
	t.Helper()
	if is, err := os.ReadFile(path); err != nil || string(is) != text {
		t.Errorf("%s holds %q, %v; want %q", path, is, err, text)
	}
	list, err := filepath.Glob(filepath.Join(filepath.Dir(path), ".*"))
	if err != nil || len(list) > 0 {
		t.Errorf("left behind: %q, %v", list, err)
	}
}

// create and overwrite write a whole file at once.
func create(w *Writer, path string, text []byte) error {
	return written(w, path, text, (*File).Create)
}

func overwrite(w *Writer, path string, text []byte) error {
	return written(w, path, text, (*File).Overwrite)
}

func written(w *Writer, path string, text []byte, end func(*File) error) error {
	f, err := w.Begin(path)
	if err != nil {
		return err
	}
	if _, err := f.Write(text); err != nil {
		return err
	}
	return end(f)
}

// symlinked creates a symbolic link and reports whether the system supports them.
func symlinked(to, link string) bool {
	if os.Symlink(to, link) != nil {
		return false
	}
	is, err := os.Readlink(link)
	return err == nil && is == to
}

// TestEditsAreKept keeps several edits beside a file. None replaces another.
func TestEditsAreKept(t *testing.T) {
	target := filepath.Join(t.TempDir(), "a.wif")
	for n, want := range []string{target + ".edited", target + ".edited-2", target + ".edited-3"} {
		name := target + ".temporary"
		if err := errors.Join(os.WriteFile(name, []byte{byte('0' + n)}, 0o644), keepEdit(name, target)); err != nil {
			t.Fatal(err)
		}
		if text, err := os.ReadFile(want); err != nil || string(text) != string(rune('0'+n)) {
			t.Errorf("%s holds %q, %v", want, text, err)
		}
	}
	if err := keepEdit(target+".gone", target); !errors.Is(err, ErrNotKept) {
		t.Errorf("a missing file gives %v", err)
	}
}

func TestReplace(t *testing.T) {
	for _, c := range []struct {
		name      string
		now       string // the file's current text
		meanwhile func(path string) error
		want      error
		after     string
	}{
		{name: "as read", now: "old", after: "new"},
		{name: "empty", now: "", want: ErrChanged, after: ""},
		{name: "edited, of the same size", now: "odd", want: ErrChanged, after: "odd"},
		{name: "longer", now: "older", want: ErrChanged, after: "older"},
		{name: "shorter", now: "ol", want: ErrChanged, after: "ol"},
		{name: "edited after the last look", now: "old", want: ErrChanged, after: "edited",
			meanwhile: func(path string) error { return os.WriteFile(path, []byte("edited"), 0o644) }},
		{name: "replaced after the last look", now: "old", want: ErrChanged, after: "odd",
			meanwhile: func(path string) error {
				other := path + ".other"
				return errors.Join(os.WriteFile(other, []byte("odd"), 0o644), os.Rename(other, path))
			}},
		{name: "same size, and the time put back", now: "old", want: ErrChanged, after: "odd",
			meanwhile: func(path string) error {
				info, err := os.Stat(path)
				other := path + ".other"
				return errors.Join(err, os.WriteFile(other, []byte("odd"), 0o644), os.Chtimes(other, info.ModTime(), info.ModTime()), os.Rename(other, path))
			}},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := given(t, c.now)
			var w Writer
			err := w.replace(path, w.whole([]byte("new")), os.O_RDWR, func(f *os.File) error {
				if err := holds(f, []byte("old")); err != nil || c.meanwhile == nil {
					return err
				}
				if err := c.meanwhile(path); errors.As(inUse(err), new(InUseError)) {
					t.Skip("the system lets nobody replace an open file")
				} else if err != nil {
					t.Fatal(err)
				}
				return nil
			}, exchange)
			if !errors.Is(err, c.want) {
				t.Errorf("%v, want %v", err, c.want)
			}
			want(t, path, c.after)
		})
	}
}

// TestReplaceLarge replaces a file larger than the read buffer.
func TestReplaceLarge(t *testing.T) {
	old := bytes.Repeat([]byte("0123456789"), 20_000)
	path := given(t, string(old))
	changed := bytes.Clone(old)
	changed[len(changed)-1] = 'x'
	if err := new(Writer).Replace(path, changed, []byte("new")); !errors.Is(err, ErrChanged) {
		t.Error(err)
	}
	if err := new(Writer).Replace(path, old, []byte("new")); err != nil {
		t.Error(err)
	}
	want(t, path, "new")
}

func TestReplaceThroughLink(t *testing.T) {
	path := given(t, "old")
	link := filepath.Join(t.TempDir(), "link.wif")
	if !symlinked(path, link) {
		t.Skip("there are no symbolic links here")
	}
	if err := new(Writer).Replace(link, []byte("old"), []byte("new")); err != nil {
		t.Fatal(err)
	}
	want(t, path, "new")
	if info, err := os.Lstat(link); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("the link is %v, %v", info, err)
	}
}

func TestHardLinks(t *testing.T) {
	path := given(t, "old")
	other := filepath.Join(filepath.Dir(path), "other.wif")
	if err := os.Link(path, other); err != nil {
		t.Skip("there are no hard links here")
	}
	var w Writer
	for _, err := range []error{w.Replace(path, []byte("old"), []byte("new")), overwrite(&w, path, []byte("new"))} {
		if links := (LinksError{}); !errors.As(err, &links) || links.Links != 2 {
			t.Errorf("%v", err)
		}
	}
	want(t, path, "old")
	want(t, other, "old")
}

func TestOverwrite(t *testing.T) {
	path := given(t, "old")
	var w Writer
	if err := overwrite(&w, path, []byte("new")); err != nil {
		t.Fatal(err)
	}
	if err := overwrite(&w, path, []byte("newer")); !errors.Is(err, ErrAlreadyWritten) {
		t.Errorf("written twice by one run: %v", err)
	}
	if err := overwrite(new(Writer), path, []byte("newest")); err != nil {
		t.Error(err)
	}
	want(t, path, "newest")
}

// TestCreate lets many goroutines create the same file. One succeeds, and its text is in
// the file.
func TestCreate(t *testing.T) {
	for _, c := range []struct {
		name string
		link func(from, to string) error
	}{
		{"with hard links", os.Link},
		{"without", func(string, string) error { return errors.ErrUnsupported }},
	} {
		t.Run(c.name, func(t *testing.T) {
			defer func() { link = os.Link }()
			link = c.link
			path := filepath.Join(t.TempDir(), "a.wif")
			var w Writer
			var group sync.WaitGroup
			var written atomic.Value
			for n := range 20 {
				group.Go(func() {
					text := fmt.Sprint("text ", n)
					switch err := create(&w, path, []byte(text)); {
					case err == nil && written.Swap(text) != nil:
						t.Error("written twice")
					case err != nil && !errors.Is(err, fs.ErrExist):
						t.Error(err)
					}
				})
			}
			group.Wait()
			want(t, path, written.Load().(string))
		})
	}
}

// TestCreateKeeps checks that Create leaves an existing file alone.
func TestCreateKeeps(t *testing.T) {
	path := given(t, "old")
	if err := create(new(Writer), path, []byte("new")); !errors.Is(err, fs.ErrExist) {
		t.Error(err)
	}
	want(t, path, "old")
	dangling := filepath.Join(filepath.Dir(path), "dangling.wif")
	if !symlinked("nowhere.wif", dangling) {
		t.Skip("there are no symbolic links here")
	}
	if err := create(new(Writer), dangling, []byte("new")); !errors.Is(err, fs.ErrExist) {
		t.Error(err)
	}
	if to, err := os.Readlink(dangling); err != nil || to != "nowhere.wif" {
		t.Error(to, err)
	}
}

// TestSweep checks that only the files of a killed run are deleted.
func TestSweep(t *testing.T) {
	folder := t.TempDir()
	var other Writer
	used, err := other.newTemp(folder, 0o600)
	if err != nil {
		t.Fatal(err)
	}
	defer other.discard(used)
	abandoned := filepath.Join(folder, ".fettle-AAAAAAAAAAAAAAAAAAAAAAAAAA.tmp")
	kept := []string{filepath.Base(used.file.Name())}
	for _, name := range []string{
		".fettle-AAAAAAAAAAAAAAAAAAAAAAAAA.tmp", ".fettle-dddddddddddddddddddddddddd.tmp",
		"fettle-AAAAAAAAAAAAAAAAAAAAAAAAAA.tmp", ".fettle-AAAAAAAAAAAAAAAAAAAAAAAAAA.tmp.wif",
	} {
		kept = append(kept, name)
		if err := os.WriteFile(filepath.Join(folder, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	inside := ".fettle-BBBBBBBBBBBBBBBBBBBBBBBBBB.tmp"
	kept = append(kept, inside)
	if err := errors.Join(os.WriteFile(abandoned, nil, 0o600), os.Mkdir(filepath.Join(folder, inside), 0o700)); err != nil {
		t.Fatal(err)
	}
	if name := ".fettle-CCCCCCCCCCCCCCCCCCCCCCCCCC.tmp"; symlinked(kept[1], filepath.Join(folder, name)) {
		kept = append(kept, name)
	}
	if err := create(new(Writer), filepath.Join(folder, "a.wif"), nil); err != nil {
		t.Fatal(err)
	}
	for _, name := range kept {
		if _, err := os.Lstat(filepath.Join(folder, name)); err != nil {
			t.Error(err)
		}
	}
	if _, err := os.Lstat(abandoned); !errors.Is(err, fs.ErrNotExist) && hasLocks {
		t.Error("what a killed run left is still there:", err)
	}
}

// TestClean checks that Clean deletes only unfinished files of this run.
func TestClean(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	path := given(t, "old")
	var w Writer
	begun, err := w.Begin(path)
	if err != nil {
		t.Fatal(err)
	}
	scratch, err := w.Scratch()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []io.Writer{begun, scratch} {
		if _, err := f.Write([]byte("new")); err != nil {
			t.Error(err)
		}
	}
	w.Clean()
	want(t, path, "old")
	if _, err := os.Lstat(scratch.Name()); !errors.Is(err, fs.ErrNotExist) {
		t.Error(err)
	}
	if err := begun.Overwrite(); err == nil {
		t.Error("a file that is gone replaced another")
	}
	want(t, path, "old")
}

// TestStop checks that Stop deletes temporary files and blocks all later writes.
func TestStop(t *testing.T) {
	path := given(t, "old")
	var w Writer
	if _, err := w.newTemp(filepath.Dir(path), 0o600); err != nil {
		t.Fatal(err)
	}
	w.Stop()
	done := make(chan error, 2)
	go func() { done <- w.Replace(path, []byte("old"), []byte("new")) }()
	go func() { done <- create(&w, path+".new", []byte("new")) }()
	select {
	case err := <-done:
		t.Errorf("something went on: %v", err)
	case <-time.After(50 * time.Millisecond):
	}
	want(t, path, "old")
	if _, err := os.Lstat(path + ".new"); !errors.Is(err, fs.ErrNotExist) {
		t.Error(err)
	}
}

func TestKey(t *testing.T) {
	path := given(t, "text")
	folder := filepath.Dir(path)
	same := []string{path, filepath.Join(folder, ".", "x", "..", "a.wif")}
	if link := filepath.Join(folder, "hard.wif"); os.Link(path, link) == nil {
		same = append(same, link)
	}
	if link := filepath.Join(folder, "soft.wif"); symlinked("a.wif", link) {
		same = append(same, link)
	}
	for _, other := range same {
		if Key(other) != Key(path) || Key(path) == "" {
			t.Errorf("%s: %q, %s: %q", path, Key(path), other, Key(other))
		}
	}
	missing := filepath.Join(folder, "missing.wif")
	if Key(missing) == Key(path) || Key(missing) == Key(path+"2") || Key(missing) == "" {
		t.Errorf("%q", Key(missing))
	}
	if to := filepath.Join(t.TempDir(), "folder"); symlinked(folder, to) {
		if other := filepath.Join(to, "missing.wif"); Key(other) != Key(missing) {
			t.Errorf("%s: %q, %s: %q", missing, Key(missing), other, Key(other))
		}
	}
	if key := Key(filepath.Join(folder, "no", "where.wif")); key != "" {
		t.Errorf("%q", key)
	}
	upper := filepath.Join(folder, strings.ToUpper("a.wif"))
	if _, err := os.Stat(upper); err == nil && Key(upper) != Key(path) {
		t.Errorf("%s: %q, %s: %q", path, Key(path), upper, Key(upper))
	}
}
