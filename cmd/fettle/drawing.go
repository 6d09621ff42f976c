package main

import (
	"slices"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/formats"
	"fettle/formats/diagram"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// drawingFlags returns the flags for drawings.
func drawingFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "show", Usage: "drawings: show the `WHAT`: weave or yarn; weave fills a cell if the warp is up, yarn shows colors", Value: "weave"},
		&cli.StringFlag{Name: "part", Usage: "txt: print this `PART`: all or cloth", Value: "all"},
		&cli.StringFlag{Name: "end1", Usage: "drawings: draw end 1 on this `SIDE`: right or left", Value: "right"},
		&cli.StringFlag{Name: "pick1", Usage: "drawings: draw pick 1 at this `EDGE`: top or bottom", Value: "top"},
		&cli.BoolFlag{Name: "back", Usage: "drawings: show the back of the cloth, turned over sideways"},
		&cli.BoolFlag{Name: "repeat", Usage: "drawings: show one repeat only"},
		&cli.StringFlag{Name: "cell", Usage: "drawings: make cells this `LENGTH` wide, such as 2.5mm", DefaultText: "fits the draft"},
		&cli.IntFlag{Name: "every", Usage: "drawings: draw a heavier line every `N` threads", Value: 4},
		&cli.IntFlag{Name: "floats", Usage: "drawings: outline floats longer than `N` threads", DefaultText: "none"},
		&cli.StringFlag{Name: "sley", Usage: "drawings: show the reed, with these `ENDS` in its dents, such as 2-2-3", DefaultText: "no reed"},
		&cli.StringFlag{Name: "page", Usage: "pdf: use this `PAPER`: a4, letter, legal, a3 or one; one makes a page as large as the drawing", Value: "a4"},
		&cli.IntFlag{Name: "dpi", Usage: "png: draw this many `PIXELS` per inch", Value: 192},
	}
}

// papers maps the values of --page to paper sizes.
func papers() map[string]diagram.Page {
	return map[string]diagram.Page{"a4": diagram.A4, "letter": diagram.Letter, "legal": diagram.Legal, "a3": diagram.A3, "one": diagram.OnePage}
}

// drawnIn returns the formats that use a drawing flag.
func drawnIn(flag string) []string {
	switch flag {
	case "part":
		return []string{"txt"}
	case "page":
		return []string{"pdf"}
	case "dpi":
		return []string{"png"}
	case "end1", "pick1", "back", "repeat":
		return formats.Drawings()
	}
	return []string{"svg", "png", "pdf"}
}

// drawingOf reads the drawing flags into the options of the output format.
func drawingOf(c *cli.Context, to string, o *formats.Options) error {
	for _, f := range drawingFlags() {
		name := f.Names()[0]
		forms := drawnIn(name)
		if c.IsSet(name) && to == "" {
			return failed("--%s needs --to %s; add one of them", name, strings.Join(forms, " or --to "))
		}
		if c.IsSet(name) && !slices.Contains(forms, to) {
			return failed("--%s doesn't work with --to %s; use it with --to %s", name, to, strings.Join(forms, " or --to "))
		}
	}
	if err := choices(c, map[string][]string{"show": {"weave", "yarn"}, "part": {"all", "cloth"}, "end1": {"right", "left"},
		"pick1": {"top", "bottom"}, "page": {"a4", "letter", "legal", "a3", "one"}}); err != nil {
		return err
	}
	o.ClothOnly = c.String("part") == "cloth"
	d := diagram.Options{
		Show:  map[string]diagram.Show{"yarn": diagram.Yarn}[c.String("show")],
		End1:  map[string]diagram.Side{"left": diagram.Left}[c.String("end1")],
		Pick1: map[string]diagram.Edge{"bottom": diagram.Bottom}[c.String("pick1")],
		Page:  papers()[c.String("page")],
		Back:  c.Bool("back"), Repeat: c.Bool("repeat"), Every: c.Int("every"), Floats: c.Int("floats"), DPI: c.Int("dpi"),
	}
	var err error
	if d.Sley, err = sleyOf(c.String("sley")); err != nil {
		return err
	}
	if cell := c.String("cell"); cell != "" {
		if d.Cell, err = measure.ParseLength(cell); err != nil {
			return failed("--cell: %s", err)
		}
		if d.Cell == 0 {
			return failed("--cell must be a length above 0, such as 2.5mm")
		}
	}
	o.Drawing = d
	if err := d.Check(); err != nil {
		return failed("%s", err)
	}
	return nil
}

// notText returns an error for binary output to a terminal.
func (p *program) notText(form, path string) error {
	if path == "-" && (form == "png" || form == "pdf") && isTerminal(p.out) {
		return failed("%s can't be printed on a terminal; name a file with --output", strings.ToUpper(form))
	}
	return nil
}

// sleyOf reads a sleying order such as 2-2-3.
func sleyOf(text string) ([]int, error) {
	if text == "" {
		return nil, nil
	}
	var order []int
	sum := 0
	for part := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == '-' || r == ',' || r == ' ' }) {
		n, err := strconv.Atoi(part)
		if err != nil || n < 0 || n > diagram.MostInDent || len(order) == diagram.MostInDent {
			sum = 0
			break
		}
		order, sum = append(order, n), sum+n
	}
	if sum == 0 {
		return nil, failed("--sley takes the ends in each dent, such as 2-2-3, not %s", wording.Quote(text))
	}
	return order, nil
}
