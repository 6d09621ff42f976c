package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/lint/collection"
	"fettle/schema/settings"
	"fettle/schema/wording"
)

// failure is the JSON that a command writes in place of a result it couldn't get. Each
// schema allows it.
type failure struct {
	Fettle int     `json:"fettle"`
	Error  trouble `json:"error"`
}

type trouble struct {
	Message string `json:"message"`
	Path    string `json:"path,omitempty"`
	Line    int    `json:"line,omitempty"`
}

// placed is an error at a line of a file; line 0 means the whole file.
type placed struct {
	path    string
	line    int
	message string
}

func (e placed) Error() string {
	if e.line > 0 {
		return fmt.Sprintf("%s:%d: %s", shown(e.path), e.line, e.message)
	}
	return shown(e.path) + ": " + e.message
}

// failureOf returns an error with its path and line, if they are known.
func failureOf(err error) failure {
	t := trouble{Message: err.Error()}
	var wrong settings.Errors
	var problem collection.Problem
	var at placed
	switch {
	case errors.As(err, &wrong) && len(wrong) > 0:
		t = trouble{wrong[0].Message, wrong[0].Path, wrong[0].Line}
		if len(wrong) > 1 {
			t.Message += fmt.Sprintf(" (and %d more like this)", len(wrong)-1)
		}
	case errors.As(err, &problem):
		t = trouble{Message: problem.Message, Path: problem.Path}
	case errors.As(err, &at):
		t = trouble{at.message, at.path, at.line}
	}
	t.Message, t.Path = legible(t.Message), shown(t.Path)
	return failure{Fettle: 1, Error: t}
}

// request tells whether the arguments ask for JSON, even if they contain mistakes.
type request struct {
	json    bool   // print the result, or the report of convert, as JSON
	command string // "" for none
	draft   bool   // a draft goes to standard output, and reports to standard error
}

// requestOf reads the request. It reads flags as orderArguments does, but reports no
// errors.
func requestOf(app *cli.App, args []string) request {
	var a request
	format, toFile, printed := "", false, false
	for i := 1; i < len(args) && args[i] != "--"; i++ {
		name, value, joined := strings.Cut(strings.TrimLeft(args[i], "-"), "=")
		if !joined && i+1 < len(args) {
			value = args[i+1]
		}
		switch {
		case !strings.HasPrefix(args[i], "-"):
			if a.command == "" && app.Command(args[i]) != nil {
				a.command = args[i]
			}
		case name == "format":
			format = value
		case name == "output", name == "o":
			toFile, printed = value != "-", value == "-"
		}
	}
	writes := a.command == "convert" || a.command == "fit"
	a.draft = a.command == "convert" || a.command == "fit" && printed
	a.json = format == "json" && (!toFile || writes)
	return a
}

// lists reports whether the command's JSON is a list.
func (a request) lists() bool { return slices.Contains([]string{"info", "rules", "fit"}, a.command) }

// toStderr reports whether the JSON goes to standard error, and nothing else may,
// because the result is a draft.
func (a request) toStderr() bool { return a.json && a.draft }

// writeFailure writes an error as the JSON that was asked for.
func (a request) writeFailure(w io.Writer, err error) error {
	var document any = failureOf(err)
	if a.lists() {
		document = []any{document}
	}
	return writeJSON(w, document)
}

// writeJSON writes a document, indented, with a line break at the end.
func writeJSON(w io.Writer, document any) error {
	text, err := wording.JSON(document, "", "  ")
	if err != nil {
		return err
	}
	_, err = w.Write(append(text, '\n'))
	return err
}

// seen holds the errors reported so far, so one in settings that many drafts share is
// reported once.
type seen map[string]bool

// unseen returns the part of an error that wasn't reported yet, nil for none.
func (o *seen) unseen(err error) error {
	if *o == nil {
		*o = seen{}
	}
	list := settings.Errors{}
	if !errors.As(err, &list) {
		if (*o)[err.Error()] {
			return nil
		}
		(*o)[err.Error()] = true
		return err
	}
	left := slices.DeleteFunc(slices.Clone(list), func(e settings.Error) bool {
		reported := (*o)[e.Error()]
		(*o)[e.Error()] = true
		return reported
	})
	if len(left) == 0 {
		return nil
	}
	return left
}
