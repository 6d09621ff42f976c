package settings

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// Error is one thing wrong with the settings.
type Error struct {
	Path         string // the file, or the draft that states the setting; "" for a flag
	Line, Column int    // from 1, columns in characters; 0 where the setting stands on no line of ours
	Section, Key string // what it is about, as far as that is known
	Message      string
	Expected     string // what kind of value is wanted, where the value is at fault
	DraftSetting int    // which of the settings the draft itself states it is about, from 1; 0 for none
}

// Error tells where and what.
func (e Error) Error() string {
	var where string
	path := wording.PathName(filepath.ToSlash(e.Path))
	switch {
	case e.Line > 0 && e.Column == 0:
		where = fmt.Sprintf("%s:%d: ", path, e.Line)
	case e.Line > 0:
		where = fmt.Sprintf("%s:%d:%d: ", path, e.Line, e.Column)
	case e.Path != "":
		where = path + ": "
	}
	return where + e.Message
}

// Errors is everything wrong with the settings, in the order of reading. It is
// never empty where it is returned as an error.
type Errors []Error

// Error tells the first of them, one a line.
func (l Errors) Error() string {
	const most = 20
	var b strings.Builder
	for i, e := range l {
		if i == most {
			fmt.Fprintf(&b, "\nand %d more like these", len(l)-most)
			break
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(e.Error())
	}
	return b.String()
}

// Placed has those about a draft's own settings tell where in its file they
// stand.
func (l Errors) Placed(doc *schema.Document) Errors {
	placed := slices.Clone(l)
	for i := range placed {
		if e := &placed[i]; e.DraftSetting > 0 {
			at, _ := doc.Locator.Locate(schema.Place{Part: schema.PartSettings, Row: e.DraftSetting})
			p := doc.Source.Position(at)
			e.Line, e.Column = p.Line, p.Column
		}
	}
	return placed
}

// orNil is the list as an error, nil where it is empty.
func (l Errors) orNil() error {
	if len(l) == 0 {
		return nil
	}
	return l
}
