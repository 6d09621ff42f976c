package draftjson

import (
	"slices"
	"strings"
	"sync"

	"fettle/schema"
	"fettle/schema/spelling"
)

// This file defines the shape of the JSON draft, in the order in which it is written.
// The reader, the writer, the findings and the places all use it. A test compares it
// with the published schema.

type kind uint8

const (
	kindObject  kind = iota // with the properties of the table
	kindNamed               // an object whose property names the weaver chooses: the yarns
	kindList                // of elements of one kind
	kindVersion             // the number 1
	kindText                // a string
	kindWord                // a string without spaces
	kindChoice              // one of a few strings
	kindBool                // true or false
	kindCount               // a whole number up to maxCount
	kindNumber              // a whole number up to schema.MostExtraRows
	kindMeasure             // a number up to schema.MostExtraRows
	kindRow                 // a number, or a list of numbers
	kindColor               // a string like "#f2ead8", or null
	kindSetting             // a string, a whole number, or true or false
)

// maxCount is the highest number of threads, shafts or treadles that a draft can
// declare.
const maxCount = 2 * schema.MostExtraRows

// value is one value of the JSON draft.
type value struct {
	name        string // of the property; "" for an element
	kind        kind
	expected    string   // the right value, in a weaver's words
	properties  []*value // of an object
	each        *value   // an element of a list, or any property of kindNamed
	elementName string   // a weaver's word for an element; "" for number
	words       []string // of a choice, in the order of the model, from 1
	key         string   // of a setting: its key in fettle.ini
	required    bool     // the object must have this property
	nullable    bool     // the value may be null
	asLists     bool     // a row with one number is written as a list too

	part  schema.Part
	field schema.Field

	target func(holder any) any // returns a pointer to the value in the model
}

// holds adapts a function that returns the field of a holder.
func holds[H, V any](field func(*H) *V) func(any) any {
	return func(holder any) any { return field(holder.(*H)) }
}

type draft = schema.Draft

