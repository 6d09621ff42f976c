package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"fettle/cmd/fettle/safefile"
	"fettle/lint"
	"fettle/lint/collection"
)

// output is a file being written. It gets its name when it is complete. Devices and pipes
// are written to directly.
type output struct {
	program   *program
	path      string
	overwrite bool
	file      *safefile.File // nil for a device or a pipe
	device    *os.File
}

// create starts a file. It replaces an existing one only if overwrite is set, and never
// one that this run reads.
func (p *program) create(path string, overwrite bool) (*output, error) {
	info, err := mayReplace(path, overwrite)
	if err != nil {
		return nil, err
	}
	o := &output{program: p, path: path, overwrite: overwrite}
	if info != nil && !info.Mode().IsRegular() {
		o.device, err = os.OpenFile(path, os.O_WRONLY, 0)
	} else {
		o.file, err = p.files.Begin(path)
	}
	return o, notWritten(path, err)
}

func (o *output) Write(text []byte) (n int, err error) {
	if o.device != nil {
		n, err = o.device.Write(text)
	} else {
		n, err = o.file.Write(text)
	}
	return n, notWritten(o.path, err)
}

// finish gives the file its name.
func (o *output) finish() error {
	if o.device != nil {
		return notWritten(o.path, o.device.Close())
	}
	defer o.file.Discard()
	info, err := mayReplace(o.path, o.overwrite) // it may have appeared meanwhile
	switch {
	case err != nil:
		return err
	case info == nil:
		return notWritten(o.path, o.file.Create())
	}
	if err := o.program.notRead(o.path); err != nil {
		return err
	}
	return notWritten(o.path, o.file.Overwrite())
}

// write writes a whole result to standard output for "-", otherwise to a file as create
// does.
func (p *program) write(path string, text []byte, overwrite bool) error {
	if path == "-" {
		p.wrote = true
		return notPrinted(p.exact.Write(text))
	}
	o, err := p.create(path, overwrite)
	if err != nil {
		return err
	}
	if _, err := o.Write(text); err != nil {
		return err
	}
	return o.finish()
}

// replace replaces a file with its result, if it still holds old.
func (p *program) replace(path string, old, text []byte) error {
	return notWritten(path, p.files.Replace(path, old, text))
}

// mayReplace returns the file at a path, nil for none. The error says why it can't be
// replaced.
func mayReplace(path string, overwrite bool) (fs.FileInfo, error) {
	if !safefile.NameAllowed(path) {
		return nil, failed("%s not written: Windows does not allow this name. Choose another one", path)
	}
	info, err := os.Stat(path)
	if err != nil {
		if link, err := os.Lstat(path); err == nil && link.Mode()&fs.ModeSymlink != 0 {
			return nil, failed("%s is a symbolic link to a file that does not exist; name that file, or delete the link", path)
		}
		return nil, nil
	}
	switch {
	case info.IsDir():
		return info, failed("%s is a folder; name a file in it", path)
	case info.Mode().IsRegular() && !overwrite:
		return info, failed("%s already exists; replace it with --overwrite", path)
	}
	return info, nil
}

// notRead returns an error for a file that this run reads: a draft, settings, the
// baseline or the source of standard input.
func (p *program) notRead(path string) error {
	if p.read == nil {
		p.read = map[string]string{}
		paths := slices.Clone(p.reads)
		for i := range p.drafts {
			paths = append(paths, p.drafts[i].Path)
		}
		for _, finder := range p.finders {
			paths = append(paths, finder.Files()...)
		}
		for _, input := range paths {
			if key := safefile.Key(input); key != "" && input != "-" {
				p.read[key] = input
			}
		}
		if f, ok := p.in.(*os.File); ok {
			if info, err := f.Stat(); err == nil && info.Mode().IsRegular() {
				p.read[safefile.KeyOf(f)] = "standard input"
			}
		}
	}
	input, is := p.read[safefile.Key(path)]
	if !is {
		return nil
	}
	return failed("%s not written: this run reads it as %s. Name another file; to fix drafts in place, use 'fettle clean --write'", path, input)
}

