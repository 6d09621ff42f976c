package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"unicode/utf8"

	"github.com/mattn/go-isatty"
	"github.com/urfave/cli/v2"

	"fettle/cmd/fettle/safefile"
	"fettle/lint/collection"
	"fettle/schema/settings"
	"fettle/schema/wording"
)

// Exit statuses. They never change meaning.
const (
	statusFine   = 0
	statusFound  = 1 // findings at or above --fail-on, or a change that was refused
	statusFailed = 2 // fettle could not do what was asked
)

// program is one run with its inputs and outputs.
type program struct {
	in       io.Reader
	out, err io.Writer
	stops    bool // end the run at a signal

	request request
	wrote   bool // part of the result is on standard output

	files    safefile.Writer
	progress atomic.Pointer[bar]
	drafts   []collection.Input // the drafts that the run reads and must not replace
	reads    []string           // other files that the run reads, except those of finders
	finders  []*settings.Finder // they read the settings
	read     map[string]string  // all these paths by safefile.Key; nil until needed
	// exact is standard output for programs, byte for byte. guard makes out and err safe:
	// no CI service takes a line for a command.
	exact io.Writer
}

// exit ends a run with a status. The message is empty if it was already printed.
type exit struct {
	status  int
	message string
	cause   error // nil if there is none
}

func (e exit) Error() string { return e.message }
func (e exit) Unwrap() error { return e.cause }

// failed returns the error for a run that failed. An error among the arguments becomes
// its cause.
func failed(format string, args ...any) error {
	e := exit{status: statusFailed, message: fmt.Sprintf(format, args...)}
	for _, a := range args {
		if err, ok := a.(error); ok {
			e.cause = err
		}
	}
	return e
}

// statusOf returns the exit status of an error.
func statusOf(err error) int {
	var e exit
	switch {
	case err == nil:
		return statusFine
	case errors.As(err, &e):
		return e.status
	}
	return statusFailed
}

// guard keeps CI services from running printed lines as commands.
func (p *program) guard() {
	if p.exact == nil {
		p.exact, p.out, p.err = p.out, wording.NewLogGuard(p.out), wording.NewLogGuard(p.err)
	}
}

// run does what the arguments ask and returns the exit status.
func (p *program) run(args []string) int {
	p.guard()
	defer p.files.Clean()
	app := p.app()
	p.request = requestOf(app, args)
	if p.stops {
		p.stopOnSignal() // it needs the request, which is only known now
	}
	out := &strict{program: p}
	app.Writer = out
	args, err := orderArguments(app, args)
	if err == nil {
		err = app.Run(args)
	}
	if err == nil && out.broken != nil {
		err = failed("can't write the result: %s", collection.Reason(out.broken))
	}
	if err == nil {
		return statusFine
	}
	var e exit
	if !errors.As(err, &e) {
		e = exit{status: statusFailed, message: err.Error(), cause: err}
	}
	p.end(e)
	return e.status
}

// end prints the error that ended a run, also as JSON if that was asked for.
func (p *program) end(e exit) {
	if e.message != "" {
		p.complain(e)
	}
	var to io.Writer
	switch {
	case e.message == "" || !p.request.json: // already reported, or nobody asked for JSON
		return
	case p.request.toStderr():
		to = p.err
	case !p.wrote:
		to = p.out
	default:
		return
	}
	if err := p.request.writeFailure(to, e); err != nil {
		p.complain(failed("can't write the error as JSON: %s", err))
	}
}

// usageError prints the error without the help, which would hide it.
func usageError(_ *cli.Context, err error, _ bool) error { return failed("%s", err) }

func (p *program) app() *cli.App {
	return &cli.App{
		Name:        "fettle",
		Usage:       "check, fix and convert handweaving drafts",
		UsageText:   "fettle COMMAND [flags] [paths]\n\nfettle lint towel.wif           check a draft against your loom, reed, heddles and yarn\nfettle lint                     check every draft below this folder\nfettle clean towel.wif --write  fix faults in its file\nfettle plan towel.wif           print a sheet for dressing the loom\nfettle info towel.wif           describe a draft\nfettle convert towel.wif --to json --output towel.json\nfettle init                     create a fettle.ini for your loom and yarn\nfettle help lint                explain the flags of lint",
		Description: "Exit status: 0 if all is fine, 1 for findings or refused changes, 2 if something failed.",
		HideVersion: true,
		Reader:      p.in, ErrWriter: p.err,
		HideHelpCommand:      true,
		EnableBashCompletion: true,
		BashComplete:         completeProgram,
		ExitErrHandler:       func(*cli.Context, error) {},
		OnUsageError:         usageError,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "color", Value: "auto", DefaultText: "auto", Usage: "use colors `WHEN`: auto, always or never"},
			&cli.BoolFlag{Name: "quiet", Aliases: []string{"q"}, Usage: "print only results and errors", DefaultText: "no"},
			&cli.BoolFlag{Name: "version", Aliases: []string{"v"}, Usage: "print the version and exit", DisableDefaultText: true},
			&cli.StringFlag{Name: "config", Usage: "read settings from `FILE`", DefaultText: "the nearest fettle.ini"},
		},
		Commands: p.commands(),
		Before: func(c *cli.Context) error {
			if !c.Bool("version") {
				return nil
			}
			if err := p.print("fettle %s\n", thisBuild()); err != nil {
				return err
			}
			return exit{status: statusFine} // no command runs
		},
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return unknownCommand(c.App, c.Args().First())
			}
			return cli.ShowAppHelp(c)
		},
	}
}

