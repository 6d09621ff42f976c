package main

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"

	"github.com/urfave/cli/v2"

	"fettle/formats"
	"fettle/lint"
	"fettle/lint/collection"
	"fettle/schema"
)

// baseline is the baseline of a run, as the flags have it.
type baseline struct {
	path  string         // "" for none
	known *lint.Baseline // nil for none
	text  []byte         // as it was read, nil where it was not there
	write bool           // what is found now is known from now on
}

func baselineOf(c *cli.Context) (*baseline, error) {
	read, write := c.String("baseline"), c.String("write-baseline")
	if read != "" && write != "" && read != write {
		return nil, failed("--baseline and --write-baseline name two files; name the same for both, so that it is read and brought up to date")
	}
	b := &baseline{path: read, write: write != ""}
	if b.write {
		b.path = write
	}
	if b.path == "" {
		return b, nil
	}
	var err error
	b.text, err = readBaseline(b.path)
	switch {
	case err == nil:
		b.known, err = lint.ParseBaseline(b.path, b.text)
	case errors.Is(err, fs.ErrNotExist) && read == "":
		b.known, err = lint.NewBaseline(b.path)
	case errors.Is(err, fs.ErrNotExist):
		return nil, failed("there is no baseline %s; --write-baseline begins one", b.path)
	default:
		return nil, failed("%s: %s", b.path, collection.Reason(err))
	}
	if err != nil {
		return nil, failed("%s", err)
	}
	if !b.write && b.known.Moved(gone) {
		return nil, failed("the baseline %s seems to have been moved: none of the files it knows is there from the folder it stands in; put it back, or take it away and write it anew with --write-baseline", b.path)
	}
	return b, nil
}

// readBaseline reads no more than a draft might hold.
func readBaseline(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, formats.DefaultLimit))
}

// mostMissing is how many findings that are no longer there are named; a report of
// them all is in the difference that writing the baseline makes.
const mostMissing = 10

// finishBaseline says what is no longer found, or writes the baseline anew.
func (l *lintRun) finishBaseline() error {
	b := l.baseline
	if b.known == nil {
		return nil
	}
	missing := b.known.Missing(l.linter.Chosen, gone)
	switch n := l.summary.NotLookedAt; {
	case !b.write:
		l.tellMissing(l.context, missing)
		return nil
	case n > 0:
		return failed("the baseline %s is not written, for it would not know what is in the %s not looked at; mend what is told above, or leave those out with exclude in fettle.ini",
			b.path, schema.Counted(n, "path"))
	}
	text, err := b.known.Renewed(missing)
	if err != nil {
		return failed("%s", err)
	}
	if bytes.Equal(text, b.text) {
		return nil
	}
	if b.text == nil {
		return l.write(b.path, text, false)
	}
	return l.replace(b.path, b.text, text)
}

func (p *program) tellMissing(c *cli.Context, missing []lint.Entry) {
	for i, e := range missing {
		if i == mostMissing {
			p.say(c, "and %d more", len(missing)-mostMissing)
			break
		}
		p.say(c, "no longer found: %s: %s: %s", schema.Plain(e.Path, len(e.Path)), schema.Plain(e.Rule, 60), schema.Plain(e.Message, 200))
	}
	switch len(missing) {
	case 0:
	case 1:
		p.say(c, "1 finding of the baseline is no longer found: it is mended, or its line or its file has changed; --write-baseline takes it out")
	default:
		p.say(c, "%d findings of the baseline are no longer found: they are mended, or their lines or files have changed; --write-baseline takes them out", len(missing))
	}
}

// gone says whether there is no such file any more.
func gone(path string) bool {
	_, err := os.Lstat(path)
	return errors.Is(err, fs.ErrNotExist)
}