// table describes the whole draft.
var table = &value{kind: kindObject, expected: "a draft", properties: []*value{
	{name: "fettle", kind: kindVersion, expected: "1", required: true},
	textOf("title", schema.FieldTitle, func(d *draft) *string { return &d.Texts.Title }),
	textOf("author", schema.FieldAuthor, func(d *draft) *string { return &d.Texts.Author }),
	textOf("address", schema.FieldAddress, func(d *draft) *string { return &d.Texts.Address }),
	textOf("email", schema.FieldEMail, func(d *draft) *string { return &d.Texts.EMail }),
	textOf("telephone", schema.FieldTelephone, func(d *draft) *string { return &d.Texts.Telephone }),
	textOf("fax", schema.FieldFax, func(d *draft) *string { return &d.Texts.Fax }),
	{name: "notes", kind: kindList, expected: "a list of texts", part: schema.PartNotes,
		each: &value{kind: kindText, expected: "a text", elementName: "note"}, target: holds(func(d *draft) *[]string { return &d.Notes })},
	{name: "shafts", kind: kindCount, expected: "a whole number", field: schema.FieldShafts, target: holds(func(d *draft) *int { return &d.Shafts })},
	{name: "treadles", kind: kindCount, expected: "a whole number", field: schema.FieldTreadles, target: holds(func(d *draft) *int { return &d.Treadles })},
	{name: "shed", kind: kindChoice, expected: `"rising" or "sinking"`, words: []string{"rising", "sinking"},
		field: schema.FieldShed, target: holds(func(d *draft) *schema.Shed { return &d.Shed })},
	{name: "profile", kind: kindBool, expected: "true or false", field: schema.FieldProfile, target: holds(func(d *draft) *schema.Answer { return &d.Profile })},
	{name: "palette", kind: kindList, expected: "a list of colors", part: schema.PartPalette,
		each: &value{kind: kindColor, expected: `a color like "#f2ead8"`, elementName: "color"}, target: holds(func(d *draft) *[]schema.Color { return &d.Palette })},
	rowsOf("threading", "end", "shaft", schema.PartThreading, func(d *draft) *schema.Rows { return &d.Threading }),
	asLists(rowsOf("tieup", "treadle", "shaft", schema.PartTieup, func(d *draft) *schema.Rows { return &d.Tieup })),
	rowsOf("treadling", "pick", "treadle", schema.PartTreadling, func(d *draft) *schema.Rows { return &d.Treadling }),
	orNull(asLists(rowsOf("liftplan", "pick", "shaft", schema.PartLiftPlan, func(d *draft) *schema.Rows { return &d.LiftPlan }))),
	systemOf("warp", "end", schema.Warp, func(d *draft) *schema.System { return &d.Warp }),
	systemOf("weft", "pick", schema.Weft, func(d *draft) *schema.System { return &d.Weft }),
	{name: "project", kind: kindObject, expected: "an object with settings", target: holds(func(d *draft) *[]schema.Setting { return &d.Settings }),
		properties: append(settings("reed", "sett", "picks", "finished length", "picks per item", "repeats per item", "finished width", "items",
			"each item", "hem", "hem picks", "hem weave", "fringe", "sample", "cut off sample", "re-tie",
			"loom waste", "take-up", "weft take-up", "shrinkage", "shrinkage warp", "shrinkage weft", "draw-in", "repeats", "balance",
			"wrap", "floating selvedges", "bout", "dressing"),
			&value{name: "yarns", kind: kindNamed, expected: "an object with a property for each yarn",
				each: &value{kind: kindObject, expected: "an object with settings", properties: settings("grist", "color", "palette", "stock", "use")}})},
	entries("ignore", "entry", `an object like {"rule": "cloth/long-float", "reason": "..."}`,
		func(d *draft) *[]schema.Ignore { return &d.Ignores },
		&value{name: "rule", kind: kindWord, expected: "the name of a rule, like cloth/long-float", required: true, target: holds(func(g *schema.Ignore) *string { return &g.Rule })},
		&value{name: "reason", kind: kindText, expected: "a text", target: holds(func(g *schema.Ignore) *string { return &g.Reason })}),
	{name: "carried", kind: kindObject, expected: carried, target: holds(func(d *draft) *schema.Carried { return &d.Carried }), properties: []*value{
		{name: "wif", kind: kindObject, expected: carried, target: holds(func(c *schema.Carried) *schema.Carried { return c }), properties: []*value{
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
				&value{name: "lines", kind: kindList, expected: carried, required: true, each: &value{kind: kindText, expected: carried},
					target: holds(func(s *schema.TextSection) *[]string { return &s.Lines })}),
		}},
	}},
}}

const carried = "what another format carried there"

func textOf(name string, field schema.Field, where func(*draft) *string) *value {
	return &value{name: name, kind: kindText, expected: "a text", field: field, target: holds(where)}
}

func carriedText[E any](name string, required bool, where func(*E) *string) *value {
	return &value{name: name, kind: kindText, expected: carried, required: required, target: holds(where)}
}

// rowsOf describes a table with a row for each thread or treadle.
func rowsOf(name, thread, numbers string, part schema.Part, where func(*draft) *schema.Rows) *value {
	return &value{name: name, kind: kindList, expected: "a list with a row for each " + thread, part: part, target: holds(where),
		each: &value{kind: kindRow, expected: "a " + numbers + " number, a list of them, or 0 for none", elementName: thread}}
}

func asLists(v *value) *value { v.asLists = true; return v }

func orNull(v *value) *value { v.nullable = true; return v }

