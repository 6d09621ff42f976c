//go:build !(linux || darwin || freebsd || netbsd || windows)

package safefile

import (
	"os"
	"strconv"
	"syscall"

	"fettle/schema/files"
)

// hasLocks reports whether removeAbandoned knows which files are in use.
const hasLocks = false

func openTemp(name string, mode os.FileMode) (*os.File, error) {
	return os.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_EXCL, mode)
}

func openToLook(path string) (*os.File, error) { return files.Open(path) }

// lock does nothing, because there are no locks.
func lock(*os.File) bool { return true }

// removeAbandoned does nothing: without locks, any file may be in use.
func removeAbandoned(string) {}

func factsOf(f *os.File) (facts, error) {
	info, err := f.Stat()
	if err != nil {
		return facts{}, err
	}
	is := facts{info: info}
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		is.id, is.links = id{uint64(s.Dev), uint64(s.Ino)}, uint64(s.Nlink)
		is.user, is.group = int(s.Uid), int(s.Gid)
	}
	return is, nil
}

// keep gives a new file the owner, group and mode of the old one.
func keep(_ *os.File, is facts, fresh *os.File) error {
	now, err := factsOf(fresh)
	if err != nil {
		return err
	}
	if (now.user != is.user || now.group != is.group) && fresh.Chown(is.user, is.group) != nil {
		return OwnerError{strconv.Itoa(is.user), strconv.Itoa(is.group)}
	}
	return fresh.Chmod(is.info.Mode().Perm())
}

func rename(from, to string) error { return os.Rename(from, to) }

func inUse(err error) error { return err }

func nameAllowed(string) bool { return true }

func sameName(name string) string { return name }
