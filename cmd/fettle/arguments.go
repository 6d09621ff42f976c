package main

import (
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/schema/measure"
	"fettle/schema/spelling"
	"fettle/schema/wording"
)

// orderArguments sorts arguments the way the command line library wants them:
// flags of the program, the command, its flags, its paths. People may write them
// in any order. The error for an unknown flag or command names the nearest one.
func orderArguments(app *cli.App, args []string) ([]string, error) {
	if args[len(args)-1] == completing { // a shell asks about an unfinished command
		return args, nil
	}
	a := arguments{app: app}
	for _, arg := range args[1:] { // the command may come after its own flags
		if a.command == nil {
			a.command = app.Command(arg)
		}
	}
	for rest := args[1:]; len(rest) > 0; {
		taken, err := a.take(rest[0], rest[1:])
		if err != nil {
			return nil, err
		}
		rest = rest[1+taken:]
	}
	if a.help {
		return a.helpArguments(args[0]), nil
	}
	if err := splitPath(a.paths); err != nil {
		return nil, err
	}
	return a.arranged(args[0]), nil
}

// arguments holds the arguments, sorted by kind.
type arguments struct {
	app           *cli.App
	command       *cli.Command
	placed        bool // the command was read
	help          bool // the command is "help"
	global, local []string
	paths         []string
}

// take stores an argument by kind and returns how many of the next ones belong to it.
func (a *arguments) take(arg string, rest []string) (taken int, err error) {
	switch {
	case arg == "--":
		a.paths = append(a.paths, rest...)
		return len(rest), nil
	case strings.HasPrefix(arg, "-") && arg != "-":
		return a.flag(arg, rest)
	case !a.placed && arg == "help":
		a.help = true
	case !a.placed && a.command != nil && a.command.HasName(arg):
		a.placed = true
	case a.command == nil:
		return 0, unknownCommand(a.app, arg)
	default:
		a.paths = append(a.paths, arg)
	}
	return 0, nil
}

func (a *arguments) arranged(program string) []string {
	out := append([]string{program}, a.global...)
	if a.command != nil {
		out = append(append(out, a.command.Name), a.local...)
	}
	if len(a.paths) > 0 {
		out = append(append(out, "--"), a.paths...)
	}
	return out
}

// helpArguments returns the arguments that "help" stands for: --help of the command, or of
// the program.
func (a *arguments) helpArguments(program string) []string {
	if a.command != nil {
		return []string{program, a.command.Name, "--help"}
	}
	return []string{program, "--help"}
}

// flag stores a flag and returns how many of the next arguments belong to it.
func (a *arguments) flag(arg string, rest []string) (taken int, err error) {
	name, value, joined := strings.Cut(strings.TrimLeft(arg, "-"), "=")
	var own []cli.Flag
	if a.command != nil {
		own = a.command.Flags
	}
	into := &a.local
	f := flagNamed(own, name)
	if f == nil && (name == "help" || name == "h") {
		a.local = append(a.local, arg)
		if a.command == nil {
			a.global, a.local = append(a.global, arg), nil
		}
		return 0, nil
	}
	if f == nil {
		into = &a.global
		f = flagNamed(a.app.Flags, name)
	}
	if f == nil {
		return 0, a.unknownFlag(arg, name, own)
	}
	if _, isBool := f.(*cli.BoolFlag); isBool && !joined {
		value, joined = "true", true
	}
	if !joined {
		if len(rest) == 0 {
			return 0, failed("%s needs a value", arg)
		}
		value, taken = rest[0], 1
	}
	full := f.Names()[0] // the library rejects the same flag under two names
	*into = append(*into, "--"+full+"="+value)
	if err := fits(f, full, value); err != nil {
		return taken, err
	}
	if a.command != nil {
		if err := guessedValue(a.command.Name, full, value); err != nil {
			return taken, err
		}
	}
	given, _, _ := strings.Cut(arg, "=")
	return taken, splitValue(given, full, value, rest[taken:])
}

// fits returns an error if the flag doesn't take the value.
func fits(f cli.Flag, name, value string) error {
	var err error
	wanted := ""
	switch f.(type) {
	case *cli.IntFlag, *cli.Int64Flag:
		wanted = "a whole number"
		_, err = strconv.ParseInt(value, 0, 64)
	case *cli.BoolFlag:
		wanted = "true, false or no value"
		_, err = strconv.ParseBool(value)
	}
	if err != nil {
		return failed("--%s takes %s, not %s", name, wanted, wording.Quote(value))
	}
	return nil
}