// systemOf describes the warp or the weft.
func systemOf(name, thread string, of schema.SystemName, where func(*draft) *schema.System) *value {
	measureOf := func(name string, field schema.Field, where func(*schema.System) *float64) *value {
		return &value{name: name, kind: kindMeasure, expected: "a number of 0 or more", field: field, target: holds(where)}
	}
	measures := func(name string, part schema.Part, where func(*schema.System) *[]float64) *value {
		return &value{name: name, kind: kindList, nullable: true, expected: "a list of numbers", part: schema.PartOf(of, part), target: holds(where),
			each: &value{kind: kindMeasure, expected: "a number of 0 or more", elementName: thread}}
	}
	type system = schema.System
	return &value{name: name, kind: kindObject, expected: "an object", part: schema.PartOf(of, schema.PartWarp), target: holds(where), properties: []*value{
		{name: "threads", kind: kindCount, expected: "a whole number", field: schema.FieldThreads, target: holds(func(s *system) *int { return &s.Threads })},
		{name: "color", kind: kindNumber, expected: "a palette number", field: schema.FieldColor, target: holds(func(s *system) *int { return &s.Color })},
		{name: "colors", kind: kindList, nullable: true, expected: "a list of palette numbers", part: schema.PartOf(of, schema.PartWarpColors),
			each: &value{kind: kindNumber, expected: "a palette number", elementName: thread}, target: holds(func(s *system) *[]int32 { return &s.Colors })},
		{name: "unit", kind: kindChoice, expected: `"decipoint", "in" or "cm"`, words: []string{"decipoint", "in", "cm"},
			field: schema.FieldUnit, target: holds(func(s *system) *schema.Unit { return &s.Unit })},
		measureOf("spacing", schema.FieldSpacing, func(s *system) *float64 { return &s.Spacing }),
		measures("spacings", schema.PartWarpSpacings, func(s *system) *[]float64 { return &s.Spacings }),
		measureOf("thickness", schema.FieldThickness, func(s *system) *float64 { return &s.Thickness }),
		measures("thicknesses", schema.PartWarpThicknesses, func(s *system) *[]float64 { return &s.Thicknesses }),
	}}
}

// settings describes a property for each of these keys of fettle.ini.
func settings(keys ...string) []*value {
	var values []*value
	for _, key := range keys {
		values = append(values, &value{name: settingName(key), kind: kindSetting, key: key, expected: "a text, a whole number, or true or false"})
	}
	return values
}

// entries describes a list of objects.
func entries[H, E any](name, called, expected string, where func(*H) *[]E, properties ...*value) *value {
	elements := "a list, each " + expected
	if called == "" {
		elements = expected
	}
	return &value{name: name, kind: kindList, expected: elements,
		each:   &value{kind: kindObject, expected: expected, elementName: called, properties: properties},
		target: func(holder any) any { return (*entryList[E])(where(holder.(*H))) }}
}

// entryList is a list of objects in the model.
type entryList[E any] []E

// anyEntryList is an entryList of any type.
type anyEntryList interface {
	len() int
	at(i int) (entry any)
	add() (entry any)
}

func (l *entryList[E]) len() int     { return len(*l) }
func (l *entryList[E]) at(i int) any { return &(*l)[i] }
func (l *entryList[E]) add() any {
	*l = append(*l, *new(E))
	return &(*l)[len(*l)-1]
}

// property returns the property with a name, and its index; nil for none.
func (v *value) property(name string) (int, *value) {
	for i, p := range v.properties {
		if p.name == name {
			return i, p
		}
	}
	return -1, nil
}

// settingLike returns the setting with a name that differs only in hyphens,
// underscores, spaces and capitals.
func (v *value) settingLike(name string) (int, *value) {
	if len(v.properties) == 0 || v.properties[0].kind != kindSetting {
		return -1, nil
	}
	name = settingName(spelling.Fold(name))
	for i, p := range v.properties {
		if p.kind == kindSetting && p.name == name {
			return i, p
		}
	}
	return -1, nil
}

// names returns the names of an object's properties, sorted.
func (v *value) names() []string {
	var names []string
	for _, p := range v.properties {
		names = append(names, p.name)
	}
	slices.Sort(names)
	return names
}

// child returns the value at one step of a path, nil for none.
func (v *value) child(step string) *value {
	switch v.kind {
	case kindObject:
		_, p := v.property(step)
		return p
	case kindList, kindNamed:
		return v.each
	case kindRow: // a number in the row
		return &value{kind: kindRow, expected: v.expected}
	}
	return nil
}

// valuesAlong returns the values along a path, from the draft to the last that the
// table has.
func valuesAlong(path []string) []*value {
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

// settingName returns the property for a key of fettle.ini: take_up for take-up.
func settingName(key string) string { return underscored.Replace(key) }

var underscored = strings.NewReplacer(" ", "_", "-", "_")

// places returns the property of each part and each single value of a draft.
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
