package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"fettle/schema/wording"
)

//go:embed page.html page.css script worker
var sources embed.FS

// scripts lists the page's own scripts, each after those that it uses.
var scripts = []string{"storage", "views", "program", "drafts", "files", "rules", "drawing", "findings", "mend", "edit", "settings", "ini", "loom_form", "links", "diff", "fit", "all_drafts", "sheet", "loom_lines", "loom_place", "loom_voice", "loom", "start"}

// workers lists the scripts of the worker, which start after Go's wasm_exec.js.
var workers = []string{"memory_files", "worker"}

// build returns the page. The same sources, notices and Go version give the same bytes.
// The path of the notices may be empty.
func build(linker, notices string) ([]byte, error) {
	where, err := goSays(nil, "list", "-m", "-f", "{{.Dir}}", "fettle")
	if err != nil {
		return nil, err
	}
	root, err := goSays(nil, "env", "GOROOT")
	if err != nil {
		return nil, err
	}
	glue, err := os.ReadFile(filepath.Join(root, "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return nil, fmt.Errorf("this Go lacks the script that runs WebAssembly: %w", err)
	}
	drafts, err := examples(where)
	if err != nil {
		return nil, err
	}
	var licenses []byte
	if notices != "" {
		if licenses, err = os.ReadFile(notices); err != nil {
			return nil, err
		}
	}
	known, err := facts()
	if err != nil {
		return nil, err
	}
	program, err := compile(linker)
	if err != nil {
		return nil, err
	}
	script, err := joined("script", scripts)
	if err != nil {
		return nil, err
	}
	worker, err := joined("worker", workers)
	if err != nil {
		return nil, err
	}
	style, err := sources.ReadFile("page.css")
	if err != nil {
		return nil, err
	}
	page, err := sources.ReadFile("page.html")
	if err != nil {
		return nil, err
	}
	script = "(() => {\n\"use strict\";\n" + script + "})();\n"
	hash := sha256.Sum256([]byte(script))
	return fill(string(page), map[string]string{
		"hash":     base64.StdEncoding.EncodeToString(hash[:]),
		"style":    string(style),
		"script":   script,
		"worker":   strings.ReplaceAll(string(glue), "\r\n", "\n") + worker,
		"examples": drafts,
		"facts":    known,
		"notices":  string(licenses),
		"program":  base64.StdEncoding.EncodeToString(program),
	})
}

// fill puts each part in place of its name in double braces, which the page has once. A
// part must not end the element that holds it.
func fill(page string, parts map[string]string) ([]byte, error) {
	var b bytes.Buffer
	used := map[string]bool{}
	for {
		before, rest, more := strings.Cut(page, "{{")
		b.WriteString(before)
		if !more {
			break
		}
		name, after, _ := strings.Cut(rest, "}}")
		part, known := parts[name]
		lower := strings.ToLower(part)
		switch {
		case !known:
			return nil, fmt.Errorf("page.html has a place for %s, which the builder doesn't know", wording.Quote(name))
		case used[name]:
			return nil, fmt.Errorf("page.html has two places for %s", name)
		case strings.Contains(lower, "</script"), strings.Contains(lower, "</style"), strings.Contains(lower, "<!--"):
			return nil, fmt.Errorf("the part %s would end its own element in the page", name)
		}
		used[name] = true
		b.WriteString(part)
		page = after
	}
	if len(used) < len(parts) {
		return nil, errors.New("page.html lacks a place for a part")
	}
	return b.Bytes(), nil
}

// joined returns scripts one after another. They share one scope.
func joined(folder string, names []string) (string, error) {
	if files, err := fs.Glob(sources, folder+"/*.js"); err != nil || len(files) != len(names) {
		return "", fmt.Errorf("the folder %s has %d scripts, but the builder lists %d", folder, len(files), len(names))
	}
	var b strings.Builder
	for _, name := range names {
		text, err := sources.ReadFile(folder + "/" + name + ".js")
		if err != nil {
			return "", err
		}
		b.WriteString(strings.ReplaceAll(string(text), "\r\n", "\n"))
	}
	return b.String(), nil
}

// compile returns the program for WebAssembly, compressed.
func compile(linker string) ([]byte, error) {
	folder, err := os.MkdirTemp("", "fettle-page-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	file := filepath.Join(folder, "fettle.wasm")
	flags := strings.TrimSpace("-s -w -buildid= " + linker)
	if _, err := goSays([]string{"GOOS=js", "GOARCH=wasm"}, "build", "-trimpath", "-buildvcs=false", "-ldflags="+flags, "-o", file, "fettle/cmd/fettle"); err != nil {
		return nil, err
	}
	program, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(program); err != nil {
		return nil, err
	}
	err = w.Close()
	return b.Bytes(), err
}

// goSays runs the go command with fixed settings and returns its output.
func goSays(environment []string, args ...string) (string, error) {
	command := exec.Command("go", args...)
	command.Env = append(os.Environ(), "CGO_ENABLED=0", "GOFLAGS=", "GOWORK=off", "GOEXPERIMENT=", "GOWASM=")
	command.Env = append(command.Env, environment...)
	var out, complaints bytes.Buffer
	command.Stdout, command.Stderr = &out, &complaints
	if err := command.Run(); err != nil {
		return "", fmt.Errorf("go %s: %w\n%s", args[0], err, complaints.String())
	}
	return strings.TrimSpace(out.String()), nil
}
