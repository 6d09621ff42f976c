package main

import (
	"os"
	"path/filepath"
	"runtime"
	"slices"

	"github.com/urfave/cli/v2"

	"fettle/cmd/fettle/safefile"
	"fettle/formats"
	"fettle/lint"
	"fettle/lint/collection"
	"fettle/lint/rules"
	"fettle/schema"
	"fettle/schema/settings"
	"fettle/schema/wording"
)

// The flags that several commands have. The library keeps in a flag whether it
// was set, so that each command has one of its own.

func jobsFlag() cli.Flag {
	return &cli.IntFlag{Name: "jobs", Usage: "look at `N` files at once", DefaultText: "one for each processor"}
}

func maxSizeFlag() cli.Flag {
	return &cli.Int64Flag{Name: "max-size", Usage: "read files of up to `N` MiB", Value: formats.DefaultLimit >> 20}
}

func rootFlag() cli.Flag {
	return &cli.StringFlag{Name: "root", Usage: "name files from `FOLDER` in reports for other programs and in baselines", DefaultText: "the folder of the topmost fettle.ini, else this folder"}
}

// root returns the folder that reports for other programs and baselines name files
// from: that of --root, else that of the topmost fettle.ini above all that the
// arguments name, else the working folder.
func root(c *cli.Context) (collection.Root, error) {
	if named := c.String("root"); c.IsSet("root") {
		if info, err := os.Stat(named); err != nil {
			return "", failed("--root %s: %s", shown(named), collection.Reason(err))
		} else if !info.IsDir() {
			return "", failed("--root takes a folder, and %s is a file", shown(named))
		}
		return absoluteRoot(named)
	}
	paths := named(c)
	if name := c.String("stdin-name"); name != "" {
		paths = slices.Clone(paths)
		for i, path := range paths {
			if path == "-" {
				paths[i] = name
			}
		}
	}
	folder, err := collection.CommonFolder(paths)
	if err != nil {
		return "", failed("the path of this folder is unknown: %s", collection.Reason(err))
	}
	if top := settings.Top(folder); top != "" {
		return collection.Root(top), nil
	}
	return absoluteRoot(".")
}

func absoluteRoot(folder string) (collection.Root, error) {
	full, err := filepath.Abs(folder)
	if err != nil {
		return "", failed("the path of this folder is unknown: %s", collection.Reason(err))
	}
	return collection.Root(full), nil
}

// named returns the paths that the arguments name, this folder where they name
// none.
func named(c *cli.Context) []string {
	if c.NArg() == 0 {
		return []string{"."}
	}
	return c.Args().Slice()
}

func encodingFlag() cli.Flag {
	return &cli.StringFlag{Name: "encoding", Usage: "read files in `NAME`: " + wording.Either(formats.Encodings()), DefaultText: "what the bytes say"}
}

func loomFlag() cli.Flag {
	return &cli.StringFlag{Name: "loom", Usage: "take loom, heddles and reeds from `FILE`"}
}

func outputFlag() cli.Flag {
	return &cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write to `FILE`; - is standard output", Value: "-"}
}

func folderFlag() cli.Flag {
	return &cli.StringFlag{Name: "out-dir", Usage: "write below `FOLDER`, keeping the tree"}
}

func excludeFlag() cli.Flag {
	return &cli.BoolFlag{Name: "exclude-named", Usage: "take files that are named as those met in a folder, since hooks name each: pass over what fettle.ini excludes, and what is no draft and not called .wif"}
}

func emptyFlag() cli.Flag {
	return &cli.BoolFlag{Name: "allow-empty", Usage: "accept paths that hold no draft"}
}

func replaceFlag() cli.Flag {
	return &cli.BoolFlag{Name: "overwrite", Usage: "write over files that are there already"}
}

func jobs(c *cli.Context) (int, error) {
	if !c.IsSet("jobs") {
		return runtime.GOMAXPROCS(0), nil
	}
	if n := c.Int("jobs"); n > 0 {
		return n, nil
	}
	return 0, failed("--jobs takes a number from 1 up, not %d", c.Int("jobs"))
}

// reader reads the files of a run.
func (p *program) reader(c *cli.Context) (collection.Reader, error) {
	limit := c.Int64("max-size")
	if limit < 1 || limit > 1<<20 {
		return collection.Reader{}, failed("--max-size takes a number of MiB from 1 to %d, not %d", 1<<20, limit)
	}
	stated := c.String("encoding")
	if c.IsSet("encoding") && !slices.Contains(formats.Encodings(), stated) {
		return collection.Reader{}, failed("--encoding takes %s, not %s", wording.Either(formats.Encodings()), wording.Quote(stated))
	}
	return collection.Reader{Limit: limit << 20, Encoding: stated, Stdin: p.in}, nil
}

