package settings

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// wrongFor returns the mistakes in the settings of a draft, within a time limit.
func wrongFor(t *testing.T, options Options, draft string) string {
	t.Helper()
	told := make(chan error, 1)
	go func() {
		_, err := NewFinder(options).For(draft, nil)
		told <- err
	}()
	select {
	case err := <-told:
		if err == nil {
			return ""
		}
		return err.Error()
	case <-time.After(time.Minute):
		t.Fatal("it waits")
	}
	return ""
}

// TestFilesOfTheKernel reads files that claim to be plain and empty.
func TestFilesOfTheKernel(t *testing.T) {
	for _, path := range []string{"/proc/kmsg", "/proc/version", "/proc/self/environ", "/proc/self/mounts", "/proc/self/maps"} {
		if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
			continue // there is no such file here
		}
		tree(t, map[string]string{"include.ini": "include = " + path, "beside.ini": "include = " + path, "up.ini": "include = ../../../../../../../../" + path})
		for name, got := range map[string]string{
			"as an include":     wrongFor(t, Options{ConfigFile: "include.ini"}, "x.wif"),
			"as settings":       wrongFor(t, Options{ConfigFile: path}, "x.wif"),
			"as a loom":         wrongFor(t, Options{LoomFile: path}, "x.wif"),
			"beside a draft":    wrongFor(t, Options{}, "beside.wif"),
			"up from the draft": wrongFor(t, Options{}, "up.wif"),
		} {
			refused := strings.HasSuffix(got, string(errNotPlain)) || strings.HasSuffix(got, reason(os.ErrPermission)) || strings.HasSuffix(got, string(errOutside))
			if !refused || strings.Contains(got, "Linux") {
				t.Errorf("%s %s: %q", path, name, got)
			}
		}
	}
}

// TestIncludesBesideADraft checks that the file beside a draft can include only files from
// its folder down, while fettle.ini can include any plain file.
func TestIncludesBesideADraft(t *testing.T) {
	const loom = "[loom]\nshafts = 4"
	root := tree(t, map[string]string{
		"out.ini": loom, "d/in.ini": loom, "d/sub/low.ini": loom, "d/sub/up.ini": "include = ../in.ini", "d/sub/upper.ini": "include = ../../out.ini", "d/x": ""})
	links := os.Symlink(filepath.Join(root), filepath.Join(root, "d", "away")) == nil &&
		os.Symlink("sub", filepath.Join(root, "d", "near")) == nil
	for _, test := range []struct {
		include, want string
		link          bool
	}{
		{"in.ini", "", false},
		{"sub/low.ini", "", false},
		{"sub/up.ini", "", false},
		{"sub/../in.ini", "", false},
		{"near/low.ini", "", true},
		{"../out.ini", string(errOutside), false},
		{"sub/../../out.ini", string(errOutside), false},
		{"sub/upper.ini", string(errOutside), false},
		{filepath.Join(root, "d", "in.ini"), string(errOutside), false},
		{"away/out.ini", string(errOutside), true},
		{"away/missing.ini", string(errOutside), true},
		{"away/d/in.ini", string(errOutside), true},
		{"missing.ini", reason(os.ErrNotExist), false},
		{"sub", string(errNotPlain), false},
	} {
		if test.link && !links {
			continue
		}
		for file, want := range map[string]string{"d/towel.ini": test.want, "fettle.ini": ""} {
			include := test.include
			if file == "fettle.ini" {
				if test.want != string(errOutside) || test.include == "away/missing.ini" {
					continue
				}
				include = filepath.Join(root, "d", include)
				if filepath.IsAbs(test.include) {
					include = test.include
				}
			}
			if err := os.WriteFile(file, []byte("include = "+include), 0o600); err != nil {
				t.Fatal(err)
			}
			got := wrongFor(t, Options{}, "d/towel.wif")
			if want == "" && got != "" || !strings.HasSuffix(got, want) {
				t.Errorf("%s includes %s: %q, want %q", file, include, got, want)
			}
			_ = os.Remove(file)
		}
	}
}
