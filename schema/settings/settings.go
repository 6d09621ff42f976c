package settings

import (
	"cmp"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/files"

	"github.com/bmatcuk/doublestar/v4"
)

// Settings holds the settings of a draft. Drafts share it, so don't change it.
type Settings struct {
	schema.Setup
	Rules   []RuleSetting // of several for one rule, the last match wins
	Exclude []Exclusion   // drafts to skip in a walk
	Files   []string      // the files read, as messages show them

	last     map[string]setting // the last setting of each key, as in Given
	patterns []setting          // of [rules] and [files], in order
}

// describesLoom reports whether the settings describe the loom, its heddles and reeds, or
// the yarn.
func (s *Settings) describesLoom() bool {
	return s.Loom != schema.Loom{} || s.Heddles.Known || len(s.Reeds) > 0 || len(s.Yarns) > 0
}

// RuleSetting is one line of a [rules] section. Its rule may not exist, and its
// options may not be valid; see Rules.
type RuleSetting struct {
	Rule     string          // the id of a rule or a family, in lower case
	Stated   bool            // whether the line has a severity
	Severity schema.Severity // if Stated
	Options  []string        // the words after the severity, as written: "12 mm"
	For      Glob            // the drafts that it applies to
	Origin   schema.Origin
}

// Exclusion is one pattern of [files] exclude.
type Exclusion struct {
	Glob
	Origin schema.Origin
}

// Glob is a pattern of paths below a folder, with / between folders; ** matches
// any number of them. A pattern that matches a folder matches all files in it. The
// zero Glob matches every path.
type Glob struct {
	Folder, Pattern string // Folder is absolute
}

// Match reports whether the pattern matches a path, absolute or relative to the
// working folder. Only a Glob without a pattern matches standard input ("-").
func (g Glob) Match(path string) bool {
	if g.Pattern == "" {
		return true
	}
	full, err := filepath.Abs(path)
	if err != nil || path == "-" {
		return false
	}
	rel, inside := files.Relative(g.Folder, full)
	if !inside {
		return false
	}
	rel = filepath.ToSlash(rel)
	pattern := strings.TrimSuffix(g.Pattern, "/")
	return doublestar.MatchUnvalidated(pattern, rel) || doublestar.MatchUnvalidated(pattern+"/**", rel)
}

// covers reports whether the pattern matches a folder, other than its own.
func (g Glob) covers(folder string) bool { return folder != g.Folder && g.Match(folder) }

// Excluded reports whether to skip a path in a walk, absolute or relative to the
// working folder. It knows only these settings; Finder.Excluded also asks each
// fettle.ini further up.
func (s *Settings) Excluded(path string) bool {
	_, is := exclusion(s.Exclude, path, "")
	return is
}

// exclusion returns the pattern that excludes a path in a walk below the named
// folder ("" for none). A pattern that covers the named folder doesn't count.
func exclusion(list []Exclusion, path, named string) (Exclusion, bool) {
	for _, x := range list {
		if x.Match(path) && (named == "" || !x.covers(named)) {
			return x, true
		}
	}
	return Exclusion{}, false
}

// RulesFor returns the rule settings that apply to a path, in order.
func (s *Settings) RulesFor(path string) []RuleSetting {
	var list []RuleSetting
	for _, r := range s.Rules {
		if r.For.Match(path) {
			list = append(list, r)
		}
	}
	return list
}

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
		return cmp.Or(cmp.Compare(placeOf(a.section.Name), placeOf(b.section.Name)), cmp.Compare(strings.ToLower(a.head()), strings.ToLower(b.head())),
			cmp.Compare(placeOfKey(a), placeOfKey(b)), naturally(a.word(), b.word()))
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

// placeOf and placeOfKey return the places in the manual.
func placeOf(section string) int {
	return slices.IndexFunc(sections, func(x Section) bool { return x.Name == section })
}

func placeOfKey(s setting) int {
	return slices.IndexFunc(s.section.Keys, func(k Key) bool { return k.Name == s.key.Name })
}

// naturally compares words so that shaft 2 comes before shaft 10.
func naturally(a, b string) int {
	number := func(s string) int { return strings.IndexFunc(s+" ", func(r rune) bool { return r < '0' || r > '9' }) }
	return cmp.Or(cmp.Compare(number(a), number(b)), cmp.Compare(a, b))
}
