package settings

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// Error is one mistake in the settings.
type Error struct {
	Path         string // the file, or the draft that states the setting; "" for a flag
	Line, Column int    // from 1, columns in characters; 0 outside a settings file
	Section, Key string // as far as they are known
	Message      string
	Expected     string // the kind of value that belongs there, if the value is wrong
	DraftSetting int    // the number of the setting in the draft, from 1; 0 for none
}

// Error returns the place and the message.
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

// Errors lists all mistakes in the settings, in reading order. It isn't empty when
// it is returned as an error.
type Errors []Error

// Error returns the first 20 mistakes, one a line, and counts the rest.
func (l Errors) Error() string {
	const most = 20
	var b strings.Builder
	for i, e := range l {
		if i == most {
			fmt.Fprintf(&b, "\nand %d more mistakes", len(l)-most)
			break
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(e.Error())
	}
	return b.String()
}

// Placed returns the errors with lines and columns for those about the draft's own
// settings.
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

func (l Errors) orNil() error {
	if len(l) == 0 {
		return nil
	}
	return l
}
