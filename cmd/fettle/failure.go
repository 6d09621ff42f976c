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

// failure is what a command that was asked for JSON writes in the place of what it
// could not find out, in the form that each of the schemas has for it.
type failure struct {
	Fettle int     `json:"fettle"`
	Error  trouble `json:"error"`
}

// trouble is what went wrong, and where.
type trouble struct {
	Message string `json:"message"`
	Path    string `json:"path,omitempty"`
	Line    int    `json:"line,omitempty"`
}

// placed is an error at a line of a file, or in all of it for line 0.
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

// failureOf takes an error apart as far as its place is known.
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

// request is a request for JSON, as far as it can be read from arguments that may
// have a mistake in them.
type request struct {
	json    bool   // the command's result, or what convert reports, is to be JSON
	command string // "" where none is named
	draft   bool   // a draft goes to standard output, and what is reported to standard error
}

// asks reads which command is to print JSON. Flags are read as orderArguments does, but
// nothing is an error.
func asks(app *cli.App, args []string) request {
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

// lists says whether the JSON of a command is a list.
func (a request) lists() bool { return slices.Contains([]string{"info", "rules", "fit"}, a.command) }

// apart says whether JSON goes to standard error, which is then for nothing else:
// the result is a draft.
func (a request) apart() bool { return a.json && a.draft }

// tell writes a failure as the JSON that was asked for.
func (a request) tell(w io.Writer, err error) error {
	var document any = failureOf(err)
	if a.lists() {
		document = []any{document}
	}
	return writeJSON(w, document)
}

// writeJSON writes a document as every command does.
func writeJSON(w io.Writer, document any) error {
	text, err := wording.JSON(document, "", "  ")
	if err != nil {
		return err
	}
	_, err = w.Write(append(text, '\n'))
	return err
}

// seen is what has been reported, so that settings that hold for many drafts are
// complained of once.
type seen map[string]bool

// unseen is what was not reported yet of an error, nil for nothing.
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
		told := (*o)[e.Error()]
		(*o)[e.Error()] = true
		return told
	})
	if len(left) == 0 {
		return nil
	}
	return left
}
