package settings

import (
	"fmt"
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/spelling"
	"fettle/schema/wording"

	"gopkg.in/ini.v1"
)

// setting is one key with its value, whose names are known and whose value is
// sound.
type setting struct {
	section *Section
	name    string // behind the section's word, as written
	key     *Key
	many    string // the key as written, where it stands for many
	value   string
	folder  string // the one patterns are below, absolute
	origin  schema.Origin
	keyed   int // the column of the key
	column  int // of the value
	own     int // which of a draft's own settings it is, from 1; 0 for none
}

// layer is settings in the order in which they override each other, the last
// one strongest, and the files they come from.
type layer struct {
	settings []setting
	files    []string
}

// file is a settings file as it lies on the disk.
type file struct {
	path     string // as messages show it
	folder   string // the one patterns are below, absolute
	text     []byte
	included bool  // nothing of it is shown before it proves a settings file
	rules    Rules // nil: rules are not checked
}

// reading is a file being read.
type reading struct {
	file
	found    []setting
	errs     Errors
	strays   Errors // those of errs that stand in no settings file
	seen     map[string]int
	scratch  *builder
	includes setting // what it includes; no key where it does not
}

// read splits a file into its settings. Where anything is wrong the settings
// are not to be used.
func read(f file) *reading {
	r := &reading{file: f, seen: map[string]int{}, scratch: newBuilder()}
	x := indexOf(f.path, f.text)
	r.errs, r.strays = slices.Clone(x.problems), slices.Clone(x.problems)
	heads := x.readable()
	split, err := ini.LoadSources(options(), x.clean)
	if err != nil || !agree(heads, split) {
		r.fail(1, 1, "", "", "the lines of this file cannot be told apart; save it as plain text")
		return r
	}
	for i, s := range split.Sections() {
		r.section(heads[i], s.Keys(), i == 0)
	}
	r.errs = byLine(r.errs)
	byRank(r.found)
	if r.foreign() {
		first := byLine(r.strays)[0]
		first.Message = "this is no settings file: " + first.Message
		r.errs = Errors{first}
	}
	return r
}

func byLine(errs Errors) Errors {
	slices.SortStableFunc(errs, func(a, b Error) int { return a.Line - b.Line })
	return errs
}

// foreign says whether an included file is no settings file, so that nothing
// of it may be shown.
func (r *reading) foreign() bool { return r.included && len(r.strays) > 0 }

// options are how the library is to split lines: at the first =, a value as it
// stands, one to a line, and sections and keys told apart by their lines.
func options() ini.LoadOptions {
	return ini.LoadOptions{
		IgnoreContinuation:         true,
		IgnoreInlineComment:        true,
		PreserveSurroundedQuote:    true,
		AllowNonUniqueSections:     true,
		AllowShadows:               true,
		AllowDuplicateShadowValues: true,
		KeyValueDelimiters:         "=",
	}
}

// agree says whether the library found the sections and keys that the index
// found.
func agree(heads []header, split *ini.File) bool {
	list := split.Sections()
	if len(list) != len(heads) {
		return false
	}
	for i, s := range list {
		if i > 0 && s.Name() != heads[i].text || !sameNames(heads[i].keys, s.KeyStrings()) {
			return false
		}
	}
	return true
}

// sameNames says whether the library's keys are those of the index; to the
// library a key written twice alike is one.
func sameNames(keys []keyLine, names []string) bool {
	seen := map[string]bool{}
	var once []string
	for _, k := range keys {
		if !seen[k.name] {
			seen[k.name] = true
			once = append(once, k.name)
		}
	}
	return slices.Equal(once, names)
}

// byRank puts a general key before those that say the same more closely, and
// the rules for some drafts behind the rules for all, and those one by one behind
// their families; else it keeps the order.
func byRank(list []setting) {
	slices.SortStableFunc(list, func(a, b setting) int { return a.rank() - b.rank() })
}

