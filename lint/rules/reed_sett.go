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
	Title: "the reed can't give the sett",
	Why: "A reed gives a sett by the ends in each dent, in a repeating order: 1-1-2 in a 12-dent reed is 16 ends per inch. " +
		"If no order fits, the cloth is wider or narrower, and looser or firmer, than you planned.",
	Counts: "Sett = dents per inch × ends in the order ÷ dents in the order. fettle tries orders of up to eight dents and accepts half a percent. " +
		"If none comes that near, it takes the shortest order within three percent, and the finding is a note. If none is within three percent, it takes the nearest order. " +
		"Both limits are a rule of thumb. They are strict: a beaten and washed cloth can differ from its plan by more than half a percent.",
	Remedy:  "Use the sett that the order gives, or another reed.",
	Default: schema.Warning,
	Faulty:  lint.Example{Settings: "[reed]\ndents = 10/in\n[project]\nsett = 10.6/in\n"},
	Fixed:   lint.Example{Settings: "[reed]\ndents = 10/in\n[project]\nsett = 12.5/in\n"},
	SafeOff: "if the width and firmness of the cloth don't matter",
	Source:  "sleying charts; the half and the three percent are a rule of thumb",
	Data: []lint.Field{{Key: "sett_per_cm", Text: "the sett you want, in ends per cm"},
		{Key: "nearest_per_cm", Text: "the sett that the order gives"}, {Key: "order", Text: "ends in each dent"},
		{Key: "off_percent", Text: "the difference in percent"}},
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
	if sley.Fair() {
		severity = schema.Note
	}
	u, off := p.Units(), sley.OffPercent()
	wanted := u.Density(sett.Density)
	if sett.Uneven {
		wanted += ", the mean of an uneven spacing"
	}
	gives := fmt.Sprintf("sleyed %s it gives %s", dressing.OrderText(sley.Order()), u.Density(sley.Sett()))
	if sley.Nearest() == sley {
		gives = fmt.Sprintf("the nearest is %s, sleyed %s", u.Density(sley.Sett()), dressing.OrderText(sley.Order()))
	}
	message := fmt.Sprintf("a reed of %s can't give %s: %s, %s %% %s; %s", u.Dents(sley.Reed), wanted, gives,
		wording.Decimal(math.Abs(off), 1), map[bool]string{true: "closer", false: "more open"}[off > 0], otherReed(p, off))
	p.ReportSeverity(severity, warpPlace(p),
		schema.Data{{Key: "sett_per_cm", Value: float64(sett.Density)}, {Key: "nearest_per_cm", Value: float64(sley.Sett())},
			{Key: "order", Value: sley.Order()}, {Key: "off_percent", Value: off}}, "%s", message)
}

// farOff is the percentage from which a sett makes another cloth.
const farOff = 50

// otherReed names another reed of the weaver that gives the sett, or says what to do
// without one.
func otherReed(p *lint.Pass, off float64) string {
	reed, order, ok := p.Figures.OtherReed()
	if !ok && math.Abs(off) > farOff {
		return "check that both are stated correctly"
	}
	if !ok {
		return "use that sett, or another reed"
	}
	return fmt.Sprintf("reed %s sleyed %s gives %s", wording.Quote(reed.Name), dressing.OrderText(order.Order()), p.Units().Density(order.Sett()))
}
