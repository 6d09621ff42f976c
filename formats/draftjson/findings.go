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

// maxReported is how many values that break the schema are reported singly.
const maxReported = 20

// maxChecked is the largest skeleton, in bytes, that fettle checks against the schema.
// The validator is several hundred times slower than the reader.
const maxChecked = 8 << 20

// schemaFindings checks the draft against the schema.
func (r *reader) schemaFindings(root schema.Span) []schema.Finding {
	unchecked := func(message string) []schema.Finding {
		return []schema.Finding{{Rule: schema.FileBadValue, Span: schema.Span{Start: root.Start, End: root.Start + 1},
			Data: badValue(nil, "", "a draft"), Message: message}}
	}
	switch size := len(r.skeleton.out); {
	case r.badNumber.End > 0:
		return []schema.Finding{badNumberFinding(r.text, r.badNumber)}
	case size > maxChecked:
		return unchecked(fmt.Sprintf("the draft has %d bytes besides its lists, but fettle checks at most %d; delete what doesn't belong in a draft", size, maxChecked))
	}
	violations, err := jsonschema.Validate("draft", r.skeleton.out)
	if err != nil {
		return unchecked("fettle can't check the draft against its schema: " + wording.Plain(err.Error(), 120))
	}
	for i := range violations {
		violations[i].Path = r.skeleton.draftPath(violations[i].Path)
	}
	var found []schema.Finding
	list := deepest(violations)
	l := &locator{text: r.text}
	for i, v := range list {
		if i == maxReported {
			return append(found, remaining(l, list[i:], r.skeleton.dropped))
		}
		found = append(found, r.schemaFinding(l, v))
	}
	return found
}

// deepest sorts violations and keeps only the deepest of those along one path, which
// says the most.
func deepest(list []jsonschema.Violation) []jsonschema.Violation {
	slices.SortStableFunc(list, func(a, b jsonschema.Violation) int { return comparePaths(violationPath(a), violationPath(b)) })
	var kept []jsonschema.Violation
	for i, v := range list {
		if i+1 < len(list) && isPrefix(violationPath(v), violationPath(list[i+1])) {
			continue
		}
		kept = append(kept, v)
	}
	return kept
}

// violationPath returns the path of a violation, with the property it is about.
func violationPath(v jsonschema.Violation) []string {
	if v.Kind == jsonschema.Unknown {
		return append(slices.Clone(v.Path), v.Property)
	}
	return v.Path
}

// comparePaths orders paths by name and by index, and a value before its elements.
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

// schemaFinding returns the finding for a violation.
func (r *reader) schemaFinding(l *locator, v jsonschema.Violation) schema.Finding {
	path := violationPath(v)
	at, pointer := l.find(path)
	value, _, _ := l.walk(path)
	literal := string(r.text[value.Start:min(value.End, value.Start+200)]) // no message shows more
	raw := strings.Trim(literal, `"`)
	f := schema.Finding{Rule: schema.FileBadValue, Span: at, Pointer: pointer}
	switch {
	case v.Kind == jsonschema.Required && v.Property == "fettle":
		f.Rule = schema.FileVersion
		f.Message = `the draft doesn't state its version; write "fettle": 1 as its first property`
		f.Data = schema.Data{{Key: "version", Value: ""}}
	case v.Kind == jsonschema.Required:
		f.Message = fmt.Sprintf("%s lacks the property %s; add it", pathInWords(v.Path), v.Property)
		f.Data = badValue(v.Path, "", "the property "+v.Property)
	case v.Kind == jsonschema.Unknown:
		f.Rule = schema.FileUnknownKey
		if r.misspelt[pointer] {
			return renamed(f, v)
		}
		f.Message, f.Data = unknownProperty(v)
	case len(path) == 1 && path[0] == "fettle":
		f.Rule = schema.FileVersion
		f.Message, f.Data = versionMessage(literal, raw)
	default:
		along := valuesAlong(path)
		wanted := along[len(along)-1]
		f.Message = pathInWords(path) + ": " + problem(literal, raw, wanted)
		f.Data = badValue(path, raw, wanted.expected)
	}
	return f
}

func versionMessage(literal, raw string) (string, schema.Data) {
	if literal == `"1"` {
		return `the version is a number; write "fettle": 1 without quotation marks`, schema.Data{{Key: "version", Value: "1"}}
	}
	return fmt.Sprintf("fettle reads version %s of the JSON draft as version 1, the only one it knows; write 1, and check that nothing is missing", wording.Quote(raw)),
		schema.Data{{Key: "version", Value: wording.Plain(raw, 60)}}
}

func unknownProperty(v jsonschema.Violation) (string, schema.Data) {
	along := valuesAlong(v.Path)
	near := spelling.Nearest(v.Property, along[len(along)-1].names())
	todo := "check its spelling, or delete it"
	if near != "" {
		todo = "did you mean " + near + "?"
	}
	return fmt.Sprintf("%s has no property %s; %s", pathInWords(v.Path), wording.Quote(v.Property), todo),
		nameData(v.Property, near)
}

// renamed returns a note about a setting that fettle reads although its name has
// hyphens or capitals: "take-up" for "take_up". It has no fix, because at most twenty
// such findings are reported; clean --canonical renames all at once.
func renamed(f schema.Finding, v jsonschema.Violation) schema.Finding {
	along := valuesAlong(v.Path)
	_, meant := along[len(along)-1].settingLike(v.Property)
	f.Severity = schema.Note
	f.Message = fmt.Sprintf("fettle reads %s as %s; rename it to %[2]s, or run fettle clean --canonical", wording.Quote(v.Property), meant.name)
	f.Data = nameData(v.Property, meant.name)
	return f
}

