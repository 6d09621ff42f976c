package settings

import (
	"os"
	"path/filepath"
	"strings"
)

// folder holds the settings of a folder of drafts.
type folder struct {
	base  *base
	above []*base         // all whose exclude applies here, including base
	names map[string]bool // its .ini files and misnamed files
}

func (f *Finder) misnamedIn(dir string, names map[string]bool) (list []string) {
	if names[FileName] || f.options.ConfigFile != "" {
		return nil
	}
	for name := range names {
		if misnamed(name) {
			list = append(list, f.shown(filepath.Join(dir, name)))
		}
	}
	return list
}

// misnamed reports whether a name is fettle.ini with another extension added.
func misnamed(name string) bool {
	return strings.EqualFold(name, FileName+".txt") || strings.EqualFold(name, FileName+".ini")
}

// settingsFiles returns the names in a folder of files with settings, and of
// misnamed ones; none if the folder can't be listed.
func settingsFiles(dir string) map[string]bool {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil
	}
	names := map[string]bool{}
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".ini") || misnamed(e.Name()) {
			names[e.Name()] = true
		}
	}
	return names
}

// beside returns the settings file beside a draft, "" for none.
func (d *folder) beside(draft string) string {
	path := strings.TrimSuffix(draft, filepath.Ext(draft)) + ".ini"
	if name := filepath.Base(path); path == draft || name == FileName || !d.names[name] {
		return ""
	}
	return path
}

// Top returns the folder of the topmost fettle.ini in a folder or above it, "" if
// there is none. The search ends at a folder with .git, because folders above a
// repository are not part of it. The folder must be an absolute path.
func Top(folder string) string {
	top := ""
	for {
		if exists(filepath.Join(folder, FileName)) {
			top = folder
		}
		up := filepath.Dir(folder)
		if up == folder || exists(filepath.Join(folder, ".git")) {
			return top
		}
		folder = up
	}
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}
