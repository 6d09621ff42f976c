package lint

import (
	"fmt"
	"slices"

	"fettle/schema"
	"fettle/schema/settings"
	"fettle/schema/wording"
)

// Checker looks at drafts with the settings that hold for each. It may be used
// by several goroutines at once.
type Checker struct {
	Linter *Linter
	Finder *settings.Finder
}

// Check finds a draft's settings and runs the rules over it. A setting of the
// draft's own that makes no sense is left out, and found. The error is for
// settings in files that cannot be read or make no sense.
func (c *Checker) Check(doc *schema.Document) (Result, error) {
	var own []schema.Setting
	if doc.Draft != nil {
		own = doc.Draft.Settings
	}
	s, wrong, err := c.Finder.ForDraft(doc.Source.Path, own)
	if err != nil {
		return Result{}, err
	}
	if len(wrong) > 0 {
		told := *doc // the reader's findings stay as they are
		told.Findings = append(slices.Clip(doc.Findings), unsound(doc, wrong)...)
		doc = &told
	}
	return c.Linter.Lint(doc, s)
}

// mostUnsound is how many of a draft's own settings are told one by one; to find
// each in the file takes a walk through it.
const mostUnsound = 20

// unsound are the findings for what a draft states itself and cannot mean. Where
// the reader has found fault with a value already, that is enough.
func unsound(doc *schema.Document, wrong settings.Errors) (found []schema.Finding) {
	for i, e := range wrong {
		at, pointer := doc.Locator.Locate(schema.Place{Part: schema.PartSettings, Row: e.DraftSetting})
		if slices.ContainsFunc(doc.Findings, func(f schema.Finding) bool { return f.Rule == schema.FileBadValue && f.Span == at }) {
			continue
		}
		given := doc.Draft.Settings[e.DraftSetting-1]
		if i == mostUnsound {
			e.Message = fmt.Sprintf("from here on %d more settings are not as they should be; mend those above first", len(wrong)-i)
		}
		found = append(found, schema.Finding{Rule: schema.FileBadValue, Span: at, Pointer: pointer, Message: e.Message,
			Data: schema.Data{{Key: "section", Value: wording.Plain(given.Section, 60)}, {Key: "key", Value: given.Key},
				{Key: "value", Value: wording.Plain(given.Value, 60)}, {Key: "expected", Value: e.Expected}}})
		if i == mostUnsound {
			break
		}
	}
	return found
}