// notWritten explains why a file wasn't written.
func notWritten(path string, err error) error {
	var links safefile.LinksError
	var owner safefile.OwnerError
	var attribute safefile.AttributeError
	switch {
	case err == nil:
		return nil
	case errors.Is(err, safefile.ErrNotKept):
		return failed("%s not written: another program changed it twice while fettle worked, and one of the changes could not be kept. Check the file before you run fettle again", path)
	case errors.Is(err, safefile.ErrChanged):
		return failed("%s not written: another program changed it while fettle worked. Run fettle again", path)
	case errors.Is(err, safefile.ErrAlreadyWritten):
		return failed("%s not written: this run already wrote it under another name. Name another file", path)
	case errors.Is(err, safefile.ErrNotRegular):
		return failed("%s not written: it is no longer a regular file. Name another file", path)
	case errors.As(err, new(safefile.InUseError)):
		return failed("%s not written: another program has it open. Close it there and run fettle again", path)
	case errors.As(err, &links):
		return failed("%s not written: it has %d hard links, and replacing it would separate them. Write to a new file with --output, then copy that over it", path, links.Links)
	case errors.As(err, &owner):
		return failed("%s not written: it belongs to user %s and group %s, and you can't set that owner. Write to a new file with --output, or ask the owner", path, owner.Owner, owner.Group)
	case errors.As(err, &attribute):
		return failed("%s not written: its attribute %s would be lost. Write to a new file with --output", path, attribute.Name)
	case errors.Is(err, fs.ErrExist):
		return failed("%s not written: the file appeared while fettle worked. Check it, or replace it with --overwrite", path)
	case errors.Is(err, fs.ErrPermission) && !mayWrite(path):
		return failed("%s not written: you have no permission to write to this file; check its permissions", path)
	case errors.Is(err, fs.ErrPermission):
		return failed("%s not written: you have no permission to write to this folder; check its permissions", path)
	}
	return failed("%s not written: %s", path, collection.Reason(err))
}

// mayWrite reports whether an existing file can be written to.
func mayWrite(path string) bool {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return errors.Is(err, fs.ErrNotExist)
	}
	return f.Close() == nil
}

// folderFor creates the folder of a file.
func folderFor(path string) error {
	err := os.MkdirAll(filepath.Dir(path), 0o755)
	if errors.Is(err, fs.ErrPermission) {
		return failed("folder %s not created: you have no permission to write to its parent folder; check its permissions", filepath.Dir(path))
	}
	if err != nil {
		return failed("folder %s not created: %s", filepath.Dir(path), collection.Reason(err))
	}
	return nil
}

// writeForPeople writes a result as write does. On standard output it also keeps CI
// services from reading a line as a command.
func (p *program) writeForPeople(path string, text []byte, overwrite bool) error {
	if path == "-" {
		p.wrote = true
		return notPrinted(p.out.Write(text))
	}
	return p.write(path, text, overwrite)
}

// writeAs writes a result in a format. Text is for people, other formats are for programs.
func (p *program) writeAs(form, path string, text []byte, overwrite bool) error {
	if form == "txt" || form == "text" {
		return p.writeForPeople(path, text, overwrite)
	}
	return p.write(path, text, overwrite)
}

// outputs holds the files that a run will write, by safefile.Key.
type outputs map[string]bool

// add returns an error for a file that is already an output, can't be replaced or has
// no folder. So a long run doesn't fail at its end.
func (o outputs) add(path string, overwrite bool) error {
	key := "-"
	if path != "-" {
		if err := hasFolder(path); err != nil {
			return err
		}
		key = safefile.Key(path)
	}
	if o[key] {
		return failed("two reports use %s; name another file for one of them", path)
	}
	o[key] = true
	if path == "-" {
		return nil
	}
	_, err := mayReplace(path, overwrite)
	return err
}

// hasFolder returns an error if the folder of a file doesn't exist.
func hasFolder(path string) error {
	folder := filepath.Dir(path)
	info, err := os.Stat(folder)
	switch {
	case err != nil:
		return failed("can't write %s: folder %s: %s", path, folder, collection.Reason(err))
	case !info.IsDir():
		return failed("can't write %s: %s isn't a folder", path, folder)
	}
	return nil
}

// print writes a part of the result to standard output.
func (p *program) print(format string, args ...any) error {
	p.wrote = true
	return notPrinted(fmt.Fprintf(p.out, format, args...))
}

// notPrinted explains an error from writing to standard output.
func notPrinted(_ int, err error) error {
	if err != nil {
		return failed("can't write the result: %s", collection.Reason(err))
	}
	return nil
}

// strict is a writer that keeps its first error, for a library that ignores errors when
// it writes help.
type strict struct {
	*program
	broken error
}

func (s *strict) Write(text []byte) (int, error) {
	n, err := s.out.Write(text)
	if s.broken == nil {
		s.broken = err
	}
	return n, err
}

// outputFolder is the folder of --out-dir. Each result gets its own file there.
type outputFolder struct {
	path  string            // "" without --out-dir
	taken map[string]string // the drafts by lint.PlainestPath of their results
}

// pathFor returns the path of the result for a file and creates its folder. It replaces
// the extension unless the new one is empty.
func (p *outputFolder) pathFor(in collection.Input, extension string) (string, error) {
	path, err := collection.OutputPath(in, p.path, extension)
	if err != nil {
		return "", failed("%s", err)
	}
	key := lint.PlainestPath(filepath.ToSlash(path))
	if other, ok := p.taken[key]; ok {
		return "", failed("%s: result not written: the result of %s has the same path, %s; rename one of the drafts, or use two folders", shown(in.Path), shown(other), shown(path))
	}
	if p.taken == nil {
		p.taken = map[string]string{}
	}
	p.taken[key] = in.Path
	return path, folderFor(path)
}
