package draftjson

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/spelling"
)

// locator finds places by reading the text again, so that it costs nothing if there
// are no findings.
type locator struct {
	text    []byte
	draft   *schema.Draft            // for the names of its settings
	arrays  map[string][]schema.Span // elements of the arrays read, by pointer
	objects map[string][]member      // properties of the objects read, by pointer
}

// Locate returns the value of a place, otherwise the part that would hold it,
// otherwise the beginning of the draft.
func (l *locator) Locate(p schema.Place) (schema.Span, string) {
	if p.Part == schema.PartSettings {
		return l.find(l.settingPath(p.Row))
	}
	return l.find(pathOf(p))
}

// settingPath returns the path to one of the draft's own settings.
func (l *locator) settingPath(row int) []string {
	if l.draft == nil || row < 1 || row > len(l.draft.Settings) {
		return []string{"project"}
	}
	s := l.draft.Settings[row-1]
	holder := []string{"project"}
	if yarn, ok := strings.CutPrefix(s.Section, "yarn "); ok {
		holder = append(holder, "yarns", yarn)
	}
	return append(holder, l.settingSpelt(holder, settingName(s.Key)))
}

// settingSpelt returns a setting's name as the draft spells it.
func (l *locator) settingSpelt(holder []string, name string) string {
	at, _, pointer := l.walk(holder)
	if pointer != pointerTo(holder) || l.text[at.Start] != '{' {
		return name
	}
	for _, m := range l.properties(pointer, at) {
		if settingName(spelling.Fold(m.name)) == name {
			return m.name
		}
	}
	return name
}

// pathOf returns the path to a place.
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

// pointerTo returns the JSON Pointer of a path.
func pointerTo(path []string, more ...string) string {
	var pointer strings.Builder
	for _, step := range slices.Concat(path, more) {
		pointer.WriteString("/" + escaped.Replace(step))
	}
	return pointer.String()
}

// find returns the place at a path, or the last one on the way that exists: a property
// with its name, or an element. It returns only the first of several lines.
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

// walk follows a path as far as it exists, and returns the last value and its name.
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

// step returns a property or an element of a value.
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
	for _, m := range l.properties(pointer, at) {
		if m.name == step {
			return m.data, m.key, true
		}
	}
	return next, key, false
}

// properties returns the properties of an object; none for another value.
func (l *locator) properties(pointer string, at schema.Span) []member {
	list, walked := l.objects[pointer]
	if !walked {
		list = slices.Collect(members(l.text, at))
		if l.objects == nil {
			l.objects = map[string][]member{}
		}
		l.objects[pointer] = list
	}
	return list
}

// Set changes the value of a property. It adds the shed after the first property if
// the draft lacks it.
func (l *locator) Set(p schema.Place, value string) []schema.Edit {
	if p.Field == schema.FieldShed {
		value = strconv.Quote(value)
	}
	if at, ok := l.existing(p); ok {
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

// SetRow changes an element to a number or to a list.
func (l *locator) SetRow(p schema.Place, numbers []int32) []schema.Edit {
	at, ok := l.existing(p)
	if !ok {
		return nil
	}
	return []schema.Edit{{Span: at, New: rowText(numbers, l.text[at.Start] == '[')}}
}

// rowText returns a row as a number, or as a list if it has more or fewer numbers or
// list is set.
func rowText(numbers []int32, list bool) string { return string(appendRow(nil, numbers, list)) }

func appendRow(b []byte, numbers []int32, list bool) []byte {
	list = list || len(numbers) != 1
	if list {
		b = append(b, '[')
	}
	for i, n := range numbers {
		if i > 0 {
			b = append(b, ", "...)
		}
		b = strconv.AppendInt(b, int64(n), 10)
	}
	if list {
		b = append(b, ']')
	}
	return b
}

// SetRows changes the list of a part. It separates all elements like the first two.
func (l *locator) SetRows(p schema.Part, rows [][]int32) []schema.Edit {
	at, ok := l.existing(schema.Place{Part: p})
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

// Renumber returns no edits, because rows have no numbers.
func (l *locator) Renumber(schema.Place, int) []schema.Edit { return nil }

// Drop empties the list of a part.
func (l *locator) Drop(p schema.Place) []schema.Edit {
	if at, ok := l.existing(p); ok && p.Row == 0 && p.Part != schema.PartFile {
		return []schema.Edit{{Span: at, New: "[]"}}
	}
	return nil
}

// existing returns the value of a place. It returns false if the draft has none.
func (l *locator) existing(p schema.Place) (schema.Span, bool) {
	path := pathOf(p)
	at, _, pointer := l.walk(path)
	return at, len(path) > 0 && strings.Count(pointer, "/") == len(path)
}
