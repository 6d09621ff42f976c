package draftjson

import (
	"slices"
	"strings"
	"sync"

	"fettle/schema"
	"fettle/schema/spelling"
)

// This file is the shape of the JSON draft: what it may hold, in the order in
// which it is written. The reader, the writer, the complaints and the places all
// go by it, and a test compares it with the published schema.

// kind is the kind of JSON that a value is.
type kind uint8

const (
	object  kind = iota // with the properties of the table
	named               // an object whose property names are the weaver's: the yarns
	list                // of elements that are all alike
	version             // the number 1
	text                // a string
	word                // a string without spaces
	choice              // one of a few strings
	truth               // true or false
	count               // a whole number up to mostCounted
	number              // a whole number up to schema.Belief
	measure             // a number up to schema.Belief
	row                 // a number, or a list of numbers
	color               // a string like "#f2ead8", or null
	setting             // a string, a whole number, or true or false
)

// mostCounted is the largest number of threads, shafts or treadles that a draft
// can declare.
const mostCounted = 2 * schema.Belief

// value is one value of the JSON draft.
type value struct {
	name       string // of the property; "" for an element
	kind       kind
	expected   string   // what belongs here, in a weaver's words
	properties []*value // of an object
	each       *value   // an element of a list, or any property of named
	called     string   // what a weaver calls an element; "" for number
	words      []string // of a choice, in the order of the model from 1
	key        string   // of a setting: its key in fettle.ini
	must       bool     // a property that must be there
	null       bool     // null may be here instead
	lists      bool     // rows name several numbers as a rule, so one alone is written as a list

	part  schema.Part
	field schema.Field

	in func(holder any) any // gives a pointer to where it goes in the model
}

// in makes a value's place in the model from a function on its holder.
func in[H, V any](field func(*H) *V) func(any) any {
	return func(holder any) any { return field(holder.(*H)) }
}

type draft = schema.Draft

