package settings

import (
	"cmp"
	"path/filepath"
	"slices"
	"strings"

	"fettle/schema"
)

// pattern is a pattern and its place. Several folders can include the same one.
type pattern struct {
	origin schema.Origin
	text   string
}

// UnusedPattern is a pattern that matched nothing in a run.
type UnusedPattern struct {
	Origin  schema.Origin // for rules, of the first line in the section
	Pattern string
	Rules   bool // from [rules PATTERN]; otherwise from exclude
	// Nearer is a fettle.ini nearer to a draft that the pattern matches, so that
	// only that file counts there; "" if the pattern matches no draft.
	Nearer string
}

// Unused returns the patterns that matched nothing in a run, by place: exclude
// patterns that excluded nothing, and [rules] patterns that apply to none of the
// paths. lookedAt reports whether the run covered a whole folder; patterns in other
// folders are left out. Unused stops when every [rules] pattern has a match.
func (f *Finder) Unused(paths []string, lookedAt func(folder string) bool) []UnusedPattern {
	f.mu.Lock()
	defer f.mu.Unlock()
	unused := map[pattern]*UnusedPattern{}
	ruled := map[*base][]RuleSetting{}
	for _, b := range f.bases {
		if b.settings == nil {
			continue
		}
		for _, x := range b.settings.Exclude {
			if key := (pattern{x.Origin, x.Pattern}); lookedAt(x.Folder) && !f.used[key] {
				unused[key] = &UnusedPattern{Origin: x.Origin, Pattern: x.Pattern}
			}
		}
		for _, r := range b.settings.Rules {
			if r.For.Pattern != "" && lookedAt(r.For.Folder) {
				ruled[b] = append(ruled[b], r)
				if unused[patternOf(r)] == nil {
					unused[patternOf(r)] = &UnusedPattern{Origin: r.Origin, Pattern: r.For.Pattern, Rules: true}
				}
			}
		}
	}
	for _, path := range paths {
		if len(ruled) == 0 {
			break
		}
		f.use(path, ruled, unused)
	}
	return inOrder(unused)
}

// patternOf returns the same pattern for all lines of a section.
func patternOf(r RuleSetting) pattern {
	return pattern{schema.Origin{Path: r.Origin.Path}, r.For.Pattern}
}

// use removes from unused the patterns that apply to a path. It notes in Nearer
// those that would apply without a nearer fettle.ini.
func (f *Finder) use(path string, ruled map[*base][]RuleSetting, unused map[pattern]*UnusedPattern) {
	full := f.named(path)
	at := f.folders[filepath.Dir(full)]
	if at == nil || path == "-" {
		return
	}
	for _, b := range at.above {
		ruled[b] = slices.DeleteFunc(ruled[b], func(r RuleSetting) bool {
			x := unused[patternOf(r)]
			if x == nil { // a draft in another folder used it
				return true
			}
			switch {
			case !r.For.Match(full):
				return false
			case b == at.base:
				delete(unused, patternOf(r))
				return true
			case x.Nearer == "" && at.base.layer.files != nil:
				x.Nearer = at.base.layer.files[0]
			}
			return false
		})
		if len(ruled[b]) == 0 {
			delete(ruled, b)
		}
	}
}

func inOrder(unused map[pattern]*UnusedPattern) []UnusedPattern {
	list := make([]UnusedPattern, 0, len(unused))
	for _, x := range unused {
		list = append(list, *x)
	}
	slices.SortFunc(list, func(a, b UnusedPattern) int {
		return cmp.Or(strings.Compare(a.Origin.Path, b.Origin.Path), a.Origin.Line-b.Origin.Line, strings.Compare(a.Pattern, b.Pattern))
	})
	return list
}
