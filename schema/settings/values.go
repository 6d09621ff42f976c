package settings

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/measure"
	"fettle/schema/spelling"
	"fettle/schema/wording"

	"github.com/bmatcuk/doublestar/v4"
)

// most is the largest whole number in a setting.
const most = 1_000_000

// value is a kind of value, and the function that stores one.
type value struct {
	kind    string
	set     func(*target, string) error
	choices []string // all values, if they are few
}

// The values of settings that take one of a few.
var (
	sheds          = []string{schema.Rising.String(), schema.Sinking.String(), schema.Balanced.String(), schema.Countermarch.String()}
	hemWeaves      = []string{"draft", "plain"}
	itemBeginnings = []string{"restart", "continue"}
	dressings      = []string{"front to back", "back to front"}
	uses           = []string{"warp, weft", "warp", "weft"}
)

// target is where a setting is stored.
type target struct {
	*Settings
	reed   *schema.Reed
	yarn   *schema.Yarn
	warp   *schema.ExtraWarp
	choice *string // the name of the reed in use
	key    string  // the key as written, for a shaft number or a rule
	glob   Glob    // of a [rules] section; its folder is that of all patterns
	origin schema.Origin
}

func parsed[T any](kind string, parse func(string) (T, error), at func(*target) *T) value {
	return value{kind: kind, set: func(t *target, s string) error {
		v, err := parse(s)
		if err == nil {
			*at(t) = v
		}
		return err
	}}
}

// among returns the value as one of a few.
func (v value) among(choices []string) value {
	v.choices = choices
	return v
}

func anyText(at func(*target) *string) value {
	return parsed("words", func(s string) (string, error) { return s, nil }, at)
}

func length(at func(*target) *measure.Length) value {
	return parsed("a length", measure.ParseLength, at)
}

func density(at func(*target) *measure.Density) value {
	return parsed("a density", measure.ParseDensity, at)
}

// lossKind says how a value for a loss may be written.
const lossKind = "a percentage, or two lengths with -> between"

func loss(at func(*target) *float64) value { return parsed(lossKind, measure.ParseLoss, at) }

func wholeNumber(least int, at func(*target) *int) value {
	return parsed("a whole number", func(s string) (int, error) { return parseWhole(s, least) }, at)
}

func yesNo(at func(*target) *bool) value {
	return parsed("yes or no", parseYesNo, at).among([]string{"yes", "no"})
}

func parseWhole(s string, least int) (int, error) {
	n, err := strconv.Atoi(s)
	if err != nil || n < least || n > most || s[0] == '+' {
		return 0, fmt.Errorf("%s is not a whole number from %d to %d", wording.Quote(s), least, most)
	}
	return n, nil
}

func parseYesNo(s string) (bool, error) {
	switch strings.ToLower(s) {
	case "yes", "true", "on", "1":
		return true, nil
	case "no", "false", "off", "0":
		return false, nil
	}
	return false, fmt.Errorf("%s is neither yes nor no; write one of the two", wording.Quote(s))
}

func parseShed(s string) (schema.Shed, error) {
	for _, shed := range []schema.Shed{schema.Rising, schema.Sinking, schema.Balanced, schema.Countermarch} {
		if strings.EqualFold(s, shed.String()) {
			return shed, nil
		}
	}
	return 0, fmt.Errorf("%s is not a kind of shed; write rising, sinking, balanced or countermarch", wording.Quote(s))
}

// parseDressing returns true for back to front.
func parseDressing(s string) (bool, error) {
	switch spelling.Fold(s) {
	case "back to front":
		return true, nil
	case "front to back":
		return false, nil
	}
	return false, fmt.Errorf("%s is not a way to dress a loom; write front to back or back to front", wording.Quote(s))
}

// oneOfTwo takes one of two words. It stores whether that is the second.
func oneOfTwo(words []string, at func(*target) *bool) value {
	return parsed("one of two words", func(s string) (bool, error) {
		word := spelling.Fold(s)
		if word != words[0] && word != words[1] {
			return false, fmt.Errorf("%s must be %s or %s", wording.Quote(s), words[0], words[1])
		}
		return word == words[1], nil
	}, at).among(words)
}

// splitList splits a list at its commas, but not at those in the braces of a
// pattern.
func splitList(s string) []string {
	depth := 0
	var list []string
	for _, w := range strings.FieldsFunc(s, func(r rune) bool {
		switch r {
		case '{':
			depth++
		case '}':
			depth--
		}
		return r == ',' && depth <= 0
	}) {
		if w = strings.TrimSpace(w); w != "" {
			list = append(list, w)
		}
	}
	return list
}

// parseList reads each word of a list, which must not be empty.
func parseList[T any](s string, parse func(string) (T, error)) ([]T, error) {
	var all []T
	for _, w := range splitList(s) {
		v, err := parse(w)
		if err != nil {
			return nil, err
		}
		all = append(all, v)
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("%s is an empty list; write one value or several, separated by commas", wording.Quote(s))
	}
	return all, nil
}

func parseColors(s string) ([]schema.Color, error) { return parseList(s, schema.ParseColor) }

func parsePalette(s string) ([]int, error) {
	return parseList(s, func(w string) (int, error) { return parseWhole(w, 1) })
}