// table is the whole draft.
var table = &value{kind: object, expected: "a draft", properties: []*value{
	{name: "fettle", kind: version, expected: "1", must: true},
	textOf("title", schema.FieldTitle, func(d *draft) *string { return &d.Texts.Title }),
	textOf("author", schema.FieldAuthor, func(d *draft) *string { return &d.Texts.Author }),
	textOf("address", schema.FieldAddress, func(d *draft) *string { return &d.Texts.Address }),
	textOf("email", schema.FieldEMail, func(d *draft) *string { return &d.Texts.EMail }),
	textOf("telephone", schema.FieldTelephone, func(d *draft) *string { return &d.Texts.Telephone }),
	textOf("fax", schema.FieldFax, func(d *draft) *string { return &d.Texts.Fax }),
	{name: "notes", kind: list, expected: "a list of texts", part: schema.PartNotes,
		each: &value{kind: text, expected: "a text", called: "note"}, in: in(func(d *draft) *[]string { return &d.Notes })},
	{name: "shafts", kind: count, expected: "a whole number", field: schema.FieldShafts, in: in(func(d *draft) *int { return &d.Shafts })},
	{name: "treadles", kind: count, expected: "a whole number", field: schema.FieldTreadles, in: in(func(d *draft) *int { return &d.Treadles })},
	{name: "shed", kind: choice, expected: `"rising" or "sinking"`, words: []string{"rising", "sinking"},
		field: schema.FieldShed, in: in(func(d *draft) *schema.Shed { return &d.Shed })},
	{name: "profile", kind: truth, expected: "true or false", field: schema.FieldProfile, in: in(func(d *draft) *schema.Answer { return &d.Profile })},
	{name: "palette", kind: list, expected: "a list of colors", part: schema.PartPalette,
		each: &value{kind: color, expected: `a color like "#f2ead8"`, called: "color"}, in: in(func(d *draft) *[]schema.Color { return &d.Palette })},
	rowsOf("threading", "end", "shaft", schema.PartThreading, func(d *draft) *schema.Rows { return &d.Threading }),
	listed(rowsOf("tieup", "treadle", "shaft", schema.PartTieup, func(d *draft) *schema.Rows { return &d.Tieup })),
	rowsOf("treadling", "pick", "treadle", schema.PartTreadling, func(d *draft) *schema.Rows { return &d.Treadling }),
	orNull(listed(rowsOf("liftplan", "pick", "shaft", schema.PartLiftPlan, func(d *draft) *schema.Rows { return &d.LiftPlan }))),
	systemOf("warp", "end", schema.Warp, func(d *draft) *schema.System { return &d.Warp }),
	systemOf("weft", "pick", schema.Weft, func(d *draft) *schema.System { return &d.Weft }),
	{name: "project", kind: object, expected: "an object with settings", in: in(func(d *draft) *[]schema.Setting { return &d.Settings }),
		properties: append(settings("reed", "sett", "picks", "finished length", "picks per item", "repeats per item", "finished width", "items",
			"each item", "hem", "hem picks", "hem weave", "fringe", "sample", "cut off sample", "re-tie",
			"loom waste", "take-up", "weft take-up", "shrinkage", "shrinkage warp", "shrinkage weft", "draw-in", "repeats", "balance",
			"wrap", "floating selvedges", "bout", "dressing"),
			&value{name: "yarns", kind: named, expected: "an object with a property for each yarn",
				each: &value{kind: object, expected: "an object with settings", properties: settings("grist", "color", "palette", "stock", "use")}})},
	entries("ignore", "entry", `an object like {"rule": "cloth/long-float", "reason": "..."}`,
		func(d *draft) *[]schema.Ignore { return &d.Ignores },
		&value{name: "rule", kind: word, expected: "the name of a rule, like cloth/long-float", must: true, in: in(func(g *schema.Ignore) *string { return &g.Rule })},
		&value{name: "reason", kind: text, expected: "a text", in: in(func(g *schema.Ignore) *string { return &g.Reason })}),
	{name: "carried", kind: object, expected: carried, in: in(func(d *draft) *schema.Carried { return &d.Carried }), properties: []*value{
		{name: "wif", kind: object, expected: carried, in: in(func(c *schema.Carried) *schema.Carried { return c }), properties: []*value{
			entries("comments", "", carried, func(c *schema.Carried) *[]schema.Comment { return &c.Comments },
				carriedText("section", false, func(c *schema.Comment) *string { return &c.Section }),
				carriedText("before", false, func(c *schema.Comment) *string { return &c.Before }),
				carriedText("text", true, func(c *schema.Comment) *string { return &c.Text })),
			entries("values", "", carried, func(c *schema.Carried) *[]schema.Setting { return &c.Values },
				carriedText("section", true, func(s *schema.Setting) *string { return &s.Section }),
				carriedText("key", true, func(s *schema.Setting) *string { return &s.Key }),
				carriedText("value", true, func(s *schema.Setting) *string { return &s.Value })),
			entries("sections", "", carried, func(c *schema.Carried) *[]schema.TextSection { return &c.Sections },
				carriedText("name", true, func(s *schema.TextSection) *string { return &s.Name }),
				&value{name: "lines", kind: list, expected: carried, must: true, each: &value{kind: text, expected: carried},
					in: in(func(s *schema.TextSection) *[]string { return &s.Lines })}),
		}},
	}},
}}

// carried is what belongs where another format's own words are kept.
const carried = "what another format carried there"

func textOf(name string, field schema.Field, where func(*draft) *string) *value {
	return &value{name: name, kind: text, expected: "a text", field: field, in: in(where)}
}

func carriedText[E any](name string, must bool, where func(*E) *string) *value {
	return &value{name: name, kind: text, expected: carried, must: must, in: in(where)}
}

// rowsOf is a table with a row for each thread or treadle.
func rowsOf(name, thread, numbers string, part schema.Part, where func(*draft) *schema.Rows) *value {
	return &value{name: name, kind: list, expected: "a list with a row for each " + thread, part: part, in: in(where),
		each: &value{kind: row, expected: "a " + numbers + " number, a list of them, or 0 for none", called: thread}}
}

func listed(v *value) *value { v.lists = true; return v }

func orNull(v *value) *value { v.null = true; return v }

