package draftjson

import (
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
)

// This file is the locator as a schema.Editor. The rows of the JSON draft go by
// their place in a list, so that none is renumbered, and none dropped by itself.

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
