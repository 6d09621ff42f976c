package main

import (
	"encoding/json"
	"fmt"
	"io"
	"path/filepath"

	"fettle/schema"
)

// lossReport tells, file by file, what a conversion could not keep and what went
// wrong: a line each, or JSON in the form of schema/losses.schema.json.
type lossReport struct {
	json     bool
	to       io.Writer
	complain func(error)
	files    []lossFile
}

type lossFile struct {
	Path   string   `json:"path"`
	To     string   `json:"to"`
	Output string   `json:"output,omitempty"`
	Lost   []string `json:"lost"`
	Error  string   `json:"error,omitempty"`
}

func (r *lossReport) add(path, output, to string, lost []string, err error) {
	if r.json {
		f := lossFile{Path: filepath.ToSlash(path), To: to, Lost: append([]string{}, lost...)}
		if err != nil {
			f.Error = err.Error()
		} else {
			f.Output = filepath.ToSlash(output)
		}
		r.files = append(r.files, f)
		return
	}
	for _, l := range lost {
		fmt.Fprintf(r.to, "%s: lost: %s\n", schema.Plain(path, len(path)), schema.Plain(l, len(l)))
	}
	if err != nil {
		r.complain(err)
	}
}

func (r *lossReport) close() {
	if !r.json {
		return
	}
	e := json.NewEncoder(r.to)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	files := r.files
	if files == nil {
		files = []lossFile{}
	}
	if err := e.Encode(map[string]any{"fettle": 1, "files": files}); err != nil {
		fmt.Fprintf(r.to, "fettle: the loss report could not be written: %s\n", err)
	}
}
