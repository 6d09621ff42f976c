package main

import (
	"strings"

	"fettle/schema/wording"
)

// guessedFlag returns what to do in place of a flag that people guess and fettle
// does not have, "" where no guess is known. Other programs have these flags.
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

// guessedFlags lists such flags by command, those of all commands under "".
func guessedFlags() map[string]map[string]string {
	return map[string]map[string]string{
		"": {
			"json": "--format json", "sarif": "--format sarif", "html": "--format html", "output-format": "--format", "out": "--output",
			"no-color": "--color never", "colour": "--color", "no-colour": "--color never", "silent": "--quiet", "settings": "--config",
			"force": "--overwrite", "f": "--overwrite", "recursive": "leave it out: folders are searched with all that is in them",
			"r": "leave it out: folders are searched with all that is in them", "threads": "--jobs", "exclude": "exclude below [files] in fettle.ini",
			"from": "leave it out: the format of a file is told by its content",
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

// guessedValue is the error for a value that people guess and a flag does not take,
// nil where no guess is known.
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
		return failed("--format says how losses are listed, text or json; use --to %s for the format to write", wording.Plain(value, 60))
	}
	return nil
}