// whyOne returns when a command exits with 1, "" for never.
func whyOne(command string) string {
	switch command {
	case "lint":
		return "for findings as severe as --fail-on or worse"
	case "clean":
		return "if a fix was refused, or with --check if a file would change"
	case "convert":
		return "if a draft can't be converted as asked, or loses data with --strict"
	case "fit":
		return "if a draft can't be woven on the loom; the report says why"
	case "plan":
		return "if the draft can't be woven (the sheet is still written and says why)"
	}
	return ""
}

// exitStatus returns the line about exit statuses in a command's help.
func exitStatus(command string) string {
	one := ""
	if why := whyOne(command); why != "" {
		one = ", 1 " + why
	}
	return "Exit status: 0 if all is fine" + one + ", 2 if something failed."
}

func (p *program) commands() []*cli.Command {
	list := []*cli.Command{p.lint(), p.clean(), p.convert(), p.fit(), p.info(), p.plan(), p.rules(), p.settings(), p.schema(), p.init(), p.completion(), p.man()}
	for _, command := range list {
		command.HideHelpCommand = true // "help" after a command is a path
		command.Description = exitStatus(command.Name)
		command.OnUsageError = usageError
		showDefaults(command.Flags)
	}
	return completions(list)
}

// showDefaults sets how the help shows defaults: without quotation marks, and "no" for
// a switch.
func showDefaults(flags []cli.Flag) {
	for _, flag := range flags {
		switch f := flag.(type) {
		case *cli.BoolFlag:
			f.DefaultText = "no"
		case *cli.StringFlag:
			f.DefaultText = cmp.Or(f.DefaultText, f.Value)
		}
	}
}

// say prints a remark on standard error. It removes control characters from the
// arguments.
func (p *program) say(c *cli.Context, format string, args ...any) {
	if c.Bool("quiet") || p.request.toStderr() {
		return
	}
	for i, a := range args {
		if word, ok := a.(string); ok {
			args[i] = legible(word)
		}
	}
	fmt.Fprintf(p.err, format+"\n", args...)
}

// sayLost lists what the file of a draft can't hold.
func (p *program) sayLost(c *cli.Context, path string, lost []string) {
	for _, l := range lost {
		p.say(c, "%s: lost: %s", shown(path), wording.Plain(l, len(l)))
	}
}

// shown returns a path for messages: with / between folders, on one line. Function
// wording.ParsePathName reads it back.
func shown(path string) string { return wording.PathName(filepath.ToSlash(path)) }

// legible returns a message without control characters. Invalid UTF-8, for example in a
// file name, becomes escapes such as \377.
func legible(message string) string {
	var b strings.Builder
	for i := 0; i < len(message); {
		r, size := utf8.DecodeRuneInString(message[i:])
		if r == utf8.RuneError && size == 1 {
			fmt.Fprintf(&b, `\%03o`, message[i])
		} else {
			b.WriteRune(wording.Printable(r))
		}
		i += size
	}
	return b.String()
}

// complain prints an error while the run goes on. It removes control characters and
// starts each line with "fettle:", so no file name in it can start a line.
func (p *program) complain(err error) {
	if p.request.toStderr() { // the JSON has it
		return
	}
	for line := range strings.SplitSeq(err.Error(), "\n") {
		fmt.Fprintln(p.err, "fettle: "+legible(line))
	}
}

// colored reports whether to use colors.
func (p *program) colored(c *cli.Context) (bool, error) {
	switch c.String("color") {
	case "always":
		return true, nil
	case "never":
		return false, nil
	case "auto":
		return os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && isTerminal(p.out), nil
	}
	return false, failed("--color takes auto, always or never, not %s", wording.Quote(c.String("color")))
}

func isTerminal(w io.Writer) bool {
	if g, ok := w.(*wording.LogGuard); ok {
		w = g.Unwrap()
	}
	f, ok := w.(*os.File)
	return ok && isatty.IsTerminal(f.Fd())
}
