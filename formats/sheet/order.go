package sheet

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"

	"fettle/formats/diagram"
	"fettle/schema/dressing"
	"fettle/schema/wording"
)

// OrderText writes an order of yarn as plain text.
func OrderText(o *dressing.Order) []byte {
	t := &page{}
	t.heading("Yarn to order", '=')
	t.blank()
	drafts := table{heads: []string{"draft", "title"}}
	for _, d := range o.Drafts {
		drafts.add(plain(d.Path, longText), plain(d.Title, longText))
	}
	t.table(&drafts)
	t.blank()
	t.part(part{say: fmt.Sprintf("For %d %s of each draft, each with its own warp and loom waste.", o.Copies, wording.Plural(o.Copies, "copy", "copies"))})
	t.blank()
	if len(o.Yarns) == 0 {
		t.part(part{say: "These drafts take no yarn."})
		return t.Bytes()
	}
	yarns := table{heads: []string{"yarn", "needed", "weight", "in stock", "short", ""}, right: []bool{false, true, true, true, true}}
	weights := o.Units.Weights(heaviest(o))
	for _, y := range o.Yarns {
		row := []string{yarnName(y.Yarn, longText), "unknown", "", "", "", ""}
		if y.NeededM.Known {
			row[1] = o.Units.YarnNeeded(y.NeededM.Value)
		}
		if y.NeededG.Known {
			row[2] = weights.Sum(y.NeededG.Value)
		}
		if y.StockM.Known {
			row[3] = o.Units.YarnThere(y.StockM.Value)
		}
		if y.ShortM.Known && y.ShortM.Value > 0 {
			row[4] = o.Units.YarnShort(y.StockM.Value, y.NeededM.Value)
		}
		if y.Buy.Known && y.Buy.Value > 0 {
			row[5] = counted(int(y.Buy.Value), "package")
		}
		yarns.add(row...)
	}
	t.table(&yarns)
	return t.Bytes()
}

func heaviest(o *dressing.Order) float64 {
	most := 0.0
	for _, y := range o.Yarns {
		most = max(most, y.NeededG.Value)
	}
	return most
}

// OrderJSON writes an order as the JSON Schema "order" describes it.
func OrderJSON(o *dressing.Order) ([]byte, error) {
	text, err := wording.JSON(o, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("can't write the order as JSON: %w", err)
	}
	return append(text, '\n'), nil
}

// OrderCSV writes the yarns of an order as comma-separated values, under the names that they
// have in JSON. Unknown figures are empty. A name that a spreadsheet could read as a formula
// begins with an apostrophe.
func OrderCSV(o *dressing.Order) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	lines := [][]string{{"yarn", "needed_m", "needed_g", "stock_m", "short_m"}}
	for _, y := range o.Yarns {
		line := []string{notFormula(diagram.Legible(cmp.Or(y.Yarn, "yarn"), longText))}
		for _, f := range []dressing.Figure{y.NeededM, y.NeededG, y.StockM, y.ShortM} {
			figure := ""
			if f.Known {
				figure = wording.Decimal(f.Value, 6)
			}
			line = append(line, figure)
		}
		lines = append(lines, line)
	}
	if err := w.WriteAll(lines); err != nil {
		return nil, fmt.Errorf("can't write the order as CSV: %w", err)
	}
	return b.Bytes(), nil
}

// notFormula returns a text that spreadsheets don't compute.
func notFormula(text string) string {
	if slices.ContainsFunc([]string{"=", "+", "-", "@"}, func(mark string) bool { return strings.HasPrefix(text, mark) }) {
		return "'" + text
	}
	return text
}
