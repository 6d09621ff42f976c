package settings

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"fettle/schema"
)

// Stated is a setting as it was written.
type Stated struct {
	Section, Key, Value string // the heading with its name, "reed fine"
	Origin              schema.Origin
}

// Stated returns the settings that hold for a path, absolute or relative to the working
// folder, in the order of the manual. Those that another one overrides are left out.
func (s *Settings) Stated(path string) []Stated {
	holds := map[string]setting{}
	for _, x := range s.last {
		holds[strings.ToLower(x.head()+"."+x.word())] = x
	}
	for _, x := range s.patterns {
		if (Glob{x.folder, x.name}).Match(path) { // [files] has no pattern, which matches every path
			holds[x.section.Name+"."+strings.ToLower(x.word())] = x
		}
	}
	list := slices.SortedFunc(maps.Values(holds), func(a, b setting) int {
		return cmp.Or(cmp.Compare(rank(a.section.Name), rank(b.section.Name)), cmp.Compare(strings.ToLower(a.head()), strings.ToLower(b.head())),
			cmp.Compare(rankOfKey(a), rankOfKey(b)), naturally(a.word(), b.word()))
	})
	stated := make([]Stated, len(list))
	for i, x := range list {
		stated[i] = Stated{x.head(), x.word(), x.value, x.origin}
	}
	return stated
}

// head returns the heading of a setting, and word its key as written.
func (s setting) head() string { return headOf(s.section.Name, s.name) }
func (s setting) word() string { return cmp.Or(s.many, s.key.Name) }

func rank(section string) int {
	return slices.IndexFunc(sections, func(x Section) bool { return x.Name == section })
}

func rankOfKey(s setting) int {
	return slices.IndexFunc(s.section.Keys, func(k Key) bool { return k.Name == s.key.Name })
}

// naturally compares words so that shaft 2 comes before shaft 10.
func naturally(a, b string) int {
	number := func(s string) int { return strings.IndexFunc(s+" ", func(r rune) bool { return r < '0' || r > '9' }) }
	return cmp.Or(cmp.Compare(number(a), number(b)), cmp.Compare(a, b))
}
