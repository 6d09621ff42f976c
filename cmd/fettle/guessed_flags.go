package main

import (
	"strings"

	"fettle/schema/wording"
)

// guessedFlag returns advice for a flag that other programs have and fettle doesn't, ""
// for an unknown flag.
func guessedFlag(command, flag string) string {
	flags := guessedFlags()
	use := flags[command][flag]
	if use == "" {
		use = flags[""][flag]
	}
	if use == "" || strings.HasPrefix(use, "leave it out") {
		return use
	}
	return "use " + use
}

// guessedFlags lists these flags by command. Those under "" apply to all commands.
func guessedFlags() map[string]map[string]string {
	return map[string]map[string]string{
		"": {
			"json": "--format json", "sarif": "--format sarif", "html": "--format html", "output-format": "--format", "out": "--output",
			"no-color": "--color never", "colour": "--color", "no-colour": "--color never", "silent": "--quiet", "settings": "--config",
			"force": "--overwrite", "f": "--overwrite", "recursive": "leave it out: fettle always searches subfolders",
			"r": "leave it out: fettle always searches subfolders", "threads": "--jobs", "exclude": "exclude in the section [files] of fettle.ini",
			"from": "leave it out: fettle recognizes the format by the content",
		},
		"lint": {
			"fix": "'fettle clean --write'", "write": "'fettle clean --write'", "w": "'fettle clean --write'", "diff": "'fettle clean --diff'",
			"ignore": "--skip", "disable": "--skip", "select": "--only", "enable": "--only", "rule": "--only", "rules": "--only",
			"strict": "--fail-on warning", "werror": "--fail-on warning", "max-warnings": "--fail-on warning", "exit-zero": "--fail-on never",
			"update-baseline": "--write-baseline", "to": "--format",
		},
		"clean": {
			"fix": "--write", "in-place": "--write", "inplace": "--write", "i": "--write", "dry-run": "--check", "n": "--check",
			"unsafe": "--risky", "unsafe-fixes": "--risky", "all": "--risky", "ignore": "--skip", "select": "--only",
		},
		"convert": {"output-dir": "--out-dir", "outdir": "--out-dir", "as": "--to", "liftplan": "--lifts plan", "tieup": "--lifts tieup"},
		"plan": {
			"to": "--format", "epi": "--sett", "ppi": "--picks", "length": "--finished-length", "width": "--finished-width",
			"waste": "--loom-waste", "paper": "--page",
		},
	}
}

// guessedValue returns an error that suggests the right value for a common mistake, nil
// for any other value.
func guessedValue(command, flag, value string) error {
	type key struct{ command, flag, value string }
	use := map[key]string{
		{"lint", "format", "github"}: "annotations", {"lint", "format", "github-actions"}: "annotations",
		{"lint", "format", "gitlab"}: "quality", {"lint", "format", "codeclimate"}: "quality", {"lint", "format", "code-climate"}: "quality",
		{"lint", "format", "codequality"}: "quality", {"lint", "format", "xml"}: "junit",
		{"lint", "format", "txt"}: "text", {"lint", "format", "htm"}: "html", {"lint", "format", "pretty"}: "text",
		{"lint", "fail-on", "errors"}: "error", {"lint", "fail-on", "warnings"}: "warning", {"lint", "fail-on", "warn"}: "warning",
		{"lint", "fail-on", "notes"}: "note", {"lint", "fail-on", "info"}: "note", {"lint", "fail-on", "all"}: "note", {"lint", "fail-on", "none"}: "never",
		{"plan", "format", "txt"}: "text", {"plan", "format", "htm"}: "html", {"plan", "start", "center"}: "centre", {"plan", "start", "middle"}: "centre",
		{"info", "format", "txt"}: "text", {"rules", "format", "txt"}: "text", {"rules", "format", "md"}: "markdown",
		{"convert", "to", "text"}: "txt", {"convert", "shed", "jack"}: "rising", {"convert", "shed", "up"}: "rising", {"convert", "shed", "down"}: "sinking",
	}
	if right := use[key{command, flag, value}]; right != "" {
		return failed("--%s doesn't take %s; use --%s %s", flag, wording.Quote(value), flag, right)
	}
	if command == "convert" && flag == "format" && value != "text" && value != "json" {
		return failed("--format is for the list of losses and takes text or json; choose the output format with --to %s", wording.Plain(value, 60))
	}
	return nil
}
