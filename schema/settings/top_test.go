package settings

import (
	"os"
	"path/filepath"
	"testing"
)

func TestTop(t *testing.T) {
	for _, test := range []struct {
		name  string
		files []string
		from  string
		want  string // below the temporary folder; "" for none
	}{
		{"beside", []string{"a/b/fettle.ini"}, "a/b", "a/b"},
		{"above", []string{"a/fettle.ini"}, "a/b", "a"},
		{"the topmost of several", []string{"a/fettle.ini", "a/b/fettle.ini"}, "a/b", "a"},
		{"not above a repository", []string{"a/fettle.ini", "a/b/fettle.ini", "a/b/.git/HEAD"}, "a/b/c", "a/b"},
		{"at the top of a repository", []string{"a/fettle.ini", "a/.git/HEAD"}, "a/b", "a"},
		{"none in the repository", []string{"a/fettle.ini", "a/b/.git/HEAD"}, "a/b/c", ""},
		{"a repository beside is another", []string{"a/fettle.ini", "a/d/.git/HEAD"}, "a/b", "a"},
	} {
		t.Run(test.name, func(t *testing.T) {
			top := t.TempDir()
			for _, file := range append(test.files, filepath.Join(test.from, "draft.wif")) {
				path := filepath.Join(top, file)
				if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(path, nil, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want := ""
			if test.want != "" {
				want = filepath.Join(top, test.want)
			}
			if got := Top(filepath.Join(top, test.from)); got != want {
				t.Errorf("%q, want %q", got, want)
			}
		})
	}
}
