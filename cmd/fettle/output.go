package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"fettle/lint/collection"
)

// write writes a result: to standard output for "-", else to a file, which is
// there whole or not at all. A file that is there already is left alone unless
// replace is set. What is no regular file, such as a pipe, is written to as it
// is.
func (p *program) write(path string, text []byte, replace bool) error {
	if path == "-" {
		p.wrote = true
		if _, err := p.out.Write(text); err != nil {
			return failed("the result could not be written: %s", collection.Reason(err))
		}
		return nil
	}
	there, err := mayReplace(path, replace)
	switch {
	case err != nil:
		return err
	case there:
		return replaceFile(path, text)
	}
	err = writeWhole(path, text, 0o644)
	return refusedWrite(path, "the folder", err)
}

// mayReplace says whether there is a file at a path. It is an error where it may
// not be written over.
func mayReplace(path string, replace bool) (there bool, err error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return false, nil
	case info.IsDir():
		return true, failed("%s is a folder; name a file in it", path)
	case info.Mode().IsRegular() && !replace:
		return true, failed("%s is there already; --overwrite writes over it", path)
	}
	return true, nil
}

// told puts the error of writing a file into words.
func told(path string, err error) error {
	if err != nil {
		return failed("%s could not be written: %s", path, collection.Reason(err))
	}
	return nil
}

// folderFor makes the folder that a file is to go into.
func folderFor(path string) error {
	err := os.MkdirAll(filepath.Dir(path), 0o755)
	if errors.Is(err, fs.ErrPermission) {
		return failed("the folder %s could not be made: the folder above it may not be written to; look at its permissions", filepath.Dir(path))
	}
	if err != nil {
		return failed("the folder %s could not be made: %s", filepath.Dir(path), collection.Reason(err))
	}
	return nil
}

// print writes a line of a result.
func (p *program) print(format string, args ...any) error {
	p.wrote = true
	if _, err := fmt.Fprintf(p.out, format, args...); err != nil {
		return failed("the result could not be written: %s", collection.Reason(err))
	}
	return nil
}