// remaining sums up the violations after maxReported.
func remaining(l *locator, list []jsonschema.Violation, more int) schema.Finding {
	path := violationPath(list[0])
	at, pointer := l.find(path)
	return schema.Finding{Rule: schema.FileBadValue, Span: at, Pointer: pointer,
		Message: fmt.Sprintf("%d more values from here on are wrong; correct the ones above first", len(list)+more),
		Data:    badValue(path, "", "as the schema says")}
}

func nameData(name, suggestion string) schema.Data {
	return schema.Data{{Key: "name", Value: wording.Plain(name, 60)}, {Key: "suggestion", Value: suggestion}}
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

// problem says what is wrong with a value and, if it is clear, what to write.
func problem(literal, raw string, wanted *value) string {
	number := strings.Replace(raw, ",", ".", 1)
	v, err := strconv.ParseFloat(number, 64)
	isNumber, quoted := err == nil && isFigure(number), literal != raw
	switch {
	case quoted && isList(raw) && wanted.kind == kindRow:
		return fmt.Sprintf(`"%s" is text; write [%s] without quotation marks`, wording.Plain(raw, 60), wording.Plain(raw, 60))
	case isNumber && quoted && wanted.takesNumber():
		return fmt.Sprintf(`"%s" is text; write %s without quotation marks`, wording.Plain(raw, 60), wording.Plain(number, 60))
	case isNumber && !quoted && v > schema.MostExtraRows && wanted.takesNumber():
		return fmt.Sprintf("%s is too large; the maximum is %d", wording.Plain(raw, 60), schema.MostExtraRows)
	case isNumber && !quoted && wanted.kind == kindText:
		return fmt.Sprintf(`%s is a number; write "%s", with quotation marks`, wording.Plain(raw, 60), wording.Plain(raw, 60))
	}
	return wording.Quote(raw) + " isn't " + wanted.expected
}

// takesNumber reports whether the value can be a number.
func (v *value) takesNumber() bool {
	return v.kind == kindCount || v.kind == kindNumber || v.kind == kindMeasure || v.kind == kindRow
}

// isList reports whether a text is whole numbers separated by commas.
func isList(text string) bool {
	parts := strings.Split(text, ",")
	return len(parts) > 1 && !slices.ContainsFunc(parts, func(part string) bool {
		part = strings.TrimSpace(part)
		return part == "" || strings.Trim(part, "0123456789") != ""
	})
}

// isFigure reports whether a text is a valid JSON number without a sign or exponent.
func isFigure(s string) bool {
	return s != "" && strings.Trim(s, "0123456789.") == "" && s[0] != '.' && s[len(s)-1] != '.' && (s[0] != '0' || len(s) == 1 || s[1] == '.')
}

// badNumberFinding returns the finding for an absurd number.
func badNumberFinding(draft []byte, at schema.Span) schema.Finding {
	number := string(draft[at.Start:at.End])
	raw, how := wording.Plain(number, 60), "too small"
	switch v, err := strconv.ParseFloat(number[:min(len(number), maxDigits)], 64); {
	case len(number) > maxDigits:
		how = "too long"
	case err != nil || v > 1 || v < -1:
		how = "too large"
	}
	return schema.Finding{Rule: schema.FileBadValue, Span: at,
		Message: "the number " + raw + " is " + how + "; correct it first, because until then fettle can't check the rest",
		Data: schema.Data{{Key: "section", Value: ""}, {Key: "key", Value: ""}, {Key: "value", Value: raw},
			{Key: "expected", Value: "a number of fewer digits"}}}
}

// pathInWords returns a path in a weaver's words: "threading, end 12".
func pathInWords(path []string) string {
	if len(path) == 0 {
		return "the draft"
	}
	along := valuesAlong(path)
	var words []string
	for i, step := range path {
		word := wording.Plain(step, 60)
		if n, err := strconv.Atoi(step); err == nil && i < len(along) && (along[i].kind == kindList || along[i].kind == kindRow) {
			word = "number " + strconv.Itoa(n+1)
			if i+1 < len(along) && along[i+1].elementName != "" {
				word = along[i+1].elementName + " " + strconv.Itoa(n+1)
			}
		}
		words = append(words, word)
	}
	return strings.Join(words, ", ")
}

// finding returns the finding for a table of zeros and ones.
func (m *matrix) finding(name string, at schema.Span) schema.Finding {
	return schema.Finding{Rule: schema.FileBadValue, Span: at, Pointer: "/" + name,
		Message: fmt.Sprintf("every row of %s has %d zeros and ones, which fettle reads as shaft 1 only; list the numbers of the lifted shafts, as in [1, 3]",
			name, m.width),
		Data: badValue([]string{name}, "", "numbers of shafts")}
}

// duplicates collects findings about duplicate properties, at most maxReported.
type duplicates struct {
	found   []schema.Finding
	dropped int
}

func (d *duplicates) add(path []string, name string, at schema.Span) {
	if len(d.found) == maxReported {
		d.dropped++
		return
	}
	d.found = append(d.found, schema.Finding{
		Rule: schema.FileDuplicateKey, Span: at, Pointer: pointerTo(path, name),
		Message: fmt.Sprintf("%s appears twice; fettle uses the first. Delete the other", wording.Quote(name)),
		Data:    nameData(name, ""),
	})
}

func (d *duplicates) findings() []schema.Finding {
	if d.dropped > 0 {
		d.found[len(d.found)-1].Message += fmt.Sprintf("; %d more properties after it also appear twice", d.dropped)
	}
	return d.found
}
