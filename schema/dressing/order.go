package dressing

import (
	"fmt"

	"fettle/schema/measure"
)

// Order is the yarn that several drafts take together, in the shape that `plan --total
// --format json` writes. The zero value, with Copies set, is an order without drafts.
type Order struct {
	Fettle int          `json:"fettle"` // version of the shape, 1
	Copies int          `json:"copies"` // of each draft, each with a warp of its own
	Drafts []OrderDraft `json:"drafts"`
	Yarns  []OrderYarn  `json:"yarns"`

	Units measure.Units `json:"-"` // of the first draft
	rows  map[orderKey]int
}

// OrderDraft is a draft in an order.
type OrderDraft struct {
	Path  string `json:"path"`
	Title string `json:"title"`
}

// OrderYarn is a yarn in an order. It names a color if no yarn is stated for that.
type OrderYarn struct {
	Yarn    string `json:"yarn"`
	NeededM Figure `json:"needed_m"`
	NeededG Figure `json:"needed_g"`
	StockM  Figure `json:"stock_m"`
	ShortM  Figure `json:"short_m"` // 0 if the stock is enough

	Stock string `json:"-"` // as stated
	Buy   Figure `json:"-"` // whole packages that are short
	size  Figure // metres in a package
}

// orderKey tells yarns apart: drafts may state the same name differently.
type orderKey struct {
	name  string
	grist measure.Grist
	stock measure.Stock
}

// NewOrder returns an order for so many copies of each draft.
func NewOrder(copies int) *Order {
	return &Order{Fettle: 1, Copies: copies, Drafts: []OrderDraft{}, Yarns: []OrderYarn{}, rows: map[orderKey]int{}}
}

// Add adds all copies of a draft, with its warp, loom waste and weft. The error is a
// TooManyEnds or a WarpError, and then nothing is added.
func (o *Order) Add(f *Figures, path string) error {
	if many, refused := f.TooManyEnds(); refused {
		return many
	}
	if wrong, refused := f.warpError(); refused {
		return wrong
	}
	if len(o.Drafts) == 0 {
		o.Units = f.Setup.Units
	}
	o.Drafts = append(o.Drafts, OrderDraft{path, f.Draft.Texts.Title})
	for _, u := range f.YarnUses() {
		y := &f.Setup.Yarns[u.Yarn]
		row := o.row(orderKey{y.Name, y.Grist, y.Stock}, y.Name)
		if size, ok := y.Stock.PackageMetres(y.Grist); ok {
			row.size = known(size)
		}
		row.StockM, row.Stock = u.Stock, y.Stock.Text
		o.need(row, u.Metres, u.Grams)
	}
	for _, uses := range [][]ColorUse{f.WarpUse(), f.WeftUse()} {
		for _, u := range uses {
			if u.Yarn < 0 {
				name := f.withoutYarn(u.Color)
				o.need(o.row(orderKey{name: name}, name), u.Metres, Figure{})
			}
		}
	}
	return nil
}

// withoutYarn names a color for which no yarn is stated.
func (f *Figures) withoutYarn(color int) string {
	switch hex := f.Hex(color); {
	case hex != "":
		return hex + ", no yarn stated"
	case color > 0:
		return fmt.Sprintf("color %d, no yarn stated", color)
	}
	return "no color, no yarn stated"
}

// row returns the row of a yarn. The first use adds it.
func (o *Order) row(key orderKey, name string) *OrderYarn {
	i, seen := o.rows[key]
	if !seen {
		i = len(o.Yarns)
		o.rows[key] = i
		o.Yarns = append(o.Yarns, OrderYarn{Yarn: name, NeededM: known(0), NeededG: known(0)})
	}
	return &o.Yarns[i]
}

// need adds the yarn for all copies of a draft. A sum is unknown if a part of it is.
func (o *Order) need(row *OrderYarn, metres, grams Figure) {
	copies := float64(o.Copies)
	row.NeededM, row.NeededG = row.NeededM.plus(metres.scaled(copies)), row.NeededG.plus(grams.scaled(copies))
	row.ShortM, row.Buy = Figure{}, Figure{}
	if row.NeededM.Known && row.StockM.Known {
		row.ShortM = known(max(row.NeededM.Value-row.StockM.Value, 0))
	}
	if row.ShortM.Known && row.size.Known && row.size.Value > 0 {
		row.Buy = known(roundUp(row.ShortM.Value / row.size.Value))
	}
}

// StatedTwice returns the names of yarns that drafts state with another grist or stock, in
// order of appearance. Such a yarn has several rows.
func (o *Order) StatedTwice() []string {
	var names []string
	count := map[string]int{}
	for _, y := range o.Yarns {
		if count[y.Yarn]++; count[y.Yarn] == 2 {
			names = append(names, y.Yarn)
		}
	}
	return names
}

// UnknownYarn returns the settings without which the amount of yarn of a draft is unknown.
func (f *Figures) UnknownYarn() []string {
	var keys []string
	unknown := false
	for _, uses := range [][]ColorUse{f.WarpUse(), f.WeftUse()} {
		for _, u := range uses {
			unknown = unknown || !u.Metres.Known
		}
	}
	if !unknown {
		return nil
	}
	for _, m := range f.missing() {
		switch m.Key {
		case "[project] finished length", "[project] sett", "[project] picks":
			keys = append(keys, m.Key)
		}
	}
	return keys
}
