package rules

import (
	"fmt"
	"math"

	"fettle/lint"
	"fettle/schema"
	"fettle/schema/dressing"
	"fettle/schema/wording"
)

var reedSett = lint.Rule{
	ID:    "reed/sett",
	Title: "no way of sleying this reed gives the sett",
	Why: "A reed gives a sett only by so many ends in each dent, in an order that is repeated: 1-1-2 in a 12-dent reed is 16 ends an inch. " +
		"Where no order of at most eight dents comes within half a percent, the cloth turns out wider or narrower and looser or firmer than drafted. " +
		"The finding is an error where the sett was stated for the project and nothing within three percent can be had.",
	Default: schema.Warning,
	Faulty:  lint.Example{Settings: "[reed]\ndents = 10/in\n[project]\nsett = 11.5/in\n"},
	Mended:  lint.Example{Settings: "[reed]\ndents = 10/in\n[project]\nsett = 12.5/in\n"},
	SafeOff: "where the sett is only a wish and the cloth may be as wide as it likes",
	Source: "ends an inch = dents an inch × ends in the order ÷ dents in the order, as weaving schools' sleying charts have it; " +
		"the half and the three percent are common practice, no source",
	Data: []lint.Field{{Key: "sett_per_cm", Text: "the sett asked for, in ends per cm"},
		{Key: "nearest_per_cm", Text: "the nearest that the reed gives"}, {Key: "order", Text: "ends in each dent, for that"},
		{Key: "off_percent", Text: "how far off it is, in percent of the sett asked for"}},
	Check: checkReedSett,

	Keys:     []string{},
	Measures: []lint.Measure{{Key: "off_percent", Both: true}},
}

func checkReedSett(p *lint.Pass) {
	sett := p.Figures.Sett()
	sley, ok := p.Figures.Sleying()
	if !ok || sley.Exact() {
		return
	}
	severity := schema.Warning
	if !sley.Fair() && !sett.FromDraft {
		severity = schema.Error
	}
	u, off := p.Units(), sley.OffPercent()
	message := fmt.Sprintf("the sett of %s cannot be had from a reed of %s: the nearest is %s, sleyed %s, %s %% %s",
		u.Density(sett.Density), u.Dents(p.Setup.Reeds[0].Dents), u.Density(sley.Sett()), dressing.OrderText(sley.Order()),
		wording.Decimal(math.Abs(off), 1), map[bool]string{true: "closer", false: "more open"}[off > 0])
	if sett.Uneven {
		message += "; the draft's spacing is uneven, and this is its mean"
	}
	message += otherReed(p, off)
	p.ReportSeverity(severity, warpPlace(p),
		schema.Data{{Key: "sett_per_cm", Value: float64(sett.Density)}, {Key: "nearest_per_cm", Value: float64(sley.Sett())},
			{Key: "order", Value: sley.Order()}, {Key: "off_percent", Value: off}}, "%s", message)
}

// farOff is from how many percent on a sett is not worth taking for another.
const farOff = 50

// otherReed says which other reed of the weaver's would serve, or what to do
// without one.
func otherReed(p *lint.Pass, off float64) string {
	reed, order, ok := p.Figures.OtherReed()
	if !ok && math.Abs(off) > farOff {
		return "; that is another cloth: look whether the sett and the reed are as they are stated"
	}
	if !ok {
		return "; take that sett, or another reed"
	}
	return fmt.Sprintf("; the reed %s sleyed %s gives %s", wording.Quote(reed.Name), dressing.OrderText(order.Order()), p.Units().Density(order.Sett()))
}
