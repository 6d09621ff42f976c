package collection

import (
	"os"
	"path/filepath"
	"strings"

	"github.com/bmatcuk/doublestar/v4"
)

// Root is the absolute path of the folder at which paths start in baselines and in
// reports for other programs. "" leaves paths unchanged.
type Root string

// Path returns the path of a file from the root, with / between folders. The path of a
// file outside the root begins with "../". A file on another drive keeps its absolute
// path, and standard input stays "-".
func (r Root) Path(path string) string {
	if path == "-" || r == "" {
		return filepath.ToSlash(path)
	}
	full, err := filepath.Abs(path)
	if err != nil {
		return filepath.ToSlash(path)
	}
	below, err := filepath.Rel(string(r), full)
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
	return filepath.Join(string(r), path)
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
		for common != "" && !LiesIn(folder, common) && filepath.Dir(common) != common {
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
