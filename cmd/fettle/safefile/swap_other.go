//go:build !linux

package safefile

import (
	"errors"
	"os"
)

func swap(_, _ string) error { return errors.ErrUnsupported }

func unwritten(f *os.File, check func(*os.File) error) bool { return check(f) == nil }
