//go:build unix

package settings

import "syscall"

// nonBlocking opens a pipe, or a file that waits for data, without waiting.
const nonBlocking = syscall.O_NONBLOCK
