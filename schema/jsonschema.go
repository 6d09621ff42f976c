package schema

import (
	"embed"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/xeipuuv/gojsonschema"
)

//go:embed *.schema.json
var schemas embed.FS

// SchemaNames are the JSON Schemas there are, by what they describe.
func SchemaNames() []string {
	return []string{"draft", "findings", "plan", "info", "losses", "rules", "baseline"}
}

// JSONSchema is the JSON Schema of that name, draft-07.
func JSONSchema(name string) ([]byte, error) {
	text, err := schemas.ReadFile(name + ".schema.json")
	if err != nil {
		return nil, fmt.Errorf("%s is not a schema: say %s", Quote(name), strings.Join(SchemaNames(), ", "))
	}
	return text, nil
}

// Violation is one place where a JSON document is not as its schema wants it.
type Violation struct {
	Path     []string // property names and indexes from 0, from the top
	Kind     string   // what is wrong, in the validator's word, such as "required" or "invalid_type"
	Property string   // the property that is missing, or is one too many
}

// Validate checks a JSON document against the schema of that name. The error is
// for a document that is no JSON at all.
func Validate(name string, document []byte) ([]Violation, error) {
	ready, err := compile(name)
	if err != nil {
		return nil, err
	}
	result, err := ready.Validate(gojsonschema.NewBytesLoader(document))
	if err != nil {
		return nil, fmt.Errorf("the document is not sound JSON: %w", err)
	}
	var list []Violation
	for _, e := range result.Errors() {
		property, _ := e.Details()["property"].(string)
		list = append(list, Violation{Path: contextPath(e.Context()), Kind: e.Type(), Property: property})
	}
	return list, nil
}

// compiled keeps schemas that were asked for, since making one ready costs far
// more than using it.
var compiled sync.Map

// compile makes a schema ready for use.
func compile(name string) (*gojsonschema.Schema, error) {
	if s, ok := compiled.Load(name); ok {
		return s.(*gojsonschema.Schema), nil
	}
	text, err := JSONSchema(name)
	if err != nil {
		return nil, err
	}
	s, err := gojsonschema.NewSchema(gojsonschema.NewBytesLoader(text))
	if err != nil {
		return nil, fmt.Errorf("the schema %s is not sound: %w", name, err)
	}
	compiled.Store(name, s)
	return s, nil
}

// contextPath takes a validator's context apart. Its parts are joined with a
// character that no property name of ours has.
func contextPath(c *gojsonschema.JsonContext) []string {
	parts := strings.Split(c.String("\x00"), "\x00")
	return parts[1:]
}

// Properties are the names that the schema of that name knows for the
// properties of the object at a path, sorted; none where it takes any.
func Properties(name string, path []string) []string {
	text, err := JSONSchema(name)
	if err != nil {
		return nil
	}
	var root node
	if json.Unmarshal(text, &root) != nil {
		return nil
	}
	at := &root
	for _, step := range path {
		if at = at.follow(&root).child(step); at == nil {
			return nil
		}
	}
	var names []string
	for n := range at.follow(&root).Properties {
		names = append(names, n)
	}
	slices.Sort(names)
	return names
}

// node is as much of a schema as Properties looks at.
type node struct {
	Ref         string           `json:"$ref"`
	Properties  map[string]*node `json:"properties"`
	Items       *node            `json:"items"`
	Additional  json.RawMessage  `json:"additionalProperties"`
	Definitions map[string]*node `json:"definitions"`
}

// follow goes where a reference points.
func (n *node) follow(root *node) *node {
	if d := root.Definitions[strings.TrimPrefix(n.Ref, "#/definitions/")]; d != nil {
		return d
	}
	return n
}

// child is the schema of a property or an element, nil where there is none.
func (n *node) child(step string) *node {
	if p := n.Properties[step]; p != nil {
		return p
	}
	if n.Items != nil {
		return n.Items
	}
	var more node
	if len(n.Additional) > 0 && json.Unmarshal(n.Additional, &more) == nil && more.Properties != nil {
		return &more
	}
	return nil
}
