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

// TestTableIsThePublishedSchema walks the table and schema/jsonschema/draft.schema.json side
// by side: each property of one is in the other, with the same kind and bounds.
func TestTableIsThePublishedSchema(t *testing.T) {
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
	if v.kind != color && v.null != null {
		c.Errorf("%s: null is allowed in one only", path)
	}
	if want := c.shape(v); want != c.signature(p) {
		c.Errorf("%s is %s in the table, %s in the schema", path, want, c.signature(p))
	}
	switch v.kind {
	case object:
		c.properties(path, v, p)
	case list:
		c.compare(path+"/*", v.each, p.Items)
	case named:
		var each published
		if err := json.Unmarshal(p.Additional, &each); err != nil {
			c.Fatalf("%s: %v", path, err)
		}
		c.compare(path+"/*", v.each, &each)
	}
	if v.kind != version && v.kind != object && v.expected == "" {
		c.Errorf("%s: nothing says what is expected", path)
	}
}

func (c *comparison) properties(path string, v *value, p *published) {
	if string(p.Additional) != "false" {
		c.Errorf("%s takes any property in the schema", path)
	}
	var must []string
	for _, q := range v.properties {
		if q.must {
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

// resolved follows references, and takes null out of a choice of two.
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

// shape says in short what the table takes.
func (c *comparison) shape(v *value) string {
	switch v.kind {
	case object, named:
		return "object"
	case list:
		return "array"
	case version:
		return "const 1"
	case text:
		return "string"
	case word:
		return `string ^\S+$`
	case choice:
		return "enum " + strings.Join(v.words, " ")
	case truth:
		return "boolean"
	case count:
		return "integer 0 2e+06"
	case number:
		return "integer 0 1e+06"
	case measure:
		return "number 0 1e+06"
	case row:
		return "integer 0 1e+06 or array of integer 0 1e+06"
	case color:
		return "string ^#[0-9a-fA-F]{6}$"
	case setting:
		return "string integer boolean"
	}
	return "?"
}

// signature says the same of the schema.
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

// inRow reports whether a list is the one in a row, which is a kind of its own in
// the table.
func (c *comparison) inRow(p *published) bool {
	return c.root.Definitions["row"].AnyOf[1] == p
}

// order makes sure that the properties of the draft are written in the order in
// which the schema lists them.
func (c *comparison) order(text []byte) {
	at := 0
	for _, p := range table.properties {
		next := strings.Index(string(text), "\n    \""+p.name+"\": {")
		if next < at {
			c.Errorf("%s is in another place in the schema", p.name)
		}
		at = next
	}
}

// TestBoundsAreTheModels compares the bounds that the table uses with those that
// the test above spells out.
func TestBoundsAreTheModels(t *testing.T) {
	if schema.Belief != 1_000_000 || mostCounted != 2_000_000 {
		t.Errorf("the bounds are %d and %d", schema.Belief, mostCounted)
	}
}

// TestEveryPlaceIsInTheTable finds a property for each part and each value of a
// draft that a finding can be about.
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
