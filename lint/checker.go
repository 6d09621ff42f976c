package lint

import (
	"fmt"
	"slices"

	"fettle/schema"
	"fettle/schema/settings"
	"fettle/schema/wording"
)

// Checker lints drafts, each with its own settings. It is safe for use by several
// goroutines at once.
type Checker struct {
	Linter *Linter
	Finder *settings.Finder
}

// Check finds a draft's settings and lints it. Wrong settings in the draft itself become
// findings. The error is for settings files that can't be read or are wrong.
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
		copied := *doc // the reader's findings stay unchanged
		copied.Findings = append(slices.Clip(doc.Findings), unsound(doc, wrong)...)
		doc = &copied
	}
	return c.Linter.Lint(doc, s)
}

// mostUnsound limits how many wrong settings of a draft are reported singly. To find the
// place of each, fettle reads the whole file.
const mostUnsound = 20

// unsound returns findings for wrong settings in the draft itself, except values that
// the reader has already reported.
func unsound(doc *schema.Document, wrong settings.Errors) (found []schema.Finding) {
	for i, e := range wrong {
		at, pointer := doc.Locator.Locate(schema.Place{Part: schema.PartSettings, Row: e.DraftSetting})
		if slices.ContainsFunc(doc.Findings, func(f schema.Finding) bool { return f.Rule == schema.FileBadValue && f.Span == at }) {
			continue
		}
		given := doc.Draft.Settings[e.DraftSetting-1]
		if i == mostUnsound {
			e.Message = fmt.Sprintf("%d more settings from here on are wrong; fix those above first", len(wrong)-i)
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
