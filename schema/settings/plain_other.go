//go:build !unix

package settings

// nonBlocking is a flag of Unix alone; elsewhere no plain file waits for data.
const nonBlocking = 0
