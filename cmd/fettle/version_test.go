package main

import (
	"runtime/debug"
	"testing"
)

func TestBuildOf(t *testing.T) {
	vcs := []debug.BuildSetting{{Key: "vcs.revision", Value: "abcdef0123456789"}, {Key: "vcs.time", Value: "2026-11-26T10:18:00Z"}}
	changed := append(vcs[:2:2], debug.BuildSetting{Key: "vcs.modified", Value: "true"})
	for _, row := range []struct {
		version  string
		settings []debug.BuildSetting
		want     string
	}{
		{"", nil, "devel"},
		{"(devel)", nil, "devel"},
		{"(devel)", vcs, "devel (commit abcdef0, 2026-11-26)"},
		{"v0.0.0-20261126101800-abcdef012345", vcs, "devel (commit abcdef0, 2026-11-26)"},
		{"v0.0.0-20261126101800-abcdef012345+dirty", changed, "devel (commit abcdef0, 2026-11-26, with changes)"},
		{"v1.2.3", vcs, "1.2.3 (commit abcdef0, 2026-11-26)"},
		{"v1.2.3", nil, "1.2.3"},
	} {
		info := &debug.BuildInfo{Main: debug.Module{Version: row.version}, Settings: row.settings}
		if got := buildOf(info).String(); got != row.want {
			t.Errorf("%q: %q, want %q", row.version, got, row.want)
		}
	}
}
