package measure

import (
	"fmt"
	"strings"

	"fettle/schema/wording"
)

// Limits of a stock. They keep sums finite.
const (
	mostPackages = 100_000
	mostGrams    = 1e9
	mostMetres   = 1e9
	leastStock   = 1e-3 // grams or metres in a package
)

// Stock is how much of a yarn you have: a number of packages, and the weight or
// the length of each. The zero value is unknown.
type Stock struct {
	Packages int
	Grams    float64 // in each package; 0 if the stock is in metres
	Metres   float64 // in each package; 0 if the stock is in grams
	InPounds bool    // stated in ounces or pounds
	Text     string  // as it was stated
}

// Known reports whether the stock was stated.
func (s Stock) Known() bool { return s.Packages > 0 }

// PackageMetres returns the metres in a package. known is false if the stock is a
// weight and the grist is unknown.
func (s Stock) PackageMetres(g Grist) (metres float64, known bool) {
	switch {
	case !s.Known():
		return 0, false
	case s.Metres > 0:
		return s.Metres, true
	case g.Known():
		return s.Grams / g.Tex * 1000, true
	}
	return 0, false
}

// ParseStock reads a stock of yarn: 500 g, 2 x 250 g, 1.2 kg, 8 oz, 1 lb 4 oz,
// 3 x 1000 m, 900 yd.
func ParseStock(s string) (Stock, error) {
	p, err := readWords(s)
	if err != nil {
		return Stock{}, err
	}
	packages := p.packages()
	stock, err := p.stock()
	if err != nil {
		return Stock{}, err
	}
	if packages > mostPackages || !isCount(packages) {
		return Stock{}, fmt.Errorf("%s: the packages must be a whole number from 1 to %d", wording.Quote(s), mostPackages)
	}
	if stock.Grams > mostGrams || stock.Metres > mostMetres {
		return Stock{}, fmt.Errorf("%s is too much; a package can be at most 1,000,000 kg or km", wording.Quote(s))
	}
	if max(stock.Grams, stock.Metres) < leastStock {
		return Stock{}, fmt.Errorf("%s is too little; a package must be at least 1 mg or 1 mm", wording.Quote(s))
	}
	stock.Packages, stock.Text = int(packages), strings.Join(strings.Fields(s), " ")
	return stock, nil
}

// packages reads "2 x" and returns 2; without that it returns 1.
func (p *words) packages() float64 {
	if len(p.list) < 2 || p.list[1] != "x" {
		return 1
	}
	n, _ := p.amount()
	p.take("x")
	return n
}

func (p *words) stock() (Stock, error) {
	inLength, inPounds := *p, len(p.list) > 0 && poundsOrOunces(p.list[len(p.list)-1])
	grams, weighed := p.amounts(weightUnit)
	mm, measured := inLength.amounts(lengthUnit)
	switch {
	case weighed == allRead && grams > 0:
		return Stock{Grams: grams, InPounds: inPounds}, nil
	case measured == allRead && mm > 0:
		return Stock{Metres: mm / 1000}, nil
	case weighed == noUnit && measured == noUnit:
		return Stock{}, fmt.Errorf("%s needs a weight or a length: g, kg, oz, lb, m or yd", wording.Quote(p.text))
	}
	return Stock{}, fmt.Errorf("%s isn't a stock like 2 x 250 g, 500 g, 1 lb 4 oz, 3 x 1000 m or 900 yd", wording.Quote(p.text))
}