// readDraft reads the draft of a file. It gives nil for a file met in a folder that
// is no draft and not called like one; that another holds none is an error, and
// that it could not be looked at a missed.
func readDraft(r collection.Reader, in collection.Input) (*schema.Document, error) {
	doc, err := r.Read(in)
	switch {
	case err != nil:
		return nil, missed{failed("%s", err)}
	case doc != nil && doc.Draft == nil:
		return nil, failed("%s", placed{path: in.Path, message: doc.Findings[0].Message})
	}
	return doc, nil
}

// missed is the error for a file that could not be looked at, so that nobody knows
// what is in it.
type missed struct{ error }

func (m missed) Unwrap() error { return m.error }

// finder finds the settings of the drafts of a run.
func finder(c *cli.Context) *settings.Finder {
	return settings.NewFinder(settings.Options{ConfigFile: c.String("config"), LoomFile: c.String("loom"), Rules: lint.Rulebook(rules.All())})
}

// inputs finds the files that the arguments name, this folder where they name
// none. What fettle.ini excludes is passed over in folders and patterns, and with
// --exclude-named where it is named too, as if it were met in a folder. It says what cannot be found.
func (p *program) inputs(c *cli.Context, f *settings.Finder) *given {
	met := p.found(c, f)
	p.sayMisnamed(c, f, met.Inputs)
	return met
}

// found is inputs for a command that takes nothing from fettle.ini but what it
// excludes: other files that look like settings are no business of its.
func (p *program) found(c *cli.Context, f *settings.Finder) *given {
	met := collection.Inputs(named(c), f.Excluded)
	if name := c.String("stdin-name"); name != "" {
		for i := range met.Inputs {
			if in := &met.Inputs[i]; in.Path == "-" {
				in.Path, in.Stdin = name, true
			}
		}
	}
	p.finders = append(p.finders, f)
	if c.Bool("exclude-named") {
		met.Inputs = slices.DeleteFunc(met.Inputs, func(in collection.Input) bool { return f.Excluded(in.Path, "") })
		for i := range met.Inputs {
			in := &met.Inputs[i]
			in.Found = in.Path != "-"
		}
	}
	for _, problem := range met.Problems {
		p.complain(problem)
	}
	return newGiven(met)
}

// given is what the arguments name, and which of them held a draft.
type given struct {
	collection.Met
	held []bool // by the place of the argument
	any  bool   // whether there was anything to look at
}

func newGiven(met collection.Met) *given {
	return &given{Met: met, held: make([]bool, len(met.Args))}
}

// saw takes note of a file that is a draft, or should be one, and was not passed
// over.
func (g *given) saw(in collection.Input) {
	g.any = true
	for _, i := range in.Args {
		g.held[i] = true
	}
}

// empty returns the arguments that hold no draft: a path with a slip in it must not
// pass for a sound one. Those for which a problem was told are not among them.
func (g *given) empty() (list []string) {
	for i, arg := range g.Args {
		if !g.held[i] && !arg.Failed {
			list = append(list, arg.Name)
		}
	}
	return list
}

// noDraft is what is wrong with a path that holds no draft.
const noDraft = "there is no draft in it; check the path and exclude in " + settings.FileName + ", or use --allow-empty"

// checkEmpty complains of arguments that hold no draft and returns what is wrong
// with each. Where --allow-empty or --exclude-named accept them, it only says when
// there was nothing at all.
func (p *program) checkEmpty(c *cli.Context, g *given) (list []collection.Problem) {
	if c.Bool("allow-empty") || c.Bool("exclude-named") {
		if !g.any && len(g.Problems) == 0 {
			p.say(c, "there is no draft to look at")
		}
		return nil
	}
	for _, arg := range g.empty() {
		list = append(list, collection.Problem{Path: arg, Message: noDraft})
		p.complain(list[len(list)-1])
	}
	return list
}

// withoutDuplicates leaves out a file that is named a second time through a symbolic link.
func withoutDuplicates(list []collection.Input) []collection.Input {
	var kept []collection.Input
	at := map[string]int{}
	for _, in := range list {
		key := safefile.Key(in.Path)
		if i, found := at[key]; found && key != "" && in.Path != "-" {
			kept[i].Args = slices.Concat(kept[i].Args, in.Args)
			continue
		}
		at[key] = len(kept)
		kept = append(kept, in)
	}
	return kept
}
