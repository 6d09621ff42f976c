package settings

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// setting is a known key with a valid value.
type setting struct {
	section                *Section
	name                   string // in the heading, as written: "fine" in [reed fine]
	key                    *Key
	many                   string // the key as written, if it stands for a placeholder
	value                  string
	folder                 string // that patterns are relative to, absolute
	origin                 schema.Origin
	keyColumn, valueColumn int
	draftSetting           int // its number in the draft, from 1; 0 for none
}

// layer is a list of settings and the files they come from. Later settings override
// earlier ones.
type layer struct {
	settings []setting
	files    []string
}

// file is a settings file on the disk.
type file struct {
	path     string // as messages show it
	folder   string // that patterns are relative to, absolute
	text     []byte
	included bool  // messages must not quote it unless it is a settings file
	rules    Rules // nil: nobody checks the rules
}

// reading is a file being read.
type reading struct {
	file
	found    []setting
	errs     Errors
	strays   Errors // those of errs that no settings file would have
	seen     map[string]int
	scratch  *builder
	includes setting // its include line; the key is nil if it has none

	section *Section // of the next lines; nil if unknown
	name    string   // in the heading
	heading string   // between the brackets
}

// read reads the settings of a file. Don't use them if it finds errors.
func read(f file) *reading {
	r := &reading{file: f, seen: map[string]int{}, scratch: newBuilder(), section: &sections[0]}
	eachLine(f.text, func(l line) {
		if l.isHeading {
			r.readHeading(l)
		} else if r.section != nil {
			r.readKey(l)
		}
	}, func(l line, problem string) {
		r.errs = append(r.errs, Error{Path: r.path, Line: l.number, Column: l.column, Message: problem})
		r.stray(true)
		if l.isHeading {
			r.section = nil
		}
	})
	bySpecificity(r.found)
	if r.foreign() {
		first := r.strays[0]
		first.Message = "this is not a settings file: " + first.Message
		r.errs = Errors{first}
	}
	return r
}

// foreign reports whether an included file isn't a settings file, so that messages
// must not quote it.
func (r *reading) foreign() bool { return r.included && len(r.strays) > 0 }

// bySpecificity sorts general settings before specific ones, so that the specific ones
// win: shrinkage before shrinkage warp, families before rules, rules for all drafts
// before rules for some.
func bySpecificity(list []setting) {
	slices.SortStableFunc(list, func(a, b setting) int { return a.specificity() - b.specificity() })
}

func (s setting) specificity() int {
	switch {
	case len(s.key.fills) > 0:
		return 0
	case s.section.Name != "rules":
		return 1
	}
	rank := 2
	if s.name != "" {
		rank += 2
	}
	if strings.Contains(s.many, "/") { // a rule, not a family
		rank++
	}
	return rank
}

func (r *reading) fail(line, column int, section, key, message string) {
	if r.included {
		if known := sectionOf(section); known != nil {
			section = known.Name
		} else {
			section = ""
		}
		key = ""
	}
	r.errs = append(r.errs, Error{Path: r.path, Line: line, Column: column, Section: section, Key: key, Message: message})
}

// stray records that the last error wouldn't occur in a settings file, if is is true.
func (r *reading) stray(is bool) {
	if is {
		r.strays = append(r.strays, r.errs[len(r.errs)-1])
	}
}

func (r *reading) readHeading(l line) {
	section, name, problem := heading(l.heading, r.included)
	r.section, r.name, r.heading = section, name, l.heading
	if problem != "" {
		r.fail(l.number, l.column, l.heading, "", problem)
		r.stray(section == nil)
		r.section = nil
		return
	}
	r.first(identity(section, name), l, "["+l.heading+"]")
}

func (r *reading) readKey(l line) {
	known, many, problem := lookUp(r.section, l.key, r.included)
	if problem != "" {
		r.fail(l.number, l.column, r.heading, l.key, problem)
		r.stray(r.section.Name == "")
		return
	}
	if !r.first(identity(r.section, r.name)+"\n"+known.Name+"\n"+many, l, l.key) {
		return
	}
	s := setting{section: r.section, name: r.name, key: known, many: many, value: l.value, folder: r.folder,
		origin: schema.Origin{Path: r.path, Line: l.number}, keyColumn: l.column, valueColumn: l.valueColumn}
	if err := r.scratch.add(s); err != nil {
		r.fail(l.number, l.valueColumn, r.heading, l.key, badValue(s, err))
		return
	}
	if known.Name == "RULE" && !r.checkRule(s) {
		return
	}
	if r.section.Name == "" {
		r.includes = s
		return
	}
	r.found = append(r.found, s)
}

