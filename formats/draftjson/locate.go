package draftjson

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
)

// locator finds places in the text by walking it again, so that a draft without
// findings pays nothing for it.
type locator struct {
	text    []byte
	draft   *schema.Draft            // for the names of its settings
	arrays  map[string][]schema.Span // the elements of arrays walked, by pointer
	objects map[string][]member      // the properties of objects walked, by pointer
}

// properties says which property holds each part of a draft.
var properties = map[schema.Part][]string{
	schema.PartNotes:           {"notes"},
	schema.PartPalette:         {"palette"},
	schema.PartThreading:       {"threading"},
	schema.PartTieup:           {"tieup"},
	schema.PartTreadling:       {"treadling"},
	schema.PartLiftPlan:        {"liftplan"},
	schema.PartWarp:            {"warp"},
	schema.PartWeft:            {"weft"},
	schema.PartWarpColors:      {"warp", "colors"},
	schema.PartWeftColors:      {"weft", "colors"},
	schema.PartWarpSpacings:    {"warp", "spacings"},
	schema.PartWeftSpacings:    {"weft", "spacings"},
	schema.PartWarpThicknesses: {"warp", "thicknesses"},
	schema.PartWeftThicknesses: {"weft", "thicknesses"},
}

// fieldNames says which property holds each single value.
var fieldNames = map[schema.Field]string{
	schema.FieldShafts: "shafts", schema.FieldTreadles: "treadles", schema.FieldShed: "shed",
	schema.FieldProfile: "profile", schema.FieldThreads: "threads", schema.FieldColor: "color",
	schema.FieldUnit: "unit", schema.FieldSpacing: "spacing", schema.FieldThickness: "thickness",
	schema.FieldTitle: "title", schema.FieldAuthor: "author", schema.FieldAddress: "address",
	schema.FieldEMail: "email", schema.FieldTelephone: "telephone", schema.FieldFax: "fax",
}

// Locate gives the value of a place, else of the part that would hold it, else
// the beginning of the draft.
func (l *locator) Locate(p schema.Place) (schema.Span, string) {
	if p.Part == schema.PartSettings {
		return l.find(l.settingPath(p.Row))
	}
	return l.find(pathOf(p))
}

// settingPath is the names that lead to one of the draft's own settings.
func (l *locator) settingPath(row int) []string {
	if l.draft == nil || row < 1 || row > len(l.draft.Settings) {
		return []string{"project"}
	}
	s := l.draft.Settings[row-1]
	key := strings.ReplaceAll(s.Key, " ", "_")
	if yarn, ok := strings.CutPrefix(s.Section, "yarn "); ok {
		return []string{"project", "yarns", yarn, key}
	}
	return []string{"project", key}
}

// pathOf is the names and indexes that lead to a place.
func pathOf(p schema.Place) []string {
	path := append([]string{}, properties[p.Part]...)
	if p.Row > 0 {
		path = append(path, strconv.Itoa(p.Row-1))
	}
	if p.Field != schema.NoField {
		path = append(path, fieldNames[p.Field])
	}
	return path
}

// find gives the place at a path, or the last one on the way that there is: a
// property with its name, an element by itself, of several lines the first.
func (l *locator) find(path []string) (at schema.Span, pointer string) {
	at, key, pointer := l.walk(path)
	if pointer == "" {
		return schema.Span{Start: at.Start, End: at.Start + 1}, ""
	}
	if key.End > 0 {
		at.Start = key.Start
	}
	for i := at.Start; i < at.End; i++ {
		if l.text[i] == '\n' || l.text[i] == '\r' {
			at.End = i
			break
		}
	}
	return at, pointer
}

// walk goes down a path as far as there are values, and gives the last one: where
// it stands, and where its name does.
func (l *locator) walk(path []string) (at, key schema.Span, pointer string) {
	start := bytes.IndexByte(l.text, '{')
	at = schema.Span{Start: max(start, 0), End: len(l.text)}
	for _, step := range path {
		next, name, ok := l.step(pointer, at, step)
		if !ok {
			break
		}
		at, key, pointer = next, name, pointer+"/"+escaped(step)
	}
	return at, key, pointer
}

// step goes from a value to one of its properties or elements.
func (l *locator) step(pointer string, at schema.Span, step string) (next, key schema.Span, ok bool) {
	if l.text[at.Start] == '[' {
		list, walked := l.arrays[pointer]
		if !walked {
			list = slices.Collect(each(l.text, at))
			if l.arrays == nil {
				l.arrays = map[string][]schema.Span{}
			}
			l.arrays[pointer] = list
		}
		n, err := strconv.Atoi(step)
		if err != nil || n < 0 || n >= len(list) {
			return next, key, false
		}
		return list[n], key, true
	}
	list, walked := l.objects[pointer]
	if !walked {
		list = members(l.text, at)
		if l.objects == nil {
			l.objects = map[string][]member{}
		}
		l.objects[pointer] = list
	}
	for _, m := range list {
		if m.name == step {
			return m.data, m.key, true
		}
	}
	return next, key, false
}
