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
	Title: "a thread floats over more than a finger should catch",
	Why: "Where a thread crosses many others without being bound, it lies loose on the cloth: rings, fingers and buttons catch it, and it wears first. " +
		"A float crosses at least two threads: one thread, however thick, is never a long float. " +
		"How long is too long depends on the use, half an inch (12.7 mm) for household cloth and less for clothing, so the limit is a rule of thumb: weave a sample. " +
		"Floats are measured in millimetres where the spacing of the threads they cross is known, else counted in threads, warp and weft each for itself.",
	Default: schema.Warning,
	Options: []lint.Option{
		{Name: "length", Kind: lint.Length, Default: 12.7, Text: "the longest float allowed, where the spacing of the threads it crosses is known"},
		{Name: "threads", Kind: lint.Threads, Default: 9, Text: "the most threads a float may cross, where the spacing is not known; stated without a length, everywhere"},
	},
	Faulty: lint.Example{
		Draft:    "[TIEUP]\n1=1,2,3\n2=2,3,4\n3=1,3,4\n4=1,2,4\n",
		Settings: "[rules]\ncloth/long-float = warning, 2 threads\n",
	},
	Mended: lint.Example{
		Draft:    "[TIEUP]\n1=1,2\n2=2,3\n3=3,4\n4=1,4\n",
		Settings: "[rules]\ncloth/long-float = warning, 2 threads\n",
	},
	SafeOff: "for cloth whose floats are its pattern and lie protected, such as a wall hanging or an overshot coverlet at a fine sett",
	Source:  "P. Osterkamp, weaving tips (2004–2023), for length = threads ÷ sett; the limits are common practice, no source",
	Data: []lint.Field{{Key: "system", Text: "warp or weft"}, {Key: "side", Text: "face or back"},
		{Key: "threads", Text: "threads that the longest float crosses"},
		{Key: "length_mm", Text: "its length in mm, where the spacing is known"},
		{Key: "limit_mm", Text: "the limit it was held to, in mm"}, {Key: "limit_threads", Text: "or in threads"},
		{Key: "thread", Text: "the end or pick that floats, the first of them"},
		{Key: "from", Text: "the first thread it crosses"}, {Key: "count", Text: "floats over the limit"}},
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

// floatMeasure says how floats over the threads of a system are measured, and
// the limit they are held to. A limit stated in threads alone holds even where
// the spacing is known.
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
	data := schema.Data{{Key: "system", Value: string(system)}, {Key: "side", Value: side}, {Key: "threads", Value: f.Threads}}
	long, limit := "", wording.Counted(m.LimitThreads, crossed)
	if f.Length > 0 {
		data = append(data, schema.Datum{Key: "length_mm", Value: f.Length})
		long = ", " + p.Units().Length(measure.Length(f.Length))
	}
	if m.LimitThreads == 0 {
		data = append(data, schema.Datum{Key: "limit_mm", Value: m.LimitMM})
		limit = p.Units().Length(measure.Length(m.LimitMM))
	} else {
		data = append(data, schema.Datum{Key: "limit_threads", Value: m.LimitThreads})
	}
	data = append(data, schema.Datum{Key: "thread", Value: f.Thread}, schema.Datum{Key: "from", Value: f.From},
		schema.Datum{Key: "count", Value: f.Over})
	p.Report(p.Draft.ThreadPlace(system, f.Thread), data,
		"%s floats on the %s cross up to %s%s, over the limit of %s: first %s %d from %s %d, %s in all; bind them, or weave a sample and see whether they catch",
		system, side, wording.Counted(f.Threads, crossed), long, limit, thread, f.Thread, crossed, f.From, floats(f.Over))
}

func floats(n int) string {
	if n == 1 {
		return "1 such float"
	}
	return fmt.Sprintf("%d floats too long", n)
}
