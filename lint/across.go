package lint

import (
	"hash/maphash"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/wording"
)

// Traits are what is kept of a file to compare it with the others of a run:
// fingerprints of its cloth and its colors, and how the rules across files
// stand for it. The zero value is like nothing.
type Traits struct {
	woven  bool // the draft has a cloth to compare
	keys   [8]cloth.Key
	colors [4]colors // of the threads in order, the ends turned round, the picks, both

	span      schema.Span
	pointer   string
	position  schema.Position
	duplicate stance
	name      stance
	failure   any // what the comparison failed with
}

// stance is how a rule stands for a draft.
type stance struct {
	severity schema.Severity
	ignored  bool   // the draft asks to have it left out
	reason   string // why it does
}

// Traits draws from a draft what Add compares. It costs time in the length of
// the draft, unless collection/duplicate is off for it. Several goroutines may
// ask at once.
func (a *Across) Traits(r *Result) Traits {
	doc := r.run.doc
	t := Traits{duplicate: r.run.stance(Duplicate), name: r.run.stance(NameClash)}
	t.span, t.pointer = doc.Locator.Locate(schema.Place{})
	t.position = doc.Source.Position(t.span)
	if t.duplicate.severity == schema.Off || doc.Draft == nil || !weaves(doc.Draft) {
		return t
	}
	t.compare(r.run.woven, doc.Draft, a.seed)
	return t
}

// compare works out the fingerprints of a draft. As with any rule, one that
// fails on a draft is a finding.
func (t *Traits) compare(woven func() *cloth.Cloth, d *schema.Draft, seed maphash.Seed) {
	defer func() { t.failure = recover() }()
	t.keys = woven().Keys()
	shades := shadesOf(d.Palette)
	warp, weft := threadShades(&d.Warp, d.Ends(), shades), threadShades(&d.Weft, d.Picks(), shades)
	for back := range 2 {
		if back == 1 {
			turnRound(warp)
			turnRound(weft)
		}
		ends, picks := maphash.Bytes(seed, warp), maphash.Bytes(seed, weft)
		for other := range 2 {
			t.colors[back+2*other].ends = ends
			t.colors[other+2*back].picks = picks
		}
	}
	t.woven = true
}

// stance is how a rule stands for the whole of a draft.
func (r *run) stance(id string) stance {
	rule := r.set.byID[id]
	if rule == nil {
		return stance{}
	}
	s := stance{severity: rule.severity}
	if r.doc.Draft == nil {
		return s
	}
	for _, g := range r.doc.Draft.Ignores {
		if !s.ignored && g.Rule == id && g.Section == (schema.Span{}) {
			s.ignored, s.reason = true, g.Reason
		}
	}
	return s
}

// weaves says whether a draft makes warp and weft cross at all. Torn ones that
// do not would all be alike.
func weaves(d *schema.Draft) bool {
	return d.Threading.Count() > 0 && (d.LiftPlan.Count() > 0 || d.Tieup.Count() > 0 && d.Treadling.Count() > 0)
}

// colors are fingerprints of the colors of the ends and of the picks in order.
type colors struct{ ends, picks uint64 }

// shade is a color in four bytes, nought where there is none.
type shade [4]byte

// shadesOf is the palette as shades, by number.
func shadesOf(palette []schema.Color) []shade {
	shades := make([]shade, len(palette)+1)
	for i, c := range palette {
		if c.Set {
			shades[i+1] = shade{1, c.R, c.G, c.B}
		}
	}
	return shades
}

// threadShades is the shade of each thread in order, one behind the other.
func threadShades(s *schema.System, threads int, shades []shade) []byte {
	to := make([]byte, 0, threads*len(shade{}))
	for n := 1; n <= threads; n++ {
		var c shade
		if i := s.ColorOf(n); i > 0 && i < len(shades) {
			c = shades[i]
		}
		to = append(to, c[:]...)
	}
	return to
}

// turnRound puts shades in the opposite order.
func turnRound(shades []byte) {
	const size = len(shade{})
	for i, j := 0, len(shades)-size; i < j; i, j = i+size, j-size {
		a, b := shade(shades[i:i+size]), shade(shades[j:j+size])
		copy(shades[i:], b[:])
		copy(shades[j:], a[:])
	}
}

// Across finds what is wrong across the files of a run, one file after the
// other. Of a file it keeps the path and three hashes, so that a library of any
// size can be compared. The hashes are of 64 bits, drawn afresh for each run:
// that two of a million files share one by chance is once in ten million runs,
// and no file can be written to.
//
// Add is not safe for use by several goroutines at once.
type Across struct {
	seed   maphash.Seed
	paths  []string // of the files added, in order
	names  met      // by the path as the least able file system tells it
	cloths met
	exact  met // by cloth and colors
}

// exactKey is a cloth and its colors.
type exactKey struct {
	cloth  cloth.Key
	colors colors
}

// met says in which file, by its number, something hashed so was met first.
type met map[uint64]int32

// NewAcross begins a comparison.
func NewAcross() *Across {
	return &Across{seed: maphash.MakeSeed(), names: met{}, cloths: met{}, exact: met{}}
}

