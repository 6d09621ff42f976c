package settings

import (
	"errors"
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
	for i, given := range list {
		s, problem := fromSetting(path, given, allowed)
		if allowed != nil {
			s.own = i + 1
		}
		if problem == "" {
			if err := scratch.add(s); err != nil {
				problem = badValue(s, err)
			}
		}
		if problem != "" {
			e := Error{Path: path, Section: given.Section, Key: given.Key, Message: problem, Own: s.own}
			if s.key != nil {
				e.Expected = s.key.Type
			}
			errs = append(errs, e)
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
	s = setting{section: section, name: name, key: key, many: many, value: given.Value, origin: schema.Origin{Path: path}}
	if given.Value == "" {
		return s, "[" + section.Name + "] " + key.Name + " has no value; give one like " + key.Example
	}
	return s, ""
}

// ownOf is what an error says of a draft's own settings, nil where it is about
// anything else.
func ownOf(err error) Errors {
	var list Errors
	if !errors.As(err, &list) || slices.ContainsFunc(list, func(e Error) bool { return e.Own == 0 }) {
		return nil
	}
	return list
}

// without is the layer without the settings that some errors are about.
func (l layer) without(wrong Errors) layer {
	l.settings = slices.DeleteFunc(slices.Clone(l.settings), func(s setting) bool {
		return slices.ContainsFunc(wrong, func(e Error) bool { return e.Own == s.own })
	})
	return l
}
