package clean

import (
	"slices"
	"strings"
	"testing"

	"fettle/corpus/golden"
	"fettle/schema"
)

// twoDrafts returns a draft and a copy of it.
func twoDrafts() (a, b *schema.Draft) {
	one := func() *schema.Draft {
		return &schema.Draft{
			Texts: schema.Texts{Title: "Towel"}, Notes: []string{"close"}, Shafts: 2, Treadles: 2,
			Palette: []schema.Color{schema.RGB(1, 2, 3), schema.RGB(4, 5, 6)}, Threading: schema.Singles(1, 2, 1), Tieup: schema.Singles(1, 2), Treadling: schema.Singles(1, 2),
			Warp: schema.System{Threads: 3, Color: 1, Spacing: 0.1, Unit: schema.Centimetres}, Weft: schema.System{Threads: 2, Color: 2},
			Settings: []schema.Setting{{Section: "project", Key: "sett", Value: "8/cm"}}, Ignores: []schema.Ignore{{Rule: "a/b", Reason: "so"}},
			Carried: schema.Carried{Comments: []schema.Comment{{Text: "; x"}, {Text: "; x"}}, Values: []schema.Setting{{Section: "WARP", Key: "Symbol", Value: "#"}},
				Sections: []schema.TextSection{{Name: "PRIVATE a", Lines: []string{"b=c"}}}},
		}
	}
	return one(), one()
}

func TestDifferences(t *testing.T) {
	for _, c := range []struct {
		name          string
		change        func(d *schema.Draft)
		threads, rest int // how many differences of either kind
	}{
		{"none", func(d *schema.Draft) {}, 0, 0},
		{"declared shafts and treadles", func(d *schema.Draft) { d.Shafts, d.Treadles = 9, 0 }, 0, 0},
		{"an unstated shed is rising", func(d *schema.Draft) { d.Shed = schema.Rising }, 0, 0},
		{"other shafts, the same cloth", func(d *schema.Draft) {
			d.Threading, d.Tieup = schema.Singles(2, 1, 2), schema.Singles(2, 1)
		}, 0, 0},
		{"a lift plan for the tie-up", func(d *schema.Draft) {
			d.LiftPlan, d.Tieup, d.Treadling = schema.Singles(1, 2), schema.Rows{}, schema.Rows{}
		}, 0, 0},
		{"the colors listed one by one", func(d *schema.Draft) { d.Warp.Color, d.Warp.Colors = 2, []int32{1, 1, 1} }, 0, 0},
		{"one more comment", func(d *schema.Draft) { d.Carried.Comments = append(d.Carried.Comments, schema.Comment{Text: "; y"}) }, 0, 0},

		{"a line that became a comment with its remark", func(d *schema.Draft) { d.Carried.Comments[0].Text = "; Shafts=4 ;x" }, 0, 0},

		{"the other shed", func(d *schema.Draft) { d.Shed = schema.Sinking }, 1, 0},
		{"another threading", func(d *schema.Draft) { d.Threading = schema.Singles(1, 2, 2) }, 1, 0},
		{"one end less", func(d *schema.Draft) { d.Threading, d.Warp.Threads = schema.Singles(1, 2), 2 }, 2, 0},
		{"one more pick", func(d *schema.Draft) { d.Weft.Threads = 3 }, 2, 0},
		{"a warp color", func(d *schema.Draft) { d.Warp.Colors = []int32{2} }, 1, 0},
		{"the weft color", func(d *schema.Draft) { d.Weft.Color = 1 }, 1, 0},
		{"a spacing", func(d *schema.Draft) { d.Warp.Spacings = []float64{0.2} }, 1, 0},
		{"a thickness", func(d *schema.Draft) { d.Weft.Thickness = 0.2 }, 1, 0},
		{"the title", func(d *schema.Draft) { d.Texts.Title = "Scarf" }, 0, 1},
		{"the author", func(d *schema.Draft) { d.Texts.Author = "A" }, 0, 1},
		{"a note", func(d *schema.Draft) { d.Notes = nil }, 0, 1},
		{"the palette", func(d *schema.Draft) { d.Palette[1] = schema.Color{} }, 0, 1},
		{"a profile", func(d *schema.Draft) { d.Profile = schema.Yes }, 0, 1},
		{"the project", func(d *schema.Draft) { d.Settings = nil }, 0, 1},
		{"an ignore", func(d *schema.Draft) { d.Ignores[0].Reason = "" }, 0, 1},
		{"one of two equal comments", func(d *schema.Draft) { d.Carried.Comments = d.Carried.Comments[:1] }, 0, 1},
		{"a remark lost", func(d *schema.Draft) { d.Carried.Comments[0].Text = "; Shafts=4" }, 0, 1},
		{"another comment", func(d *schema.Draft) { d.Carried.Comments[1].Text = "; y" }, 0, 1},
		{"a value kept", func(d *schema.Draft) { d.Carried.Values[0].Value = "*" }, 0, 1},
		{"a private section", func(d *schema.Draft) { d.Carried.Sections[0].Lines = nil }, 0, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			a, b := twoDrafts()
			c.change(b)
			threads, rest := differences(a, b)
			if len(threads) != c.threads || len(rest) != c.rest {
				t.Errorf("%q and %q, want %d and %d", threads, rest, c.threads, c.rest)
			}
			if list := slices.Concat(threads, rest); list != nil {
				golden.Words(t, strings.Join(list, "\n"))
			}
		})
	}
}
