package main

import (
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
	statusFailed = 2 // could not do what was asked
)

// program is one run, with what it reads and writes.
type program struct {
	in       io.Reader
	out, err io.Writer

	asked request
	wrote bool // something of the result is on standard output

	files    safefile.Writer
	progress atomic.Pointer[bar]
	drafts   []collection.Input // what the run reads, so that it writes over none of it
	reads    []string           // other files that it reads, beside those of finders
	finders  []*settings.Finder // what reads its settings
	read     map[string]string  // the paths of all these by safefile.Key; nil until needed
	// exact is standard output for what other programs read byte for byte. Once
	// guarded, out and err are for people: no CI service takes a line for a command.
	exact io.Writer
}

// exit ends a run with a status. An empty message has been said already.
type exit struct {
	status  int
	message string
	cause   error // nil where nothing more is known of it
}

func (e exit) Error() string { return e.message }
func (e exit) Unwrap() error { return e.cause }

// failed is the end of a run that could not do what was asked. An error among the
// arguments is what it came from.
func failed(format string, args ...any) error {
	e := exit{status: statusFailed, message: fmt.Sprintf(format, args...)}
	for _, a := range args {
		if err, ok := a.(error); ok {
			e.cause = err
		}
	}
	return e
}

// guard keeps lines for people from being taken for commands of a CI service.
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
	p.asked = asks(app, args)
	out := &strict{program: p}
	app.Writer = out
	args, err := orderArguments(app, args)
	if err == nil {
		err = app.Run(args)
	}
	if err == nil && out.broken != nil {
		err = failed("the result could not be written: %s", collection.Reason(out.broken))
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

// end says what ended a run, to a person and to a program that asked for JSON.
func (p *program) end(e exit) {
	if e.message != "" {
		p.complain(e)
	}
	var to io.Writer
	switch {
	case e.message == "" || !p.asked.json: // already reported, or nobody asked
		return
	case p.asked.apart():
		to = p.err
	case !p.wrote:
		to = p.out
	default:
		return
	}
	if err := p.asked.tell(to, e); err != nil {
		p.complain(failed("the failure could not be written as JSON: %s", err))
	}
}

// usageError keeps help out of the way of what is wrong.
func usageError(_ *cli.Context, err error, _ bool) error { return failed("%s", err) }

func (p *program) app() *cli.App {
	return &cli.App{
		Name:        "fettle",
		Usage:       "check, convert and explain handweaving drafts",
		UsageText:   "fettle COMMAND [flags] [paths]\n\nfettle lint towel.wif           check a draft against your loom, reed, heddles and yarn\nfettle lint                     check every draft below this folder\nfettle clean towel.wif --write  mend what is broken in its file\nfettle plan towel.wif           print the sheet to dress the loom by\nfettle info towel.wif           say what a draft is\nfettle convert towel.wif --to json --output towel.json\nfettle init                     begin a fettle.ini with your loom and yarn\nfettle help lint                say what lint takes",
		Description: "Exit status: 0 when all is fine, 1 for findings or a change that was refused, 2 when something could not be done.",
		HideVersion: true,
		Reader:      p.in, ErrWriter: p.err,
		HideHelpCommand:      true,
		EnableBashCompletion: true,
		BashComplete:         completeProgram,
		ExitErrHandler:       func(*cli.Context, error) {},
		OnUsageError:         usageError,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "color", Value: "auto", Usage: "use colors `WHEN`: auto, always or never"},
			&cli.BoolFlag{Name: "quiet", Aliases: []string{"q"}, Usage: "say nothing but results and errors"},
			&cli.BoolFlag{Name: "version", Aliases: []string{"v"}, Usage: "print the version and exit", DisableDefaultText: true},
			&cli.StringFlag{Name: "config", Usage: "read settings from `FILE` in place of the nearest fettle.ini"},
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

// whyOne says what a command ends with 1 for, "" where it never does.
func whyOne(command string) string {
	switch command {
	case "lint":
		return "for findings at least as severe as --fail-on says"
	case "clean":
		return "when a change was refused, or with --check when there is something to mend"
	case "convert":
		return "when a draft cannot be converted as asked, or --strict refused a loss"
	case "fit":
		return "when a draft cannot be woven on the loom; the report says why"
	case "plan":
		return "when the draft cannot be woven as it stands; the sheet is written all the same, and says why"
	}
	return ""
}

// exitStatus is what a command's help says of what it ends with.
func exitStatus(command string) string {
	one := ""
	if why := whyOne(command); why != "" {
		one = ", 1 " + why
	}
	return "Exit status: 0 when all is fine" + one + ", 2 when something could not be done."
}

func (p *program) commands() []*cli.Command {
	list := []*cli.Command{p.lint(), p.clean(), p.convert(), p.fit(), p.info(), p.plan(), p.rules(), p.schema(), p.init(), p.completion(), p.man()}
	for _, command := range list {
		command.HideHelpCommand = true // "help" behind a command is a path like any other
		command.Description = exitStatus(command.Name)
		command.OnUsageError = usageError
	}
	return completions(list)
}

// say tells the person something that is no result. Words from elsewhere cannot
// drive the terminal.
func (p *program) say(c *cli.Context, format string, args ...any) {
	if c.Bool("quiet") || p.asked.apart() {
		return
	}
	for i, a := range args {
		if word, ok := a.(string); ok {
			args[i] = legible(word)
		}
	}
	fmt.Fprintf(p.err, format+"\n", args...)
}

// shown returns a path as messages show it: with / between folders, on one line,
// and readable back by wording.ParsePathName.
func shown(path string) string { return wording.PathName(filepath.ToSlash(path)) }

// legible returns a message without characters that drive a terminal. Bytes that
// are not UTF-8, as the name of a file may hold, become escapes like \377.
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

// complain tells of something that could not be done, while the rest goes on.
// The name of a file, which may be in it, can neither drive the terminal nor
// begin a line, which a CI service might take for a command.
func (p *program) complain(err error) {
	if p.asked.apart() { // it is in the JSON
		return
	}
	for line := range strings.SplitSeq(err.Error(), "\n") {
		fmt.Fprintln(p.err, "fettle: "+legible(line))
	}
}

// colored says whether to write in colors.
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
