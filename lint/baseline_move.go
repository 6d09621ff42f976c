package lint

import (
	"path"
	"slices"
	"strings"
)

// Move finds the files that the baseline knows by a path where they no longer are,
// among the paths of a run. A file has moved where
// its old path is gone and a path that the baseline doesn't know has the same
// bytes, by their SHA-256 as hex digits; each old path is taken once, so that a copy
// is no move. One whose bytes differ too may have moved where its name is the same:
// Note decides that by what is found in it.
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

// Moved returns how many files the baseline knew by another path.
func (b *Baseline) Moved() int { return len(b.moved) }

// moveByContent moves files of the same content, those of the same name first, and
// returns the paths that are left.
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

// mostFolders is how many folders above a file help to tell where it came from.
const mostFolders = 8

// guess pairs paths that end alike, those that are alike in most folders first,
// where there is one of each.
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

// byEnd gathers paths by their name and some folders above it.
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

// mostlyIn reports whether at least half of what is known of a file is found, by the
// rules that ran.
func (b *Baseline) mostlyIn(known entries, found map[same][]int) bool {
	all, again := 0, 0
	for id, list := range known {
		if !b.linter.Chosen(id.rule) {
			continue
		}
		n := total(list)
		all += n
		again += min(n, len(found[id]))
	}
	return all > 0 && 2*again >= all
}

// move has the baseline know what it knows of a file under its new path.
func (b *Baseline) move(old, path string) {
	b.moved[old] = path
	b.entries[path], b.sums[path] = b.entries[old], b.sums[old]
	delete(b.entries, old)
	delete(b.sums, old)
}
