package settings

import "path/filepath"

// Parse reads one text as a settings file. What it includes is not read. An
// error is an Errors that holds all that is wrong.
func Parse(path string, text []byte) (*Settings, error) {
	folder, err := filepath.Abs(filepath.Dir(path))
	if err != nil {
		return nil, Errors{{Path: path, Message: "the working folder cannot be told"}}
	}
	r := read(file{path: path, folder: folder, text: text})
	l := layer{r.found, []string{path}}
	if err := append(r.errs, l.heddlesBeyond()...).orNil(); err != nil {
		return nil, err
	}
	b := newBuilder()
	b.apply(l)
	return b.finish()
}
