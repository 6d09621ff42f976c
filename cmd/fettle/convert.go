package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/formats"
	"fettle/lint/collection"
	"fettle/schema"
	"fettle/schema/cloth"
)

func (p *program) convert() *cli.Command {
	return &cli.Command{
		Name:      "convert",
		Usage:     "write drafts in another format",
		ArgsUsage: "PATH...",
		UsageText: "fettle convert towel.wif --to json\nfettle convert towel.json --to wif --output towel.wif\nfettle convert drafts --to json --out-dir json\n\nThe format of a file is told by its content. Into its own format a draft is put in canonical form.\nWhat the other format cannot hold is listed on standard error; --strict refuses instead.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "to", Usage: "write `FORMAT`: " + strings.Join(formats.Names(), " or ")},
			outputFlag,
			&cli.StringFlag{Name: "out-dir", Usage: "write below `FOLDER`, keeping the tree"},
			replaceFlag,
			&cli.BoolFlag{Name: "strict", Usage: "refuse, with exit status 1, where anything would be lost"},
			&cli.StringFlag{Name: "eol", Usage: "end lines of the text format in `BREAK`: crlf or lf", Value: "crlf"},
			maxSizeFlag,
		},
		Action: p.runConvert,
	}
}

// conversion is what a run of convert has been asked for.
type conversion struct {
	to, output, folder string
	strict, replace    bool
	options            formats.Options
}

func conversionOf(c *cli.Context) (conversion, error) {
	v := conversion{to: c.String("to"), output: c.String("output"), folder: c.String("out-dir"),
		strict: c.Bool("strict"), replace: c.Bool("overwrite")}
	switch eol := c.String("eol"); eol {
	case "lf":
		v.options.LF = true
	case "crlf":
	default:
		return v, failed("--eol takes crlf or lf, not %s", schema.Quote(eol))
	}
	switch {
	case v.to == "":
		return v, failed("say which format to write: --to %s", strings.Join(formats.Names(), " or --to "))
	case v.folder != "" && c.IsSet("output"):
		return v, failed("--output names one file and --out-dir a folder for many; give one of them")
	case c.NArg() == 0:
		return v, failed("name a draft to convert, or a folder; - is standard input")
	}
	_, _, err := formats.Write(v.to, &schema.Draft{}, v.options)
	if err != nil {
		return v, failed("%s", err)
	}
	return v, nil
}

func (p *program) runConvert(c *cli.Context) error {
	v, err := conversionOf(c)
	if err != nil {
		return err
	}
	reader, err := p.reader(c)
	if err != nil {
		return err
	}
	list, whole := p.inputs(c, finder(c))
	if len(list) > 1 && v.folder == "" {
		return failed("several files are named; --out-dir says which folder the results go into")
	}
	status := statusFine
	if !whole {
		status = statusFailed
	}
	taken := map[string]string{}
	for _, in := range list {
		if err := p.convertOne(in, v, reader, taken); err != nil {
			if e, ok := err.(exit); ok {
				status = max(status, e.status)
			} else {
				status = statusFailed
			}
			p.complain(err)
		}
	}
	if status != statusFine {
		return exit{status: status}
	}
	return nil
}

// convertOne converts a file.
func (p *program) convertOne(in collection.Input, v conversion, reader collection.Reader, taken map[string]string) error {
	doc, err := reader.Read(in)
	if err != nil || doc == nil {
		return err
	}
	if doc.Draft == nil {
		return failed("%s: %s", in.Path, doc.Findings[0].Message)
	}
	text, lost, err := formats.Write(v.to, doc.Draft, v.options)
	if err != nil {
		return failed("%s: %s", in.Path, err)
	}
	for _, l := range lost {
		fmt.Fprintf(p.err, "%s: lost: %s\n", in.Path, l)
	}
	if v.strict && len(lost) > 0 {
		return exit{statusFound, fmt.Sprintf("%s: not converted, since %d things would be lost", in.Path, len(lost))}
	}
	if err := sameCloth(in.Path, doc.Draft, text); err != nil {
		return err
	}
	path := v.output
	if v.folder != "" {
		if path, err = collection.OutputPath(in, v.folder, "."+v.to); err != nil {
			return failed("%s", err)
		}
		key := strings.ToLower(filepath.ToSlash(path))
		if other, ok := taken[key]; ok {
			return failed("%s: the result would go to %s, where that of %s is", in.Path, path, other)
		}
		taken[key] = in.Path
		if err := folderFor(path); err != nil {
			return err
		}
	}
	return p.write(path, text, v.replace)
}

// sameCloth reads a result again and makes sure that it weaves the same cloth.
func sameCloth(path string, before *schema.Draft, text []byte) error {
	after := formats.Read(path, text)
	if after.Draft == nil || cloth.Of(before).Identity() != cloth.Of(after.Draft).Identity() {
		return failed("%s: not converted, since the result would weave another cloth; that is a fault of fettle: please report it with the draft", path)
	}
	return nil
}
