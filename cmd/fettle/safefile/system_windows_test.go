package safefile

import (
	"errors"
	"os"
	"testing"
)

// TestOpenElsewhere checks that a file open in another program stays unchanged, and that
// the error says so.
func TestOpenElsewhere(t *testing.T) {
	path := given(t, "old")
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := new(Writer).Replace(path, []byte("old"), []byte("new")); !errors.As(err, new(InUseError)) {
		t.Errorf("%v", err)
	}
	if err := overwrite(new(Writer), path, []byte("new")); !errors.As(err, new(InUseError)) {
		t.Errorf("%v", err)
	}
	want(t, path, "old")
}

func TestNameAllowed(t *testing.T) {
	for name, want := range map[string]bool{
		"a.wif": true, "NUL": true, "nul": true, "console.wif": true, `folder\a.wif`: true, "a b.wif": true,
		"CON": false, "aux.wif": false, "COM1": false, "prn.json": false, "a.wif.": false, "a.wif ": false, `folder\con.wif`: false,
	} {
		if is := NameAllowed(name); is != want {
			t.Errorf("%s: %v", name, is)
		}
	}
}
