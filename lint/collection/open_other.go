//go:build !unix

package collection

// dontWait is 0: opening a file never waits here.
const dontWait = 0
