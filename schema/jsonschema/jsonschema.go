// Package jsonschema holds the JSON Schemas of all JSON that fettle reads and
// writes, and checks documents against them.
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

// Names returns the names of the JSON Schemas.
func Names() []string {
	return []string{"draft", "findings", "plan", "order", "info", "fit", "losses", "rules", "settings", "baseline"}
}

// Text returns the text of a JSON Schema (draft-07). It returns an error if there
// is no schema of that name.
func Text(name string) ([]byte, error) {
	text, err := schemas.ReadFile(name + ".schema.json")
	if err != nil {
		return nil, fmt.Errorf("%s isn't a schema; the schemas are %s", wording.Quote(name), wording.Listed(Names()))
	}
	return text, nil
}

// Violation is one place where a JSON document breaks its schema.
type Violation struct {
	Path     []string // property names, and indexes from 0, from the top down
	Kind     string   // the validator's name for the problem, such as "required" or "invalid_type"
	Property string   // the missing or unknown property
}

// Validate returns the violations of a schema in a JSON document. It returns an
// error if the document isn't JSON or there is no schema of that name.
func Validate(name string, document []byte) ([]Violation, error) {
	ready, err := compile(name)
	if err != nil {
		return nil, err
	}
	result, err := ready.Validate(gojsonschema.NewBytesLoader(document))
	if err != nil {
		return nil, fmt.Errorf("the document isn't valid JSON: %w", err)
	}
	var list []Violation
	for _, e := range result.Errors() {
		property, _ := e.Details()["property"].(string)
		list = append(list, Violation{Path: contextPath(e.Context()), Kind: e.Type(), Property: property})
	}
	return list, nil
}

// compiled caches schemas, because compiling one costs far more than using it.
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
		return nil, fmt.Errorf("the schema %s isn't valid: %w", name, err)
	}
	compiled.Store(name, s)
	return s, nil
}

// contextPath splits the path of a validator's context. It joins the parts with a
// character that occurs in no property name.
func contextPath(c *gojsonschema.JsonContext) []string {
	parts := strings.Split(c.String("\x00"), "\x00")
	return parts[1:]
}
