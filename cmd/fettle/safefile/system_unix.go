//go:build linux || darwin || freebsd || netbsd

package safefile

import (
	"bytes"
	"errors"
	"os"
	"os/user"
	"runtime"
	"strconv"
	"strings"

	"golang.org/x/sys/unix"

	"fettle/schema/files"
)

// hasLocks reports whether removeAbandoned knows which files are in use.
const hasLocks = true

func openTemp(name string, mode os.FileMode) (*os.File, error) {
	return os.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_EXCL, mode)
}

func openToLook(path string) (*os.File, error) { return files.Open(path) }

// lock locks a new file and reports whether it still has its name. Without locks in the
// file system the file stays unlocked, and nothing is swept there.
func lock(f *os.File) bool {
	err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
	if errors.Is(err, unix.EWOULDBLOCK) {
		return false
	}
	info, err := f.Stat()
	if err != nil {
		return false
	}
	named, err := os.Lstat(f.Name())
	return err == nil && os.SameFile(info, named)
}

// removeAbandoned deletes an unlocked temporary file. It doesn't follow links.
func removeAbandoned(path string) {
	f, err := os.OpenFile(path, os.O_RDONLY|unix.O_NOFOLLOW|files.NoWait, 0)
	if err != nil {
		return
	}
	defer f.Close()
	info, err := f.Stat()
	if err == nil && info.Mode().IsRegular() && unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB) == nil {
		_ = os.Remove(path)
	}
}

func factsOf(f *os.File) (facts, error) {
	info, err := f.Stat()
	if err != nil {
		return facts{}, err
	}
	var s unix.Stat_t
	if err := unix.Fstat(int(f.Fd()), &s); err != nil {
		return facts{}, err
	}
	return facts{info, id{uint64(s.Dev), uint64(s.Ino)}, uint64(s.Nlink), int(s.Uid), int(s.Gid)}, nil
}

// keep copies the owner, group, mode, access list and extended attributes of the old file
// to the new one.
func keep(old *os.File, is facts, fresh *os.File) error {
	now, err := factsOf(fresh)
	if err != nil {
		return err
	}
	if (now.user != is.user || now.group != is.group) && fresh.Chown(is.user, is.group) != nil {
		return OwnerError{userName(is.user), groupName(is.group)}
	}
	if err := fresh.Chmod(is.info.Mode() & (os.ModePerm | os.ModeSetuid | os.ModeSetgid | os.ModeSticky)); err != nil {
		return err
	}
	return keepAttributes(int(old.Fd()), int(fresh.Fd()))
}

func userName(number int) string {
	text := strconv.Itoa(number)
	if u, err := user.LookupId(text); err == nil {
		return u.Username
	}
	return text
}

func groupName(number int) string {
	text := strconv.Itoa(number)
	if g, err := user.LookupGroupId(text); err == nil {
		return g.Name
	}
	return text
}

// accessList is the attribute that holds a Linux file's access list.
const accessList = "system.posix_acl_access"

// keepAttributes copies extended attributes. It may leave out those that the system sets
// itself, such as security labels.
func keepAttributes(from, to int) error {
	names := attributes(from)
	if runtime.GOOS == "linux" && !names[accessList] {
		_ = unix.Fremovexattr(to, accessList) // the file may have got one from the folder
	}
	for name := range names {
		size, err := unix.Fgetxattr(from, name, nil)
		value := make([]byte, max(size, 0))
		if err == nil && size > 0 {
			size, err = unix.Fgetxattr(from, name, value)
		}
		if err == nil {
			err = unix.Fsetxattr(to, name, value[:size], 0)
		}
		if err != nil && (name == accessList || strings.HasPrefix(name, "user.")) {
			return AttributeError{name}
		}
	}
	return nil
}

func attributes(f int) map[string]bool {
	list := map[string]bool{}
	size, err := unix.Flistxattr(f, nil)
	if err != nil || size == 0 {
		return list
	}
	text := make([]byte, size)
	if size, err = unix.Flistxattr(f, text); err != nil {
		return list
	}
	for name := range bytes.SplitSeq(text[:size], []byte{0}) {
		if len(name) > 0 {
			list[string(name)] = true
		}
	}
	return list
}

func rename(from, to string) error { return os.Rename(from, to) }

func inUse(err error) error { return err }

func nameAllowed(string) bool { return true }

// sameName returns a name in the form that the file system compares. On macOS it ignores
// case.
func sameName(name string) string {
	if runtime.GOOS == "darwin" {
		return strings.ToLower(name)
	}
	return name
}
