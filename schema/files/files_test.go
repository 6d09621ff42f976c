package files

import (
	"path/filepath"
	"testing"
)

func TestRelative(t *testing.T) {
	for _, c := range []struct {
		folder, path, rel string
		inside            bool
	}{
		{"drafts", "drafts", ".", true},
		{"drafts", "drafts/twill/a.wif", "twill/a.wif", true},
		{"drafts", "drafts/..a.wif", "..a.wif", true},
		{"drafts", "drafts2/a.wif", "../drafts2/a.wif", false},
		{"drafts/twill", "drafts", "..", false},
		{"/drafts", "a.wif", "", false}, // they start at different places
	} {
		folder, path := filepath.FromSlash(c.folder), filepath.FromSlash(c.path)
		rel, inside := Relative(folder, path)
		if filepath.ToSlash(rel) != c.rel || inside != c.inside || Contains(folder, path) != c.inside {
			t.Errorf("%s in %s: %q, %v; want %q, %v", c.path, c.folder, rel, inside, c.rel, c.inside)
		}
	}
}
