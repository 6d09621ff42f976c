package main

import (
	"path/filepath"

	"fettle/lint"
	"fettle/lint/collection"
)

// places gives out where results go below a folder, each to one file only.
type places struct {
	folder string
	taken  map[string]string // by path as the least able file system tells it
}

// of is where the result for a file goes, under another extension unless that is
// empty. It makes the folder.
func (p *places) of(in collection.Input, extension string) (string, error) {
	path, err := collection.OutputPath(in, p.folder, extension)
	if err != nil {
		return "", failed("%s", err)
	}
	key := lint.PlainestPath(filepath.ToSlash(path))
	if other, ok := p.taken[key]; ok {
		return "", failed("%s: not written, for the result for %s goes to the same place, %s; name one of the two drafts differently, or give their results two folders", shown(in.Path), shown(other), shown(path))
	}
	if p.taken == nil {
		p.taken = map[string]string{}
	}
	p.taken[key] = in.Path
	return path, folderFor(path)
}
