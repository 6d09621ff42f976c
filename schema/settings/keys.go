package settings

import (
	"slices"

	"fettle/schema"
	"fettle/schema/measure"
)

// Section is a kind of section of fettle.ini.
type Section struct {
	Name        string // "" for the top of the file, before any section
	MayBeNamed  bool   // a heading may have a name behind its word
	Description string
	Keys        []Key
	headings    []string // how the starter file writes it
}

// Key is a key of a section, in words for a weaver.
type Key struct {
	Name        string // SHAFT and RULE stand for any number or rule
	Type        string // the kind of value
	Example     string
	Description string
	Advice      string // how to come by the value, and what is usual; "" for nothing to say

	inPlace string // of which key it is stated; the two contradict each other

	sample string   // a key that Name stands for, "" where Name is the key
	fills  []string // other keys of the section that are stated with it
	set    func(*target, string) error
}

// Known lists the sections and their keys in the order of the manual.
func Known() []Section { return slices.Clone(sections) }

func newKey(name, example, description string, v value) Key {
	return Key{Name: name, Type: v.kind, Example: example, Description: description, set: v.set}
}

// inPlaceOf is a key that is stated in place of another.
func (k Key) inPlaceOf(other string) Key {
	k.inPlace = other
	return k
}

// advised is a key with how to come by its value, and what is usual of it.
func (k Key) advised(advice string) Key {
	k.Advice = advice
	if usual := schema.Usual(k.Name); usual != "" {
		k.Advice += "; " + usual
	}
	return k
}

