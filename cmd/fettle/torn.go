package main

import (
	"os"
	"path/filepath"
	"strings"

	"fettle/schema/measure"
	"fettle/schema/wording"
)

// Bounds of what is looked at for a value that its spaces tore into several
// arguments: a person types no more.
const (
	mostPieces = 5
	mostTyped  = 100
)

// tornValue is the error for a flag's value whose later words stand as arguments
// behind it, as in --finished-length 60 in, or -o my sheet.pdf; nil where it is
// whole.
func tornValue(arg, name, value string, behind []string) error {
	pieces := strays(behind)
	for n := len(pieces); n > 0; n-- {
		if whole := value + " " + strings.Join(pieces[:n], " "); isMeasure(whole) || namesFile(name) && exists(whole) {
			return failed("a value with a space needs quotation marks: %s %s", arg, wording.Quote(whole))
		}
	}
	if !namesFile(name) || filepath.Ext(value) != "" {
		return nil
	}
	for n, piece := range pieces {
		if filepath.Ext(piece) != "" {
			return failed("there is no file %s; if that belongs to %s, a value with a space needs quotation marks: %[2]s %[3]s",
				wording.Quote(piece), arg, wording.Quote(value+" "+strings.Join(pieces[:n+1], " ")))
		}
	}
	return nil
}

// strays are the first of some arguments that are neither flags nor patterns nor
// anything on the disk.
func strays(args []string) []string {
	for n, arg := range args {
		if n == mostPieces || strings.HasPrefix(arg, "-") || strings.ContainsAny(arg, "*?[{") || exists(arg) {
			return args[:n]
		}
	}
	return args
}

// tornPath is the error for a path that stands as several, since its name has a
// space in it.
func tornPath(paths []string) error {
	if len(paths) > mostTyped {
		return nil
	}
	for i, path := range paths {
		if exists(path) {
			continue
		}
		for n := i + 2; n <= min(i+mostPieces, len(paths)); n++ {
			if whole := strings.Join(paths[i:n], " "); exists(whole) {
				return failed("there is no %s, but %s: a name with a space needs quotation marks", wording.Quote(path), wording.Quote(whole))
			}
		}
	}
	return nil
}

// namesFile says whether a flag names a file or a folder.
func namesFile(flag string) bool {
	switch flag {
	case "output", "out-dir", "config", "loom", "root", "baseline", "write-baseline":
		return true
	}
	return false
}

// isMeasure says whether a value is a length, a density or a percentage.
func isMeasure(value string) bool {
	_, noLength := measure.ParseLength(value)
	_, noDensity := measure.ParseDensity(value)
	_, noPercentage := measure.ParsePercent(value)
	return noLength == nil || noDensity == nil || noPercentage == nil
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}
