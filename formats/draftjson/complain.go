package draftjson

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
)

// mostComplaints is how many places that are not as the schema wants them are
// told one by one; the rest are counted.
const mostComplaints = 20

// complain checks the draft against the schema, and reports each place that is
// not as it wants.
func (r *reader) complain(root schema.Span) {
	if at, found := unmeant(r.text, root); found {
		raw := schema.Plain(string(r.text[at.Start:at.End]), 60)
		r.found = append(r.found, schema.Finding{Rule: schema.FileBadValue, Span: at,
			Message: "the number " + raw + " is " + oversize(string(r.text[at.Start:at.End])) + "; put it right first, since the draft is not checked further before",
			Data: schema.Data{{Key: "section", Value: ""}, {Key: "key", Value: ""}, {Key: "value", Value: raw},
				{Key: "expected", Value: "a number of fewer digits"}}})
		return
	}
	small := thin(r.text, root)
	if small.out.Len() > mostChecked {
		r.found = append(r.found, unchecked(root, small.out.Len()))
		return
	}
	violations, err := schema.Validate("draft", small.out.Bytes())
	if err != nil {
		r.found = append(r.found, schema.Finding{Rule: schema.FileBadValue, Span: schema.Span{Start: root.Start, End: root.Start + 1},
			Message: "the draft could not be checked against its schema: " + schema.Plain(err.Error(), 120),
			Data:    badValue(nil, "", "a draft")})
		return
	}
	for i := range violations {
		violations[i].Path = small.whole(violations[i].Path)
	}
	list := deepest(violations)
	l := &locator{text: r.text}
	for i, v := range list {
		if i == mostComplaints {
			r.found = append(r.found, r.rest(l, list[i:], small.more))
			return
		}
		r.found = append(r.found, r.complaint(l, v))
	}
}

// deepest puts violations in order and keeps of those along one path only the
// one furthest down, which says the most.
func deepest(list []schema.Violation) []schema.Violation {
	slices.SortStableFunc(list, func(a, b schema.Violation) int { return comparePaths(where(a), where(b)) })
	var kept []schema.Violation
	for i, v := range list {
		if i+1 < len(list) && isPrefix(where(v), where(list[i+1])) {
			continue
		}
		kept = append(kept, v)
	}
	return kept
}

// where is the path of a violation, down to the property it is about.
func where(v schema.Violation) []string {
	if v.Kind == "additional_property_not_allowed" {
		return append(slices.Clone(v.Path), v.Property)
	}
	return v.Path
}

// comparePaths orders paths with numbers by size and what holds others first.
func comparePaths(a, b []string) int {
	return slices.CompareFunc(a, b, func(x, y string) int {
		m, errX := strconv.Atoi(x)
		n, errY := strconv.Atoi(y)
		if errX == nil && errY == nil {
			return m - n
		}
		return strings.Compare(x, y)
	})
}

func isPrefix(a, b []string) bool {
	return len(a) <= len(b) && slices.Equal(a, b[:len(a)])
}