func parseSteps(s string) ([]schema.Steps, error) {
	return parseList(s, func(w string) (x schema.Steps, err error) {
		x.Step = 1
		span, step, stepped := strings.Cut(w, "/")
		first, last, isRange := strings.Cut(span, "-")
		if !isRange {
			last = first
		}
		if stepped {
			x.Step, err = parseWhole(strings.TrimSpace(step), 1)
		}
		for _, n := range []struct {
			text string
			to   *int
		}{{first, &x.From}, {last, &x.To}} {
			if err == nil {
				*n.to, err = parseWhole(strings.TrimSpace(n.text), 1)
			}
		}
		switch {
		case err != nil:
			return x, err
		case x.From > x.To:
			return x, fmt.Errorf("a range begins with the lower number: write %d-%d", x.To, x.From)
		}
		return x, nil
	})
}

func setUse(t *target, s string) error {
	systems, err := parseList(s, func(w string) (schema.SystemName, error) {
		name := schema.SystemName(strings.ToLower(w))
		if name != schema.Warp && name != schema.Weft {
			return "", fmt.Errorf("%s is not a use of a yarn; write warp, weft, or both with a comma", wording.Quote(w))
		}
		return name, nil
	})
	if err == nil {
		t.yarn.ForWarp = slices.Contains(systems, schema.Warp)
		t.yarn.ForWeft = slices.Contains(systems, schema.Weft)
	}
	return err
}

func setShrinkage(t *target, s string) error {
	v, err := measure.ParseLoss(s)
	if err == nil {
		t.Project.ShrinkageWarp, t.Project.ShrinkageWeft = v, v
	}
	return err
}

func setEach(t *target, s string) error {
	n, err := parseWhole(s, 0)
	if err == nil {
		t.Heddles.Each, t.Heddles.Known = n, true
	}
	return err
}

func setShaft(t *target, s string) error {
	shafts, err := shaftsNamed(t.key)
	if err != nil {
		return err
	}
	if shafts.Count, err = parseWhole(s, 0); err != nil {
		return err
	}
	t.Heddles.Known = true
	if !strings.Contains(t.key, "-") {
		if t.Heddles.ByShaft == nil {
			t.Heddles.ByShaft = map[int]int{}
		}
		t.Heddles.ByShaft[shafts.From] = shafts.Count
		return nil
	}
	t.Heddles.Ranges = append(t.Heddles.Ranges, shafts)
	return nil
}

// shaftsNamed reads the key of a shaft or a range of shafts.
func shaftsNamed(key string) (r schema.HeddleRange, err error) {
	first, last, isRange := strings.Cut(key, "-")
	if !isRange {
		last = first
	}
	for _, end := range []struct {
		text string
		to   *int
	}{{first, &r.From}, {last, &r.To}} {
		if *end.to, err = parseWhole(end.text, 1); err != nil {
			return r, fmt.Errorf("there is no shaft %s; write a number from 1 to %d", wording.Plain(end.text, 20), most)
		}
	}
	if r.From > r.To {
		return r, fmt.Errorf("a range begins with the lower shaft: write %d-%d", r.To, r.From)
	}
	return r, nil
}

// itemLength returns the project for a new length of an item, without the one stated
// before: as a length, in picks or in repeats. The last one stated wins.
func (t *target) itemLength() *schema.Project {
	t.Project.FinishedLength, t.Project.PicksPerItem, t.Project.RepeatsPerItem = 0, 0, 0
	return &t.Project
}

func setExclude(t *target, s string) error {
	patterns, err := parseList(s, parsePattern)
	for _, p := range patterns {
		t.Exclude = append(t.Exclude, Exclusion{Glob{t.glob.Folder, p}, t.origin})
	}
	return err
}

// parsePattern refuses invalid patterns, and those that would take too long to
// match.
func parsePattern(s string) (string, error) {
	const longest, braces = 300, 3
	if len(s) > longest || strings.Count(s, "{") > braces {
		return "", fmt.Errorf("the pattern %s is too long; the limits are %d characters and %d groups in braces", wording.Quote(s), longest, braces)
	}
	switch {
	case s[0] == '"' || s[0] == '\'' || s[len(s)-1] == '"':
		return "", fmt.Errorf("the pattern %s has quotation marks, which would be part of it; delete them", wording.Quote(s))
	case strings.Contains(s, `\`):
		return "", fmt.Errorf("the pattern %s contains \\; write / between folders on every system, as in attic/**", wording.Quote(s))
	}
	if !doublestar.ValidatePattern(s) || strings.HasPrefix(s, "/") {
		return "", fmt.Errorf("%s is not a pattern of paths below this folder, like attic/** or *.wif", wording.Quote(s))
	}
	return s, nil
}

func setRule(t *target, s string) error {
	options := splitList(s)
	r := RuleSetting{Rule: strings.ToLower(t.key), For: t.glob, Origin: t.origin}
	if r.For.Pattern == "" {
		r.For = Glob{}
	}
	if len(options) == 0 {
		return fmt.Errorf("%s is empty; write a severity (error, warning, note or off), options, or both", wording.Quote(s))
	}
	first := strings.ToLower(options[0])
	severity, err := schema.ParseSeverity(first)
	if err == nil {
		r.Stated, r.Severity, options = true, severity, options[1:]
	} else if hint := meant(first, []string{"error", "warning", "note", "off"}); hint != "" && !strings.Contains(first, " ") {
		return fmt.Errorf("%s is not a severity%s", wording.Quote(options[0]), hint)
	}
	r.Options = options
	t.Rules = append(t.Rules, r)
	return nil
}
