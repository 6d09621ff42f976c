package main

import (
	"crypto/rand"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// replaceFile puts other contents in the place of a file, which is there whole
// at every moment, the old one or the new: they are written to a file beside it,
// which then takes its name. The mode stays. Where a symbolic link is named, what
// it leads to is replaced.
func replaceFile(path string, text []byte) error {
	target, err := filepath.EvalSymlinks(path)
	if err != nil {
		return told(path, err)
	}
	f, err := os.OpenFile(target, os.O_WRONLY, 0) // a file that may not be written to is not replaced either
	if err != nil {
		return refusedWrite(path, "the file", err)
	}
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() {
		_, writing := f.Write(text)
		return told(path, errors.Join(err, writing, f.Close()))
	}
	if err := f.Close(); err != nil {
		return told(path, err)
	}
	err = writeWhole(target, text, info.Mode().Perm())
	return refusedWrite(path, "the folder", err)
}

// writeWhole writes a new file beside the path and renames it, so that the path
// never holds half of it.
func writeWhole(path string, text []byte, mode fs.FileMode) error {
	name := filepath.Join(filepath.Dir(path), ".fettle-"+rand.Text()+".tmp")
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	err = errors.Join(err, f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(name, path)
	}
	if err != nil {
		_ = os.Remove(name)
	}
	return err
}

// refusedWrite says of a file that could not be written or replaced what may not
// be written to.
func refusedWrite(path, what string, err error) error {
	if errors.Is(err, fs.ErrPermission) {
		return failed("%s could not be written: %s may not be written to; look at its permissions", path, what)
	}
	return told(path, err)
}