// complaint puts a violation into a weaver's words.
func (r *reader) complaint(l *locator, v schema.Violation) schema.Finding {
	path := where(v)
	at, pointer := l.find(path)
	f := schema.Finding{Rule: schema.FileBadValue, Span: at, Pointer: pointer}
	name := ""
	if len(path) > 0 {
		name = path[len(path)-1]
	}
	switch {
	case v.Kind == "required" && v.Property == "fettle":
		f.Rule = schema.FileVersion
		f.Message = `the draft does not say which form it is in: write "fettle": 1 as its first property`
		f.Data = schema.Data{{Key: "version", Value: ""}}
	case len(path) == 1 && name == "fettle":
		f.Rule = schema.FileVersion
		if r.literal(l, path) == `"1"` {
			f.Message = `the form is a number: write "fettle": 1, without quotation marks about the 1`
			f.Data = schema.Data{{Key: "version", Value: "1"}}
			break
		}
		f.Message = fmt.Sprintf("this is form %s of the JSON draft and is read as 1, the one that is known; write 1, and look whether all of it came over", schema.Quote(r.raw(l, path)))
		f.Data = schema.Data{{Key: "version", Value: schema.Plain(r.raw(l, path), 60)}}
	case v.Kind == "additional_property_not_allowed":
		near := schema.Nearest(name, schema.Properties("draft", v.Path))
		f.Rule = schema.FileUnknownKey
		todo := "see whether it is misspelt, or take it out"
		switch {
		case near != "" && alike(near, name) && len(v.Path) > 0 && v.Path[0] == "project":
			r.read[pointer] = true
			todo = "it is read as " + near + ": write it so"
		case near != "":
			todo = "is " + near + " meant?"
		}
		f.Message = fmt.Sprintf("%s has no property %s; %s", holder(v.Path), schema.Quote(name), todo)
		f.Data = schema.Data{{Key: "name", Value: schema.Plain(name, 60)}, {Key: "suggestion", Value: near}}
	case v.Kind == "required":
		f.Message = fmt.Sprintf("%s lacks the property %s; write it in", holder(v.Path), v.Property)
		f.Data = badValue(v.Path, "", "the property "+v.Property)
	default:
		raw, expected := r.raw(l, path), expectedAt(path)
		f.Message = spoken(path) + ": " + wrong(r.literal(l, path), raw, expected)
		f.Data = badValue(path, raw, expected)
	}
	return f
}

// rest sums up the violations that are not told one by one.
func (r *reader) rest(l *locator, list []schema.Violation, more int) schema.Finding {
	at, pointer := l.find(where(list[0]))
	return schema.Finding{Rule: schema.FileBadValue, Span: at, Pointer: pointer,
		Message: fmt.Sprintf("from here on %d more values are not as they should be; mend those above first", len(list)+more),
		Data:    badValue(where(list[0]), "", "as the schema says")}
}

func badValue(path []string, raw, expected string) schema.Data {
	section, key := "", ""
	if len(path) > 0 {
		section = path[0]
		key = path[len(path)-1]
		if n, err := strconv.Atoi(key); err == nil {
			key = strconv.Itoa(n + 1)
		}
	}
	return schema.Data{{Key: "section", Value: schema.Plain(section, 60)}, {Key: "key", Value: schema.Plain(key, 60)},
		{Key: "value", Value: schema.Plain(raw, 60)}, {Key: "expected", Value: expected}}
}

// literal is the value at a path as it is written, as far as any message has room
// for it.
func (r *reader) literal(l *locator, path []string) string {
	at, _, _ := l.walk(path)
	return string(r.text[at.Start:min(at.End, at.Start+200)])
}

// raw is the text of the value at a path, without its quotation marks.
func (r *reader) raw(l *locator, path []string) string {
	return strings.Trim(r.literal(l, path), "\"")
}

// wrong says what is wrong with a value, and where that is plain what to write.
func wrong(literal, raw, expected string) string {
	number := strings.Replace(raw, ",", ".", 1)
	v, err := strconv.ParseFloat(number, 64)
	isNumber, quoted := err == nil && isFigure(number), literal != raw
	switch {
	case quoted && isList(raw) && takesList(expected):
		return fmt.Sprintf(`"%s" is text: write [%s] without quotation marks`, schema.Plain(raw, 60), schema.Plain(raw, 60))
	case isNumber && quoted && takesNumber(expected):
		return fmt.Sprintf(`"%s" is text: write %s without quotation marks`, schema.Plain(raw, 60), schema.Plain(number, 60))
	case isNumber && !quoted && v > schema.Belief && takesNumber(expected):
		return fmt.Sprintf("%s is too large: %d is the most that is believed", schema.Plain(raw, 60), schema.Belief)
	case isNumber && !quoted && expected == "a text":
		return fmt.Sprintf(`%s is a number: write "%s", with quotation marks`, schema.Plain(raw, 60), schema.Plain(raw, 60))
	}
	return schema.Quote(raw) + " is not " + expected
}