// fileWith is the file that something was met in first, "" for none.
func fileWith[T comparable](a *Across, in met, what T) string {
	if n, ok := in[maphash.Comparable(a.seed, what)]; ok {
		return a.paths[n]
	}
	return ""
}

// noteFile has the file added last be the one that something was met in first,
// unless there is one.
func noteFile[T comparable](a *Across, in met, what T) {
	hash := maphash.Comparable(a.seed, what)
	if _, ok := in[hash]; !ok {
		in[hash] = int32(len(a.paths) - 1)
	}
}

// Add compares a file with those added before and gives what is found in it,
// and what the draft asked to have left out of it. Paths have / between
// folders.
func (a *Across) Add(path string, t Traits) (found []schema.Finding, suppressed []Suppressed) {
	a.paths = append(a.paths, path)
	for _, f := range []*schema.Finding{a.named(path, t), a.alike(t)} {
		if f == nil || f.Severity == schema.Off {
			continue
		}
		f.Span, f.Pointer, f.Position = t.span, t.pointer, t.position
		if t.of(f.Rule).ignored {
			suppressed = append(suppressed, Suppressed{*f, t.of(f.Rule).reason})
		} else {
			found = append(found, *f)
		}
	}
	return found, suppressed
}

func (t *Traits) of(rule string) stance {
	if rule == Duplicate {
		return t.duplicate
	}
	return t.name
}

// PlainestPath returns a path as the least able file system sees it: without
// capitals, and with one way to write an accent. Bytes that are not UTF-8 stay as
// they are, so that two names which differ in them stay two.
func PlainestPath(path string) string {
	if utf8.ValidString(path) {
		return norm.NFC.String(strings.ToLower(norm.NFC.String(path)))
	}
	var b strings.Builder
	for rest := path; rest != ""; {
		valid := 0
		for valid < len(rest) {
			r, size := utf8.DecodeRuneInString(rest[valid:])
			if r == utf8.RuneError && size == 1 {
				break
			}
			valid += size
		}
		bad := min(valid+1, len(rest))
		b.WriteString(PlainestPath(rest[:valid]))
		b.WriteString(rest[valid:bad])
		rest = rest[bad:]
	}
	return b.String()
}

// quotedPath returns a path for the middle of a sentence, readable back.
func quotedPath(path string) string {
	if name := wording.PathName(path); name != path {
		return name
	}
	return "'" + path + "'"
}

// named looks for a path that differs in capitals or accents alone.
func (a *Across) named(path string, t Traits) *schema.Finding {
	plain := PlainestPath(path)
	other := fileWith(a, a.names, plain)
	noteFile(a, a.names, plain)
	if other == "" || other == path || PlainestPath(other) != plain {
		return nil
	}
	return &schema.Finding{Rule: NameClash, Severity: t.name.severity, Data: schema.Data{{Key: "path", Value: wording.PathName(other)}},
		Message: "only capitals or accents set this file's path apart from " + quotedPath(other) +
			"; many computers can hold just one of the two: name one of them differently"}
}

// alike looks for a file that weaves the same cloth: first one in the same
// colors in any view, then one in others.
func (a *Across) alike(t Traits) *schema.Finding {
	if t.failure != nil {
		f := failure(Duplicate, t.duplicate.severity, t.failure)
		return &f
	}
	if !t.woven {
		return nil
	}
	other, how := a.like(t)
	noteFile(a, a.cloths, t.keys[0])
	noteFile(a, a.exact, exactKey{t.keys[0], t.colors[0]})
	if other == "" {
		return nil
	}
	return &schema.Finding{Rule: Duplicate, Severity: t.duplicate.severity,
		Data: schema.Data{{Key: "path", Value: wording.PathName(other)}, {Key: "how", Value: how}},
		Message: "this is the cloth of " + quotedPath(other) + " once more, " + how +
			"; keep one of the two, or have the second ignore this with the reason it is there"}
}

// like is a file that weaves the cloth, and how it is like it.
func (a *Across) like(t Traits) (path, how string) {
	for v, key := range t.keys {
		view := cloth.View(v)
		if path = fileWith(a, a.exact, exactKey{key, t.colors[turned(view)]}); path != "" {
			return path, likeness(view, false)
		}
	}
	for v, key := range t.keys {
		if path = fileWith(a, a.cloths, key); path != "" {
			return path, likeness(cloth.View(v), true)
		}
	}
	return "", ""
}

// turned is which colors a view shows: bit 0 for the ends from the last, bit 1
// for the picks. Turning over sideways turns the ends round too.
func turned(v cloth.View) int {
	i := 0
	if (v&cloth.Mirrored != 0) != (v&cloth.TurnedOver != 0) {
		i |= 1
	}
	if v&cloth.Reversed != 0 {
		i |= 2
	}
	return i
}

// likeness is a view in words, and whether the colors are others.
func likeness(v cloth.View, recolored bool) string {
	var words []string
	if v != 0 {
		words = append(words, v.String())
	}
	if recolored {
		words = append(words, "in other colors")
	}
	if words == nil {
		return "identical"
	}
	return strings.Join(words, ", ")
}
