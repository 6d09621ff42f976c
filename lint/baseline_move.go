package lint

import (
	"path"
	"slices"
	"strings"
)

// Move finds files of the baseline under new paths. present holds the paths of the run,
// gone reports whether a path no longer exists, and sum returns a file's SHA-256 in
// hex.
//
// A file has moved if its old path is gone and a path unknown to the baseline has the
// entryID bytes. Each old path moves only once, so a copy isn't a move. A file with
// other bytes but the same name may have moved; Note decides that by its findings.
func (b *Baseline) Move(present []string, gone func(path string) bool, sum func(path string) string) {
	there := map[string]bool{}
	for _, path := range present {
		there[path] = true
	}
	old := slices.DeleteFunc(b.Paths(), func(path string) bool { return there[path] || !gone(path) })
	if len(old) == 0 {
		return
	}
	fresh := slices.DeleteFunc(slices.Clone(present), func(path string) bool { return path == "-" || b.entries[path] != nil })
	slices.Sort(fresh)
	old, fresh = b.moveByContent(old, slices.Compact(fresh), sum)
	b.guess(old, fresh)
}

// Moved returns how many files have moved.
func (b *Baseline) Moved() int { return len(b.moved) }

// moveByContent moves files with equal content, those with equal names first. It
// returns the remaining paths.
func (b *Baseline) moveByContent(old, fresh []string, sum func(path string) string) (stillOld, stillFresh []string) {
	type content struct{ sum, name string }
	sums := map[string]string{}
	for _, path := range fresh {
		sums[path] = sum(path)
	}
	for _, name := range []func(string) string{path.Base, func(string) string { return "" }} {
		from := map[content][]string{}
		for _, path := range old {
			if s := b.sums[path]; s != "" {
				from[content{s, name(path)}] = append(from[content{s, name(path)}], path)
			}
		}
		fresh = slices.DeleteFunc(fresh, func(to string) bool {
			alike := content{sums[to], name(to)}
			if len(from[alike]) == 0 {
				return false
			}
			b.move(from[alike][0], to)
			from[alike] = from[alike][1:]
			return true
		})
		old = slices.DeleteFunc(old, func(path string) bool { return b.moved[path] != "" })
	}
	return old, fresh
}

// mostFolders limits how many parent folders guess compares.
const mostFolders = 8

// guess pairs paths with the same ending if it is unique, the longest endings first.
func (b *Baseline) guess(old, fresh []string) {
	for folders := mostFolders; folders >= 0; folders-- {
		from, to := byEnd(old, folders), byEnd(fresh, folders)
		taken := map[string]bool{}
		for end, list := range to {
			if len(list) == 1 && len(from[end]) == 1 {
				b.maybe[list[0]] = from[end][0]
				taken[list[0]], taken[from[end][0]] = true, true
			}
		}
		old = slices.DeleteFunc(old, func(path string) bool { return taken[path] })
		fresh = slices.DeleteFunc(fresh, func(path string) bool { return taken[path] })
	}
}

// byEnd groups paths by their name and some parent folders.
func byEnd(paths []string, folders int) map[string][]string {
	by := map[string][]string{}
	for _, path := range paths {
		start := len(path)
		for range folders + 1 {
			if start = strings.LastIndexByte(path[:max(start, 0)], '/'); start < 0 {
				break
			}
		}
		by[path[start+1:]] = append(by[path[start+1:]], path)
	}
	return by
}

// mostlyIn reports whether at least half of a file's known findings were found, counting
// only rules that ran.
func (b *Baseline) mostlyIn(known entries, found map[entryID][]int) bool {
	all, again := 0, 0
	for id, list := range known {
		if !b.linter.mayRun(id.rule) {
			continue
		}
		n := total(list)
		all += n
		again += min(n, len(found[id]))
	}
	return all > 0 && 2*again >= all
}

// move moves a file's entries to its new path.
func (b *Baseline) move(old, path string) {
	b.moved[old] = path
	b.entries[path], b.sums[path] = b.entries[old], b.sums[old]
	delete(b.entries, old)
	delete(b.sums, old)
}