// systemOf is the warp or the weft.
func systemOf(name, thread string, of schema.SystemName, where func(*draft) *schema.System) *value {
	measureOf := func(name string, field schema.Field, where func(*schema.System) *float64) *value {
		return &value{name: name, kind: measure, expected: "a number of 0 or more", field: field, in: in(where)}
	}
	measures := func(name string, part schema.Part, where func(*schema.System) *[]float64) *value {
		return &value{name: name, kind: list, null: true, expected: "a list of numbers", part: schema.PartOf(of, part), in: in(where),
			each: &value{kind: measure, expected: "a number of 0 or more", called: thread}}
	}
	type system = schema.System
	return &value{name: name, kind: object, expected: "an object", part: schema.PartOf(of, schema.PartWarp), in: in(where), properties: []*value{
		{name: "threads", kind: count, expected: "a whole number", field: schema.FieldThreads, in: in(func(s *system) *int { return &s.Threads })},
		{name: "color", kind: number, expected: "a palette number", field: schema.FieldColor, in: in(func(s *system) *int { return &s.Color })},
		{name: "colors", kind: list, null: true, expected: "a list of palette numbers", part: schema.PartOf(of, schema.PartWarpColors),
			each: &value{kind: number, expected: "a palette number", called: thread}, in: in(func(s *system) *[]int32 { return &s.Colors })},
		{name: "unit", kind: choice, expected: `"decipoint", "in" or "cm"`, words: []string{"decipoint", "in", "cm"},
			field: schema.FieldUnit, in: in(func(s *system) *schema.Unit { return &s.Unit })},
		measureOf("spacing", schema.FieldSpacing, func(s *system) *float64 { return &s.Spacing }),
		measures("spacings", schema.PartWarpSpacings, func(s *system) *[]float64 { return &s.Spacings }),
		measureOf("thickness", schema.FieldThickness, func(s *system) *float64 { return &s.Thickness }),
		measures("thicknesses", schema.PartWarpThicknesses, func(s *system) *[]float64 { return &s.Thicknesses }),
	}}
}

// settings returns a property for each of these keys of fettle.ini.
func settings(keys ...string) []*value {
	var values []*value
	for _, key := range keys {
		values = append(values, &value{name: settingName(key), kind: setting, key: key, expected: "a text, a whole number, or true or false"})
	}
	return values
}

// entries is a list of objects.
func entries[H, E any](name, called, expected string, where func(*H) *[]E, properties ...*value) *value {
	elements := "a list, each " + expected
	if called == "" {
		elements = expected
	}
	return &value{name: name, kind: list, expected: elements,
		each: &value{kind: object, expected: expected, called: called, properties: properties},
		in:   func(holder any) any { return (*objects[E])(where(holder.(*H))) }}
}

// objects are entries of the model.
type objects[E any] []E

// objectList is objects of any kind.
type objectList interface {
	len() int
	at(i int) (entry any)
	add() (entry any)
}

func (l *objects[E]) len() int     { return len(*l) }
func (l *objects[E]) at(i int) any { return &(*l)[i] }
func (l *objects[E]) add() any {
	*l = append(*l, *new(E))
	return &(*l)[len(*l)-1]
}

// property gives the property of that name, and its index; nil where an object
// has none.
func (v *value) property(name string) (int, *value) {
	for i, p := range v.properties {
		if p.name == name {
			return i, p
		}
	}
	return -1, nil
}

// alike returns the setting whose name differs from this one only in hyphens,
// underscores, spaces and capitals, which fettle.ini ignores too.
func (v *value) alike(name string) (int, *value) {
	if len(v.properties) == 0 || v.properties[0].kind != setting {
		return -1, nil
	}
	name = settingName(spelling.Fold(name))
	for i, p := range v.properties {
		if p.kind == setting && p.name == name {
			return i, p
		}
	}
	return -1, nil
}

// names gives the names of an object's properties, sorted.
func (v *value) names() []string {
	var names []string
	for _, p := range v.properties {
		names = append(names, p.name)
	}
	slices.Sort(names)
	return names
}

// child goes one step down a path; nil where the table has nothing there.
func (v *value) child(step string) *value {
	switch v.kind {
	case object:
		_, p := v.property(step)
		return p
	case list, named:
		return v.each
	case row: // a number in it
		return &value{kind: row, expected: v.expected}
	}
	return nil
}

// find gives the values along a path, from the draft on. It stops where the
// table has no more.
func find(path []string) []*value {
	found := []*value{table}
	for _, step := range path {
		next := found[len(found)-1].child(step)
		if next == nil {
			break
		}
		found = append(found, next)
	}
	return found
}

// settingName returns the property for a key of fettle.ini: "take_up" for
// "take-up".
func settingName(key string) string { return underscored.Replace(key) }

var underscored = strings.NewReplacer(" ", "_", "-", "_")

// places says which property holds each part and each single value of a draft.
var places = sync.OnceValue(func() (p struct {
	parts  map[schema.Part][]string
	fields map[schema.Field]string
}) {
	p.parts, p.fields = map[schema.Part][]string{}, map[schema.Field]string{}
	var collect func(v *value, path []string)
	collect = func(v *value, path []string) {
		if v.part != schema.PartFile {
			p.parts[v.part] = path
		}
		if v.field != schema.NoField {
			p.fields[v.field] = v.name
		}
		for _, property := range v.properties {
			collect(property, append(slices.Clip(path), property.name))
		}
	}
	collect(table, nil)
	return p
})
