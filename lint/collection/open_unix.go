//go:build unix

package collection

import "syscall"

// dontWait is the flag for opening a file without waiting for another program,
// as a pipe would have it.
const dontWait = syscall.O_NONBLOCK
