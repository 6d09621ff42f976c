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
	key := settingName(s.Key)
	if yarn, ok := strings.CutPrefix(s.Section, "yarn "); ok {
		return []string{"project", "yarns", yarn, key}
	}
	return []string{"project", key}
}

// pathOf is the names and indexes that lead to a place.
func pathOf(p schema.Place) []string {
	path := slices.Clone(places().parts[p.Part])
	if p.Row > 0 {
		path = append(path, strconv.Itoa(p.Row-1))
	}
	if p.Field != schema.NoField {
		path = append(path, places().fields[p.Field])
	}
	return path
}

var escaped = strings.NewReplacer("~", "~0", "/", "~1")

// pointerTo gives the JSON Pointer of a path.
func pointerTo(path []string, more ...string) string {
	var pointer strings.Builder
	for _, step := range slices.Concat(path, more) {
		pointer.WriteString("/" + escaped.Replace(step))
	}
	return pointer.String()
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
		at, key, pointer = next, name, pointer+"/"+escaped.Replace(step)
	}
	return at, key, pointer
}

// step goes from a value to one of its properties or elements.
func (l *locator) step(pointer string, at schema.Span, step string) (next, key schema.Span, ok bool) {
	if l.text[at.Start] == '[' {
		list, walked := l.arrays[pointer]
		if !walked {
			list = slices.Collect(elements(l.text, at))
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
		list = slices.Collect(members(l.text, at))
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

// Set changes the value of a property, or has the shed stand behind the first
// property of the draft.
func (l *locator) Set(p schema.Place, value string) []schema.Edit {
	if p.Field == schema.FieldShed {
		value = strconv.Quote(value)
	}
	if at, ok := l.held(p); ok {
		return []schema.Edit{{Span: at, New: value}}
	}
	top, _, _ := l.walk(nil)
	if p.Field != schema.FieldShed {
		return nil
	}
	for first := range members(l.text, top) {
		end := first.data.End
		return []schema.Edit{{Span: schema.Span{Start: end, End: end}, New: `, "` + places().fields[p.Field] + `": ` + value}}
	}
	return nil
}

// SetRow changes an element of a list: to a number by itself, or to a list of
// several or none.
func (l *locator) SetRow(p schema.Place, numbers []int32) []schema.Edit {
	at, ok := l.held(p)
	if !ok {
		return nil
	}
	return []schema.Edit{{Span: at, New: rowText(numbers, l.text[at.Start] == '[')}}
}

// rowText is a row: a number by itself, unless it is to be a list.
func rowText(numbers []int32, list bool) string {
	words := make([]string, len(numbers))
	for i, n := range numbers {
		words[i] = strconv.Itoa(int(n))
	}
	text := strings.Join(words, ", ")
	if len(words) != 1 || list {
		text = "[" + text + "]"
	}
	return text
}

// SetRows changes the list of a part, with what stands between its first two
// elements between all.
func (l *locator) SetRows(p schema.Part, rows [][]int32) []schema.Edit {
	at, ok := l.held(schema.Place{Part: p})
	if !ok || l.text[at.Start] != '[' {
		return nil
	}
	list := slices.Collect(elements(l.text, at))
	between, from, to := ", ", at.Start+1, at.End-1
	if len(list) > 0 {
		from, to = list[0].Start, list[len(list)-1].End
	}
	if len(list) > 1 {
		between = string(l.text[list[0].End:list[1].Start])
	}
	words := make([]string, len(rows))
	for i, row := range rows {
		words[i] = rowText(row, true)
	}
	return []schema.Edit{{Span: schema.Span{Start: from, End: to}, New: strings.Join(words, between)}}
}

// Renumber gives no edits.
func (l *locator) Renumber(schema.Place, int) []schema.Edit { return nil }

// Drop empties the list of a part.
func (l *locator) Drop(p schema.Place) []schema.Edit {
	if at, ok := l.held(p); ok && p.Row == 0 && p.Part != schema.PartFile {
		return []schema.Edit{{Span: at, New: "[]"}}
	}
	return nil
}

// held is the value of a place, where the draft has one.
func (l *locator) held(p schema.Place) (schema.Span, bool) {
	path := pathOf(p)
	at, _, pointer := l.walk(path)
	return at, len(path) > 0 && strings.Count(pointer, "/") == len(path)
}
