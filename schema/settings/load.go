package settings

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"fettle/schema"
)

// Limits of what is read for one draft.
const (
	mostBytes    = 1 << 20 // in a file
	deepest      = 8       // files that include each other
	mostIncludes = 100     // files included in all
)

// loader reads a settings file and all it includes.
type loader struct {
	shown  func(path string) string // a path as messages show it
	folder string                   // the one patterns are below
	open   []string                 // files being read, the outermost first
	read   int
	layer  layer
	errs   Errors
	rules  Rules
}

// load reads a settings file, given by an absolute path, and what it includes.
// A symbolic link is only followed where the weaver named the file herself.
func load(path string, named bool, shown func(string) string, rules Rules) (layer, Errors) {
	l := &loader{shown: shown, folder: filepath.Dir(path), rules: rules}
	text, problem := readFile(path, named)
	if problem != "" {
		return layer{}, Errors{{Path: shown(path), Message: problem}}
	}
	l.file(path, text)
	return l.layer, append(l.errs, l.layer.heddlesBeyond()...)
}

// file reads a file's text: first what it includes, then its own settings.
func (l *loader) file(path string, text []byte) {
	l.open = append(l.open, path)
	l.layer.files = append(l.layer.files, l.shown(path))
	r := read(file{l.shown(path), l.folder, text, len(l.open) > 1, l.rules})
	l.errs = append(l.errs, r.errs...)
	if r.includes.key != nil && !r.foreign() {
		for _, name := range words(r.includes.value) {
			l.include(r.includes, name)
		}
	}
	l.layer.settings = append(l.layer.settings, r.found...)
	l.open = l.open[:len(l.open)-1]
}

// include reads one of the files that the innermost open one includes.
func (l *loader) include(at setting, name string) {
	path := name
	if !filepath.IsAbs(path) {
		path = filepath.Join(filepath.Dir(l.open[len(l.open)-1]), path)
	}
	l.read++
	problem := ""
	var text []byte
	switch {
	case slices.Contains(l.open, path):
		problem = "this file includes itself, directly or through another; take one of the two out"
	case len(l.open) >= deepest:
		problem = fmt.Sprintf("files may include each other %d deep at most; include this one from a file further up", deepest)
	case l.read > mostIncludes:
		problem = fmt.Sprintf("more than %d files are included in all; put some of them together", mostIncludes)
	default:
		text, problem = readFile(path, false)
	}
	if problem != "" {
		l.errs = append(l.errs, Error{Path: at.origin.Path, Line: at.origin.Line, Column: at.column, Key: "include",
			Message: "include " + schema.Quote(name) + ": " + problem})
		return
	}
	l.file(path, text)
}

// readFile reads a regular file of bounded size. The problem is told in a
// weaver's words.
func readFile(path string, follow bool) (text []byte, problem string) {
	look := os.Lstat
	if follow {
		look = os.Stat
	}
	info, err := look(path)
	switch {
	case err != nil:
		return nil, why(err)
	case info.Mode()&os.ModeSymlink != 0:
		return nil, "this is a symbolic link; put the file itself here, or include it by its own path"
	case !info.Mode().IsRegular():
		return nil, "this is no ordinary file; name a text file"
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, why(err)
	}
	defer f.Close()
	if now, err := f.Stat(); err != nil || !os.SameFile(info, now) {
		return nil, "the file was changed while it was read; try again"
	}
	text, err = io.ReadAll(io.LimitReader(f, mostBytes+1))
	switch {
	case err != nil:
		return nil, why(err)
	case len(text) > mostBytes:
		return nil, "a settings file holds at most 1 MiB, and this one is larger; look whether it is the right file"
	}
	return text, ""
}
