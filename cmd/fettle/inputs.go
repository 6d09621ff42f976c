package main

import (
	"os"
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

// Flags that several commands share. The library stores in a flag whether it was set,
// so each command needs its own copy.

func jobsFlag() cli.Flag {
	return &cli.IntFlag{Name: "jobs", Usage: "work on `N` files at once", DefaultText: "one per processor"}
}

func maxSizeFlag() cli.Flag {
	return &cli.Int64Flag{Name: "max-size", Usage: "read files of up to `N` MiB", Value: formats.DefaultLimit >> 20}
}

func rootFlag() cli.Flag {
	return &cli.StringFlag{Name: "root", Usage: "start paths in machine-readable reports and baselines at `FOLDER`", DefaultText: "the folder of the topmost fettle.ini, otherwise this folder"}
}

// root returns the folder from which reports for other programs and baselines name
// files: that of --root, otherwise that of the topmost fettle.ini above all
// arguments, otherwise the working folder.
func root(c *cli.Context) (collection.Root, error) {
	if named := c.String("root"); c.IsSet("root") {
		if info, err := os.Stat(named); err != nil {
			return collection.Root{}, failed("--root %s: %s", shown(named), collection.Reason(err))
		} else if !info.IsDir() {
			return collection.Root{}, failed("--root must be a folder; %s is a file", shown(named))
		}
		return rootAt(named)
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
		return collection.Root{}, failed("the path of this folder is unknown: %s", collection.Reason(err))
	}
	if top := settings.Top(folder); top != "" {
		return rootAt(top)
	}
	return rootAt(".")
}

func rootAt(folder string) (collection.Root, error) {
	root, err := collection.RootAt(folder)
	if err != nil {
		return root, failed("the path of this folder is unknown: %s", collection.Reason(err))
	}
	return root, nil
}

// named returns the paths in the arguments, or this folder if there are none.
func named(c *cli.Context) []string {
	if c.NArg() == 0 {
		return []string{"."}
	}
	return c.Args().Slice()
}

func encodingFlag() cli.Flag {
	return &cli.StringFlag{Name: "encoding", Usage: "read files as `NAME`: " + wording.Either(formats.Encodings()), DefaultText: "detected"}
}

func loomFlag() cli.Flag {
	return &cli.StringFlag{Name: "loom", Usage: "take loom, heddles and reeds from `FILE`", DefaultText: "from fettle.ini"}
}

func outputFlag() cli.Flag {
	return &cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write to `FILE`; - is standard output", Value: "-"}
}

func folderFlag() cli.Flag {
	return &cli.StringFlag{Name: "out-dir", Usage: "write to `FOLDER`, with the same subfolders", DefaultText: "none"}
}

func excludeFlag() cli.Flag {
	return &cli.BoolFlag{Name: "exclude-named", Usage: "treat named files like files in a folder: skip those that fettle.ini excludes or that aren't drafts"}
}

func emptyFlag() cli.Flag {
	return &cli.BoolFlag{Name: "allow-empty", Usage: "accept paths without drafts"}
}

func replaceFlag() cli.Flag {
	return &cli.BoolFlag{Name: "overwrite", Usage: "replace existing files"}
}

// choices returns an error for a flag whose value isn't one of its words.
func choices(c *cli.Context, flags map[string][]string) error {
	for _, f := range c.Command.Flags {
		name := f.Names()[0]
		words, listed := flags[name]
		if !listed || !c.IsSet(name) {
			continue
		}
		said := c.String(name)
		if !slices.Contains(words, said) {
			return failed("--%s takes %s, not %s", name, wording.Either(words), wording.Quote(said))
		}
	}
	return nil
}

func jobs(c *cli.Context) (int, error) {
	if !c.IsSet("jobs") {
		return runtime.GOMAXPROCS(0), nil
	}
	if n := c.Int("jobs"); n > 0 {
		return n, nil
	}
	return 0, failed("--jobs must be 1 or more, not %d", c.Int("jobs"))
}

// reader returns a reader with the limits that the flags state.
func (p *program) reader(c *cli.Context) (collection.Reader, error) {
	limit := c.Int64("max-size")
	if limit < 1 || limit > 1<<20 {
		return collection.Reader{}, failed("--max-size must be from 1 to %d MiB, not %d", 1<<20, limit)
	}
	stated := c.String("encoding")
	if c.IsSet("encoding") && !slices.Contains(formats.Encodings(), stated) {
		return collection.Reader{}, failed("--encoding takes %s, not %s", wording.Either(formats.Encodings()), wording.Quote(stated))
	}
	return collection.Reader{Limit: limit << 20, Encoding: stated, Stdin: p.in}, nil
}

// readDraft reads the draft of a file. It returns nil for a file found in a folder that
// isn't a draft and isn't named like one. The error is a missed if the file can't
// be read.
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

// missed is the error for a file that couldn't be read.
type missed struct{ error }

func (m missed) Unwrap() error { return m.error }

// finder returns a finder for the settings of drafts.
func finder(c *cli.Context) *settings.Finder {
	return settings.NewFinder(settings.Options{ConfigFile: c.String("config"), LoomFile: c.String("loom"), Rules: lint.Rulebook(rules.All())})
}

// inputs finds the files that the arguments name, or those in this folder if they name
// none. It skips files in folders and patterns that fettle.ini excludes, and with
// --exclude-named also named files. It prints what it can't find.
func (p *program) inputs(c *cli.Context, f *settings.Finder) *given {
	listing := p.found(c, f)
	p.sayMisnamed(c, f, listing.Inputs)
	return listing
}

// found works like inputs for a command that uses only exclude from fettle.ini. It
// doesn't report misnamed settings files.
func (p *program) found(c *cli.Context, f *settings.Finder) *given {
	listing := collection.Inputs(named(c), f.Excluded)
	if name := c.String("stdin-name"); name != "" {
		for i := range listing.Inputs {
			if in := &listing.Inputs[i]; in.Path == "-" {
				in.Path, in.Stdin = name, true
			}
		}
	}
	p.finders = append(p.finders, f)
	if c.Bool("exclude-named") {
		listing.Inputs = slices.DeleteFunc(listing.Inputs, func(in collection.Input) bool { return f.Excluded(in.Path, "") })
		for i := range listing.Inputs {
			in := &listing.Inputs[i]
			in.Found = in.Path != "-"
		}
	}
	for _, problem := range listing.Problems {
		p.complain(problem)
	}
	return newGiven(listing)
}

// given holds the files that the arguments name, and which arguments held a draft.
type given struct {
	collection.Listing
	held []bool // by the index of the argument
	any  bool   // at least one file was read
}

func newGiven(listing collection.Listing) *given {
	return &given{Listing: listing, held: make([]bool, len(listing.Args))}
}

// saw records a file that is a draft or is named like one.
func (g *given) saw(in collection.Input) {
	g.any = true
	for _, i := range in.Args {
		g.held[i] = true
	}
}

// empty returns the arguments without a draft, except those whose problem was already
// printed. A mistyped path must not look like a clean folder.
func (g *given) empty() (list []string) {
	for i, arg := range g.Args {
		if !g.held[i] && !arg.Failed {
			list = append(list, arg.Name)
		}
	}
	return list
}

const noDraft = "no draft found; check the path and exclude in " + settings.FileName + ", or use --allow-empty"

// checkEmpty prints and returns a problem for each argument without a draft. With
// --allow-empty or --exclude-named it only prints a remark if there was nothing at
// all.
func (p *program) checkEmpty(c *cli.Context, g *given) (list []collection.Problem) {
	if c.Bool("allow-empty") || c.Bool("exclude-named") {
		if !g.any && len(g.Problems) == 0 {
			p.say(c, "no draft found")
		}
		return nil
	}
	for _, arg := range g.empty() {
		list = append(list, collection.Problem{Path: arg, Message: noDraft})
		p.complain(list[len(list)-1])
	}
	return list
}

// withoutDuplicates drops a file that is named again through a symbolic link.
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
