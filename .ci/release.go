// Release builds the archives that .ci/release describes.
package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"cmp"
	"compress/gzip"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"log"
	"maps"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"time"
)

func main() {
	log.SetFlags(0)
	log.SetPrefix("release: ")
	if len(os.Args) < 2 || len(os.Args) > 3 {
		log.Fatal("usage: .ci/release VERSION [FOLDER]")
	}
	version := strings.TrimPrefix(os.Args[1], "v")
	if !regexp.MustCompile(`^\d+\.\d+\.\d+(-[0-9A-Za-z.-]+)?$`).MatchString(version) {
		log.Fatalf("%q isn't a version; it must look like 1.2.3", os.Args[1])
	}
	folder := "dist"
	if len(os.Args) == 3 {
		folder = os.Args[2]
	}
	if err := release(version, folder); err != nil {
		log.Fatal(err)
	}
}

// target is a system to build an archive for.
type target struct{ system, processor string }

func targets() []target {
	var list []target
	for _, system := range []string{"linux", "macos", "windows"} {
		for _, processor := range []string{"amd64", "arm64"} {
			list = append(list, target{system, processor})
		}
	}
	return list
}

// goos returns Go's name for the system.
func (t target) goos() string {
	if t.system == "macos" {
		return "darwin"
	}
	return t.system
}

// commit is the commit to release.
type commit struct {
	version, hash string
	time          time.Time
}

// files holds the contents of an archive by path, with / between folders.
type files map[string][]byte

func release(version, folder string) error {
	changed, err := output(nil, "git", "status", "--porcelain")
	if err != nil {
		return err
	}
	if changed != "" {
		return fmt.Errorf("commit these changes first, since a release is a commit:\n%s", changed)
	}
	said, err := output(nil, "git", "show", "-s", "--format=%H %ct", "HEAD")
	if err != nil {
		return err
	}
	c := commit{version: version}
	var seconds int64
	if _, err := fmt.Sscan(said, &c.hash, &seconds); err != nil {
		return fmt.Errorf("git show: %w", err)
	}
	c.time = time.Unix(seconds, 0).UTC()
	shared, err := documents()
	if err != nil {
		return err
	}
	if err := c.printed(shared); err != nil {
		return err
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	var sums strings.Builder
	page, err := c.page()
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(folder, "fettle.html"), page, 0o644); err != nil {
		return err
	}
	fmt.Fprintf(&sums, "%x  fettle.html\n", sha256.Sum256(page))
	fmt.Println("fettle.html")
	for _, t := range targets() {
		name, archive, err := c.archive(t, shared)
		if err != nil {
			return fmt.Errorf("%s/%s: %w", t.system, t.processor, err)
		}
		if err := os.WriteFile(filepath.Join(folder, name), archive, 0o644); err != nil {
			return err
		}
		fmt.Fprintf(&sums, "%x  %s\n", sha256.Sum256(archive), name)
		fmt.Println(name)
	}
	return os.WriteFile(filepath.Join(folder, "SHA256SUMS"), []byte(sums.String()), 0o644)
}

// archive builds fettle for a system and packs it with its manuals.
func (c commit) archive(t target, shared files) (name string, archive []byte, err error) {
	environment := []string{"GOOS=" + t.goos(), "GOARCH=" + t.processor}
	all := maps.Clone(shared)
	binary := "fettle"
	if t.system == "windows" {
		binary += ".exe"
	}
	if all[binary], err = c.build(environment); err != nil {
		return "", nil, err
	}
	if all["THIRD-PARTY-NOTICES.txt"], err = notices(environment); err != nil {
		return "", nil, err
	}
	top := fmt.Sprintf("fettle-%s-%s-%s", c.version, t.system, t.processor)
	if t.system == "windows" {
		archive, err = zipped(all, top, binary, c.time)
		return top + ".zip", archive, err
	}
	archive, err = tarred(all, top, binary, c.time)
	return top + ".tar.gz", archive, err
}

