package clean

import (
	"slices"
	"testing"

	"fettle/schema"
)

// twoDrafts are a draft and a copy of it.
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
		threads, rest []string
	}{
		{"none", func(d *schema.Draft) {}, nil, nil},
		{"declared shafts and treadles", func(d *schema.Draft) { d.Shafts, d.Treadles = 9, 0 }, nil, nil},
		{"a shed unstated is rising", func(d *schema.Draft) { d.Shed = schema.Rising }, nil, nil},
		{"other shafts, the same cloth", func(d *schema.Draft) {
			d.Threading, d.Tieup = schema.Singles(2, 1, 2), schema.Singles(2, 1)
		}, nil, nil},
		{"a lift plan for the tie-up", func(d *schema.Draft) {
			d.LiftPlan, d.Tieup, d.Treadling = schema.Singles(1, 2), schema.Rows{}, schema.Rows{}
		}, nil, nil},
		{"the colors told one by one", func(d *schema.Draft) { d.Warp.Color, d.Warp.Colors = 2, []int32{1, 1, 1} }, nil, nil},
		{"a comment more", func(d *schema.Draft) { d.Carried.Comments = append(d.Carried.Comments, schema.Comment{Text: "; y"}) }, nil, nil},

		{"a line that became a comment with its remark", func(d *schema.Draft) { d.Carried.Comments[0].Text = "; Shafts=4 ;x" }, nil, nil},

		{"the other shed", func(d *schema.Draft) { d.Shed = schema.Sinking }, []string{"another cloth"}, nil},
		{"another threading", func(d *schema.Draft) { d.Threading = schema.Singles(1, 2, 2) }, []string{"another cloth"}, nil},
		{"an end fewer", func(d *schema.Draft) { d.Threading, d.Warp.Threads = schema.Singles(1, 2), 2 }, []string{"2 ends in place of 3", "another cloth"}, nil},
		{"a pick more", func(d *schema.Draft) { d.Weft.Threads = 3 }, []string{"3 picks in place of 2", "another cloth"}, nil},
		{"a warp color", func(d *schema.Draft) { d.Warp.Colors = []int32{2} }, []string{"other warp colors"}, nil},
		{"the weft color", func(d *schema.Draft) { d.Weft.Color = 1 }, []string{"other weft colors"}, nil},
		{"a spacing", func(d *schema.Draft) { d.Warp.Spacings = []float64{0.2} }, []string{"other warp spacings or thicknesses"}, nil},
		{"a thickness", func(d *schema.Draft) { d.Weft.Thickness = 0.2 }, []string{"other weft spacings or thicknesses"}, nil},
		{"the title", func(d *schema.Draft) { d.Texts.Title = "Scarf" }, nil, []string{"'Scarf' for the title 'Towel'"}},
		{"the author", func(d *schema.Draft) { d.Texts.Author = "A" }, nil, []string{"'A' for the author ''"}},
		{"a note", func(d *schema.Draft) { d.Notes = nil }, nil, []string{"other notes"}},
		{"the palette", func(d *schema.Draft) { d.Palette[1] = schema.Color{} }, nil, []string{"another palette"}},
		{"a profile", func(d *schema.Draft) { d.Profile = schema.Yes }, nil, []string{"another word on whether it is a profile"}},
		{"the project", func(d *schema.Draft) { d.Settings = nil }, nil, []string{"another project"}},
		{"an ignore", func(d *schema.Draft) { d.Ignores[0].Reason = "" }, nil, []string{"other ignores"}},
		{"one of two comments alike", func(d *schema.Draft) { d.Carried.Comments = d.Carried.Comments[:1] }, nil, []string{"fewer comments"}},
		{"a remark gone", func(d *schema.Draft) { d.Carried.Comments[0].Text = "; Shafts=4" }, nil, []string{"fewer comments"}},
		{"another comment", func(d *schema.Draft) { d.Carried.Comments[1].Text = "; y" }, nil, []string{"fewer comments"}},
		{"a value kept", func(d *schema.Draft) { d.Carried.Values[0].Value = "*" }, nil, []string{"fewer values kept as they stand"}},
		{"a private section", func(d *schema.Draft) { d.Carried.Sections[0].Lines = nil }, nil, []string{"other sections kept as they stand"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			a, b := twoDrafts()
			c.change(b)
			threads, rest := differences(a, b)
			if !slices.Equal(threads, c.threads) || !slices.Equal(rest, c.rest) {
				t.Errorf("%q and %q, want %q and %q", threads, rest, c.threads, c.rest)
			}
		})
	}
}
