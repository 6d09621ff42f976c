package collection

import (
	"os"
	"path/filepath"
	"strings"

	"github.com/bmatcuk/doublestar/v4"

	"fettle/schema/files"
)

// Root is the folder at which paths start in baselines and in reports for other
// programs. The zero value leaves paths unchanged.
type Root struct {
	folder  string // an absolute path
	working string // the working folder
}

// RootAt returns the Root at a folder. The error is for an unknown working folder.
func RootAt(folder string) (Root, error) {
	working, err := os.Getwd()
	if err != nil {
		return Root{}, err
	}
	r := Root{working: working}
	r.folder, err = r.absolute(folder)
	return r, err
}

// absolute returns the absolute path of a file. Asking for the working folder each time
// would take as long as opening the file.
func (r Root) absolute(path string) (string, error) {
	if filepath.IsLocal(path) {
		return filepath.Join(r.working, path), nil
	}
	return filepath.Abs(path)
}

// Path returns the path of a file from the root, with / between folders. The path of a
// file outside the root begins with "../". A file on another drive keeps its absolute
// path, and standard input stays "-".
func (r Root) Path(path string) string {
	if path == "-" || r == (Root{}) {
		return filepath.ToSlash(path)
	}
	full, err := r.absolute(path)
	if err != nil {
		return filepath.ToSlash(path)
	}
	below, err := filepath.Rel(r.folder, full)
	if err != nil {
		below = full
	}
	return filepath.ToSlash(below)
}

// File reverses Path: it returns the path of a file on this computer.
func (r Root) File(name string) string {
	path := filepath.FromSlash(name)
	if filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(r.folder, path)
}

// CommonFolder returns the absolute path of the deepest folder that contains all
// arguments of Inputs. The error is for an unknown working folder.
func CommonFolder(args []string) (string, error) {
	common := ""
	for _, arg := range args {
		folder, err := filepath.Abs(folderOf(arg))
		if err != nil {
			return "", err
		}
		for common != "" && !files.Contains(common, folder) && filepath.Dir(common) != common {
			common = filepath.Dir(common)
		}
		if common == "" {
			common = folder
		}
	}
	if common == "" {
		return os.Getwd()
	}
	return common, nil
}

// folderOf returns the folder that an argument names, or the folder of its file.
func folderOf(arg string) string {
	if arg == "-" {
		return "."
	}
	info, err := os.Stat(arg)
	switch {
	case err == nil && info.IsDir():
		return arg
	case err != nil && strings.ContainsAny(arg, "*?[{"):
		base, _ := doublestar.SplitPattern(filepath.ToSlash(arg))
		return filepath.FromSlash(base)
	}
	return filepath.Dir(arg)
}
