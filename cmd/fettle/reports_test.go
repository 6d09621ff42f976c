package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// TestReportGrowsInItsFile writes a report piece by piece. It has a temporary name until
// it is finished, and is deleted if it never is.
func TestReportGrowsInItsFile(t *testing.T) {
	for _, finish := range []bool{true, false} {
		folder := t.TempDir()
		path := filepath.Join(folder, "report.json")
		p := &program{out: io.Discard, err: io.Discard}
		to := &target{program: p, form: "json", path: path}
		for range 3 {
			if _, err := to.Write([]byte("abc")); err != nil {
				t.Fatal(err)
			}
		}
		temporary, err := filepath.Glob(filepath.Join(folder, ".fettle-*.tmp"))
		if err != nil || len(temporary) != 1 {
			t.Fatal(temporary, err)
		}
		if text, err := os.ReadFile(temporary[0]); err != nil || string(text) != "abcabcabc" {
			t.Errorf("so far it holds %q, %v", text, err)
		}
		if _, err := os.Stat(path); err == nil {
			t.Error("the file is there before it is whole")
		}
		if finish {
			if err := to.finish(); err != nil {
				t.Error(err)
			}
		}
		p.files.Clean()
		text, _ := os.ReadFile(path)
		if want := bytes.Repeat([]byte("abc"), 3); finish && !bytes.Equal(text, want) || !finish && text != nil {
			t.Errorf("finished %v: it holds %q", finish, text)
		}
		if left, _ := filepath.Glob(filepath.Join(folder, ".fettle-*")); left != nil {
			t.Errorf("left behind: %q", left)
		}
	}
}
