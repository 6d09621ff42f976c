package draftjson

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/jsonschema"
	"fettle/schema/spelling"
	"fettle/schema/wording"
)

// mostComplaints is how many values that are not as the schema wants them are
// told one by one; the rest are counted.
const mostComplaints = 20

// mostChecked bounds how many bytes of a skeleton are checked against the schema:
// the validator takes several hundred times as long over a value as reading it.
const mostChecked = 8 << 20

// complaints checks the draft against the schema, and reports each value that is
// not as it wants.
func (r *reader) complaints(root schema.Span) []schema.Finding {
	start := schema.Span{Start: root.Start, End: root.Start + 1}
	switch size := len(r.skeleton.out); {
	case r.unmeant.End > 0:
		return []schema.Finding{oversize(r.text, r.unmeant)}
	case size > mostChecked:
		return []schema.Finding{{Rule: schema.FileBadValue, Span: start, Data: badValue(nil, "", "a draft"), Message: fmt.Sprintf(
			"the draft has %d bytes besides its lists, and fettle checks at most %d; delete what does not belong in a draft",
			size, mostChecked)}}
	}
	violations, err := jsonschema.Validate("draft", r.skeleton.out)
	if err != nil {
		return []schema.Finding{{Rule: schema.FileBadValue, Span: start, Data: badValue(nil, "", "a draft"),
			Message: "the draft could not be checked against its schema: " + wording.Plain(err.Error(), 120)}}
	}
	for i := range violations {
		violations[i].Path = r.skeleton.whole(violations[i].Path)
	}
	var found []schema.Finding
	list := deepest(violations)
	l := &locator{text: r.text}
	for i, v := range list {
		if i == mostComplaints {
			return append(found, rest(l, list[i:], r.skeleton.more))
		}
		found = append(found, r.complaint(l, v))
	}
	return found
}

// deepest puts violations in order. Of those along one path it keeps only the one
// furthest down, which says the most.
func deepest(list []jsonschema.Violation) []jsonschema.Violation {
	slices.SortStableFunc(list, func(a, b jsonschema.Violation) int { return comparePaths(where(a), where(b)) })
	var kept []jsonschema.Violation
	for i, v := range list {
		if i+1 < len(list) && isPrefix(where(v), where(list[i+1])) {
			continue
		}
		kept = append(kept, v)
	}
	return kept
}

// where gives the path of a violation, down to the property it is about.
func where(v jsonschema.Violation) []string {
	if v.Kind == "additional_property_not_allowed" {
		return append(slices.Clone(v.Path), v.Property)
	}
	return v.Path
}

// comparePaths orders paths by name, elements by their number, and a value before
// what it holds.
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
func (r *reader) complaint(l *locator, v jsonschema.Violation) schema.Finding {
	path := where(v)
	at, pointer := l.find(path)
	value, _, _ := l.walk(path)
	literal := string(r.text[value.Start:min(value.End, value.Start+200)]) // more than any message shows
	raw := strings.Trim(literal, `"`)
	f := schema.Finding{Rule: schema.FileBadValue, Span: at, Pointer: pointer}
	switch {
	case v.Kind == "required" && v.Property == "fettle":
		f.Rule = schema.FileVersion
		f.Message = `the draft does not say which form it is in: write "fettle": 1 as its first property`
		f.Data = schema.Data{{Key: "version", Value: ""}}
	case v.Kind == "required":
		f.Message = fmt.Sprintf("%s lacks the property %s; write it in", spoken(v.Path), v.Property)
		f.Data = badValue(v.Path, "", "the property "+v.Property)
	case v.Kind == "additional_property_not_allowed":
		f.Rule = schema.FileUnknownKey
		if r.misspelt[pointer] {
			return renamed(f, l, v)
		}
		f.Message, f.Data = unknownProperty(v)
	case len(path) == 1 && path[0] == "fettle":
		f.Rule = schema.FileVersion
		f.Message, f.Data = otherVersion(literal, raw)
	default:
		along := find(path)
		wanted := along[len(along)-1]
		f.Message = spoken(path) + ": " + wrong(literal, raw, wanted)
		f.Data = badValue(path, raw, wanted.expected)
	}
	return f
}

