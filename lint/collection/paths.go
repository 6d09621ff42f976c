// Package collection finds the drafts that paths, folders and patterns name, and lints
// them in parallel with results in a fixed order.
package collection

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"

	"github.com/bmatcuk/doublestar/v4"

	"fettle/schema/files"
	"fettle/schema/wording"
)

// Input is a file to read.
type Input struct {
	Path string
	// Folder is the argument below which the file was found; "" for a file that was
	// named itself.
	Folder string
	// Args lists the arguments that name the file or its folder, as indexes into Listing.Args.
	Args []int
	// Found is set for a file found in a folder. Such a file is skipped if it isn't a
	// draft and isn't named like one.
	Found bool
	// Stdin reads the draft from standard input in place of Path.
	Stdin bool
}

// Problem is the error for one path. The run goes on with the others.
type Problem struct {
	Path, Message string
}

func (p Problem) Error() string { return wording.PathName(filepath.ToSlash(p.Path)) + ": " + p.Message }

// Inputs finds the files that arguments name: files, folders with all files below them,
// and patterns in which * matches anything and ** any folders. "-" is standard input. The
// files are in the order of the arguments, those of a folder sorted, without duplicates.
//
// Inputs skips hidden files and folders, and symbolic links, unless an argument names
// them. It also skips paths for which skip returns true. folder is the argument above the
// path, or "" if a pattern found it.
func Inputs(args []string, skip func(path, folder string) bool) Listing {
	here, err := os.Getwd()
	if err != nil {
		here = "" // compare paths as they are named
	}
	w := &walk{skip: skip, here: here}
	if len(args) > 1 {
		w.seen = map[string]int{}
	}
	for i, a := range args {
		w.Args, w.arg = append(w.Args, Arg{Name: a}), []int{i}
		w.argument(a)
	}
	return w.Listing
}

// Listing holds what Inputs found.
type Listing struct {
	Args     []Arg
	Inputs   []Input
	Problems []Problem
	Links    int      // skipped symbolic links to drafts or folders
	Whole    []string // the folders that were searched
}

// Arg is an argument.
type Arg struct {
	Name string
	// Failed is set if the argument, or a path below it, has a Problem.
	Failed bool
}

type walk struct {
	Listing
	arg  []int // the current argument, in a list that its inputs share
	skip func(path, folder string) bool
	here string         // the working folder
	seen map[string]int // the index in Inputs by absolute path; nil for a single argument
}

func (w *walk) argument(arg string) {
	if arg == "-" {
		w.add(Input{Path: "-"})
		return
	}
	info, err := os.Stat(arg)
	switch {
	case err == nil && info.IsDir():
		w.folder(arg)
	case err == nil:
		w.add(Input{Path: filepath.Clean(arg)})
	case strings.ContainsAny(arg, "*?[{"):
		w.pattern(arg)
	default:
		w.problem(arg, err)
	}
}

func (w *walk) add(in Input) {
	in.Args = w.arg
	if w.seen == nil {
		w.Inputs = append(w.Inputs, in)
		return
	}
	full := in.Path
	if full != "-" && !filepath.IsAbs(full) {
		full = filepath.Join(w.here, full)
	}
	if i, ok := w.seen[full]; ok {
		w.Inputs[i].Args = slices.Concat(w.Inputs[i].Args, w.arg)
		return
	}
	w.seen[full] = len(w.Inputs)
	w.Inputs = append(w.Inputs, in)
}

func (w *walk) problem(path string, err error) { w.fail(Problem{path, Reason(err)}) }

func (w *walk) fail(p Problem) {
	w.Problems = append(w.Problems, p)
	w.Args[len(w.Args)-1].Failed = true
}

// Reason explains in plain words why a file couldn't be read or written.
func Reason(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "no such file or folder"
	case errors.Is(err, fs.ErrPermission):
		return "no permission; check who may read and write it"
	case errors.Is(err, fs.ErrExist):
		return "it already exists"
	case errors.Is(err, syscall.EISDIR):
		return "it is a folder"
	case errors.Is(err, syscall.ENOTDIR):
		return "a part of the path isn't a folder"
	case errors.Is(err, syscall.ENAMETOOLONG):
		return "the name is too long"
	case errors.Is(err, syscall.ENOSPC), onWindows(err, 39, 112):
		return "the disk is full"
	case onWindows(err, 32, 33):
		return "another program has it open; close it there"
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err.Error()
	}
	return err.Error()
}

// onWindows reports whether an error has one of these Windows error numbers.
func onWindows(err error, numbers ...syscall.Errno) bool {
	var number syscall.Errno
	return runtime.GOOS == "windows" && errors.As(err, &number) && slices.Contains(numbers, number)
}

