// Package collection finds the drafts that paths, folders and patterns name,
// and has them looked at side by side in an order that is always the same.
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

	"fettle/schema/wording"
)

// Input is a file to look at.
type Input struct {
	Path string
	// Folder is the folder it was met in, as it was named; "" for a file
	// that was named itself.
	Folder string
	// Args are the arguments that name it, or its folder, by their place in Met.Args.
	Args []int
	// Found is set for a file met in a folder, not named, or to be taken as such:
	// it is passed over where it is no draft and not called like one.
	Found bool
	// Stdin has the draft be read from standard input, as if it were read from Path.
	Stdin bool
}

// Problem is something that could not be done with one of the paths. The others
// go on.
type Problem struct {
	Path, Message string
}

func (p Problem) Error() string { return wording.PathName(filepath.ToSlash(p.Path)) + ": " + p.Message }

// Inputs finds the files that arguments name: files, folders with all that is in
// them, and patterns in which * stands for anything and ** for any folders.
// They come in the order of the arguments, those of a folder sorted, each once.
// "-" is standard input. Hidden folders and files are passed over, and so are
// symbolic links, unless they are named themselves; skip says what else is, of a
// path met below a folder that was named, "" for one that a pattern found.
func Inputs(args []string, skip func(path, folder string) bool) Met {
	here, err := os.Getwd()
	if err != nil {
		here = "" // paths then count as they are named
	}
	w := &walk{skip: skip, here: here}
	if len(args) > 1 {
		w.seen = map[string]int{}
	}
	for i, a := range args {
		w.Args, w.arg = append(w.Args, Arg{Name: a}), []int{i}
		w.argument(a)
	}
	return w.Met
}

// Met is what arguments name.
type Met struct {
	Args     []Arg
	Inputs   []Input
	Problems []Problem
	Links    int      // symbolic links to drafts or folders that were passed over
	Whole    []string // the folders that all was looked for in
}

// Arg is an argument.
type Arg struct {
	Name string
	// Failed says that it, or something below it, could not be found or opened: one of
	// the Problems says why.
	Failed bool
}

type walk struct {
	Met
	arg  []int // the argument that is looked at, alone in a list that inputs share
	skip func(path, folder string) bool
	here string         // the folder that paths are named from
	seen map[string]int // the place in Inputs by the path in full; nil where there is one argument alone
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

// Reason says in plain words why a file could not be read or written.
func Reason(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file or folder"
	case errors.Is(err, fs.ErrPermission):
		return "it may not be opened: look at its permissions"
	case errors.Is(err, fs.ErrExist):
		return "it is there already"
	case errors.Is(err, syscall.EISDIR):
		return "it is a folder"
	case errors.Is(err, syscall.ENOTDIR):
		return "what stands before a / in it is no folder"
	case errors.Is(err, syscall.ENAMETOOLONG):
		return "the name is longer than a file's may be"
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

// onWindows reports whether an error has one of these numbers, which are those of
// Windows.
func onWindows(err error, numbers ...syscall.Errno) bool {
	var number syscall.Errno
	return runtime.GOOS == "windows" && errors.As(err, &number) && slices.Contains(numbers, number)
}

// folder takes what is in a folder, or in that which a named link leads to.
func (w *walk) folder(root string) {
	root = filepath.Clean(root)
	top := root
	if !os.IsPathSeparator(top[len(top)-1]) {
		top += string(filepath.Separator) // a link is not followed otherwise
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

// mayHoldDraft says by its name whether a file in a folder is worth opening.
func mayHoldDraft(path string) bool {
	return slices.Contains([]string{".wif", ".json", ".txt"}, strings.ToLower(filepath.Ext(path)))
}

// calledDraft says by its name whether a file is meant to be a draft, so that it
// is a finding where it is none.
func calledDraft(path string) bool { return strings.EqualFold(filepath.Ext(path), ".wif") }

func (w *walk) pattern(pattern string) {
	matches, err := doublestar.FilepathGlob(pattern, doublestar.WithNoFollow(), doublestar.WithFilesOnly(), doublestar.WithNoHidden())
	if err != nil {
		w.fail(Problem{pattern, "this is no pattern that can be read: a bracket or a brace is not closed"})
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
		w.fail(Problem{pattern, "no file is named like this; look at the folder and at how it is spelt"})
	}
}

// OutputPath is where the result for an input goes below another folder, under
// another extension: the tree of the folder it was met in is kept.
func OutputPath(in Input, folder, extension string) (string, error) {
	name := filepath.Base(in.Path)
	if in.Folder != "" {
		rel, err := filepath.Rel(in.Folder, in.Path)
		if err != nil {
			return "", fmt.Errorf("%s does not lie in %s", wording.PathName(in.Path), wording.PathName(in.Folder))
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

// LiesIn says whether a path is a folder or lies in it; both are in full, or both
// from the same place.
func LiesIn(path, folder string) bool {
	below, err := filepath.Rel(folder, path)
	return err == nil && below != ".." && !strings.HasPrefix(below, ".."+string(filepath.Separator))
}

// Outside leaves out of files met in a folder those in a folder below it that
// results go into: what an earlier run put there is none of the drafts.
func Outside(list []Input, results string) []Input {
	full, err := filepath.Abs(results)
	if err != nil || results == "" {
		return list
	}
	above := map[string]bool{} // by the folder that files were met in, whether the other lies below it
	return slices.DeleteFunc(list, func(in Input) bool {
		if !in.Found || in.Folder == "" {
			return false
		}
		is, asked := above[in.Folder]
		if root, err := filepath.Abs(in.Folder); err == nil && !asked {
			is = root != full && LiesIn(full, root)
			above[in.Folder] = is
		}
		path, err := filepath.Abs(in.Path)
		return is && err == nil && LiesIn(path, full)
	})
}

// Others returns the files of a list that are none of some others.
func Others(list, of []Input) []Input {
	out := map[string]bool{}
	for _, in := range of {
		if full, err := filepath.Abs(in.Path); err == nil {
			out[full] = true
		}
	}
	return slices.DeleteFunc(list, func(in Input) bool {
		full, err := filepath.Abs(in.Path)
		return err == nil && out[full]
	})
}

// Without leaves out of files met in folders those at some paths: what a run
// writes beside the drafts is none of them.
func Without(list []Input, paths []string) []Input {
	out := map[string]bool{}
	for _, p := range paths {
		if full, err := filepath.Abs(p); err == nil && p != "" && p != "-" {
			out[full] = true
		}
	}
	if len(out) == 0 {
		return list
	}
	return slices.DeleteFunc(list, func(in Input) bool {
		full, err := filepath.Abs(in.Path)
		return in.Found && err == nil && out[full]
	})
}
