package wif

import (
	"bytes"
	"slices"
	"strings"

	"fettle/schema"
)

// carried is what a draft brings along from a text file, by section, for the
// writer to put back where it was.
type carried struct {
	values   map[string]map[string]string // section, key
	keys     map[string][]string          // section: its keys in order
	comments map[string]map[string][]string
	order    map[string][]string // section: the keys that comments stand before, in order
	sections []string            // that comments stand in, in order
}

func carriedOf(d *schema.Draft) *carried {
	c := &carried{values: map[string]map[string]string{}, keys: map[string][]string{},
		comments: map[string]map[string][]string{}, order: map[string][]string{}}
	for _, v := range d.Carried.Values {
		c.addValue(v)
	}
	asked := map[string]bool{}
	for _, g := range d.Ignores {
		asked[g.Rule+" "+g.Reason] = true
	}
	said := map[string]bool{}
	for _, s := range d.Carried.Sections {
		for _, l := range s.Lines {
			if rule, reason, ok := ignoreComment(l); ok {
				said[rule+" "+reason] = true
			}
		}
	}
	for _, m := range d.Carried.Comments {
		rule, reason, ok := ignoreComment(m.Text)
		if ok && !asked[rule+" "+reason] {
			continue // the model has been edited since, and the model wins
		}
		said[rule+" "+reason] = true
		c.addComment(m)
	}
	for _, g := range d.Ignores {
		if !said[g.Rule+" "+g.Reason] {
			said[g.Rule+" "+g.Reason] = true
			c.addComment(schema.Comment{Text: strings.TrimRight(schema.IgnoreComment+g.Rule+" - "+g.Reason, " -")})
		}
	}
	return c
}

func (c *carried) addValue(v schema.Setting) {
	if c.values[v.Section] == nil {
		c.values[v.Section] = map[string]string{}
	}
	if _, twice := c.values[v.Section][v.Key]; !twice {
		c.values[v.Section][v.Key] = v.Value
	}
	c.keys[v.Section] = append(c.keys[v.Section], v.Key)
}

func (c *carried) addComment(m schema.Comment) {
	if c.comments[m.Section] == nil {
		c.comments[m.Section] = map[string][]string{}
		c.sections = append(c.sections, m.Section)
	}
	if c.comments[m.Section][m.Before] == nil {
		c.order[m.Section] = append(c.order[m.Section], m.Before)
	}
	text := unbroken(strings.TrimSpace(m.Text))
	if !strings.HasPrefix(text, ";") {
		text = strings.TrimSpace("; " + text)
	}
	c.comments[m.Section][m.Before] = append(c.comments[m.Section][m.Before], text)
}

// value is what a section's key brought along.
func (c *carried) value(k kind, key string) (string, bool) {
	v, ok := c.values[sections[k].name][key]
	return v, ok
}

// others are the carried keys of a section that its list does not have and that
// are not the model's to write. One that is nearly called like a key that the
// list lacks would be read as that key, and becomes a comment.
func (c *carried) others(k kind, list pairs) pairs {
	var more pairs
	name := sections[k].name
	for _, key := range c.keys[name] {
		if list.has(key) || k.models(key) {
			continue
		}
		value := unbroken(c.values[name][key])
		near := k.nearKey([]byte(key))
		switch {
		case !lexesAs(key, value):
		case k.keyOf([]byte(key)) < 0 && near >= 0 && !list.has(sections[k].keys[near].name):
			c.addComment(schema.Comment{Section: name, Text: "; " + key + "=" + value})
		default:
			more = append(more, pair{key, value})
		}
	}
	return more
}

func (p pairs) has(key string) bool {
	return slices.ContainsFunc(p, func(p pair) bool { return p.key == key })
}

// models says whether a key's value is the model's to give, so that a carried
// one only says it more fully.
func (k kind) models(key string) bool {
	switch {
	case k == kindColorPalette:
		return true
	case k == kindColorTable:
		_, next := digits([]byte(key), 0)
		return next == len(key)
	case k == kindWarp, k == kindWeft:
		return sameName([]byte(key), "Color")
	}
	return false
}

// lexesAs says whether a line made of a key and a value reads as just that.
func lexesAs(key, value string) bool {
	text := []byte(key + "=" + value)
	l := lex(text, 0)
	return l.sort == sortKey && string(text[l.name.Start:l.name.End]) == key &&
		string(text[l.value.Start:l.value.End]) == value
}

// listable says whether CONTENTS can list a section of that name: not where the
// name would not read as the key of a line.
func listable(name string) bool { return lexesAs(name, "true") }

// comments writes, once, the comments that stand before a key.
func (w *writer) comments(out *bytes.Buffer, section, key string) {
	list := w.carried.comments[section][key]
	if list == nil {
		return
	}
	for _, text := range list {
		out.WriteString(text + "\n")
	}
	delete(w.carried.comments[section], key)
}

// leftComments writes what comments a section has left: those at its end, and
// those that stood before a line that is no longer there.
func (w *writer) leftComments(out *bytes.Buffer, section string) {
	for _, key := range w.carried.order[section] {
		w.comments(out, section, key)
	}
}

// orphans writes the comments of sections that are not written any more.
func (w *writer) orphans(out *bytes.Buffer) {
	for _, section := range w.carried.sections {
		w.leftComments(out, section)
	}
}
