package golden

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestCompare writes texts, reads them back and finds a difference.
func TestCompare(t *testing.T) {
	file = filepath.Join(t.TempDir(), "testdata", "words.golden")
	texts := map[string]string{"a": "one line", "a (2)": "", "b/c": "== two\n\tlines\n"}
	if err := write(texts); err != nil {
		t.Fatal(err)
	}
	if back, err := parse(os.ReadFile(file)); err != nil || len(back) != 3 || back["b/c"] != texts["b/c"] || back["a (2)"] != "" {
		t.Fatalf("%q, %v", back, err)
	}
	for _, row := range []struct {
		name, got, fails string
	}{
		{"a", "one line\n", ""},
		{"a", "", ""},
		{"a", "", `lacks "a (3)"`},
		{"b/c", "other", `"b/c" in`},
	} {
		err := Compare(row.name, row.got)
		if (err == nil) != (row.fails == "") || err != nil && !strings.Contains(err.Error(), row.fails) {
			t.Errorf("%s, %q: %v", row.name, row.got, err)
		}
	}
	*Update = true
	defer func() { *Update = false }()
	if err := errors.Join(Compare("d", "new"), Compare("b/c", "changed")); err != nil {
		t.Fatal(err)
	}
	if back, err := parse(os.ReadFile(file)); err != nil || back["d"] != "new" || back["b/c (2)"] != "changed" {
		t.Errorf("%q, %v", back, err)
	}
}

func TestParseNamesTheLine(t *testing.T) {
	if _, err := parse([]byte("== a\n\tb\nc\n"), nil); err == nil || !strings.Contains(err.Error(), `"c"`) {
		t.Error(err)
	}
}
