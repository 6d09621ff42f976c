package lint

import (
	"fettle/schema"
	"fettle/schema/settings"
)

// Checker looks at drafts with the settings that hold for each. It may be used
// by several goroutines at once.
type Checker struct {
	Linter *Linter
	Finder *settings.Finder
}

// Check finds a draft's settings and runs the rules over it. The error is for
// settings that cannot be read or make no sense.
func (c *Checker) Check(doc *schema.Document) (Result, error) {
	var own []schema.Setting
	if doc.Draft != nil {
		own = doc.Draft.Settings
	}
	s, err := c.Finder.For(doc.Source.Path, own)
	if err != nil {
		return Result{}, err
	}
	return c.Linter.Lint(doc, s)
}
