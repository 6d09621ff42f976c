// Package files opens files without waiting: even a device, or a pipe without a
// writer, opens at once.
package files

import "os"

// Open opens a file or folder for reading without waiting. Reading it can still
// wait, so check its Stat first.
func Open(path string) (*os.File, error) { return os.OpenFile(path, os.O_RDONLY|NoWait, 0) }
