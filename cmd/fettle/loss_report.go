package main

import (
	"fmt"
	"io"

	"fettle/lint/collection"
	"fettle/schema/wording"
)

// lossReport lists, file by file, what a conversion couldn't keep and what went wrong:
// one line each, or JSON that follows schema/jsonschema/losses.schema.json.
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
		f := lossFile{Path: shown(path), To: to, Lost: append([]string{}, lost...)}
		if err != nil {
			f.Error = legible(err.Error())
		} else {
			f.Output = shown(output)
		}
		r.files = append(r.files, f)
		return
	}
	for _, l := range lost {
		fmt.Fprintf(r.to, "%s: lost: %s\n", shown(path), wording.Plain(l, len(l)))
	}
	if err != nil {
		r.complain(err)
	}
}

// missed adds a path without a draft to the JSON. As text it is already printed.
func (r *lossReport) missed(problem collection.Problem) {
	if r.json {
		r.files = append(r.files, lossFile{Path: shown(problem.Path), Lost: []string{}, Error: problem.Error()})
	}
}

func (r *lossReport) close() {
	if !r.json {
		return
	}
	files := r.files
	if files == nil {
		files = []lossFile{}
	}
	if err := writeJSON(r.to, map[string]any{"fettle": 1, "files": files}); err != nil {
		fmt.Fprintf(r.to, "fettle: can't write the loss report: %s\n", err)
	}
}
