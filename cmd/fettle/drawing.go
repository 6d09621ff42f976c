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
		&cli.StringSliceFlag{Name: "part", Usage: "drawings: draw only this `PART`: threading, tieup, treadling, cloth or all; can be repeated", DefaultText: "all"},
		&cli.StringSliceFlag{Name: "scale", Usage: "drawings: draw a part larger than the cloth, as `PART=N`, such as tieup=3; can be repeated", DefaultText: "1"},
		&cli.BoolFlag{Name: "large", Usage: "drawings: use type and cells that you can read at two metres"},
		&cli.StringFlag{Name: "end1", Usage: "drawings: draw end 1 on this `SIDE`: right or left", Value: "right"},
		&cli.StringFlag{Name: "pick1", Usage: "drawings: draw pick 1 at this `EDGE`: top or bottom", Value: "top"},
		&cli.BoolFlag{Name: "back", Usage: "drawings: show the back of the cloth, turned over sideways"},
		&cli.BoolFlag{Name: "repeat", Usage: "drawings: show one repeat only"},
		&cli.BoolFlag{Name: "whole", Usage: "pdf: draw the whole draft even on more than two pages, not one repeat"},
		&cli.StringFlag{Name: "cell", Usage: "drawings: make cells this `LENGTH` wide, such as 2.5mm", DefaultText: "fits the draft"},
		&cli.IntFlag{Name: "every", Usage: "drawings: draw a heavier line every `N` threads", Value: 4},
		&cli.IntFlag{Name: "floats", Usage: "drawings: outline floats longer than `N` threads", DefaultText: "none"},
		&cli.StringFlag{Name: "sley", Usage: "drawings: show the reed, with these `ENDS` in its dents, such as 2-2-3", DefaultText: "no reed"},
		&cli.StringFlag{Name: "page", Usage: "drawings: use this `PAPER`: a4, letter, legal, a3 or one; one makes a page as large as the drawing", DefaultText: "a4 for pdf, otherwise one"},
		&cli.BoolFlag{Name: "fit-page", Usage: "drawings: scale the drawing to one page"},
		&cli.IntFlag{Name: "dpi", Usage: "png: draw this many `PIXELS` per inch", Value: 192},
		&cli.IntFlag{Name: "width", Usage: "txt: make lines at most `N` characters long, and draw a wide draft in pieces", DefaultText: "no limit"},
		&cli.StringFlag{Name: "loom", Usage: "drawings: take the names of yarns from `FILE`", DefaultText: "from fettle.ini"},
	}
}

// papers maps the values of --page to paper sizes.
func papers() map[string]diagram.Page {
	return map[string]diagram.Page{"a4": diagram.A4, "letter": diagram.Letter, "legal": diagram.Legal, "a3": diagram.A3, "one": diagram.OnePage}
}

// drawnIn returns the formats that use a drawing flag.
func drawnIn(flag string) []string {
	switch flag {
	case "width":
		return []string{"txt"}
	case "whole":
		return []string{"pdf"}
	case "dpi":
		return []string{"png"}
	case "part", "end1", "pick1", "back", "repeat", "loom":
		return formats.Drawings()
	}
	return []string{"svg", "png", "pdf"}
}

// drawingFlagsFit returns an error for a drawing flag that the output format doesn't use.
func drawingFlagsFit(c *cli.Context, to string) error {
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
	return nil
}

// drawingOf reads the drawing flags into the options of the output format.
func drawingOf(c *cli.Context, to string, o *formats.Options) error {
	if err := drawingFlagsFit(c, to); err != nil {
		return err
	}
	if err := choices(c, map[string][]string{"show": {"weave", "yarn"}, "end1": {"right", "left"},
		"pick1": {"top", "bottom"}, "page": {"a4", "letter", "legal", "a3", "one"}}); err != nil {
		return err
	}
	d := diagram.Options{
		Show:  map[string]diagram.Show{"yarn": diagram.Yarn}[c.String("show")],
		End1:  map[string]diagram.Side{"left": diagram.Left}[c.String("end1")],
		Pick1: map[string]diagram.Edge{"bottom": diagram.Bottom}[c.String("pick1")],
		Page:  papers()[c.String("page")],
		Back:  c.Bool("back"), Repeat: c.Bool("repeat"), Every: c.Int("every"), Floats: c.Int("floats"), DPI: c.Int("dpi"),
		Whole: c.Bool("whole"), Large: c.Bool("large"), Width: c.Int("width"),
	}
	// A picture has one page, so it fits the paper that the flag names.
	d.FitPage = c.Bool("fit-page") || to != "pdf" && c.IsSet("page") && d.Page != diagram.OnePage
	var err error
	if d.Parts, err = partsOf(c); err != nil {
		return err
	}
	if d.Scales, err = scalesOf(c, d.Parts); err != nil {
		return err
	}
	o.ClothOnly = to == "txt" && d.Parts == diagram.PartCloth
	switch {
	case c.IsSet("width") && d.Width < 1:
		return failed("--width must be 1 or more, not %d", d.Width)
	case o.ClothOnly && c.IsSet("width"):
		return failed("--part cloth alone has one line for each pick; leave out --width, or add another part")
	case d.Repeat && d.Whole:
		return failed("--repeat and --whole can't be combined; leave one of them out")
	}
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

// partNames maps the values of --part to parts; all is 0.
func partNames() map[string]diagram.Parts {
	return map[string]diagram.Parts{"threading": diagram.PartThreading, "tieup": diagram.PartTieup,
		"treadling": diagram.PartTreadling, "cloth": diagram.PartCloth, "all": 0}
}

// partsOf reads --part. With all, everything that the draft has is drawn.
func partsOf(c *cli.Context) (diagram.Parts, error) {
	var parts diagram.Parts
	all := false
	for _, name := range c.StringSlice("part") {
		part, known := partNames()[name]
		if !known {
			return 0, failed("--part takes threading, tieup, treadling, cloth or all, not %s", wording.Quote(name))
		}
		parts, all = parts|part, all || part == 0
	}
	if all {
		return 0, nil
	}
	return parts, nil
}

// scalesOf reads --scale.
func scalesOf(c *cli.Context, parts diagram.Parts) (scales diagram.Scales, err error) {
	for _, text := range c.StringSlice("scale") {
		name, number, _ := strings.Cut(text, "=")
		n, err := strconv.Atoi(number)
		part := partNames()[name]
		of := map[diagram.Parts]*int{diagram.PartThreading: &scales.Threading, diagram.PartTieup: &scales.Tieup, diagram.PartTreadling: &scales.Treadling}[part]
		switch {
		case name == "cloth":
			return scales, failed("the other parts are scaled against the cloth; for larger cells use --cell instead of --scale %s", wording.Plain(text, 60))
		case of == nil || err != nil || n < 1 || n > diagram.MaxScale:
			return scales, failed("--scale takes threading, tieup or treadling with a whole number from 1 to %d, such as tieup=3, not %s", diagram.MaxScale, wording.Quote(text))
		case parts != 0 && parts&part == 0:
			return scales, failed("--scale %s has no effect, because --part leaves the %s out; add --part %s", wording.Plain(text, 60), name, name)
		}
		*of = n
	}
	return scales, nil
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