// otherVersion says what to do about a form of draft that is not known.
func otherVersion(literal, raw string) (string, schema.Data) {
	if literal == `"1"` {
		return `the form is a number: write "fettle": 1, without quotation marks`, schema.Data{{Key: "version", Value: "1"}}
	}
	return fmt.Sprintf("fettle reads form %s of the JSON draft as form 1, the only one it knows; write 1, and check that nothing is missing", wording.Quote(raw)),
		schema.Data{{Key: "version", Value: wording.Plain(raw, 60)}}
}

// unknownProperty says what to do about a property that the draft does not have.
func unknownProperty(v jsonschema.Violation) (string, schema.Data) {
	along := find(v.Path)
	near := spelling.Nearest(v.Property, along[len(along)-1].names())
	todo := "see whether it is misspelt, or take it out"
	if near != "" {
		todo = "is " + near + " meant?"
	}
	return fmt.Sprintf("%s has no property %s; %s", spoken(v.Path), wording.Quote(v.Property), todo),
		schema.Data{{Key: "name", Value: wording.Plain(v.Property, 60)}, {Key: "suggestion", Value: near}}
}

// renamed makes the finding a note about a setting that was read although its
// name has hyphens or capitals: "take-up" for "take_up".
func renamed(f schema.Finding, l *locator, v jsonschema.Violation) schema.Finding {
	along := find(v.Path)
	_, meant := along[len(along)-1].alike(v.Property)
	_, key, _ := l.walk(where(v))
	f.Severity = schema.Note
	f.Message = fmt.Sprintf("fettle reads %s as %s; rename it to %[2]s", wording.Quote(v.Property), meant.name)
	f.Data = schema.Data{{Key: "name", Value: wording.Plain(v.Property, 60)}, {Key: "suggestion", Value: meant.name}}
	f.Fixes = []schema.Fix{{Title: "write " + meant.name, Edits: []schema.Edit{{Span: key, New: strconv.Quote(meant.name)}}}}
	return f
}

// rest sums up the violations that are not told one by one.
func rest(l *locator, list []jsonschema.Violation, more int) schema.Finding {
	path := where(list[0])
	at, pointer := l.find(path)
	return schema.Finding{Rule: schema.FileBadValue, Span: at, Pointer: pointer,
		Message: fmt.Sprintf("%d more values from here on are wrong; correct those above first", len(list)+more),
		Data:    badValue(path, "", "as the schema says")}
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
	return schema.Data{{Key: "section", Value: wording.Plain(section, 60)}, {Key: "key", Value: wording.Plain(key, 60)},
		{Key: "value", Value: wording.Plain(raw, 60)}, {Key: "expected", Value: expected}}
}

// wrong says what is wrong with a value and, where that is plain, what to write.
func wrong(literal, raw string, wanted *value) string {
	number := strings.Replace(raw, ",", ".", 1)
	v, err := strconv.ParseFloat(number, 64)
	isNumber, quoted := err == nil && isFigure(number), literal != raw
	switch {
	case quoted && isList(raw) && wanted.kind == row:
		return fmt.Sprintf(`"%s" is text: write [%s] without quotation marks`, wording.Plain(raw, 60), wording.Plain(raw, 60))
	case isNumber && quoted && wanted.takesNumber():
		return fmt.Sprintf(`"%s" is text: write %s without quotation marks`, wording.Plain(raw, 60), wording.Plain(number, 60))
	case isNumber && !quoted && v > schema.Belief && wanted.takesNumber():
		return fmt.Sprintf("%s is too large: %d is the most that is believed", wording.Plain(raw, 60), schema.Belief)
	case isNumber && !quoted && wanted.kind == text:
		return fmt.Sprintf(`%s is a number: write "%s", with quotation marks`, wording.Plain(raw, 60), wording.Plain(raw, 60))
	}
	return wording.Quote(raw) + " is not " + wanted.expected
}

