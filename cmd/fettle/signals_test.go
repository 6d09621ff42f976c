//go:build unix

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// started starts a command and returns its output once it has ended.
func started(t *testing.T, name string, args ...string) (c *exec.Cmd, said *bytes.Buffer) {
	t.Helper()
	c, said = exec.Command(name, args...), &bytes.Buffer{}
	c.Stderr = said
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = c.Process.Kill() })
	return c, said
}

// stops runs a command repeatedly until a signal reaches it at work: not before it
// handles signals, and not after its end. It returns how long the command then took to end.
func stops(t *testing.T, with syscall.Signal, args ...string) (c *exec.Cmd, said *bytes.Buffer, took time.Duration) {
	t.Helper()
	wait := 100 * time.Millisecond
	for range 40 {
		c, said = started(t, "fettle", args...)
		time.Sleep(wait)
		if err := c.Process.Signal(with); err != nil {
			t.Fatal(err)
		}
		took = ends(c)
		unready := strings.HasPrefix(said.String(), "SIGQUIT") // the Go runtime ends such a program with status 2
		switch {
		case c.ProcessState.ExitCode() == -1 || unready: // too early
			wait += wait / 4
		case c.ProcessState.ExitCode() < statusFailed && !strings.HasPrefix(said.String(), "fettle: stopped"): // too late
			wait -= wait / 3
		default:
			return c, said, took
		}
	}
	return c, said, took
}

// ends waits for a command to end and returns how long that took.
func ends(c *exec.Cmd) time.Duration {
	began := time.Now()
	_ = c.Wait()
	return time.Since(began)
}

// slowDraft is a draft that keeps every command busy until the test ends.
func slowDraft(t *testing.T) (path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "slow.wif")
	var b bytes.Buffer
	const threads = 400_000
	fmt.Fprintf(&b, "[WIF]\nVersion=1.1\n[WEAVING]\nShafts=64\nTreadles=%d\nRising Shed=1\n[WARP]\nThreads=%[1]d\n[WEFT]\nThreads=%[1]d\n[THREADING]\n", threads)
	for n := 1; n <= threads; n++ {
		fmt.Fprintf(&b, "%d=%d,\n", n, 1+n*n*7919%64)
	}
	b.WriteString("[LIFTPLAN]\n")
	for n := 1; n <= threads; n++ {
		fmt.Fprintf(&b, "%d=%d,%d,%d\n", n, 1+n*31%60, 61+n%4, 1+n*n%60)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestStopsInsideOneFile stops each command while it works on one large draft.
func TestStopsInsideOneFile(t *testing.T) {
	path := slowDraft(t)
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		args   []string
		signal syscall.Signal
	}{
		{[]string{"lint", path}, syscall.SIGINT},
		{[]string{"clean", path, "--write"}, syscall.SIGTERM},
		{[]string{"convert", path, "--to", "json", "--output", path + ".json", "--overwrite"}, syscall.SIGHUP},
		{[]string{"info", path}, syscall.SIGQUIT},
		{[]string{"plan", path, "--sett", "8/cm", "--finished-length", "1m"}, syscall.SIGINT},
	} {
		t.Run(test.args[0], func(t *testing.T) {
			if signal.Ignored(test.signal) {
				t.Skip("the tests run under nohup or the like")
			}
			c, said, took := stops(t, test.signal, test.args...)
			if took > time.Minute { // a busy machine needs several seconds
				t.Errorf("it took %v to stop", took)
			}
			if c.ProcessState.ExitCode() != statusFailed || !strings.HasPrefix(said.String(), "fettle: stopped") {
				t.Errorf("%v: %s", c.ProcessState, said)
			}
			if now, err := os.ReadFile(path); err != nil || !bytes.Equal(now, before) {
				t.Errorf("the draft has changed: %v", err)
			}
			if paths, err := filepath.Glob(filepath.Join(filepath.Dir(path), ".*")); err != nil || len(paths) > 0 {
				t.Errorf("left behind: %q, %v", paths, err)
			}
		})
	}
}

