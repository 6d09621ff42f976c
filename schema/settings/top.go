package settings

import (
	"os"
	"path/filepath"
)

// Top returns the folder of the topmost fettle.ini in a folder or above it, ""
// where there is none. The search ends at a folder that holds .git: what lies
// above a repository is not part of it. The folder is an absolute path.
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
