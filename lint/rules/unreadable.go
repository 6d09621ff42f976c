package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var unreadable = lint.Rule{
	ID:      schema.FileUnreadable,
	Title:   "the file holds no draft",
	Why:     "A saved web page, a picture, an archive or an empty file contains nothing to weave.",
	Counts:  "The finding says what the file looks like.",
	Remedy:  "Get the draft again. Put folders without drafts under exclude in [files].",
	Default: schema.Error,
	Faulty:  lint.Example{Draft: "<!DOCTYPE html>\n<html><head><title>Not found</title></head></html>\n", Whole: true},
	SafeOff: "never; exclude those files under [files]",
	Source:  "rule of thumb",
	Data:    []lint.Field{{Key: "reason", Text: "what the file is, or why it can't be read"}},

	Keys:     []string{},
	Measures: []lint.Measure{},
}
