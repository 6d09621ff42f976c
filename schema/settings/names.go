package settings

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fettle/schema/spelling"
	"fettle/schema/wording"
)

// sectionNamed finds a section by its folded name.
func sectionNamed(name string) *Section {
	for i := range sections {
		if sections[i].Name == name {
			return &sections[i]
		}
	}
	return nil
}

// sectionOf finds the section of a heading.
func sectionOf(heading string) *Section {
	word, _, _ := strings.Cut(heading, " ")
	return sectionNamed(spelling.Fold(word))
}

// find returns the key for a word. many is the word itself if the key is a
// placeholder such as RULE.
func (s *Section) find(word string) (k *Key, many string) {
	for i := range s.Keys {
		k := &s.Keys[i]
		switch {
		case k.Name == "RULE":
			return k, strings.ToLower(word)
		case k.Name == "SHAFT" && isShafts(word):
			return k, plainShafts(word)
		case spelling.Fold(k.Name) == spelling.Fold(word):
			return k, ""
		}
	}
	return nil, ""
}

// isShafts reports whether a key is a shaft number or a range of them.
func isShafts(word string) bool {
	from, to, isRange := strings.Cut(word, "-")
	digits := func(s string) bool { return strings.Trim(s, "0123456789") == "" }
	if !isRange {
		return digits(word)
	}
	from, to = strings.TrimSpace(from), strings.TrimSpace(to)
	return from != "" && to != "" && digits(from) && digits(to)
}

// plainShafts returns such a key without spaces and leading zeros.
func plainShafts(word string) string {
	plain := func(s string) string { return cmp.Or(strings.TrimLeft(strings.TrimSpace(s), "0"), "0") }
	if from, to, isRange := strings.Cut(word, "-"); isRange {
		return plain(from) + "-" + plain(to)
	}
	return plain(word)
}

func (s *Section) names() []string {
	var list []string
	for _, k := range s.Keys {
		list = append(list, k.Name)
	}
	return list
}

func sectionNames() []string {
	var list []string
	for _, s := range sections[1:] {
		list = append(list, s.Name)
	}
	return list
}

// heading reads the text between the brackets of a section. The section is nil if
// it is unknown. If hush is set, the problem doesn't quote the text.
func heading(text string, hush bool) (section *Section, name, problem string) {
	word, name, _ := strings.Cut(text, " ")
	name = strings.TrimSpace(name)
	section = sectionOf(text)
	switch {
	case section == nil || section.Name == "":
		known := "the sections are [" + strings.Join(sectionNames(), "], [") + "]"
		problem = "fettle doesn't know this section; " + known
		if !hush {
			if near := spelling.Nearest(word, sectionNames()); near != "" {
				known = "is [" + near + "] meant?"
			}
			problem = "there is no section [" + wording.Plain(text, 60) + "]; " + known
		}
		return nil, "", problem
	case name != "" && !section.MayBeNamed:
		problem = "[" + section.Name + "] can't have a name; write [" + section.Name + "]"
	case name != "" && section.Name == "rules":
		if _, err := parsePattern(name); err != nil {
			problem = "[rules]: " + err.Error()
		}
	default:
		name = strings.Join(strings.Fields(name), " ")
	}
	return section, name, problem
}

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
		return nil, "", fmt.Sprintf("fettle doesn't know this key in %s; the keys are %s", in, strings.Join(section.names(), ", "))
	}
	return nil, "", fmt.Sprintf("there is no key %s in %s; %s", wording.Quote(word), in, section.hint(word))
}

// hint suggests what an unknown key may mean: a key of the section with the word in
// its name, the same key in another section, a similar key, or any of its keys.
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
	return "the keys are " + strings.Join(s.names(), ", ")
}

// naming returns the keys, quoted, whose names contain all of the words in any
// order: "width", or "warp shrinkage".
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

// homeOf returns the place of the first section with such a key, "" for none.
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

// identity returns the same text for headings of the same section. The case
// matters in patterns, but not in names.
func identity(s *Section, name string) string {
	if s.Name != "rules" {
		name = strings.ToLower(name)
	}
	return s.Name + "\n" + name
}

// meant returns the end of a message about an unknown name.
func meant(word string, known []string) string {
	if n := spelling.Nearest(word, known); n != "" {
		return "; is '" + n + "' meant?"
	}
	return ""
}
