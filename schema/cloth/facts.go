package cloth

import (
	"encoding/hex"
	"fmt"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/wording"
)

// Facts holds the facts about a draft, as `fettle info --format json` writes them.
type Facts struct {
	Fettle     int             `json:"fettle"` // version of the shape, 1
	Path       string          `json:"path"`
	Format     string          `json:"format"`
	Title      string          `json:"title"`
	Ends       int             `json:"ends"`
	Picks      int             `json:"picks"`
	Shafts     Count           `json:"shafts"`   // a shaft with an end counts as used
	Treadles   Count           `json:"treadles"` // a treadle that is pressed counts as used
	Colors     Colors          `json:"colors"`
	PlainWeave PlainWeaveFacts `json:"plain_weave"`
	Weave      *Weave          `json:"weave"`                    // nil if the cloth is no single regular weave
	Cloth      *ClothFacts     `json:"cloth"`                    // nil if it is TooLarge
	LeftOut    string          `json:"cloth_left_out,omitempty"` // why it is nil

	shuttles, profile bool // several shuttles; a block profile
}

// Count is how many the draft declares (0 if it doesn't) and how many it uses.
type Count struct {
	Declared int `json:"declared"`
	Used     int `json:"used"`
}

// Colors counts the palette numbers of the threads.
type Colors struct {
	Warp int `json:"warp"`
	Weft int `json:"weft"`
}

// PlainWeaveFacts reports whether the threading gives plain weave.
type PlainWeaveFacts struct {
	Possible bool      `json:"possible"`
	Shafts   [][]int32 `json:"shafts"` // the two sets to lift, the one that lifts end 1 first; nil if not possible
	fails    int       // the first end that breaks it, 0 for none
}

func plainWeaveFacts(d *schema.Draft) PlainWeaveFacts {
	w := PlainWeaveOf(d)
	f := PlainWeaveFacts{Possible: w.Possible, fails: w.Fails}
	if w.Possible {
		f.Shafts = [][]int32{w.One, w.Other}
	}
	return f
}

// String says which shafts give plain weave, or why none do.
func (f PlainWeaveFacts) String() string {
	switch {
	case f.Possible:
		return "on shafts " + joinShafts(f.Shafts[0]) + " and " + joinShafts(f.Shafts[1])
	case f.fails > 0:
		return fmt.Sprintf("not possible: no shaft at end %d carries only every second end", f.fails)
	}
	return "not possible: there are no ends"
}

// joinShafts returns shafts that are lifted together, such as 1+3; "-" for none.
func joinShafts(shafts []int32) string { return wording.JoinNumbers(shafts, "+", "-") }

// ClothFacts holds the facts about the cloth.
type ClothFacts struct {
	SHA256        *string       `json:"sha256"` // nil over MostHashed crossings
	SHA256LeftOut string        `json:"sha256_left_out,omitempty"`
	WarpUp        float64       `json:"warp_up"`
	Balance       *float64      `json:"balance"` // ends per cm ÷ picks per cm; nil if a spacing is unknown
	LongestFloat  LongestFloat  `json:"longest_float"`
	Repeat        RepeatFacts   `json:"repeat"`
	HangsTogether bool          `json:"hangs_together"`
	Layers        int           `json:"layers"`
	LooseEnds     int           `json:"loose_ends"`
	LoosePicks    int           `json:"loose_picks"`
	Selvedge      SelvedgeFacts `json:"selvedge"`
}

// LongestFloat holds the longest floats from edge to edge, in threads.
type LongestFloat struct {
	Warp FloatSides `json:"warp"`
	Weft FloatSides `json:"weft"`
}

// FloatSides holds the longest floats of one system, in threads.
type FloatSides struct {
	Face int `json:"face"`
	Back int `json:"back"`
}

// RepeatFacts holds the size of the repeat.
type RepeatFacts struct {
	Ends  int `json:"ends"`
	Picks int `json:"picks"`
}

// SelvedgeFacts counts the turns of a single shuttle that miss the edge end.
type SelvedgeFacts struct {
	MissesFromLeft  int `json:"misses_from_left"`
	MissesFromRight int `json:"misses_from_right"`
}

// FactsOf returns the facts about a draft. The caller fills in path and format.
func FactsOf(d *schema.Draft) Facts {
	c := Of(d)
	f := Facts{
		Fettle: 1, Title: d.Texts.Title, Ends: c.Ends(), Picks: c.Picks(),
		Shafts:     Count{d.Shafts, len(d.Threading.Different())},
		Treadles:   Count{d.Treadles, len(d.Treadling.Different())},
		Colors:     Colors{colorsOf(&d.Warp, c.Ends()), colorsOf(&d.Weft, c.Picks())},
		PlainWeave: plainWeaveFacts(d),
		shuttles:   SeveralShuttles(d), profile: d.Profile == schema.Yes,
	}
	if c.TooLarge() {
		f.LeftOut = fmt.Sprintf("too large to compute: %s and %s are all different",
			wording.Counted(len(c.warp.first), "end"), wording.Counted(len(c.weft.first), "pick"))
	} else {
		f.Cloth, f.Weave = clothFacts(c), c.Weave()
	}
	return f
}

