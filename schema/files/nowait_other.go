//go:build !unix

package files

// NoWait is the flag that makes os.OpenFile open a file without waiting. It is 0
// on systems where opening a file for reading never waits.
const NoWait = 0
