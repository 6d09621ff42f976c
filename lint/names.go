package lint

import (
	"fmt"
	"slices"

	"fettle/schema/spelling"
	"fettle/schema/wording"
)

// unknownRule returns the error for an unknown rule, or for a family in place of a rule.
func unknownRule(name string, rules []Rule) error {
	for _, r := range rules {
		if r.Family() == name {
			return fmt.Errorf("%s is a family of rules; name a single rule, such as %s", wording.Quote(name), r.ID)
		}
	}
	return unknownName(name, idsOf(rules))
}

func idsOf(rules []Rule) (ids []string) {
	for i := range rules {
		ids = append(ids, rules[i].ID)
	}
	return ids
}

// withFamilies returns the ids of rules and their families.
func withFamilies(rules []Rule) []string {
	names := idsOf(rules)
	for i := range rules {
		names = append(names, rules[i].Family())
	}
	return names
}

func isFamily(name string, rules []Rule) bool {
	return slices.ContainsFunc(rules, func(r Rule) bool { return r.Family() == name })
}

// unknownName returns the error for a name that isn't among the known ones.
func unknownName(name string, known []string) error {
	if best := spelling.Nearest(name, known); best != "" {
		return fmt.Errorf("unknown rule %s; did you mean %s?", wording.Quote(name), best)
	}
	return fmt.Errorf("unknown rule %s; 'fettle rules' lists all rules", wording.Quote(name))
}

// Rulebook checks the rules that settings name.
type Rulebook []Rule

// Known returns an error for a name that is neither a rule nor a family.
func (b Rulebook) Known(name string) error {
	if names := withFamilies(b); !slices.Contains(names, name) {
		return unknownName(name, names)
	}
	return nil
}

// Takes returns an error for words after the severity that aren't options of the rule. A
// family takes no options.
func (b Rulebook) Takes(name string, options []string) error {
	if isFamily(name, b) {
		return noFamilyOptions(name, options)
	}
	r, err := Find(b, name)
	if err == nil {
		_, _, err = readOptions(r, options)
	}
	return err
}

// Find returns the rule with this id. The error names the nearest id.
func Find(rules []Rule, id string) (*Rule, error) {
	for i := range rules {
		if rules[i].ID == id {
			return &rules[i], nil
		}
	}
	return nil, unknownRule(id, rules)
}
