package golden

import (
	"os"
	"path/filepath"
	"testing"
	"time"
)

// TestWriteFile checks that a file that is up to date isn't touched, and that another is
// replaced.
func TestWriteFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "folder", "golden.txt")
	past := time.Now().Add(-time.Hour).Truncate(time.Second)
	for _, step := range []struct {
		text    string
		touched bool
	}{{"old", true}, {"old", false}, {"new", true}} {
		if err := WriteFile(path, []byte(step.text)); err != nil {
			t.Fatal(err)
		}
		info, err := os.Stat(path)
		if err != nil || info.ModTime().Equal(past) == step.touched {
			t.Errorf("%q: %v, %v", step.text, info.ModTime(), err)
		}
		if got, err := os.ReadFile(path); err != nil || string(got) != step.text {
			t.Errorf("%q: %q, %v", step.text, got, err)
		}
		if err := os.Chtimes(path, past, past); err != nil {
			t.Fatal(err)
		}
	}
}
