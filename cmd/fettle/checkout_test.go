package main

import (
	"os/exec"
	"strings"
	"testing"
)

// TestNoFailureFiles makes sure that nobody commits what a failing property test
// leaves behind: such a file belongs to one machine, one day and one fault.
func TestNoFailureFiles(t *testing.T) {
	out, err := exec.Command("git", "-C", "../..", "ls-files", "--", "*.fail", "*testdata/rapid/*").Output()
	if err != nil {
		t.Skip("not a git checkout")
	}
	if files := strings.TrimSpace(string(out)); files != "" {
		t.Errorf("committed failures of property tests:\n%s", files)
	}
}