func (s setting) rank() int {
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

// stray notes that the last failure, if it is one, stands in no settings file.
func (r *reading) stray(is bool) {
	if is {
		r.strays = append(r.strays, r.errs[len(r.errs)-1])
	}
}

func (r *reading) section(h header, keys []*ini.Key, top bool) {
	section, name := &sections[0], ""
	if !top {
		var problem string
		section, name, problem = heading(h.text, r.included)
		if problem != "" {
			r.fail(h.line, h.column, h.text, "", problem)
			r.stray(section == nil)
			return
		}
		r.once(identity(section, name), h, keyLine{}, "["+h.text+"]")
	}
	values := map[string]string{}
	for _, k := range keys {
		values[k.Name()] = k.Value()
	}
	for _, k := range h.keys {
		r.key(section, name, h, k, values[k.name])
	}
}

func (r *reading) key(section *Section, name string, h header, k keyLine, value string) {
	known, many, problem := lookUp(section, k.name, r.included)
	if problem != "" {
		r.fail(k.line, k.column, h.text, k.name, problem)
		r.stray(section.Name == "")
		return
	}
	if !r.once(identity(section, name)+"\n"+known.Name+"\n"+many, h, k, k.name) {
		return
	}
	s := setting{section: section, name: name, key: known, many: many, value: value, folder: r.folder,
		origin: schema.Origin{Path: r.path, Line: k.line}, keyed: k.column, column: k.valued}
	if err := r.scratch.add(s); err != nil {
		r.fail(k.line, k.valued, h.text, k.name, badValue(s, err))
		return
	}
	if known.Name == "RULE" && !r.rule(s, h, k) {
		return
	}
	if section.Name == "" {
		r.includes = s
		return
	}
	r.found = append(r.found, s)
}

// rule checks a line of [rules] that reads well, and says whether there is such a
// rule and it takes what is stated.
func (r *reading) rule(s setting, h header, k keyLine) bool {
	if r.rules == nil {
		return true
	}
	if err := r.rules.Known(s.many); err != nil {
		r.fail(k.line, k.column, h.text, k.name, err.Error())
		return false
	}
	stated := r.scratch.out.Rules
	if err := r.rules.Takes(s.many, stated[len(stated)-1].Options); err != nil {
		r.fail(k.line, k.valued, h.text, k.name, err.Error())
		return false
	}
	return true
}

// once notes that a section or key was seen and says whether it was the first
// time.
func (r *reading) once(id string, h header, k keyLine, shown string) bool {
	line, column := h.line, h.column
	if k.line > 0 {
		line, column = k.line, k.column
	}
	first, again := r.seen[id]
	if !again {
		r.seen[id] = line
		return true
	}
	if r.included {
		shown = "this"
	} else {
		shown = wording.Quote(shown)
	}
	r.fail(line, column, h.text, k.name, fmt.Sprintf("%s stands on line %d already; keep one of the two", shown, first))
	return false
}

// heading reads what stands between the brackets of a section. The section is
// nil where it is not known.
func heading(text string, hush bool) (section *Section, name, problem string) {
	word, name, _ := strings.Cut(text, " ")
	name = strings.TrimSpace(name)
	section = sectionOf(text)
	switch {
	case section == nil || section.Name == "":
		problem = "this section is not known; there are [" + strings.Join(sectionNames(), "], [") + "]"
		if !hush {
			known := "there are [" + strings.Join(sectionNames(), "], [") + "]"
			if near := spelling.Nearest(word, sectionNames()); near != "" {
				known = "is [" + near + "] meant?"
			}
			problem = "there is no section [" + wording.Plain(text, 60) + "]; " + known
		}
		return nil, "", problem
	case name != "" && section.Naming == Unnamed:
		problem = "[" + section.Name + "] takes no name behind it; write [" + section.Name + "]"
	case name != "" && section.Name == "rules":
		if _, err := parsePattern(name); err != nil {
			problem = "[rules]: " + err.Error()
		}
	default:
		name = strings.Join(strings.Fields(name), " ")
	}
	return section, name, problem
}

// lookUp finds a key of a section.
func lookUp(section *Section, word string, hush bool) (known *Key, many, problem string) {
	known, many = section.find(word)
	if known != nil {
		return known, many, ""
	}
	in := "[" + section.Name + "]"
	if section.Name == "" {
		in = "the lines before the first section"
	}
	if hush {
		return nil, "", fmt.Sprintf("this key is not known in %s; there are %s", in, strings.Join(section.names(), ", "))
	}
	return nil, "", fmt.Sprintf("there is no key %s in %s; %s", wording.Quote(word), in, section.hint(word))
}

// hint is what may be meant by a word that is no key of the section: a key of its
// own that has the word within its name, the same name in another section, a key
// that is spelt much like it, or any of its keys.
func (s *Section) hint(word string) string {
	if within := s.naming(word); len(within) > 0 {
		return "is " + wording.Either(within) + " meant?"
	}
	if home := homeOf(word); home != "" {
		return "it belongs " + home
	}
	if near := spelling.Nearest(word, s.names()); near != "" {
		return "is '" + near + "' meant?"
	}
	return "there are " + strings.Join(s.names(), ", ")
}

// naming are the keys, in quotation marks, whose names have all of some words in them, in any order:
// width, or warp shrinkage.
func (s *Section) naming(words string) []string {
	var list []string
	for _, name := range s.names() {
		has := strings.Fields(spelling.Fold(name))
		lacks := func(word string) bool { return !slices.Contains(has, word) }
		if asked := strings.Fields(spelling.Fold(words)); len(asked) > 0 && !slices.ContainsFunc(asked, lacks) {
			list = append(list, "'"+name+"'")
		}
	}
	return list
}

// homeOf says which is the first section that has such a key, "" for none.
func homeOf(word string) string {
	for _, s := range sections {
		for _, k := range s.Keys {
			switch {
			case k.sample != "" || spelling.Fold(k.Name) != spelling.Fold(word):
			case s.Name == "":
				return "before the first section"
			default:
				return "in [" + s.Name + "]"
			}
		}
	}
	return ""
}

// identity is the same for headings that mean the same section. Patterns keep
// their case, names do not.
func identity(s *Section, name string) string {
	if s.Name != "rules" {
		name = strings.ToLower(name)
	}
	return s.Name + "\n" + name
}

// badValue tells what is wrong with a value.
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
		message += "; a comment behind a value begins with ;"
	}
	return message
}
