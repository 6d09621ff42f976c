package collection

import (
	"os"
	"path/filepath"
	"testing"
)

func TestRoot(t *testing.T) {
	here := t.TempDir()
	t.Chdir(here)
	for _, test := range []struct{ root, path, want string }{
		{here, "a.wif", "a.wif"},
		{here, "./deep//a.wif", "deep/a.wif"},
		{here, filepath.Join(here, "deep", "a.wif"), "deep/a.wif"},
		{filepath.Join(here, "deep"), "deep/a.wif", "a.wif"},
		{filepath.Join(here, "deep"), "a.wif", "../a.wif"},
		{filepath.Join(here, "deep"), "deeper/a.wif", "../deeper/a.wif"},
		{filepath.Dir(here), "a.wif", filepath.Base(here) + "/a.wif"},
		{here, "-", "-"},
		{here, "a\xff.wif", "a\xff.wif"},
		{"", "./a.wif", "./a.wif"},
	} {
		var root Root
		if test.root != "" {
			var err error
			if root, err = RootAt(test.root); err != nil {
				t.Fatal(err)
			}
		}
		got := root.Path(test.path)
		if got != test.want {
			t.Errorf("%s from %s is %q, want %q", test.path, test.root, got, test.want)
		}
		full, err := filepath.Abs(test.path)
		if back := root.File(got); err != nil || test.root != "" && test.path != "-" && back != full {
			t.Errorf("%s is the file %s, want %s", got, back, full)
		}
	}
}

func TestCommonFolder(t *testing.T) {
	tree(t, map[string]string{"a.wif": draft, "deep/b.wif": draft, "deep/er/c.wif": draft, "deeper/d.wif": draft})
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		args []string
		want string
	}{
		{nil, "."},
		{[]string{"."}, "."},
		{[]string{"deep"}, "deep"},
		{[]string{"deep/b.wif"}, "deep"},
		{[]string{"deep/er/*.wif"}, "deep/er"},
		{[]string{"**/*.wif"}, "."},
		{[]string{"deep/er/c.wif", "deep/b.wif"}, "deep"},
		{[]string{"deep/b.wif", "deep/er"}, "deep"},
		{[]string{"deep", "deeper"}, "."}, // a name that begins like another is another
		{[]string{"deep", "a.wif"}, "."},
		{[]string{"deep", "-"}, "."},
		{[]string{"deep/gone.wif"}, "deep"},
	} {
		got, err := CommonFolder(test.args)
		if want := filepath.Join(here, test.want); err != nil || got != want {
			t.Errorf("%q lie in %s (%v), want %s", test.args, got, err, want)
		}
	}
	if got, err := CommonFolder([]string{"/", "deep"}); err != nil || got != string(os.PathSeparator) {
		t.Errorf("the top: %s, %v", got, err)
	}
}