// folder adds the files below a folder, or below the target of a named link.
func (w *walk) folder(root string) {
	root = filepath.Clean(root)
	top := root
	if !os.IsPathSeparator(top[len(top)-1]) {
		top += string(filepath.Separator) // otherwise WalkDir doesn't follow a link
	}
	err := filepath.WalkDir(top, func(path string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			w.problem(path, err)
			if entry != nil && entry.IsDir() {
				return fs.SkipDir
			}
			return nil
		case path == top:
			return nil
		case strings.HasPrefix(entry.Name(), "."), w.skip != nil && w.skip(path, root):
			if entry.IsDir() {
				return fs.SkipDir
			}
			return nil
		case entry.Type().IsRegular() && mayHoldDraft(path):
			w.add(Input{Path: path, Found: true, Folder: root})
		case entry.Type()&fs.ModeSymlink != 0 && (mayHoldDraft(path) || isFolder(path)):
			w.Links++
		}
		return nil
	})
	if err != nil {
		w.problem(root, err)
	}
	w.Whole = append(w.Whole, root)
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// mayHoldDraft reports by the name whether a file in a folder is worth opening.
func mayHoldDraft(path string) bool {
	return slices.Contains([]string{".wif", ".json", ".txt"}, strings.ToLower(filepath.Ext(path)))
}

// calledDraft reports by the name whether a file should be a draft. If it isn't one,
// fettle reports it.
func calledDraft(path string) bool { return strings.EqualFold(filepath.Ext(path), ".wif") }

func (w *walk) pattern(pattern string) {
	matches, err := doublestar.FilepathGlob(pattern, doublestar.WithNoFollow(), doublestar.WithFilesOnly(), doublestar.WithNoHidden())
	if err != nil {
		w.fail(Problem{pattern, "the pattern has an open bracket or brace; close it"})
		return
	}
	slices.Sort(matches)
	matches = slices.Compact(matches)
	before := len(w.Inputs)
	for _, m := range matches {
		if info, err := os.Lstat(m); err != nil || !info.Mode().IsRegular() || w.skip != nil && w.skip(m, "") {
			continue
		}
		w.add(Input{Path: m})
	}
	if len(w.Inputs) == before && len(matches) == 0 {
		w.fail(Problem{pattern, "no file matches; check the folder and the spelling"})
	}
}

// OutputPath returns the path of the result for an input in another folder, with the
// same subfolders. It replaces the extension unless the new one is empty.
func OutputPath(in Input, folder, extension string) (string, error) {
	name := filepath.Base(in.Path)
	if in.Folder != "" {
		rel, err := filepath.Rel(in.Folder, in.Path)
		if err != nil {
			return "", fmt.Errorf("%s isn't in %s", wording.PathName(in.Path), wording.PathName(in.Folder))
		}
		name = rel
	}
	if in.Path == "-" {
		name = "draft"
	}
	if extension != "" {
		name = strings.TrimSuffix(name, filepath.Ext(name)) + extension
	}
	return filepath.Join(folder, name), nil
}

// Outside drops files in the results folder, if that is inside a named folder. They are
// results of an earlier run.
func Outside(list []Input, results string) []Input {
	full, err := filepath.Abs(results)
	if err != nil || results == "" {
		return list
	}
	above := map[string]bool{} // by Input.Folder: whether the results folder is inside it
	return slices.DeleteFunc(list, func(in Input) bool {
		if !in.Found || in.Folder == "" {
			return false
		}
		is, asked := above[in.Folder]
		if root, err := filepath.Abs(in.Folder); err == nil && !asked {
			is = root != full && files.Contains(root, full)
			above[in.Folder] = is
		}
		path, err := filepath.Abs(in.Path)
		return is && err == nil && files.Contains(full, path)
	})
}

// Others returns the files of a list that aren't in another list.
func Others(list, of []Input) []Input {
	paths := make([]string, len(of))
	for i, in := range of {
		paths[i] = in.Path
	}
	return without(list, paths, func(Input) bool { return true })
}

// Without drops files found in folders that are among some paths, such as the outputs of
// the run.
func Without(list []Input, paths []string) []Input {
	paths = slices.DeleteFunc(slices.Clone(paths), func(p string) bool { return p == "" || p == "-" })
	return without(list, paths, func(in Input) bool { return in.Found })
}

// without drops the files of one kind that are among some paths.
func without(list []Input, paths []string, is func(Input) bool) []Input {
	out := map[string]bool{}
	for _, p := range paths {
		if full, err := filepath.Abs(p); err == nil {
			out[full] = true
		}
	}
	if len(out) == 0 {
		return list
	}
	return slices.DeleteFunc(list, func(in Input) bool {
		full, err := filepath.Abs(in.Path)
		return err == nil && out[full] && is(in)
	})
}
