package safefile

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// swap exchanges the names of two files in one step. The error is errors.ErrUnsupported
// if the file system can't.
func swap(one, other string) error {
	err := unix.Renameat2(unix.AT_FDCWD, one, unix.AT_FDCWD, other, unix.RENAME_EXCHANGE)
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOSYS) {
		return errors.ErrUnsupported
	}
	return err
}

// unwritten calls check while no other program can open the file for writing. It reports
// whether check succeeds and no program has the file open for writing, or waits to open
// it. File systems without leases don't stop writers.
func unwritten(f *os.File, check func(*os.File) error) bool {
	_, err := unix.FcntlInt(f.Fd(), unix.F_SETLEASE, unix.F_RDLCK)
	switch {
	case errors.Is(err, unix.EAGAIN):
		return false
	case err != nil:
		return check(f) == nil
	}
	return check(f) == nil && leased(f)
}

// leased reports whether a lease still holds and nobody waits for its end.
func leased(f *os.File) bool {
	now, err := unix.FcntlInt(f.Fd(), unix.F_GETLEASE, 0)
	return err == nil && now == unix.F_RDLCK
}