// isList says whether a text is whole numbers with commas between.
func isList(text string) bool {
	parts := strings.Split(text, ",")
	return len(parts) > 1 && !slices.ContainsFunc(parts, func(part string) bool {
		part = strings.TrimSpace(part)
		return part == "" || strings.Trim(part, "0123456789") != ""
	})
}

// takesList says whether several numbers may stand where this is expected.
func takesList(expected string) bool { return strings.Contains(expected, "a list of them") }

// isFigure says whether a text is digits, with one point at most, so that it can
// be written as a number as it stands.
func isFigure(s string) bool {
	return s != "" && strings.Trim(s, "0123456789.") == "" && s[0] != '.' && s[len(s)-1] != '.' && (s[0] != '0' || len(s) == 1 || s[1] == '.')
}

// takesNumber says whether numbers are expected.
func takesNumber(expected string) bool { return strings.Contains(expected, " number") }

// oversize says how a number is beyond all measure.
func oversize(text string) string {
	switch v, err := strconv.ParseFloat(text[:min(len(text), longestNumber)], 64); {
	case len(text) > longestNumber:
		return "too long for any measure"
	case err != nil || v > 1 || v < -1:
		return "too large"
	}
	return "too small"
}

// holder says what an unknown or missing property would belong to.
func holder(path []string) string {
	if len(path) == 0 {
		return "the draft"
	}
	return spoken(path)
}

// spoken says a path as a weaver does: "threading, end 12".
func spoken(path []string) string {
	if len(path) == 0 {
		return "the draft"
	}
	row := map[string]string{"threading": "end", "tieup": "treadle", "treadling": "pick", "liftplan": "pick",
		"palette": "color", "notes": "note", "ignore": "entry", "warp": "end", "weft": "pick"}[path[0]]
	words := []string{schema.Plain(path[0], 60)}
	for _, p := range path[1:] {
		n, err := strconv.Atoi(p)
		switch {
		case err != nil:
			words = append(words, schema.Plain(p, 60))
		case row != "":
			words = append(words, row+" "+strconv.Itoa(n+1))
			row = ""
		default:
			words = append(words, "number "+strconv.Itoa(n+1))
			row = ""
		}
	}
	return strings.Join(words, ", ")
}

// expectedAt says what a value should be.
func expectedAt(path []string) string {
	const list = "a list"
	if len(path) == 0 {
		return "a draft"
	}
	inRow := len(path) > 1
	switch path[0] {
	case "threading", "liftplan", "tieup":
		return pick(inRow, "a shaft number, a list of them, or 0 for none", list+" with a row for each "+
			map[string]string{"threading": "end", "liftplan": "pick", "tieup": "treadle"}[path[0]])
	case "treadling":
		return pick(inRow, "a treadle number, a list of them, or 0 for none", list+" with a row for each pick")
	case "palette":
		return pick(inRow, `a color like "#f2ead8"`, list+" of colors")
	case "shafts", "treadles":
		return "a whole number"
	case "shed":
		return `"rising" or "sinking"`
	case "profile":
		return "true or false"
	case "notes":
		return pick(inRow, "a text", list+" of texts")
	case "warp", "weft":
		return systemExpects(path)
	case "project":
		return pick(inRow, "a text, a whole number, or true or false", "an object with settings")
	case "ignore":
		if path[len(path)-1] == "rule" {
			return "the name of a rule, like cloth/long-float"
		}
		return `an object like {"rule": "cloth/long-float", "reason": "..."}`
	case "carried":
		return "what another format carried there"
	}
	return "a text"
}

func systemExpects(path []string) string {
	if len(path) == 1 {
		return "an object"
	}
	switch path[1] {
	case "threads":
		return "a whole number"
	case "color", "colors":
		return pick(len(path) == 2 && path[1] == "colors", "a list of palette numbers", "a palette number")
	case "unit":
		return `"decipoint", "in" or "cm"`
	}
	return pick(len(path) == 2 && strings.HasSuffix(path[1], "s") && path[1] != "thickness", "a list of numbers", "a number of 0 or more")
}

func pick(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}
