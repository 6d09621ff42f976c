package lint

import (
	"encoding/binary"
	"hash/maphash"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"fettle/schema"
	"fettle/schema/cloth"
	"fettle/schema/wording"
)

// Traits holds what Across needs to compare a file with the others of a run:
// fingerprints of its cloth and colors, and the severity of the rules across files.
// The zero value matches no file.
type Traits struct {
	woven  bool // there is a cloth to compare
	keys   [8]cloth.Key
	colors [4]colors // threads as they are, with ends reversed, with picks reversed, with both

	span      schema.Span
	pointer   string
	position  schema.Position
	duplicate stance
	name      stance
	failure   any // the panic value if the comparison failed
}

// stance says how a rule applies to a draft: its severity, and whether the draft ignores
// it.
type stance struct {
	severity schema.Severity
	ignored  bool
	reason   string // from the ignore
}

// Traits returns what Add compares. Unless collection/duplicate is off, its time grows
// with the draft. It is safe for use by several goroutines at once.
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

// compare computes the fingerprints of a draft. A panic becomes a finding, as with any
// rule.
func (t *Traits) compare(woven func() *cloth.Cloth, d *schema.Draft, seed maphash.Seed) {
	defer func() { t.failure = recover() }()
	t.keys = woven().Keys()
	shades := shadesOf(d.Palette)
	for back := range 2 {
		ends := hashShades(seed, &d.Warp, d.Ends(), shades, back == 1)
		picks := hashShades(seed, &d.Weft, d.Picks(), shades, back == 1)
		for other := range 2 {
			t.colors[back+2*other].ends = ends
			t.colors[other+2*back].picks = picks
		}
	}
	t.woven = true
}

// stance returns a rule's stance for a whole draft.
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

// weaves reports whether warp and weft cross at all. Truncated drafts in which they
// don't would all be duplicates.
func weaves(d *schema.Draft) bool {
	return d.Threading.Count() > 0 && (d.LiftPlan.Count() > 0 || d.Tieup.Count() > 0 && d.Treadling.Count() > 0)
}

// colors holds fingerprints of the colors of all ends and all picks in order.
type colors struct{ ends, picks uint64 }

// shade is a color as one number; 0 means no color.
type shade uint32

// shadesOf returns the palette as shades, by color number.
func shadesOf(palette []schema.Color) []shade {
	shades := make([]shade, len(palette)+1)
	for i, c := range palette {
		if c.Set {
			shades[i+1] = 1<<24 | shade(c.R)<<16 | shade(c.G)<<8 | shade(c.B)
		}
	}
	return shades
}

// hashShades returns a hash of the shades of all threads, in order or from the last.
func hashShades(seed maphash.Seed, s *schema.System, threads int, shades []shade, backward bool) uint64 {
	var hash maphash.Hash
	hash.SetSeed(seed)
	var text [1024]byte
	used := 0
	for i := range threads {
		n := i + 1
		if backward {
			n = threads - i
		}
		var c shade
		if i := s.ColorOf(n); i > 0 && i < len(shades) {
			c = shades[i]
		}
		binary.LittleEndian.PutUint32(text[used:], uint32(c))
		if used += 4; used == len(text) {
			hash.Write(text[:])
			used = 0
		}
	}
	hash.Write(text[:used])
	return hash.Sum64()
}

// Across finds duplicates and name clashes among the files of a run. It keeps the path
// and three hashes of each file, so it can compare a library of any size.
//
// The hashes have 64 bits and a new seed for each run. Two of a million files share one
// by chance once in ten million runs, and nobody can craft a file that does.
//
// Add isn't safe for use by several goroutines at once.
type Across struct {
	seed   maphash.Seed
	paths  []string // of the added files, in order
	names  firsts   // by PlainestPath
	cloths firsts
	exact  firsts // by cloth and colors
}

// exactKey is a cloth and its colors.
type exactKey struct {
	cloth  cloth.Key
	colors colors
}

// firsts maps a hash to the number of the first file that has it.
type firsts map[uint64]int32

// NewAcross returns a comparison without files.
func NewAcross() *Across {
	return &Across{seed: maphash.MakeSeed(), names: firsts{}, cloths: firsts{}, exact: firsts{}}
}

// fileWith returns the first file that has a value, "" for none.
func fileWith[T comparable](a *Across, in firsts, what T) string {
	if n, ok := in[maphash.Comparable(a.seed, what)]; ok {
		return a.paths[n]
	}
	return ""
}

// noteFile records the last added file as the first with a value, unless there is one
// already.
func noteFile[T comparable](a *Across, in firsts, what T) {
	hash := maphash.Comparable(a.seed, what)
	if _, ok := in[hash]; !ok {
		in[hash] = int32(len(a.paths) - 1)
	}
}

// Add compares a file with those added before. It returns the findings, and those that
// the draft ignores. Paths have / between folders.
func (a *Across) Add(path string, t Traits) (found []schema.Finding, suppressed []Suppressed) {
	a.paths = append(a.paths, path)
	for _, f := range []*schema.Finding{a.nameClash(path, t), a.duplicate(t)} {
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

// PlainestPath returns a path in lower case with accents in normal form C, so that two
// paths are equal if some file system can't tell them apart. Invalid UTF-8 is kept.
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

// quotedPath returns a path for a sentence. wording.ParsePathName reads it back.
func quotedPath(path string) string {
	if name := wording.PathName(path); name != path {
		return name
	}
	return "'" + path + "'"
}

// nameClash finds a path added before that differs only in capitals or accents.
func (a *Across) nameClash(path string, t Traits) *schema.Finding {
	plain := PlainestPath(path)
	other := fileWith(a, a.names, plain)
	noteFile(a, a.names, plain)
	if other == "" || other == path || PlainestPath(other) != plain {
		return nil
	}
	return &schema.Finding{Rule: NameClash, Severity: t.name.severity, OtherFile: other, Data: schema.Data{{Key: "path", Value: wording.PathName(other)}},
		Message: "the paths of this file and " + quotedPath(other) +
			" differ only in capitals or accents; many computers can't hold both, so rename one"}
}

// duplicate finds an earlier file that weaves the same cloth, seen from any side. It prefers one
// in the same colors.
func (a *Across) duplicate(t Traits) *schema.Finding {
	if t.failure != nil {
		f := failure(Duplicate, t.duplicate.severity, t.failure)
		return &f
	}
	if !t.woven {
		return nil
	}
	other, how := a.sameCloth(t)
	noteFile(a, a.cloths, t.keys[0])
	noteFile(a, a.exact, exactKey{t.keys[0], t.colors[0]})
	if other == "" {
		return nil
	}
	return &schema.Finding{Rule: Duplicate, Severity: t.duplicate.severity, OtherFile: other,
		Data: schema.Data{{Key: "path", Value: wording.PathName(other)}, {Key: "how", Value: how}},
		Message: "this draft weaves the same cloth as " + quotedPath(other) + " (" + how +
			"); delete one of them, or ignore this finding and give a reason"}
}

// sameCloth returns the first file with the same cloth, and how the two compare.
func (a *Across) sameCloth(t Traits) (path, how string) {
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

// turned returns the index in Traits.colors for a view: bit 0 reverses the ends, bit 1
// the picks. Turning over sideways reverses the ends too.
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

// likeness describes how two cloths compare.
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
