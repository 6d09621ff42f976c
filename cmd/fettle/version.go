package main

import (
	"fmt"
	"runtime/debug"
	"strings"
)

// The linker sets these in a release; .ci/release says how.
var releaseVersion, releaseCommit, releaseDate string

// build identifies this fettle. Unknown fields are empty.
type build struct {
	version string // such as 1.2.3; "devel" if it isn't a release
	commit  string // its first seven digits
	date    string // of the commit, such as 2026-11-26
	changed bool   // the source had uncommitted changes
}

// thisBuild returns the build as the linker or the Go toolchain recorded it.
func thisBuild() build {
	if releaseVersion != "" {
		return build{version: releaseVersion, commit: short(releaseCommit), date: releaseDate}
	}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return build{version: "devel"}
	}
	return buildOf(info)
}

// buildOf reads what the Go toolchain recorded.
func buildOf(info *debug.BuildInfo) build {
	b := build{version: "devel"}
	v := strings.TrimPrefix(info.Main.Version, "v")
	if v != "" && v != "(devel)" && !strings.HasPrefix(v, "0.0.0-") { // 0.0.0- means a commit without a version
		b.version = v
	}
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			b.commit = short(s.Value)
		case "vcs.time":
			b.date, _, _ = strings.Cut(s.Value, "T")
		case "vcs.modified":
			b.changed = s.Value == "true"
		}
	}
	return b
}

func short(commit string) string { return commit[:min(len(commit), 7)] }

// String returns a line such as "1.2.3 (commit abcdef0, 2026-11-26)".
func (b build) String() string {
	var known []string
	if b.commit != "" {
		known = append(known, "commit "+b.commit)
	}
	if b.date != "" {
		known = append(known, b.date)
	}
	if b.changed {
		known = append(known, "with changes")
	}
	if len(known) == 0 {
		return b.version
	}
	return fmt.Sprintf("%s (%s)", b.version, strings.Join(known, ", "))
}
