package cloth

import (
	"fmt"
	"math/bits"
	"testing"

	"fettle/schema"
)

// bitGrid reads a grid from the bits of a number, pick by pick.
func bitGrid(picks, ends int, n uint32) grid {
	g := make(grid, picks)
	for p := range g {
		g[p] = make([]bool, ends)
		for e := range g[p] {
			g[p][e] = n>>(p*ends+e)&1 != 0
		}
	}
	return g
}

// proper reports whether every row and column of a grid of bits has both colors.
func proper(picks, ends int, n uint32) bool {
	row := uint32(1)<<ends - 1
	all, any := row, uint32(0)
	for p := range picks {
		r := n >> (p * ends) & row
		if r == 0 || r == row {
			return false
		}
		all &= r
		any |= r
	}
	return all == 0 && any == row
}

// membersOf returns how many grids shifts and reversals make of a grid, or 0 if one of
// them is smaller. So each class is counted once.
func membersOf(picks, ends int, n uint32) int {
	same := 0
	row := uint32(1)<<ends - 1
	for flips := range 4 {
		m := n
		if flips&1 != 0 {
			m = 0
			for p := range picks {
				r := n >> (p * ends) & row
				m |= bits.Reverse32(r) >> (32 - ends) << (p * ends)
			}
		}
		if flips&2 != 0 {
			was := m
			m = 0
			for p := range picks {
				m |= was >> (p * ends) & row << ((picks - 1 - p) * ends)
			}
		}
		for range ends {
			for range picks {
				m = m>>ends | m&row<<((picks-1)*ends)
				if m < n {
					return 0
				}
				if m == n {
					same++
				}
			}
			was := m
			m = 0
			for p := range picks {
				r := was >> (p * ends) & row
				m |= (r>>1 | r&1<<(ends-1)) << (p * ends)
			}
		}
	}
	return 4 * picks * ends / same
}

// TestCountsOfFabrics counts the grids in which every row and column has both colors,
// their classes by shifts and reversals, and those that hang together. Figures that
// aren't in print are computed from the definitions.
func TestCountsOfFabrics(t *testing.T) {
	checks := map[string]func(*testing.T){}
	for _, x := range []struct{ picks, ends, grids, hang, classes, classesHang int }{
		{2, 4, 14, 14, 3, 3},
		{3, 3, 102, 102, 6, 6},
		{4, 3, 906, 906, 30, 30},
		{5, 3, 6510, 6510, 132, 132},
		{6, 3, 42666, 42666, 684, 684},
		{4, 4, 22874, 22730, 465, 460},
		{5, 4, 417810, 415650, 5591, 5559},
	} {
		grids, hang, classes, classesHang := countFabrics(t, x.picks, x.ends)
		check := func(name string, got, want int) {
			checks[fmt.Sprintf("%s, %dx%d", name, x.picks, x.ends)] = func(t *testing.T) {
				if got != want {
					t.Errorf("%d, want %d", got, want)
				}
			}
		}
		check("OEIS A283654 and A283624, grids", grids, x.grids)
		check("computed/grids that hang together", hang, x.hang)
		check("computed/classes that hang together", classesHang, x.classesHang)
		if x.picks == 4 || x.ends == 4 {
			check("OEIS A359972, classes", classes, x.classes)
		} else {
			check("computed/classes", classes, x.classes)
		}
	}
	published(t, checks)
}

// countFabrics weaves every grid of a size. Without -long, it weaves only one grid of
// each class of large grids.
func countFabrics(t *testing.T, picks, ends int) (grids, hang, classes, classesHang int) {
	large := picks*ends > 16
	for n := range uint32(1) << (picks * ends) {
		good, members := proper(picks, ends, n), 0
		if good {
			members = membersOf(picks, ends, n)
		}
		stands := 1
		if large && !*long {
			if stands = members; stands == 0 {
				continue
			}
		}
		c := Of(draftOf(bitGrid(picks, ends, n), ends))
		if (c.Loose(schema.Warp) == nil && c.Loose(schema.Weft) == nil) != good {
			t.Fatalf("%d picks, %d ends, grid %b: loose ends %v, picks %v", picks, ends, n,
				c.Loose(schema.Warp), c.Loose(schema.Weft))
		}
		if !good {
			continue
		}
		grids += stands
		if members > 0 {
			classes++
		}
		if c.hangsTogether() {
			hang += stands
			if members > 0 {
				classesHang++
			}
		}
	}
	return grids, hang, classes, classesHang
}

// TestEveryGrid compares the parts of every grid up to 4 by 4 with a search of the graph.
func TestEveryGrid(t *testing.T) {
	for picks := 1; picks <= 4; picks++ {
		for ends := 1; ends <= 4; ends++ {
			for n := range uint32(1) << (picks * ends) {
				g := bitGrid(picks, ends, n)
				layers, all := naiveParts(g, ends)
				c := Of(draftOf(g, ends))
				if got := c.countParts(); got != (partCounts{layers, all}) {
					t.Fatalf("%d picks, %d ends, grid %b: %v, want layers %d of parts %d", picks, ends, n, got, layers, all)
				}
			}
		}
	}
}

// drawn reads a grid from lines; # is warp up.
func drawn(lines ...string) (g grid, ends int) {
	for _, line := range lines {
		row := make([]bool, len(line))
		for i := range line {
			row[i] = line[i] == '#'
		}
		g = append(g, row)
	}
	return g, len(g[0])
}

func TestParts(t *testing.T) {
	for _, x := range []struct {
		name          string
		rows          []string
		layers, parts int
	}{
		{"worked 4x4", []string{"#...", ".#..", "###.", "##.#"}, 2, 2},
		{"2/2 twill", []string{"##..", ".##.", "..##", "#..#"}, 1, 1},
		{"loose pick on top", []string{"##..", "....", "..##"}, 1, 2},
		{"loose ends and picks", []string{"#..", "...", "#.."}, 0, 6},
	} {
		t.Run("computed/"+x.name, func(t *testing.T) {
			g, ends := drawn(x.rows...)
			c := Of(draftOf(g, ends))
			layers, all := naiveParts(g, ends)
			if got := c.countParts(); got != (partCounts{x.layers, x.parts}) || x.layers != layers || x.parts != all {
				t.Errorf("%v, want layers %d of parts %d", got, x.layers, x.parts)
			}
		})
	}
}

func TestLayersWithoutCrossings(t *testing.T) {
	for _, x := range []struct {
		ends, picks   int
		hangs         bool
		layers        int
		loose, loose2 int
	}{
		{0, 0, true, 0, 0, 0}, {1, 0, true, 0, 0, 0}, {0, 1, true, 0, 0, 0},
		{2, 0, false, 0, 0, 0}, {0, 3, false, 0, 0, 0}, {1, 1, false, 0, 1, 1},
	} {
		d := &schema.Draft{}
		d.Warp.Threads, d.Weft.Threads = x.ends, x.picks
		c := Of(d)
		if c.hangsTogether() != x.hangs || c.Layers() != x.layers {
			t.Errorf("%d ends, %d picks: hangs together %t, %d layers", x.ends, x.picks, c.hangsTogether(), c.Layers())
		}
		if n, m := len(c.Loose(schema.Warp)), len(c.Loose(schema.Weft)); n != x.loose || m != x.loose2 {
			t.Errorf("%d ends, %d picks: %d and %d loose", x.ends, x.picks, n, m)
		}
		if x.ends*x.picks == 0 && c.Floats(FloatQuery{Wrap: true}) != (Floats{}) {
			t.Errorf("%d ends, %d picks: floats", x.ends, x.picks)
		}
	}
}
