package settings

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fettle/schema/spelling"
	"fettle/schema/wording"
)

// Limits for one settings file and all that it includes.
const (
	deepest      = 8   // levels of includes
	mostIncludes = 100 // included files
)

// loader reads a settings file and all it includes.
type loader struct {
	shown  func(path string) string // a path as messages show it
	folder string                   // that patterns are relative to
	local  bool                     // include only files from this folder down
	open   []string                 // files being read, outermost first
	count  int
	layer  layer
	errs   Errors
	rules  Rules
}

// load reads a settings file, given by its absolute path, and its includes. It
// follows a symbolic link only if the weaver named the file.
func (f *Finder) load(path string, named bool) (layer, Errors) {
	text, err := readPlain(path, named)
	if err != nil {
		return layer{}, Errors{{Path: f.shown(path), Message: reason(err)}}
	}
	return f.loaded(path, text, false)
}

// loadBeside reads the settings file beside a draft. foreign reports that the file
// belongs to another program and was skipped.
func (f *Finder) loadBeside(path string) (l layer, foreign bool, errs Errors) {
	text, err := readPlain(path, false)
	switch {
	case errors.Is(err, errNotPlain), (err == nil || errors.Is(err, errTooLarge)) && !isSettings(text):
		return layer{}, true, nil
	case err != nil:
		return layer{}, false, Errors{{Path: f.shown(path), Message: reason(err)}}
	}
	l, errs = f.loaded(path, text, true)
	return l, false, errs
}

func (f *Finder) loaded(path string, text []byte, local bool) (layer, Errors) {
	l := &loader{shown: f.shown, folder: filepath.Dir(path), local: local, rules: f.options.Rules}
	l.readFile(path, text)
	return l.layer, append(l.errs, l.layer.contradictions()...)
}

// readFile reads a file: first its includes, then its own settings.
func (l *loader) readFile(path string, text []byte) {
	l.open = append(l.open, path)
	l.layer.files = append(l.layer.files, l.shown(path))
	r := read(file{l.shown(path), l.folder, text, len(l.open) > 1, l.rules})
	l.errs = append(l.errs, r.errs...)
	if r.includes.key != nil && !r.foreign() {
		for _, name := range splitList(r.includes.value) {
			l.include(r.includes, name)
		}
	}
	l.layer.settings = append(l.layer.settings, r.found...)
	l.open = l.open[:len(l.open)-1]
}

// include reads one include of the innermost open file.
func (l *loader) include(at setting, name string) {
	path, text, err := l.included(name)
	if err != nil {
		l.errs = append(l.errs, Error{Path: at.origin.Path, Line: at.origin.Line, Column: at.valueColumn, Key: "include",
			Message: "include " + wording.Quote(name) + ": " + reason(err)})
		return
	}
	l.readFile(path, text)
}

// included finds and reads a file by its name in the innermost open file.
func (l *loader) included(name string) (path string, text []byte, err error) {
	absolute := filepath.IsAbs(name)
	path = name
	if !absolute {
		path = filepath.Join(filepath.Dir(l.open[len(l.open)-1]), name)
	}
	l.count++
	switch {
	case l.local && absolute:
		return path, nil, errOutside
	case slices.Contains(l.open, path):
		return path, nil, problem("this file includes itself, directly or through another; delete one of the two includes")
	case len(l.open) >= deepest:
		return path, nil, problem(fmt.Sprintf("includes are nested more than %d levels deep; include this file from one further up", deepest))
	case l.count > mostIncludes:
		return path, nil, problem(fmt.Sprintf("there are more than %d included files; merge some of them", mostIncludes))
	case l.local:
		text, err = readBelow(l.folder, path)
	default:
		text, err = readPlain(path, false)
	}
	return path, text, err
}

// isSettings reports whether the file beside a draft is meant for fettle. It must
// have a section that fettle knows or nearly knows, or an include before the first
// section. A file without sections needs a key that fettle knows, or no lines.
func isSettings(text []byte) bool {
	text = bytes.ReplaceAll(text, []byte{0}, nil) // makes UTF-16 readable as ASCII
	lines, headers, ownKey := 0, 0, false
	for line := range bytes.FieldsFuncSeq(text, func(r rune) bool { return r == '\n' || r == '\r' }) {
		line = bytes.TrimLeft(line, " \t\xef\xbb\xbf\xff\xfe")
		if len(line) == 0 || line[0] == ';' || line[0] == '#' {
			continue
		}
		if lines++; lines > mostLines {
			break
		}
		name, _, isKey := strings.Cut(string(line[:min(len(line), 200)]), "=")
		switch {
		case line[0] == '[':
			headers++
			if nearlySection(string(line[1:min(len(line), 200)])) {
				return true
			}
		case isKey && headers == 0:
			name = strings.TrimSpace(name)
			if spelling.Fold(name) == "include" {
				return true
			}
			ownKey = ownKey || homeOf(name) != "" || spelling.Nearest(name, sections[0].names()) != ""
		}
	}
	return lines == 0 || headers == 0 && ownKey
}

// nearlySection reports whether a heading, without its opening bracket, names a
// section that fettle knows or nearly knows.
func nearlySection(header string) bool {
	text, _, _ := strings.Cut(header, "]")
	text = strings.TrimSpace(text)
	if s := sectionOf(text); s != nil && s.Name != "" {
		return true
	}
	word, _, _ := strings.Cut(text, " ")
	return spelling.Nearest(word, sectionNames()) != ""
}
