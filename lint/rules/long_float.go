package rules

import (
	"fmt"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/dressing"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

var longFloat = lint.Rule{
	ID:    "cloth/long-float",
	Title: "a float is too long",
	Why: "A long float lies loose on the cloth: rings, fingers and buttons catch it, and it wears first. " +
		"How long is too long depends on the use: half an inch (12.7 mm) is common for household cloth, less for clothing. Weave a sample.",
	Counts: "fettle measures a float in millimetres if it knows the spacing of the threads that the float crosses; otherwise it counts threads. " +
		"A float crosses at least two threads, however thick they are. Warp and weft are measured separately. " +
		"Where the project repeats the draft, across the warp or along a part that is longer than the draft, a float goes on into the next repeat. [project] wrap = yes or no overrides that. " +
		"In a draft from fettle plan --format wif, a float ends where the cloth is cut.",
	Remedy:  "Bind the float, or raise the limit after a sample.",
	Default: schema.Warning,
	Options: []lint.Option{
		{Name: "length", Kind: lint.Length, Default: 12.7, Text: "the longest float if the spacing is known"},
		{Name: "threads", Kind: lint.Threads, Default: 9, Text: "the most threads a float may cross if the spacing is unknown, or always if you state no length"},
	},
	Faulty: lint.Example{
		Draft:    "[TIEUP]\n1=1,2,3\n2=2,3,4\n3=1,3,4\n4=1,2,4\n",
		Settings: "[rules]\ncloth/long-float = warning, 2 threads\n",
	},
	Fixed: lint.Example{
		Draft:    "[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n",
		Settings: "[rules]\ncloth/long-float = warning, 2 threads\n",
	},
	SafeOff: "for cloth whose protected floats are its pattern, such as a wall hanging or fine overshot",
	Source:  "Osterkamp, for length = threads ÷ sett; the limits are a rule of thumb",
	Data: []lint.Field{{Key: "system", Text: "warp or weft"}, {Key: "side", Text: "face or back"},
		{Key: "threads", Text: "threads that the longest float crosses"},
		{Key: "length_mm", Text: "its length in mm, if the spacing is known"},
		{Key: "limit_mm", Text: "the limit in mm"}, {Key: "limit_threads", Text: "or in threads"},
		{Key: "thread", Text: "the first end or pick with that float"},
		{Key: "from", Text: "the first thread it crosses"}, {Key: "count", Text: "number of floats over the limit"}},
	Weave: true,
	Check: checkLongFloat,

	Keys:     []string{"system", "side"},
	Measures: []lint.Measure{{Key: "length_mm"}, {Key: "threads"}, {Key: "count"}},
}

func checkLongFloat(p *lint.Pass) {
	warp := floatMeasure(p, p.Figures.Picks(), &p.Draft.Weft, p.Draft.Picks())
	weft := floatMeasure(p, p.Figures.Sett(), &p.Draft.Warp, p.Draft.Ends())
	f := p.Floats(warp, weft)
	reportFloat(p, schema.Warp, "face", f.Warp.Face, warp)
	reportFloat(p, schema.Warp, "back", f.Warp.Back, warp)
	reportFloat(p, schema.Weft, "face", f.Weft.Face, weft)
	reportFloat(p, schema.Weft, "back", f.Weft.Back, weft)
}

// floatMeasure returns how to measure floats over the threads of a system, and their
// limit. A limit that is stated only in threads counts even if the spacing is known.
func floatMeasure(p *lint.Pass, s dressing.Spacing, crossed *schema.System, threads int) cloth.Measure {
	var m cloth.Measure
	switch {
	case s.FromDraft:
		m = cloth.Spaced(crossed, threads)
	case s.Known():
		m.Spacing = 10 / float64(s.Density)
	}
	length, lengthStated := p.Option("length")
	most, mostStated := p.Option("threads")
	if s.Known() && (lengthStated || !mostStated) {
		m.LimitMM = length
	} else {
		m.LimitThreads = int(most)
	}
	return m
}

func reportFloat(p *lint.Pass, system schema.SystemName, side string, f cloth.Float, m cloth.Measure) {
	if f.Over == 0 {
		return
	}
	thread, crossed := threadsOf(system)
	data := append(make(schema.Data, 0, 8), schema.Datum{Key: "system", Value: string(system)},
		schema.Datum{Key: "side", Value: side}, schema.Datum{Key: "threads", Value: f.Threads})
	long, limit := "", ""
	if f.Length > 0 {
		data = append(data, schema.Datum{Key: "length_mm", Value: f.Length})
		long = ", " + p.Units().Length(measure.Length(f.Length))
	}
	if m.LimitThreads == 0 {
		data = append(data, schema.Datum{Key: "limit_mm", Value: m.LimitMM})
		limit = p.Units().Length(measure.Length(m.LimitMM))
	} else {
		data = append(data, schema.Datum{Key: "limit_threads", Value: m.LimitThreads})
		limit = wording.Counted(m.LimitThreads, crossed)
	}
	data = append(data, schema.Datum{Key: "thread", Value: f.Thread}, schema.Datum{Key: "from", Value: f.From},
		schema.Datum{Key: "count", Value: f.Over})
	p.Report(p.Draft.ThreadPlace(system, f.Thread), data,
		"%s floats on the %s reach %s%s (limit %s), first at %s %d, %s %d; bind %s, or weave a sample",
		system, side, wording.Counted(f.Threads, crossed), long, limit, thread, f.Thread, crossed, f.From, floats(f.Over))
	p.Mark(system, f.Thread)
}

func floats(n int) string {
	if n == 1 {
		return "it"
	}
	return fmt.Sprintf("all %d", n)
}