// build returns the program, which contains no local paths.
func (c commit) build(environment []string) ([]byte, error) {
	folder, err := os.MkdirTemp("", "fettle-release-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	file := filepath.Join(folder, "fettle")
	if _, err := output(environment, "go", "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w -buildid= "+c.flags(), "-o", file, "./cmd/fettle"); err != nil {
		return nil, err
	}
	return os.ReadFile(file)
}

// flags returns the linker's flags that tell the program its version.
func (c commit) flags() string {
	return fmt.Sprintf("-X main.releaseVersion=%s -X main.releaseCommit=%s -X main.releaseDate=%s", c.version, c.hash, c.time.Format(time.DateOnly))
}

// page builds the page, with the licenses of all code in it.
func (c commit) page() ([]byte, error) {
	licenses, err := notices([]string{"GOOS=js", "GOARCH=wasm"})
	if err != nil {
		return nil, err
	}
	folder, err := os.MkdirTemp("", "fettle-release-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	text, file := filepath.Join(folder, "notices.txt"), filepath.Join(folder, "fettle.html")
	if err := os.WriteFile(text, licenses, 0o644); err != nil {
		return nil, err
	}
	if _, err := output(nil, "go", "run", "./cmd/page", "--output", file, "--ldflags", c.flags(), "--notices", text); err != nil {
		return nil, err
	}
	return os.ReadFile(file)
}

// printed adds the files that fettle itself prints: the manual page and the completions.
func (c commit) printed(all files) error {
	program, err := c.build([]string{"GOOS=" + runtime.GOOS, "GOARCH=" + runtime.GOARCH})
	if err != nil {
		return err
	}
	folder, err := os.MkdirTemp("", "fettle-release-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	file := filepath.Join(folder, "fettle.exe") // any system can run a file with this name
	if err := os.WriteFile(file, program, 0o755); err != nil {
		return err
	}
	for name, args := range map[string][]string{
		"man/fettle.1":            {"man"},
		"completions/fettle.bash": {"completion", "bash"},
		"completions/_fettle":     {"completion", "zsh"},
		"completions/fettle.fish": {"completion", "fish"},
	} {
		text, err := output(nil, file, args...)
		if err != nil {
			return err
		}
		all[name] = []byte(text)
	}
	return nil
}

// documents returns README.md and all files that it links to, directly or not, so no
// link in an archive is broken.
func documents() (files, error) {
	link := regexp.MustCompile(`\]\(([^)\s]+)\)`)
	all := files{}
	for waiting := []string{"README.md"}; len(waiting) > 0; waiting = waiting[1:] {
		name := waiting[0]
		if all[name] != nil {
			continue
		}
		text, err := os.ReadFile(filepath.FromSlash(name))
		if err != nil {
			return nil, fmt.Errorf("a link is broken: %w", err)
		}
		all[name] = text
		if path.Ext(name) != ".md" {
			continue
		}
		for _, found := range link.FindAllSubmatch(text, -1) {
			to, _, _ := strings.Cut(string(found[1]), "#")
			if to == "" || strings.Contains(to, ":") {
				continue
			}
			to = path.Join(path.Dir(name), to)
			if info, err := os.Stat(filepath.FromSlash(to)); err == nil && info.IsDir() {
				continue
			}
			waiting = append(waiting, to)
		}
	}
	return all, nil
}

// notices returns the licenses of all code in the program: modules, packages with their
// own license, and Go itself.
func notices(environment []string) ([]byte, error) {
	listed, err := output(environment, "go", "list", "-deps",
		"-f", `{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}{{"\t"}}{{.Dir}}{{"\t"}}{{$.Dir}}{{end}}{{end}}`, "./cmd/fettle")
	if err != nil {
		return nil, err
	}
	root, err := output(nil, "go", "env", "GOROOT", "GOVERSION")
	if err != nil {
		return nil, err
	}
	goRoot, goVersion, _ := strings.Cut(strings.TrimSpace(root), "\n")
	licenses := map[string]files{} // by module
	add := func(module, top, folder string) error {
		entries, err := os.ReadDir(folder)
		if err != nil {
			return err
		}
		if licenses[module] == nil {
			licenses[module] = files{}
		}
		for _, e := range entries {
			if e.IsDir() || !regexp.MustCompile(`(?i)^(licen[cs]e|copying|notice|patents)\b.*`).MatchString(e.Name()) {
				continue
			}
			text, err := os.ReadFile(filepath.Join(folder, e.Name()))
			if err != nil {
				return err
			}
			rel, err := filepath.Rel(top, filepath.Join(folder, e.Name()))
			if err != nil {
				return err
			}
			licenses[module][filepath.ToSlash(rel)] = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
		}
		return nil
	}
	problems := add("Go "+goVersion, goRoot, goRoot)
	for line := range strings.Lines(listed) {
		parts := strings.Split(strings.TrimSpace(line), "\t")
		if len(parts) == 3 {
			problems = errors.Join(problems, add(parts[0], parts[1], parts[1]), add(parts[0], parts[1], parts[2]))
		}
	}
	if problems != nil {
		return nil, problems
	}
	fonts, err := os.ReadFile("formats/diagram/LICENSE.fonts")
	if err != nil {
		return nil, err
	}
	licenses["the Go fonts"] = files{"LICENSE": fonts}
	var b bytes.Buffer
	b.WriteString("fettle is built with the works listed here. Their licenses follow.\n")
	for _, module := range slices.Sorted(maps.Keys(licenses)) {
		if len(licenses[module]) == 0 {
			return nil, fmt.Errorf("%s has no license file, so nobody knows whether it may be passed on", module)
		}
		for _, name := range slices.Sorted(maps.Keys(licenses[module])) {
			fmt.Fprintf(&b, "\n%s\n%s: %s\n%[1]s\n\n%[4]s\n", strings.Repeat("=", 78), module, name, bytes.TrimSpace(licenses[module][name]))
		}
	}
	return b.Bytes(), nil
}

// zipped packs files into a zip archive, sorted by name.
func zipped(all files, top, program string, at time.Time) ([]byte, error) {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		header := &zip.FileHeader{Name: top + "/" + name, Method: zip.Deflate, Modified: at}
		header.SetMode(mode(name, program))
		part, err := w.CreateHeader(header)
		if err != nil {
			return nil, err
		}
		if _, err := part.Write(all[name]); err != nil {
			return nil, err
		}
	}
	err := w.Close()
	return b.Bytes(), err
}

// tarred packs files into a compressed tar archive, sorted by name, without user names.
func tarred(all files, top, program string, at time.Time) ([]byte, error) {
	var b bytes.Buffer
	compressed, err := gzip.NewWriterLevel(&b, gzip.BestCompression) // its header has no name and no time
	if err != nil {
		return nil, err
	}
	w := tar.NewWriter(compressed)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		header := &tar.Header{Typeflag: tar.TypeReg, Name: top + "/" + name, Size: int64(len(all[name])),
			Mode: int64(mode(name, program)), ModTime: at, Format: tar.FormatPAX}
		if err := w.WriteHeader(header); err != nil {
			return nil, err
		}
		if _, err := w.Write(all[name]); err != nil {
			return nil, err
		}
	}
	err = cmp.Or(w.Close(), compressed.Close())
	return b.Bytes(), err
}

func mode(name, program string) fs.FileMode {
	if name == program {
		return 0o755
	}
	return 0o644
}

// output runs a program with fixed Go settings and returns its output.
func output(environment []string, name string, args ...string) (string, error) {
	command := exec.Command(name, args...)
	command.Env = append(os.Environ(), "CGO_ENABLED=0", "GOFLAGS=", "GOWORK=off", "GOEXPERIMENT=", "GOAMD64=v1", "GOARM64=v8.0", "LC_ALL=C")
	command.Env = append(command.Env, environment...)
	var out, complaints bytes.Buffer
	command.Stdout, command.Stderr = &out, &complaints
	if err := command.Run(); err != nil {
		return "", fmt.Errorf("%s %s: %w\n%s", name, strings.Join(args[:min(len(args), 2)], " "), err, complaints.String())
	}
	return out.String(), nil
}
