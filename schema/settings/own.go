package settings

import (
	"slices"

	"fettle/schema"
)

// ownSections are those that a draft may state itself.
var ownSections = []string{"project", "yarn"}

// fromList reads settings that stand in no file of ours: a draft's own, or
// flags where the path is "". Only the allowed sections may be stated, any
// where none are given.
func fromList(path string, list []schema.Setting, allowed []string) (layer, Errors) {
	var l layer
	var errs Errors
	scratch := newBuilder()
	for _, given := range list {
		s, problem := fromSetting(path, given, allowed)
		if problem == "" {
			if err := scratch.add(s); err != nil {
				problem = badValue(s, err)
			}
		}
		if problem != "" {
			errs = append(errs, Error{Path: path, Section: given.Section, Key: given.Key, Message: problem})
			continue
		}
		l.settings = append(l.settings, s)
	}
	byRank(l.settings)
	return l, errs
}

func fromSetting(path string, given schema.Setting, allowed []string) (s setting, problem string) {
	section, name, problem := heading(given.Section, false)
	if problem != "" {
		return s, problem
	}
	if allowed != nil && !slices.Contains(allowed, section.Name) {
		return s, "a draft states [project] and [yarn] only; [" + section.Name + "] belongs in " + FileName
	}
	key, many, problem := lookUp(section, given.Key, false)
	if problem != "" {
		return s, problem
	}
	if given.Value == "" {
		return s, "[" + section.Name + "] " + key.Name + " has no value; give one like " + key.Example
	}
	return setting{section: section, name: name, key: key, many: many, value: given.Value, origin: schema.Origin{Path: path}}, ""
}
