// Package files opens files without waiting for anyone: a pipe without a writer, or
// a device, opens at once.
package files

import "os"

// Open opens a file or folder for reading and never waits. What the file is, its Stat
// tells; reading it can still wait.
func Open(path string) (*os.File, error) { return os.OpenFile(path, os.O_RDONLY|NoWait, 0) }