// takesNumber reports whether a number can be right.
func (v *value) takesNumber() bool {
	return v.kind == count || v.kind == number || v.kind == measure || v.kind == row
}

// isList reports whether a text is whole numbers with commas between.
func isList(text string) bool {
	parts := strings.Split(text, ",")
	return len(parts) > 1 && !slices.ContainsFunc(parts, func(part string) bool {
		part = strings.TrimSpace(part)
		return part == "" || strings.Trim(part, "0123456789") != ""
	})
}

// isFigure reports whether a text is digits, with one point at most, so that it
// can be written as a number as it stands.
func isFigure(s string) bool {
	return s != "" && strings.Trim(s, "0123456789.") == "" && s[0] != '.' && s[len(s)-1] != '.' && (s[0] != '0' || len(s) == 1 || s[1] == '.')
}

// oversize is the finding for a number that is beyond all measure.
func oversize(draft []byte, at schema.Span) schema.Finding {
	number := string(draft[at.Start:at.End])
	raw, how := wording.Plain(number, 60), "too small"
	switch v, err := strconv.ParseFloat(number[:min(len(number), longestNumber)], 64); {
	case len(number) > longestNumber:
		how = "too long for any measure"
	case err != nil || v > 1 || v < -1:
		how = "too large"
	}
	return schema.Finding{Rule: schema.FileBadValue, Span: at,
		Message: "the number " + raw + " is " + how + "; correct it first, because fettle checks the rest only then",
		Data: schema.Data{{Key: "section", Value: ""}, {Key: "key", Value: ""}, {Key: "value", Value: raw},
			{Key: "expected", Value: "a number of fewer digits"}}}
}

// spoken says a path as a weaver does: "threading, end 12".
func spoken(path []string) string {
	if len(path) == 0 {
		return "the draft"
	}
	along := find(path)
	var words []string
	for i, step := range path {
		word := wording.Plain(step, 60)
		if n, err := strconv.Atoi(step); err == nil && i < len(along) && (along[i].kind == list || along[i].kind == row) {
			word = "number " + strconv.Itoa(n+1)
			if i+1 < len(along) && along[i+1].called != "" {
				word = along[i+1].called + " " + strconv.Itoa(n+1)
			}
		}
		words = append(words, word)
	}
	return strings.Join(words, ", ")
}

// finding is the finding for a table of zeros and ones.
func (m *matrix) finding(name string, at schema.Span) schema.Finding {
	return schema.Finding{Rule: schema.FileBadValue, Span: at, Pointer: "/" + name,
		Message: fmt.Sprintf("every row of %s is %d times 0 or 1, which fettle reads as shaft 1 alone; if each stands for a shaft, list the numbers of those lifted, as in [1, 3]",
			name, m.wide),
		Data: badValue([]string{name}, "", "numbers of shafts")}
}

// duplicates reports the properties that appear twice. Of very many it reports the
// first, and counts the others.
type duplicates struct {
	found []schema.Finding
	more  int
}

func (d *duplicates) add(path []string, name string, at schema.Span) {
	if len(d.found) == mostComplaints {
		d.more++
		return
	}
	d.found = append(d.found, schema.Finding{
		Rule: schema.FileDuplicateKey, Span: at, Pointer: pointerTo(path, name),
		Message: fmt.Sprintf("%s appears twice; fettle uses the first. Delete the other.", wording.Quote(name)),
		Data:    schema.Data{{Key: "name", Value: wording.Plain(name, 60)}, {Key: "suggestion", Value: ""}},
	})
}

func (d *duplicates) findings() []schema.Finding {
	if d.more > 0 {
		d.found[len(d.found)-1].Message += fmt.Sprintf(" %d more properties after it appear twice too.", d.more)
	}
	return d.found
}
