package draftjson

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fettle/schema"
	"fettle/schema/jsonschema"
)

// published is a part of the published schema.
type published struct {
	Ref         string                `json:"$ref"`
	Type        any                   `json:"type"`
	Const       any                   `json:"const"`
	Enum        []string              `json:"enum"`
	Pattern     string                `json:"pattern"`
	Minimum     *float64              `json:"minimum"`
	Maximum     *float64              `json:"maximum"`
	AnyOf       []*published          `json:"anyOf"`
	Items       *published            `json:"items"`
	Required    []string              `json:"required"`
	Properties  map[string]*published `json:"properties"`
	Additional  json.RawMessage       `json:"additionalProperties"`
	Definitions map[string]*published `json:"definitions"`
}

// TestTableMatchesPublishedSchema compares the properties, kinds and bounds of the table
// and of schema/jsonschema/draft.schema.json.
func TestTableMatchesPublishedSchema(t *testing.T) {
	text, err := jsonschema.Text("draft")
	if err != nil {
		t.Fatal(err)
	}
	var root published
	if err := json.Unmarshal(text, &root); err != nil {
		t.Fatal(err)
	}
	c := &comparison{T: t, root: &root}
	c.compare("", table, &root)
	if c.compared < 80 {
		t.Errorf("only %d values were compared", c.compared)
	}
	c.order(text)
}

type comparison struct {
	*testing.T
	root     *published
	compared int
}

// compare compares a value of the table with its part of the schema.
func (c *comparison) compare(path string, v *value, p *published) {
	c.compared++
	p, null := c.resolved(p)
	if v.kind != kindColor && v.nullable != null {
		c.Errorf("%s: only one allows null", path)
	}
	if want := c.shape(v); want != c.signature(p) {
		c.Errorf("%s is %s in the table, %s in the schema", path, want, c.signature(p))
	}
	switch v.kind {
	case kindObject:
		c.properties(path, v, p)
	case kindList:
		c.compare(path+"/*", v.each, p.Items)
	case kindNamed:
		var each published
		if err := json.Unmarshal(p.Additional, &each); err != nil {
			c.Fatalf("%s: %v", path, err)
		}
		c.compare(path+"/*", v.each, &each)
	}
	if v.kind != kindVersion && v.kind != kindObject && v.expected == "" {
		c.Errorf("%s has no expected value in words", path)
	}
}

func (c *comparison) properties(path string, v *value, p *published) {
	if string(p.Additional) != "false" {
		c.Errorf("%s takes any property in the schema", path)
	}
	var must []string
	for _, q := range v.properties {
		if q.required {
			must = append(must, q.name)
		}
		if p.Properties[q.name] == nil {
			c.Errorf("%s/%s is not in the schema", path, q.name)
			continue
		}
		c.compare(path+"/"+q.name, q, p.Properties[q.name])
	}
	for name := range p.Properties {
		if _, q := v.property(name); q == nil {
			c.Errorf("%s/%s is not in the table", path, name)
		}
	}
	if !slices.Equal(must, p.Required) {
		c.Errorf("%s requires %q in the table, %q in the schema", path, must, p.Required)
	}
}

// resolved follows references, and drops null from a choice of two.
func (c *comparison) resolved(p *published) (to *published, null bool) {
	for p.Ref != "" {
		p = c.root.Definitions[strings.TrimPrefix(p.Ref, "#/definitions/")]
	}
	if len(p.AnyOf) == 2 && p.AnyOf[1].Type == "null" {
		to, _ = c.resolved(p.AnyOf[0])
		return to, true
	}
	return p, false
}

// shape describes what the table accepts.
func (c *comparison) shape(v *value) string {
	switch v.kind {
	case kindObject, kindNamed:
		return "object"
	case kindList:
		return "array"
	case kindVersion:
		return "const 1"
	case kindText:
		return "string"
	case kindWord:
		return `string ^\S+$`
	case kindChoice:
		return "enum " + strings.Join(v.words, " ")
	case kindBool:
		return "boolean"
	case kindCount:
		return "integer 0 2e+06"
	case kindNumber:
		return "integer 0 1e+06"
	case kindMeasure:
		return "number 0 1e+06"
	case kindRow:
		return "integer 0 1e+06 or array of integer 0 1e+06"
	case kindColor:
		return "string ^#[0-9a-fA-F]{6}$"
	case kindSetting:
		return "string integer boolean"
	}
	return "?"
}

// signature describes what the schema accepts.
func (c *comparison) signature(p *published) string {
	var words []string
	switch kind := p.Type.(type) {
	case string:
		words = append(words, kind)
	case []any:
		for _, k := range kind {
			words = append(words, k.(string))
		}
	}
	add := func(v any) {
		text, _ := json.Marshal(v)
		words = append(words, string(text))
	}
	if p.Const != nil {
		words = append(words, "const")
		add(p.Const)
	}
	if p.Enum != nil {
		words = append(append(words, "enum"), p.Enum...)
	}
	if p.Pattern != "" {
		words = append(words, p.Pattern)
	}
	for _, bound := range []*float64{p.Minimum, p.Maximum} {
		if bound != nil {
			words = append(words, strconv.FormatFloat(*bound, 'g', -1, 64))
		}
	}
	if p.Items != nil && len(words) == 1 && c.inRow(p) {
		items, _ := c.resolved(p.Items)
		words = append(words, "of", c.signature(items))
	}
	for i, option := range p.AnyOf {
		if i > 0 {
			words = append(words, "or")
		}
		option, _ = c.resolved(option)
		words = append(words, c.signature(option))
	}
	return strings.Join(words, " ")
}

// inRow reports whether a list is the one in a row, for which the table has a kind.
func (c *comparison) inRow(p *published) bool {
	return c.root.Definitions["row"].AnyOf[1] == p
}

// order checks that the draft writes its properties in the order of the schema.
func (c *comparison) order(text []byte) {
	at := 0
	for _, p := range table.properties {
		next := strings.Index(string(text), "\n    \""+p.name+"\": {")
		if next < at {
			c.Errorf("the schema has %s in another place", p.name)
		}
		at = next
	}
}

// TestBoundsMatchTheModel compares the bounds of the table with those in the test above.
func TestBoundsMatchTheModel(t *testing.T) {
	if schema.MostExtraRows != 1_000_000 || maxCount != 2_000_000 {
		t.Errorf("the bounds are %d and %d", schema.MostExtraRows, maxCount)
	}
}

// TestEveryPlaceIsInTheTable checks that each part and each value of a draft has a
// property.
func TestEveryPlaceIsInTheTable(t *testing.T) {
	for part := schema.PartNotes; part <= schema.PartWeftThicknesses; part++ {
		if part != schema.PartWeaving && places().parts[part] == nil {
			t.Errorf("part %d has no property", part)
		}
	}
	for field := schema.FieldShafts; field <= schema.FieldFax; field++ {
		if places().fields[field] == "" {
			t.Errorf("field %d has no property", field)
		}
	}
}
