// Package jsonschema holds the JSON Schemas of all JSON that fettle reads and
// writes, and checks documents against them.
package jsonschema

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"strings"
	"sync"

	validator "github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/santhosh-tekuri/jsonschema/v6/kind"

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

// Kinds of violations that name a property.
const (
	Required = "required"
	Unknown  = "additionalProperties"
)

// Violation is one place where a JSON document breaks its schema.
type Violation struct {
	Path     []string // property names, and indexes from 0, from the top down
	Kind     string   // Required, Unknown, or the keyword of the schema, such as "type"
	Property string   // the missing or unknown property
}

// Validate returns the violations of a schema in a JSON document. It returns an
// error if the document isn't JSON or there is no schema of that name.
func Validate(name string, document []byte) ([]Violation, error) {
	ready, err := compile(name)
	if err != nil {
		return nil, err
	}
	value, err := validator.UnmarshalJSON(bytes.NewReader(document))
	if err != nil {
		return nil, fmt.Errorf("the document isn't valid JSON: %w", err)
	}
	var wrong *validator.ValidationError
	if err := ready.Validate(value); err != nil && !errors.As(err, &wrong) {
		return nil, err
	}
	return violations(nil, wrong), nil
}

// violations adds the violations of an error and its causes to a list.
func violations(list []Violation, wrong *validator.ValidationError) []Violation {
	if wrong == nil {
		return list
	}
	add := func(name, property string) {
		list = append(list, Violation{Path: wrong.InstanceLocation, Kind: name, Property: property})
	}
	switch k := wrong.ErrorKind.(type) {
	case *kind.Required:
		for _, property := range k.Missing {
			add(Required, property)
		}
	case *kind.AdditionalProperties:
		for _, property := range k.Properties {
			add(Unknown, property)
		}
	case *kind.Schema, *kind.Group, *kind.Reference: // they only hold their causes
	default:
		add(strings.Join(k.KeywordPath(), "/"), "")
	}
	for _, cause := range wrong.Causes {
		list = violations(list, cause)
	}
	return list
}

// compiled caches schemas, because compiling one costs far more than using it.
var compiled sync.Map

func compile(name string) (*validator.Schema, error) {
	if s, ok := compiled.Load(name); ok {
		return s.(*validator.Schema), nil
	}
	text, err := Text(name)
	if err != nil {
		return nil, err
	}
	document, err := validator.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		return nil, fmt.Errorf("the schema %s isn't JSON: %w", name, err)
	}
	c := validator.NewCompiler()
	if err := c.AddResource(name, document); err != nil {
		return nil, fmt.Errorf("the schema %s isn't valid: %w", name, err)
	}
	s, err := c.Compile(name)
	if err != nil {
		return nil, fmt.Errorf("the schema %s isn't valid: %w", name, err)
	}
	compiled.Store(name, s)
	return s, nil
}
