//go:build unix

package settings

import (
	"strings"
	"syscall"
	"testing"
)

func TestPipes(t *testing.T) {
	tree(t, map[string]string{"include.ini": "include = pipe", "scarf.ini": "include = pipe"})
	for _, name := range []string{"pipe", "towel.ini"} {
		if err := syscall.Mkfifo(name, 0o600); err != nil {
			t.Skip("no pipes here")
		}
	}
	for _, options := range []Options{{ConfigFile: "include.ini"}, {ConfigFile: "pipe"}, {LoomFile: "pipe"}} {
		if got := wrongFor(t, options, "x.wif"); !strings.HasSuffix(got, string(errNotPlain)) {
			t.Errorf("%+v: %q", options, got)
		}
	}
	if got := wrongFor(t, Options{}, "scarf.wif"); !strings.HasSuffix(got, string(errNotPlain)) {
		t.Errorf("included beside a draft: %q", got)
	}
	if got := wrongFor(t, Options{}, "towel.wif"); got != "" {
		t.Errorf("beside a draft: %q", got)
	}
}
