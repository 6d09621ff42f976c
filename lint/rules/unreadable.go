package rules

import (
	"fettle/lint"
	"fettle/schema"
)

var unreadable = lint.Rule{
	ID:    schema.FileUnreadable,
	Title: "the file holds no draft",
	Why: "A web page saved under the draft's name, a picture, an archive or an empty file has nothing that can be woven. " +
		"The finding says what the file looks like, so that the draft itself can be fetched again.",
	Default: schema.Error,
	Faulty:  lint.Example{Draft: "<!DOCTYPE html>\n<html><head><title>Not found</title></head></html>\n", Whole: true},
	Mended: lint.Example{Draft: "[WIF]\nVersion=1.1\nDate=April 20, 1997\nDevelopers=wif@mhsoft.com\n" +
		"[CONTENTS]\nWEAVING=true\nWARP=true\nWEFT=true\nTIEUP=true\nTHREADING=true\nTREADLING=true\n" +
		"[WEAVING]\nShafts=2\nTreadles=2\nRising Shed=true\n[WARP]\nThreads=2\n[WEFT]\nThreads=2\n" +
		"[TIEUP]\n1=1\n2=2\n[THREADING]\n1=1\n2=2\n[TREADLING]\n1=1\n2=2\n", Whole: true},
	SafeOff: "never; name the folders that hold no drafts under exclude in [files]",
	Source:  "common practice, no source",
	Data:    []lint.Field{{Key: "reason", Text: "what the file is, or why it cannot be read"}},

	Keys:     []string{},
	Measures: []lint.Measure{},
}
