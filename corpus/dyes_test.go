package corpus

import "fettle/schema"

// dye is a color of one of the yarns in guild/fettle.ini.
type dye string

const (
	natural  dye = "#f2ead8" // 8/2 cotton
	indigo   dye = "#2c4361"
	madder   dye = "#a4452f"
	weld     dye = "#d3b54a"
	walnut   dye = "#6b4f3a"
	bleached dye = "#ece6d6" // 16/2 linen
	grey     dye = "#a89f8d"

	fineNatural      dye = "#efe9dc" // 16/2 cotton
	fineIndigoCotton dye = "#2a3f5c"
	fineWeld         dye = "#cfae52"

	fleece   dye = "#b5b0a6" // 2/10 worsted
	dark     dye = "#4a423b"
	lichen   dye = "#b98a4e"
	weldWool dye = "#cdb14f"

	fineSilver dye = "#c4c0b8" // 2/24 worsted
	fineIndigo dye = "#33506e"
	fineMadder dye = "#b2553c"
)

// color returns the dye as an entry of a palette.
func (d dye) color() schema.Color {
	c, err := schema.ParseColor(string(d))
	if err != nil {
		return schema.Color{}
	}
	return c
}

// onLoom returns the settings file of a draft for another loom than the guild's.
func onLoom(loom string, project ...string) string {
	text := "include = looms/" + loom + ".ini\n\n[project]\n"
	for _, line := range project {
		text += line + "\n"
	}
	return text
}