func clothFacts(c *Cloth) *ClothFacts {
	floats := c.Floats(FloatQuery{Cuts: c.draft.Cuts()})
	ends, picks := c.Repeat()
	edge := c.Selvedge()
	sum, leftOut := hashOf(c)
	return &ClothFacts{
		SHA256: sum, SHA256LeftOut: leftOut, WarpUp: c.warpUp(), Balance: balanceOf(c.draft),
		LongestFloat: LongestFloat{
			Warp: FloatSides{floats.Warp.Face.Threads, floats.Warp.Back.Threads},
			Weft: FloatSides{floats.Weft.Face.Threads, floats.Weft.Back.Threads}},
		Repeat:        RepeatFacts{ends, picks},
		HangsTogether: c.hangsTogether(), Layers: c.Layers(),
		LooseEnds: len(c.Loose(schema.Warp)), LoosePicks: len(c.Loose(schema.Weft)),
		Selvedge: SelvedgeFacts{edge.MissesFromLeft, edge.MissesFromRight},
	}
}

// MostHashed is the largest number of crossings (ends × picks) that FactsOf hashes.
// Hashing expands the whole cloth, and a small file can declare a huge one.
const MostHashed = 100_000_000

// hashOf returns the identity of a cloth in hexadecimal, or why it has none.
func hashOf(c *Cloth) (sum *string, leftOut string) {
	if n := c.Ends() * c.Picks(); n > MostHashed {
		return nil, fmt.Sprintf("the cloth has %d crossings; fettle hashes up to %d", n, MostHashed)
	}
	id := c.Identity()
	text := hex.EncodeToString(id[:])
	return &text, ""
}

func colorsOf(s *schema.System, threads int) int {
	seen := map[int]bool{}
	for n := 1; n <= min(threads, len(s.Colors)+1); n++ {
		if c := s.ColorOf(n); c != 0 {
			seen[c] = true
		}
	}
	return len(seen)
}

// String returns the facts as text for people.
func (f Facts) String() string {
	var b strings.Builder
	line := func(name, format string, args ...any) {
		fmt.Fprintf(&b, "  %-17s %s\n", name, fmt.Sprintf(format, args...))
	}
	b.WriteString(wording.Plain(f.Path, len(f.Path)))
	if f.Title != "" {
		b.WriteString(": " + wording.Plain(f.Title, 200))
	}
	b.WriteByte('\n')
	c := f.Cloth
	if f.profile {
		line("block profile", "each end and pick stands for a block of threads; the counts below are blocks")
	}
	line("threads", "%s, %s", wording.Counted(f.Ends, "end"), wording.Counted(f.Picks, "pick"))
	line("shafts", "%s", f.Shafts)
	line("treadles", "%s", f.Treadles)
	line("colors", "%s", f.Colors)
	if !f.profile {
		line("plain weave", "%s", f.PlainWeave)
	}
	if c == nil {
		line("cloth", "%s", f.LeftOut)
		return b.String()
	}
	line("weave", "%s", f.Weave)
	line("repeat", "%s, %s", wording.Counted(c.Repeat.Ends, "end"), wording.Counted(c.Repeat.Picks, "pick"))
	line("longest floats", "warp %d on the face and %d on the back, weft %d on the face and %d on the back",
		c.LongestFloat.Warp.Face, c.LongestFloat.Warp.Back, c.LongestFloat.Weft.Face, c.LongestFloat.Weft.Back)
	line("warp", "%s %% of the face, %s %% of the back", wording.Decimal(100*c.WarpUp, 1), wording.Decimal(100*(1-c.WarpUp), 1))
	if c.Balance != nil {
		ends := wording.Decimal(*c.Balance, 2) + " ends"
		if ends == "1 ends" {
			ends = "1 end"
		}
		line("balance", "%s to a pick, for the same length", ends)
	}
	line("holds together", "%s", f.heldTogether())
	line("selvedge", "%s", f.selvedge())
	if c.SHA256 != nil {
		line("cloth", "%s", *c.SHA256)
	} else {
		line("cloth", "no fingerprint: %s", c.SHA256LeftOut)
	}
	return b.String()
}

func (f Facts) heldTogether() string {
	c := f.Cloth
	if c.HangsTogether {
		return "yes"
	}
	return fmt.Sprintf("no: layers %d, loose ends %d, loose picks %d", c.Layers, c.LooseEnds, c.LoosePicks)
}

// selvedge gives no count for several shuttles: each turns where its color recurs.
func (f Facts) selvedge() string {
	if f.shuttles {
		return "not counted: picks of several colors need several shuttles"
	}
	s := f.Cloth.Selvedge
	return fmt.Sprintf("one shuttle misses %s starting from the left, %d from the right",
		wording.Counted(s.MissesFromLeft, "turn"), s.MissesFromRight)
}

// String returns the number of colors in the warp and in the weft.
func (c Colors) String() string {
	if c == (Colors{}) {
		return "none stated"
	}
	said := func(n int) string {
		if n == 0 {
			return "none stated"
		}
		return strconv.Itoa(n)
	}
	return fmt.Sprintf("%s in the warp, %s in the weft", said(c.Warp), said(c.Weft))
}

// String returns the numbers declared and used.
func (c Count) String() string {
	if c.Declared == 0 {
		return fmt.Sprintf("%d used", c.Used)
	}
	return fmt.Sprintf("%d declared, %d used", c.Declared, c.Used)
}