// checkRule reports whether a rule exists and takes the options stated for it.
func (r *reading) checkRule(s setting) bool {
	if r.rules == nil {
		return true
	}
	if err := r.rules.Known(s.many); err != nil {
		r.fail(s.origin.Line, s.keyColumn, r.heading, s.many, err.Error())
		return false
	}
	stated := r.scratch.out.Rules
	if err := r.rules.Takes(s.many, stated[len(stated)-1].Options); err != nil {
		r.fail(s.origin.Line, s.valueColumn, r.heading, s.many, err.Error())
		return false
	}
	return true
}

// first reports whether a section or key is new. A duplicate is an error.
func (r *reading) first(id string, l line, shown string) bool {
	before, again := r.seen[id]
	if !again {
		r.seen[id] = l.number
		return true
	}
	if r.included {
		shown = "this"
	} else {
		shown = wording.Quote(shown)
	}
	r.fail(l.number, l.column, r.heading, l.key, fmt.Sprintf("%s is already on line %d; delete one of the two", shown, before))
	return false
}

func badValue(s setting, err error) string {
	word := s.key.Name
	if s.many != "" {
		word = s.many
	}
	message := word + ": " + err.Error()
	if s.section.Name != "" {
		message = "[" + wording.Plain(headOf(s.section.Name, s.name), 60) + "] " + message
	}
	if strings.Contains(s.value, " #") && s.key.Name != "color" {
		message += "; to write a comment after a value, begin it with ;"
	}
	return message
}

// draftSections are the sections that a draft can state.
var draftSections = []string{"project", "yarn"}

// fromList reads a draft's own settings, or flags if the path is "". Only settings
// in the allowed sections are valid; nil allows all.
func fromList(path string, list []schema.Setting, allowed []string) (layer, Errors) {
	var l layer
	var errs Errors
	scratch := newBuilder()
	for i, given := range list {
		s, problem := fromSetting(path, given, allowed)
		if allowed != nil {
			s.draftSetting = i + 1
		}
		if problem == "" {
			if err := scratch.add(s); err != nil {
				problem = badValue(s, err)
			}
		}
		if problem != "" {
			e := Error{Path: path, Section: given.Section, Key: given.Key, Message: problem, DraftSetting: s.draftSetting}
			if s.key != nil {
				e.Expected = s.key.Type
			}
			errs = append(errs, e)
			continue
		}
		l.settings = append(l.settings, s)
	}
	bySpecificity(l.settings)
	return l, append(errs, l.itemTwice()...)
}

func fromSetting(path string, given schema.Setting, allowed []string) (s setting, problem string) {
	section, name, problem := heading(given.Section, false)
	if problem != "" {
		return s, problem
	}
	if allowed != nil && !slices.Contains(allowed, section.Name) {
		return s, "a draft can state [project] and [yarn] only; move [" + section.Name + "] to " + FileName
	}
	key, many, problem := lookUp(section, given.Key, false)
	if problem != "" {
		return s, problem
	}
	s = setting{section: section, name: name, key: key, many: many, value: given.Value, origin: schema.Origin{Path: path}}
	if given.Value == "" {
		return s, "[" + section.Name + "] " + key.Name + " has no value; write one like " + key.Example
	}
	return s, ""
}

// aboutDraft returns the mistakes in an error if they are all in the draft's own
// settings, otherwise nil.
func aboutDraft(err error) Errors {
	var list Errors
	if !errors.As(err, &list) || slices.ContainsFunc(list, func(e Error) bool { return e.DraftSetting == 0 }) {
		return nil
	}
	return list
}

// without returns the layer without the settings that have errors.
func (l layer) without(wrong Errors) layer {
	l.settings = slices.DeleteFunc(slices.Clone(l.settings), func(s setting) bool {
		return slices.ContainsFunc(wrong, func(e Error) bool { return e.DraftSetting == s.draftSetting })
	})
	return l
}
