package settings

import (
	"slices"

	"fettle/schema"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// Section is a kind of section of fettle.ini.
type Section struct {
	Name        string // "" for the lines before the first section
	MayBeNamed  bool   // a heading may have a name: [reed fine]
	Description string
	Keys        []Key
	headings    []string // how the starter file writes it
}

// Key is a key of a section, with texts for a weaver.
type Key struct {
	Name        string // SHAFT and RULE stand for any shaft number or rule
	Type        string // the kind of value
	Example     string
	Description string
	Advice      string   // how to find the value, and what is usual; "" for none
	Choices     []string // the values to choose from; nil if others are possible

	inPlace string // the key that it is stated instead of; the two contradict each other

	sample string   // an example of the key, if Name is a placeholder
	fills  []string // other keys of the section that it sets
	set    func(*target, string) error
}

// Known returns the sections and their keys in the order of the manual.
func Known() []Section { return slices.Clone(sections) }

func newKey(name, example, description string, v value) Key {
	return Key{Name: name, Type: v.kind, Example: example, Description: description, Choices: v.choices, set: v.set}
}

// inPlaceOf returns the key as one that is stated instead of another.
func (k Key) inPlaceOf(other string) Key {
	k.inPlace = other
	return k
}

// assumed returns advice, and what yarn/margin assumes if the loss isn't stated.
func assumed(advice, usual string) string {
	return advice + "; yarn/margin assumes " + usual + " if you don't state it"
}

func percent(fraction float64) string { return wording.Decimal(100*fraction, 1) + " %" }

// advised returns the key with advice, and with its usual value if there is one.
func (k Key) advised(advice string) Key {
	k.Advice = advice
	if usual := schema.Usual(k.Name); usual != "" {
		k.Advice += "; " + usual
	}
	return k
}

// sections is the only table of settings. Reading, suggestions, the starter file
// and the manual all use it. If two keys set one value, the general one comes
// first.
var sections = []Section{
	{Name: "", Description: "before the first section", Keys: []Key{
		newKey("include", "looms/studio.ini", "other files to read first, separated by commas", value{kind: "paths", set: setInclude}).
			advised("useful if several folders share a loom or yarn: describe it in a file of its own and name that file here"),
	}},
	{Name: "loom", Description: "your loom", headings: []string{"loom"}, Keys: []Key{
		newKey("name", "Studio dobby", "what you call it", anyText(func(t *target) *string { return &t.Loom.Name })),
		newKey("shafts", "16", "how many shafts it has", wholeNumber(1, func(t *target) *int { return &t.Loom.Shafts })),
		newKey("treadles", "0", "how many treadles it has; 0 if it weaves from a lift plan", wholeNumber(0, func(t *target) *int { return &t.Loom.Treadles })),
		newKey("treadles at once", "2", "how many treadles you press together at most; the default is 1", wholeNumber(1, func(t *target) *int { return &t.Loom.AtOnce })),
		newKey("weaving width", "110 cm", "the widest warp it takes", length(func(t *target) *measure.Length { return &t.Loom.WeavingWidth })),
		newKey("shed", "rising", "rising | sinking | balanced | countermarch: which way the shafts move; balanced is a counterbalance loom", parsed("one of four words", parseShed, func(t *target) *schema.Shed { return &t.Loom.Shed }).among(sheds)),
	}},
	{Name: "heddles", Description: "how many heddles each shaft has", headings: []string{"heddles"}, Keys: []Key{
		newKey("each", "100", "on every shaft not listed below", value{kind: "a whole number", set: setEach}),
		{Name: "SHAFT", sample: "1-4", Type: "a whole number", Example: "140", Description: "on the shaft with this number, or on each shaft of a range; a shaft alone overrides a range", set: setShaft},
	}},
	{Name: "reed", MayBeNamed: true, Description: "your reed; if you own several, give each a section: [reed fine], [reed coarse]", headings: []string{"reed", "reed fine"}, Keys: []Key{
		newKey("dents", "10/in", "how close the dents are: 10/in, 10 dpi, 10 dents per inch, 4/cm or 40/10cm", density(func(t *target) *measure.Density { return &t.reed.Dents })),
		newKey("width", "110 cm", "how wide the reed is", length(func(t *target) *measure.Length { return &t.reed.Width })),
	}},
	{Name: "project", Description: "what you weave", headings: []string{"project"}, Keys: []Key{
		newKey("reed", "fine", "the reed to use, if you own several", anyText(func(t *target) *string { return t.choice })),
		newKey("sett", "20/in", "how close the ends are: 20/in, 20 epi or 8/cm; overrides the draft's spacing", density(func(t *target) *measure.Density { return &t.Project.Sett })).
			advised("wrap the yarn round a ruler: half the wraps in an inch suit plain weave, two thirds suit twill; weave a sample"),
		newKey("picks", "18/in", "how close the picks are: 18/in, 18 ppi or 7/cm; overrides the draft's spacing", density(func(t *target) *measure.Density { return &t.Project.Picks })),
		newKey("finished length", "2.4 m", "the cloth of one item, after washing", length(func(t *target) *measure.Length { return &t.itemLength().FinishedLength })),
		newKey("picks per item", "512", "the cloth of one item in picks", wholeNumber(1, func(t *target) *int { return &t.itemLength().PicksPerItem })).inPlaceOf("finished length"),
		newKey("repeats per item", "4", "the cloth of one item in whole repeats of the draft", wholeNumber(1, func(t *target) *int { return &t.itemLength().RepeatsPerItem })).inPlaceOf("finished length"),
		newKey("finished width", "48 cm", "of one item after washing", length(func(t *target) *measure.Length { return &t.Project.FinishedWidth })),
		newKey("items", "1", "how many items you weave on this warp", wholeNumber(1, func(t *target) *int { return &t.Project.Items })),
		newKey("hem", "0 cm", "for both hems of each item together, after washing", length(func(t *target) *measure.Length { return &t.Project.Hem })),
		newKey("hem picks", "20/in", "how close the picks are in hems; by default as picks", density(func(t *target) *measure.Density { return &t.Project.HemPicks })),
		newKey("hem weave", "plain", "draft | plain: the weave of hems; the default is draft; plain needs a threading and treadles for it", oneOfTwo(hemWeaves, func(t *target) *bool { return &t.Project.PlainHems })),
		newKey("each item", "restart", "restart | continue: begin every part at pick 1 of the draft, or run the draft on through all parts", oneOfTwo(itemBeginnings, func(t *target) *bool { return &t.Project.ContinueDraft })),
		newKey("fringe", "0 cm", "unwoven warp for each item, half at each end", length(func(t *target) *measure.Length { return &t.Project.Fringe })),
		newKey("sample", "0 cm", "length of one sample woven before the items, after washing", length(func(t *target) *measure.Length { return &t.Project.Sample })).
			advised("weave a sample of a new yarn to find its take-up, draw-in and shrinkage"),
		newKey("cut off sample", "no", "yes: cut the sample off and tie the warp on again", yesNo(func(t *target) *bool { return &t.Project.CutOffSample })),
		newKey("re-tie", "25 cm", "warp needed to tie on again after you cut off the sample; by default 25 cm", length(func(t *target) *measure.Length { return &t.Project.ReTie })),
		newKey("loom waste", "70 cm", "warp that can't be woven", length(func(t *target) *measure.Length { return &t.Project.LoomWaste })).
			advised(assumed("measure what you cut off at both ends of a finished warp, with the knots", wording.Decimal(float64(schema.UsualLoomWaste)/10, 1)+" cm")),
		newKey("take-up", "10 %", "warp length lost to interlacing: at 10 %, 90 cm of cloth takes 100 cm of warp", loss(func(t *target) *float64 { return &t.Project.TakeUp })).
			advised(assumed("mark 1 m on the warp, weave it, release the tension and measure; 100 cm -> 90 cm is 10 %", percent(schema.UsualTakeUp))),
		newKey("weft take-up", "5 %", "extra weft for interlacing: at 5 %, each pick takes 1.05 times the width in the reed", parsed(lossKind, measure.ParseGain, func(t *target) *float64 { return &t.Project.WeftTakeUp })).
			advised(assumed("pull a pick out of the cloth and straighten it; 66 cm -> 60 cm, its length and the width in the reed, is 10 %", percent(schema.UsualWeftTakeUp))),
		{Name: "shrinkage", Type: lossKind, Example: "8 %", Description: "lost in washing, in both directions, of the cloth off the loom",
			Advice: "measure a sample off the loom, wash it as you will wash the cloth, and measure again; 50 cm -> 46 cm is 8 %",
			fills:  []string{"shrinkage warp", "shrinkage weft"}, set: setShrinkage},
		newKey("shrinkage warp", "8 %", "lost in washing, of the length off the loom", loss(func(t *target) *float64 { return &t.Project.ShrinkageWarp })).
			advised(assumed("for cloth that shrinks differently in length; overrides shrinkage", percent(schema.UsualShrinkageWarp))),
		newKey("shrinkage weft", "6 %", "lost in washing, of the width off the loom", loss(func(t *target) *float64 { return &t.Project.ShrinkageWeft })).
			advised("for cloth that shrinks differently in width; overrides shrinkage"),
		newKey("draw-in", "0 %", "lost in weaving, of the width in the reed", loss(func(t *target) *float64 { return &t.Project.DrawIn })).
			advised("measure the width in the reed and the width of the cloth; 60 cm -> 57 cm is 5 %"),
		newKey("repeats", "1", "how many times to thread the draft across the warp", wholeNumber(1, func(t *target) *int { return &t.Project.Repeats })),
		newKey("balance", "0", "how many of the draft's first ends to add after the last repeat", wholeNumber(0, func(t *target) *int { return &t.Project.Balance })),
		newKey("wrap", "no", "yes: count floats across the edges, from one repeat into the next; no: only inside the draft; by default, where the project repeats the draft", yesNo(func(t *target) *bool { return &t.Project.Wrap })).
			advised("'fettle info' ignores it, as it ignores all settings"),
		newKey("floating selvedges", "no", "yes: the outermost ends are on no shaft on purpose", yesNo(func(t *target) *bool { return &t.Project.FloatingSelvedge })),
		newKey("bout", "60", "how many ends you wind at once; by default each half of the warp is one bout", wholeNumber(1, func(t *target) *int { return &t.Project.Bout })),
		newKey("dressing", "front to back", "front to back | back to front: how you put the warp on the loom", parsed("one of two words", parseDressing, func(t *target) *bool { return &t.Project.BackToFront }).among(dressings)),
	}},
	{Name: "warp", MayBeNamed: true, Description: "a warp besides the main one, such as a supplementary warp or one on a second beam; it needs a name. Ends outside these sections are the main warp", headings: []string{"warp pile"}, Keys: []Key{
		newKey("ends", "1-400", "its ends, counted across the whole warp: 1-8, 393-400, or 3-399/3 for every third", parsed("numbers or ranges", parseSteps, func(t *target) *[]schema.Steps { return &t.warp.Ends })),
		newKey("shafts", "9-16", "or the shafts that its ends are on", parsed("numbers or ranges", parseSteps, func(t *target) *[]schema.Steps { return &t.warp.Shafts })),
		newKey("palette", "2", "or the palette numbers of its ends", parsed("whole numbers", parsePalette, func(t *target) *[]int { return &t.warp.Palette })),
		newKey("take-up", "3 %", "its own take-up; by default as in [project]", loss(func(t *target) *float64 { return &t.warp.TakeUp })),
		newKey("loom waste", "70 cm", "its own loom waste; by default as in [project]", length(func(t *target) *measure.Length { return &t.warp.LoomWaste })),
		newKey("beam", "second beam", "which beam it goes on", anyText(func(t *target) *string { return &t.warp.Beam })),
	}},
	{Name: "yarn", MayBeNamed: true, Description: "a yarn that you own; one section for each", headings: []string{"yarn natural"}, Keys: []Key{
		newKey("grist", "8/2 cotton", "or 3360 yd/lb, 6773 m/kg, 30 tex x 2, ...", parsed("a yarn size", measure.ParseGrist, func(t *target) *measure.Grist { return &t.yarn.Grist })),
		newKey("color", "#f2ead8", "the draft's colors that you weave in this yarn, separated by commas", parsed("colors", parseColors, func(t *target) *[]schema.Color { return &t.yarn.Colors })),
		newKey("palette", "1, 4", "or the palette numbers of those colors", parsed("whole numbers", parsePalette, func(t *target) *[]int { return &t.yarn.Palette })),
		newKey("stock", "2 x 250 g", "how much you have, in length, or in weight if you state the grist", parsed("a stock", measure.ParseStock, func(t *target) *measure.Stock { return &t.yarn.Stock })),
		newKey("use", "warp, weft", "where you use it; a yarn for the warp or the weft alone comes before one for both", value{"warp, weft or both", setUse, uses}),
	}},
	{Name: "rules", MayBeNamed: true, Description: "severities and options of rules; write [rules attic/**] for some drafts only", headings: []string{"rules", "rules attic/**"}, Keys: []Key{
		{Name: "RULE", sample: "cloth/long-float", Type: "a severity, options or both", Example: "warning, 12 mm",
			Description: "error | warning | note | off, then the rule's options; a family, as in cloth = off, sets the severity of all its rules that have no line of their own", set: setRule},
	}},
	{Name: "files", Description: "which files to skip", headings: []string{"files"}, Keys: []Key{
		newKey("exclude", "attic/**", "paths to skip, separated by commas; also applies to folders below that have their own fettle.ini", value{kind: "patterns", set: setExclude}),
	}},
}

// setInclude only checks the list. Included files are read before the settings.
func setInclude(_ *target, s string) error {
	_, err := parseList(s, func(w string) (string, error) { return w, nil })
	return err
}