func flagNamed(flags []cli.Flag, name string) cli.Flag {
	for _, f := range flags {
		if slices.Contains(f.Names(), name) {
			return f
		}
	}
	return nil
}

func (a *arguments) unknownFlag(arg, name string, own []cli.Flag) error {
	var known []string
	for _, f := range append(slices.Clone(own), a.app.Flags...) {
		known = append(known, f.Names()...)
	}
	command, of := "", "fettle"
	if a.command != nil {
		command, of = a.command.Name, "fettle "+a.command.Name
	}
	if use := guessedFlag(command, name); use != "" {
		return failed("unknown flag %s; %s", wording.Quote(arg), use)
	}
	if near := spelling.Nearest(name, known); near != "" {
		return failed("unknown flag %s; did you mean --%s?", wording.Quote(arg), near)
	}
	return failed("unknown flag %s; '%s --help' lists the flags", wording.Quote(arg), of)
}

func unknownCommand(app *cli.App, name string) error {
	var known []string
	for _, c := range app.Commands {
		known = append(known, c.Name)
	}
	if near := spelling.Nearest(name, known); near != "" {
		return failed("unknown command %s; did you mean %s?", wording.Quote(name), near)
	}
	if _, err := os.Stat(name); err == nil {
		return failed("name a command before the path: 'fettle lint %s' checks it; 'fettle help' lists all commands", wording.Plain(name, 60))
	}
	return failed("unknown command %s; use %s; 'fettle help' explains them", wording.Quote(name), wording.Either(known))
}

// Limits of the search for a value that spaces split into several arguments. Longer
// values are unlikely.
const (
	mostPieces = 5
	mostTyped  = 100
)

// splitValue returns an error if the next arguments look like the rest of the flag's
// value, as in --finished-length 60 in, or -o my sheet.pdf.
func splitValue(arg, name, value string, next []string) error {
	pieces := strays(next)
	for n := len(pieces); n > 0; n-- {
		if whole := value + " " + strings.Join(pieces[:n], " "); isMeasure(whole) || namesFile(name) && exists(whole) {
			return failed("put quotation marks around a value with a space: %s %s", arg, wording.Quote(whole))
		}
	}
	if !namesFile(name) || filepath.Ext(value) != "" {
		return nil
	}
	for n, piece := range pieces {
		if filepath.Ext(piece) != "" {
			return failed("file %s doesn't exist; if it is part of the value of %s, use quotation marks: %[2]s %[3]s",
				wording.Quote(piece), arg, wording.Quote(value+" "+strings.Join(pieces[:n+1], " ")))
		}
	}
	return nil
}

// strays returns the first arguments that aren't flags, patterns or existing files.
func strays(args []string) []string {
	for n, arg := range args {
		if n == mostPieces || strings.HasPrefix(arg, "-") || strings.ContainsAny(arg, "*?[{") || exists(arg) {
			return args[:n]
		}
	}
	return args
}

// splitPath returns an error if several arguments together are one existing path with
// spaces in it.
func splitPath(paths []string) error {
	if len(paths) > mostTyped {
		return nil
	}
	for i, path := range paths {
		if exists(path) {
			continue
		}
		for n := i + 2; n <= min(i+mostPieces, len(paths)); n++ {
			if whole := strings.Join(paths[i:n], " "); exists(whole) {
				return failed("%s doesn't exist, but %s does; put quotation marks around a name with a space", wording.Quote(path), wording.Quote(whole))
			}
		}
	}
	return nil
}

// namesFile reports whether the flag's value is a file or a folder.
func namesFile(flag string) bool {
	switch flag {
	case "output", "out-dir", "config", "loom", "root", "baseline", "write-baseline":
		return true
	}
	return false
}

// isMeasure reports whether a value is a length, a density or a percentage.
func isMeasure(value string) bool {
	_, noLength := measure.ParseLength(value)
	_, noDensity := measure.ParseDensity(value)
	_, noPercentage := measure.ParsePercent(value)
	return noLength == nil || noDensity == nil || noPercentage == nil
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}
