// Package files opens files without waiting, and compares paths with folders.
package files

import (
	"os"
	"path/filepath"
	"strings"
)

// Open opens a file or folder for reading without waiting: even a device, or a pipe
// without a writer, opens at once. Reading it can still wait, so check its Stat first.
func Open(path string) (*os.File, error) { return os.OpenFile(path, os.O_RDONLY|NoWait, 0) }

// Relative returns a path relative to a folder, and whether it is the folder or inside
// it. Both are absolute, or both start at the same place.
func Relative(folder, path string) (rel string, inside bool) {
	rel, err := filepath.Rel(folder, path)
	return rel, err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

// Contains reports whether a path is a folder or inside it; see Relative.
func Contains(folder, path string) bool {
	_, inside := Relative(folder, path)
	return inside
}
