package settings

import (
	"path/filepath"
	"strings"

	"fettle/schema"

	"github.com/bmatcuk/doublestar/v4"
)

// Settings is all that is known when a draft is looked at. It is shared
// between drafts and must not be changed.
type Settings struct {
	schema.Setup
	Rules   []RuleSetting // where several speak of one rule, the last that matches holds
	Exclude []Exclusion   // drafts that are not looked at in a walk
	Files   []string      // the files read, as messages show them
}

// Room says whether anything is stated of the loom, its heddles and reeds or the
// yarn, for drafts to be checked against.
func (s *Settings) Room() bool {
	return s.Loom != schema.Loom{} || s.Heddles.Known || len(s.Reeds) > 0 || len(s.Yarns) > 0
}

// RuleSetting is one line of a [rules] section. Whether there is such a rule,
// and what its options mean, the rules know.
type RuleSetting struct {
	Rule     string          // the id, or a family, in small letters
	Stated   bool            // whether a severity was given
	Severity schema.Severity // where Stated
	Options  []string        // the words after the severity, as written: "12 mm"
	For      Glob            // the drafts it holds for
	Origin   schema.Origin
}

// Exclusion is one of the patterns of a line of [files] exclude.
type Exclusion struct {
	Glob
	Origin schema.Origin
}

// Glob is a pattern of paths below a folder, with / between folders; ** stands
// for any number of them. A pattern that names a folder covers all that is in
// it. The zero Glob covers every path.
type Glob struct {
	Folder, Pattern string // Folder is absolute
}

// Match says whether a path, absolute or from the working folder, is covered.
// Standard input is covered only by a Glob without a pattern.
func (g Glob) Match(path string) bool {
	if g.Pattern == "" {
		return true
	}
	full, err := filepath.Abs(path)
	if err != nil || path == "-" {
		return false
	}
	rel, err := filepath.Rel(g.Folder, full)
	if err != nil || rel == ".." || strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
		return false
	}
	rel = filepath.ToSlash(rel)
	pattern := strings.TrimSuffix(g.Pattern, "/")
	return doublestar.MatchUnvalidated(pattern, rel) || doublestar.MatchUnvalidated(pattern+"/**", rel)
}

// covers says whether a folder is covered by itself, and not for being the one
// that the pattern is below.
func (g Glob) covers(folder string) bool { return folder != g.Folder && g.Match(folder) }

// Excluded says whether a path, absolute or from the working folder, is to be
// passed over in a walk. The fettle.ini further up have a word in it, too:
// Finder.Excluded asks them all.
func (s *Settings) Excluded(path string) bool {
	_, is := exclusion(s.Exclude, path, "")
	return is
}

// exclusion is what passes over a path in a walk below a folder that was named,
// "" for none. What covers the folder itself is overruled by its being named.
func exclusion(list []Exclusion, path, named string) (Exclusion, bool) {
	for _, x := range list {
		if x.Match(path) && (named == "" || !x.covers(named)) {
			return x, true
		}
	}
	return Exclusion{}, false
}

// RulesFor is the rule settings that hold for a path, in their order.
func (s *Settings) RulesFor(path string) []RuleSetting {
	var list []RuleSetting
	for _, r := range s.Rules {
		if r.For.Match(path) {
			list = append(list, r)
		}
	}
	return list
}
