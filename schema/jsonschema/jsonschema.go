// Package jsonschema holds the JSON Schemas of everything that other programs read
// from fettle or write for it, and checks documents against them.
package jsonschema

import (
	"embed"
	"fmt"
	"strings"
	"sync"

	"github.com/xeipuuv/gojsonschema"

	"fettle/schema/wording"
)

//go:embed *.schema.json
var schemas embed.FS

// Names returns the names of the JSON Schemas, each called after what it describes.
func Names() []string {
	return []string{"draft", "findings", "plan", "info", "fit", "losses", "rules", "baseline"}
}

// Text returns the JSON Schema of that name, draft-07.
func Text(name string) ([]byte, error) {
	text, err := schemas.ReadFile(name + ".schema.json")
	if err != nil {
		return nil, fmt.Errorf("%s is not a schema: say %s", wording.Quote(name), strings.Join(Names(), ", "))
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

func compile(name string) (*gojsonschema.Schema, error) {
	if s, ok := compiled.Load(name); ok {
		return s.(*gojsonschema.Schema), nil
	}
	text, err := Text(name)
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