// sections is the one place where the settings are written down: reading,
// suggestions, the starter file and the manual all come from here. Where two
// keys set one value, the general one comes first.
var sections = []Section{
	{Name: "", Description: "before the first section", Keys: []Key{
		newKey("include", "looms/studio.ini", "other files to read first, with commas between", value{"paths", setInclude}).
			advised("only where several folders share a loom or yarn: keep it in a file of its own, and name that file here; else leave it out"),
	}},
	{Name: "loom", Description: "the loom the draft is for", headings: []string{"loom"}, Keys: []Key{
		newKey("name", "Studio dobby", "what you call it", anyText(func(t *target) *string { return &t.Loom.Name })),
		newKey("shafts", "16", "how many shafts it has", wholeNumber(1, func(t *target) *int { return &t.Loom.Shafts })),
		newKey("treadles", "0", "how many treadles; 0: lifts come from a lift plan", wholeNumber(0, func(t *target) *int { return &t.Loom.Treadles })),
		newKey("treadles at once", "2", "how many treadles you press together, at most; unstated: 1", wholeNumber(1, func(t *target) *int { return &t.Loom.AtOnce })),
		newKey("weaving width", "110 cm", "the widest warp it takes", length(func(t *target) *measure.Length { return &t.Loom.WeavingWidth })),
		newKey("shed", "rising", "rising | sinking | balanced | countermarch", parsed("one of four words", parseShed, func(t *target) *schema.Shed { return &t.Loom.Shed })),
	}},
	{Name: "heddles", Description: "how many heddles hang on the shafts", headings: []string{"heddles"}, Keys: []Key{
		newKey("each", "100", "on every shaft that is not named below", value{"a whole number", setEach}),
		{Name: "SHAFT", sample: "1-4", Type: "a whole number", Example: "140", Description: "on the shaft of that number, or on each shaft of a range; a shaft named alone overrides a range", set: setShaft},
	}},
	{Name: "reed", MayBeNamed: true, Description: "the reed; write [reed fine] and [reed coarse] for several", headings: []string{"reed", "reed fine"}, Keys: []Key{
		newKey("dents", "10/in", "how close its dents are: 10/in, 10 dpi, 10 dents per inch, 4/cm or 40/10cm", density(func(t *target) *measure.Density { return &t.reed.Dents })),
		newKey("width", "110 cm", "how long the reed is", length(func(t *target) *measure.Length { return &t.reed.Width })),
	}},
	{Name: "project", Description: "what is to be woven", headings: []string{"project"}, Keys: []Key{
		newKey("reed", "fine", "the reed to use, where you own several", anyText(func(t *target) *string { return t.choice })),
		newKey("sett", "20/in", "how close the ends are: 20/in, 20 epi or 8/cm; overrides the draft's spacing", density(func(t *target) *measure.Density { return &t.Project.Sett })).
			advised("lay the yarn side by side round a ruler: half as many ends as lie in an inch suit plain weave, two thirds twill; weave a sample"),
		newKey("picks", "18/in", "how close the picks are: 18/in, 18 ppi or 7/cm; overrides the draft's spacing", density(func(t *target) *measure.Density { return &t.Project.Picks })),
		newKey("finished length", "2.4 m", "the cloth of one item, washed", value{"a length", setFinishedLength}),
		newKey("picks per item", "512", "the cloth of one item in picks, in place of finished length", value{"a whole number", setPicksPerItem}).inPlaceOf("finished length"),
		newKey("repeats per item", "4", "the cloth of one item in whole repeats of the draft, in place of finished length", value{"a whole number", setRepeatsPerItem}).inPlaceOf("finished length"),
		newKey("finished width", "48 cm", "of one item, washed", length(func(t *target) *measure.Length { return &t.Project.FinishedWidth })),
		newKey("items", "1", "how many are woven on this warp", wholeNumber(1, func(t *target) *int { return &t.Project.Items })),
		newKey("hem", "0 cm", "for both hems of each item, washed", length(func(t *target) *measure.Length { return &t.Project.Hem })),
		newKey("hem picks", "20/in", "how close the picks are in hems; unstated: as picks", density(func(t *target) *measure.Density { return &t.Project.HemPicks })),
		newKey("hem weave", "plain", "draft | plain: what hems are woven in, where threading and treadles give plain weave", parsed("one of two words", parseHemWeave, func(t *target) *bool { return &t.Project.PlainHems })),
		newKey("each item", "restart", "restart | continue: begin every part at pick 1 of the draft, or run the draft on through all parts", parsed("one of two words", parseEachItem, func(t *target) *bool { return &t.Project.ContinueDraft })),
		newKey("fringe", "0 cm", "warp left without picks for each item, half at either end", length(func(t *target) *measure.Length { return &t.Project.Fringe })),
		newKey("sample", "0 cm", "woven once, before the items, to try things out; washed", length(func(t *target) *measure.Length { return &t.Project.Sample })).
			advised("a sample on a new yarn tells its take-up, draw-in and shrinkage"),
		newKey("cut off sample", "no", "yes: cut the sample off and tie the warp on again", yesNo(func(t *target) *bool { return &t.Project.CutOffSample })),
		newKey("re-tie", "25 cm", "warp that tying on again takes, where the sample is cut off; unstated: 25 cm", length(func(t *target) *measure.Length { return &t.Project.ReTie })),
		newKey("loom waste", "70 cm", "warp that cannot be woven", length(func(t *target) *measure.Length { return &t.Project.LoomWaste })).
			advised("measure what is cut off at both ends of a finished warp, knots and all"),
		newKey("take-up", "10 %", "lost to interlacing, of the warp that is woven up: at 10 % the woven length is divided by 0.9", loss(func(t *target) *float64 { return &t.Project.TakeUp })).
			advised("mark 1 m on the warp, weave it, and measure it with the tension off; 100 cm -> 90 cm is 10 %"),
		newKey("weft take-up", "5 %", "lost to interlacing, of the width in the reed: at 5 % each pick takes 1.05 times that width", parsed(lossKind, measure.ParseGain, func(t *target) *float64 { return &t.Project.WeftTakeUp })).
			advised("draw a pick out of the cloth and pull it straight; 66 cm -> 60 cm, its length and the width in the reed, is 10 %"),
		{Name: "shrinkage", Type: lossKind, Example: "8 %", Description: "lost in washing both ways, of the cloth as woven",
			Advice: "measure a sample off the loom, wash it as the cloth will be washed, and measure again; 50 cm -> 46 cm is 8 %",
			fills:  []string{"shrinkage warp", "shrinkage weft"}, set: setShrinkage},
		newKey("shrinkage warp", "8 %", "lost in washing, of the length as woven", loss(func(t *target) *float64 { return &t.Project.ShrinkageWarp })).
			advised("where the two differ; it overrides shrinkage"),
		newKey("shrinkage weft", "6 %", "lost in washing, of the width off the loom", loss(func(t *target) *float64 { return &t.Project.ShrinkageWeft })).
			advised("where the two differ; it overrides shrinkage"),
		newKey("draw-in", "0 %", "lost in weaving, of the width in the reed", loss(func(t *target) *float64 { return &t.Project.DrawIn })).
			advised("measure the width in the reed and that of the cloth woven; 60 cm -> 57 cm is 5 %"),
		newKey("repeats", "1", "the draft's threads this many times across", wholeNumber(1, func(t *target) *int { return &t.Project.Repeats })),
		newKey("balance", "0", "and its first ends, this many, once more", wholeNumber(0, func(t *target) *int { return &t.Project.Balance })),
		newKey("wrap", "no", "yes: floats run on round the edges", yesNo(func(t *target) *bool { return &t.Project.Wrap })).
			advised("'fettle info' ignores it, as it does all settings"),
		newKey("floating selvedges", "no", "yes: outermost ends on no shaft are meant so", yesNo(func(t *target) *bool { return &t.Project.FloatingSelvedge })),
		newKey("bout", "60", "ends wound at once; unstated: each half of the warp is one bout", wholeNumber(1, func(t *target) *int { return &t.Project.Bout })),
		newKey("dressing", "front to back", "front to back | back to front", parsed("one of two words", parseDressing, func(t *target) *bool { return &t.Project.BackToFront })),
	}},
	{Name: "yarn", MayBeNamed: true, Description: "a yarn on the shelf; one such section for each", headings: []string{"yarn natural"}, Keys: []Key{
		newKey("grist", "8/2 cotton", "or 3360 yd/lb, 6773 m/kg, 30 tex x 2, ...", parsed("a yarn size", measure.ParseGrist, func(t *target) *measure.Grist { return &t.yarn.Grist })),
		newKey("color", "#f2ead8", "the draft's colors it stands for, with commas between", parsed("colors", parseColors, func(t *target) *[]schema.Color { return &t.yarn.Colors })),
		newKey("palette", "1, 4", "or the numbers of those colors in the draft", parsed("whole numbers", parsePalette, func(t *target) *[]int { return &t.yarn.Palette })),
		newKey("stock", "2 x 250 g", "how much there is, in length, or in weight where the grist is stated", parsed("a stock", measure.ParseStock, func(t *target) *measure.Stock { return &t.yarn.Stock })),
		newKey("use", "warp, weft", "what it may be used for; one for the warp or the weft alone goes there before one for both", value{"warp, weft or both", setUse}),
	}},
	{Name: "rules", MayBeNamed: true, Description: "how the rules are kept; write [rules attic/**] for some of the drafts", headings: []string{"rules", "rules attic/**"}, Keys: []Key{
		{Name: "RULE", sample: "cloth/long-float", Type: "a severity, options or both", Example: "warning, 12 mm",
			Description: "error | warning | note | off, then what the rule takes; the family alone, as in cloth = off, sets the severity of all its rules but those named one by one", set: setRule},
	}},
	{Name: "files", Description: "which files are looked at", headings: []string{"files"}, Keys: []Key{
		newKey("exclude", "attic/**", "paths to pass over, with commas between; it holds also where a folder below has a fettle.ini of its own", value{"patterns", setExclude}),
	}},
}

// setInclude only checks: the files are read before the file's own settings.
func setInclude(_ *target, s string) error {
	_, err := parseList(s, func(w string) (string, error) { return w, nil })
	return err
}