// TestSecondSignal checks that a second signal ends a process at once. The first one
// waits here for a rename that never ends.
func TestSecondSignal(t *testing.T) {
	if os.Getenv("FETTLE_NEVER_STOPS") != "" {
		p := &program{in: os.Stdin, out: os.Stdout, err: os.Stderr}
		p.files.Stop() // a second Stop waits forever
		p.stopOnSignal()
		fmt.Println("ready")
		select {}
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(self, "-test.run=^TestSecondSignal$")
	c.Env = append(os.Environ(), "FETTLE_NEVER_STOPS=1")
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	defer c.Process.Kill()
	if _, err := io.ReadFull(out, make([]byte, len("ready\n"))); err != nil {
		t.Fatal(err)
	}
	done := make(chan time.Duration)
	go func() { done <- ends(c) }()
	_ = c.Process.Signal(os.Interrupt)
	select {
	case <-done:
		t.Fatal("one signal was enough, so that this test shows nothing")
	case <-time.After(100 * time.Millisecond):
	}
	_ = c.Process.Signal(os.Interrupt)
	select {
	case <-done:
		if c.ProcessState.ExitCode() != statusFailed {
			t.Error(c.ProcessState)
		}
	case <-time.After(30 * time.Second):
		t.Error("the second signal did not end it")
	}
}

// TestIgnoredSignal checks that a run goes on if the signal was ignored at its start, as
// under nohup.
func TestIgnoredSignal(t *testing.T) {
	c := exec.Command("sh", "-c", "trap '' HUP; exec fettle info --format json -")
	in, err := c.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	for range 5 {
		time.Sleep(100 * time.Millisecond)
		_ = c.Process.Signal(syscall.SIGHUP)
	}
	_, _ = io.WriteString(in, "[WIF]\nVersion=1.1\n[WEAVING]\nShafts=2\n[WARP]\nThreads=2\n[THREADING]\n1=1\n2=2\n")
	_ = in.Close()
	if _ = ends(c); c.ProcessState.ExitCode() != statusFine {
		t.Errorf("%v, want status %d", c.ProcessState, statusFine)
	}
}

// TestKilledRunIsSwept checks that the next run in a folder deletes the
// temporary files of a killed run.
func TestKilledRunIsSwept(t *testing.T) {
	folder := t.TempDir()
	left := filepath.Join(folder, ".fettle-AAAAAAAAAAAAAAAAAAAAAAAAAA.tmp")
	if err := os.WriteFile(left, []byte("half a draft"), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, status := runs(t, "init", "--output", filepath.Join(folder, "fettle.ini")); status != statusFine {
		t.Fatal(out)
	}
	if _, err := os.Lstat(left); err == nil {
		t.Error("it is still there")
	}
}

// TestEditedMeanwhile edits drafts while clean runs, like an editor that replaces files.
// In the end each file has the edit, cleaned or not.
func TestEditedMeanwhile(t *testing.T) {
	folder, before, _ := dirtyFolder(t, 200)
	copies := t.TempDir()
	c, said := started(t, "fettle", "clean", folder, "--write", "--jobs", "2")
	edits := map[string][]byte{}
	for path := range before {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		text = append(text, fmt.Sprintf("\n; edit %d", len(edits))...)
		edits[path] = text
		err = errors.Join(os.WriteFile(path+".edit", text, 0o640), os.Rename(path+".edit", path),
			os.WriteFile(filepath.Join(copies, filepath.Base(path)), text, 0o640))
		if err != nil {
			t.Fatal(err)
		}
	}
	_ = ends(c)
	_, _ = runs(t, "clean", copies, "--write")
	for path, edited := range edits {
		now, err := os.ReadFile(path)
		cleaned, err2 := os.ReadFile(filepath.Join(copies, filepath.Base(path)))
		if err := errors.Join(err, err2); err != nil || !bytes.Equal(now, edited) && !bytes.Equal(now, cleaned) {
			t.Errorf("%s lost its edit: %v", path, err)
		}
	}
	t.Logf("%d edits; %d files refused", len(edits), strings.Count(said.String(), "not written"))
}
