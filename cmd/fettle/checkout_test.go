package main

import (
	"os/exec"
	"strings"
	"testing"
)

// TestNoFailureFiles checks that no failure files of property tests are committed: they
// are only for the machine that wrote them.
func TestNoFailureFiles(t *testing.T) {
	out, err := exec.Command("git", "-C", "../..", "ls-files", "--", "*.fail", "*testdata/rapid/*").Output()
	if err != nil {
		t.Skip("not a git checkout")
	}
	if files := strings.TrimSpace(string(out)); files != "" {
		t.Errorf("committed failures of property tests:\n%s", files)
	}
}
