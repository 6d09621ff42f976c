package main

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fettle/corpus"
)

// dirtyFolder is a folder of drafts to clean, and their texts before and after, by path.
func dirtyFolder(t *testing.T, count int) (folder string, before, after map[string][]byte) {
	t.Helper()
	folder = filepath.Join(t.TempDir(), "drafts")
	other := filepath.Join(t.TempDir(), "cleaned")
	before, after = map[string][]byte{}, map[string][]byte{}
	for n := range count {
		raw, _ := corpus.Dirty(uint64(n))
		path := filepath.Join(folder, fmt.Sprintf("%d", n/100), fmt.Sprintf("draft-%03d.wif", n))
		if err := folderFor(path); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, raw, 0o640); err != nil {
			t.Fatal(err)
		}
		before[path] = raw
	}
	if out, status := runs(t, "clean", folder, "--out-dir", other, "--quiet"); status != statusFine {
		t.Fatalf("status %d: %s", status, out)
	}
	for path := range before {
		rel, err := filepath.Rel(folder, path)
		if err != nil {
			t.Fatal(err)
		}
		if after[path], err = os.ReadFile(filepath.Join(other, rel)); err != nil {
			t.Fatal(err)
		}
	}
	return folder, before, after
}

// runs runs a command in this process.
func runs(t *testing.T, args ...string) (out string, status int) {
	t.Helper()
	var b bytes.Buffer
	p := &program{in: strings.NewReader(""), out: &b, err: &b}
	status = p.run(append([]string{"fettle"}, args...))
	return b.String(), status
}

// TestKilledInTheMiddle kills clean at random moments. Every file holds its complete old
// or new text, and a run that finishes writes all new texts.
func TestKilledInTheMiddle(t *testing.T) {
	folder, before, after := dirtyFolder(t, 300)
	begun := 0
	for n := 0; n < 15 || begun == 0 && n < 300; n++ { // a busy machine needs longer to begin
		c := exec.Command("fettle", "clean", folder, "--write", "--quiet", "--jobs", "2")
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(5+7*n) * time.Millisecond)
		if err := c.Process.Kill(); err != nil && !errors.Is(err, os.ErrProcessDone) {
			t.Fatal(err)
		}
		if err := c.Wait(); err == nil {
			break // all files are clean now
		}
		begun = max(begun, changedIn(t, before, after))
	}
	if out, status := runs(t, "clean", folder, "--write"); status != statusFine {
		t.Fatalf("status %d: %s", status, out)
	}
	if left := len(before) - changedIn(t, before, after); left > 0 {
		t.Errorf("%d files are not cleaned", left)
	}
	if out, status := runs(t, "clean", folder, "--check"); status != statusFine {
		t.Errorf("status %d: %s", status, out)
	}
	if begun == 0 {
		t.Error("no run was killed in the middle")
	}
}

// changedIn returns how many files hold their new text. The test fails if a file holds
// neither the old nor the new text, or has another mode.
func changedIn(t *testing.T, before, after map[string][]byte) (changed int) {
	t.Helper()
	for path, old := range before {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case bytes.Equal(text, after[path]):
			changed++
		case !bytes.Equal(text, old):
			t.Fatalf("%s is neither the old nor the new one:\n%s", path, text)
		}
		if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o640 {
			t.Fatalf("%s has the mode %v, %v", path, info.Mode(), err)
		}
	}
	return changed
}

// untilUnderWay waits until a run has changed the first file.
func untilUnderWay(t *testing.T, before, after map[string][]byte) {
	t.Helper()
	for _, path := range slices.Sorted(maps.Keys(before)) {
		if bytes.Equal(before[path], after[path]) {
			continue
		}
		for range 10_000 {
			if text, err := os.ReadFile(path); err == nil && !bytes.Equal(text, before[path]) {
				return
			}
			time.Sleep(time.Millisecond)
		}
		t.Fatalf("%s was not changed", path)
	}
}

// TestInterrupted interrupts a run as with Ctrl-C. The run says so and leaves no
// temporary file.
func TestInterrupted(t *testing.T) {
	folder, before, after := dirtyFolder(t, 300)
	c := exec.Command("fettle", "clean", folder, "--write", "--jobs", "1")
	var said bytes.Buffer
	c.Stderr = &said
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	untilUnderWay(t, before, after)
	if err := c.Process.Signal(os.Interrupt); err != nil {
		t.Skip("the system has no such signal, or the run was over already")
	}
	err := c.Wait()
	changedIn(t, before, after)
	if err != nil && (c.ProcessState.ExitCode() != statusFailed || !strings.Contains(said.String(), "of 300 files")) {
		t.Errorf("%v; it said: %s", err, said.String())
	}
	paths, err := filepath.Glob(filepath.Join(folder, "*", ".*"))
	if err != nil || len(paths) > 0 {
		t.Errorf("left behind: %q, %v", paths, err)
	}
}

// TestDiskFull checks that a full disk is reported and nothing is lost.
func TestDiskFull(t *testing.T) {
	shell, err := exec.LookPath("sh")
	if err != nil {
		t.Skip("there is no shell here to set a limit")
	}
	folder, before, _ := dirtyFolder(t, 3)
	out, err := exec.Command(shell, "-c", `ulimit -f 0; exec fettle clean "$0" --write`, folder).CombinedOutput()
	var ended *exec.ExitError
	if !errors.As(err, &ended) || ended.ExitCode() != statusFailed || !strings.Contains(string(out), "not written: file too large") {
		t.Errorf("%v: %s", err, out)
	}
	if changed := changedIn(t, before, before); changed != len(before) {
		t.Errorf("%d files of %d are what they were", changed, len(before))
	}
	paths, err := filepath.Glob(filepath.Join(folder, "*", ".*"))
	if err != nil || len(paths) > 0 {
		t.Errorf("left behind: %q, %v", paths, err)
	}
}
