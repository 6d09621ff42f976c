package settings

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
	"fettle/schema/measure"
	"fettle/schema/wording"
)

// builder merges layers of settings, the least specific first.
type builder struct {
	out    *Settings
	choice string             // the name of the reed to use
	last   map[string]setting // the last setting of each key, as in Given
	reeds  map[string]int     // indexes in Reeds, Yarns and Warps, by name in lower case
	yarns  map[string]int
	warps  map[string]int
}

func newBuilder() *builder {
	return &builder{
		out:   &Settings{},
		last:  map[string]setting{},
		reeds: map[string]int{},
		yarns: map[string]int{},
		warps: map[string]int{},
	}
}

// apply adds a layer, which overrides earlier ones.
func (b *builder) apply(l layer) {
	for _, s := range l.settings {
		_ = b.add(s) // the layer holds only settings that were read without error
	}
	b.out.Files = append(b.out.Files, l.files...)
}

// applyLoom replaces the loom, the heddles and the reeds with those of another
// loom.
func (b *builder) applyLoom(l layer) {
	kept := layer{files: l.files}
	gone := map[string]bool{}
	for _, s := range l.settings {
		switch s.section.Name {
		case "loom", "heddles", "reed":
			if !gone[s.section.Name] {
				gone[s.section.Name] = true
				b.forget(s.section.Name)
			}
			kept.settings = append(kept.settings, s)
		}
	}
	b.apply(kept)
}

// forget removes all settings of a section.
func (b *builder) forget(section string) {
	switch section {
	case "loom":
		b.out.Loom = schema.Loom{}
	case "heddles":
		b.out.Heddles = schema.Heddles{}
	case "reed":
		b.out.Reeds, b.reeds, b.choice = nil, map[string]int{}, ""
		delete(b.last, "project.reed")
	}
	for key, s := range b.last {
		if s.section.Name == section {
			delete(b.last, key)
		}
	}
}

func (b *builder) add(s setting) error {
	t := &target{Settings: b.out, choice: &b.choice, key: s.many, glob: Glob{s.folder, s.name}, origin: s.origin}
	head := s.section.Name
	switch head {
	case "reed":
		t.reed = named(b.reeds, &b.out.Reeds, s.name, schema.Reed{Name: s.name})
		head = headOf(head, t.reed.Name)
	case "yarn":
		t.yarn = named(b.yarns, &b.out.Yarns, s.name, schema.Yarn{Name: s.name})
		head = headOf(head, t.yarn.Name)
	case "warp":
		t.warp = named(b.warps, &b.out.Warps, s.name, schema.ExtraWarp{Name: s.name})
		head = headOf(head, t.warp.Name)
	}
	if err := s.key.set(t, s.value); err != nil {
		return err
	}
	switch head {
	case "rules", "files":
		b.out.patterns = append(b.out.patterns, s)
		return nil
	case "":
		return nil
	}
	word := s.word()
	if head == "project" && slices.Contains(itemKeys(), word) {
		for _, rival := range itemKeys() {
			delete(b.last, head+"."+rival)
		}
	}
	for _, w := range append([]string{word}, s.key.fills...) {
		b.last[head+"."+w] = s
	}
	return nil
}

// itemKeys are the keys of [project] that state the cloth of one item.
func itemKeys() []string { return []string{"finished length", "picks per item", "repeats per item"} }

// contradictions returns the errors for settings of one layer that contradict each other.
func (l layer) contradictions() Errors {
	return slices.Concat(l.itemTwice(), l.heddlesBeyond(), l.rangesTwice())
}

// itemTwice returns an error if one file states the length of an item in two ways.
func (l layer) itemTwice() (wrong Errors) {
	stated := map[string]setting{} // by file
	for _, s := range l.settings {
		if s.section.Name != "project" || !slices.Contains(itemKeys(), s.key.Name) {
			continue
		}
		before, again := stated[s.origin.Path]
		stated[s.origin.Path] = s
		if again && before.key != s.key {
			wrong = append(wrong, Error{Path: s.origin.Path, Line: s.origin.Line, Column: s.keyColumn, Section: "project", Key: s.key.Name,
				DraftSetting: s.draftSetting, Message: fmt.Sprintf("[project] states both %s and %s for the cloth of an item; keep one of the two", before.key.Name, s.key.Name)})
		}
	}
	return wrong
}

// heddlesBeyond returns an error for each heddle count on a shaft that the loom of
// these settings doesn't have.
func (l layer) heddlesBeyond() (wrong Errors) {
	shafts, of := 0, setting{}
	for _, s := range l.settings {
		if s.section.Name == "loom" && s.key.Name == "shafts" {
			shafts, _ = strconv.Atoi(s.value) // 0 if it isn't a number, which is reported elsewhere
			of = s
		}
	}
	for _, s := range l.settings {
		if shafts == 0 || s.section.Name != "heddles" || s.many == "" {
			continue
		}
		named, err := shaftsNamed(s.many)
		shaft := named.To
		if err != nil || shaft <= shafts {
			continue
		}
		wrong = append(wrong, Error{Path: s.origin.Path, Line: s.origin.Line, Column: s.keyColumn, Section: "heddles", Key: s.many,
			Message: fmt.Sprintf("there is no shaft %d: [loom] has %s (%s:%d); correct one of the two",
				shaft, wording.Counted(shafts, "shaft"), of.origin.Path, of.origin.Line)})
	}
	return wrong
}

// rangesTwice returns an error for each range of shafts that overlaps another one in the
// same file. Across files the later one wins.
func (l layer) rangesTwice() (wrong Errors) {
	type located struct {
		schema.HeddleRange
		setting
	}
	var list []located
	for _, s := range l.settings {
		if s.section.Name != "heddles" || !strings.Contains(s.many, "-") {
			continue
		}
		if r, err := shaftsNamed(s.many); err == nil {
			list = append(list, located{r, s})
		}
	}
	slices.SortStableFunc(list, func(a, b located) int {
		return cmp.Or(cmp.Compare(a.origin.Path, b.origin.Path), cmp.Compare(a.From, b.From))
	})
	for i := 1; i < len(list); i++ {
		first, second := list[i-1], list[i]
		if first.origin.Path != second.origin.Path || second.From > first.To {
			continue
		}
		if first.To > second.To {
			list[i] = first // it may overlap the next one too
		}
		if first.origin.Line > second.origin.Line {
			first, second = second, first
		}
		wrong = append(wrong, Error{Path: second.origin.Path, Line: second.origin.Line, Column: second.keyColumn, Section: "heddles", Key: second.many,
			Message: fmt.Sprintf("shafts %d-%d overlap %d-%d; change one of the two", second.From, second.To, first.From, first.To)})
	}
	return wrong
}

// headOf returns the text of a heading: "yarn natural".
func headOf(section, name string) string { return strings.TrimSpace(section + " " + name) }

// named returns the thing with a name, and adds it if there is none yet. Names ignore
// case.
func named[T any](index map[string]int, list *[]T, name string, added T) *T {
	id := strings.ToLower(name)
	if _, ok := index[id]; !ok {
		index[id] = len(*list)
		*list = append(*list, added)
	}
	return &(*list)[index[id]]
}

// finish completes the settings after the last layer, and checks them as a whole.
func (b *builder) finish() (*Settings, error) {
	if wrong := slices.Concat(b.chooseReed(), b.weighedAlone(), b.warpsWithoutEnds()); len(wrong) > 0 {
		return nil, wrong
	}
	for i := range b.out.Yarns {
		if y := &b.out.Yarns[i]; !y.ForWarp && !y.ForWeft {
			y.ForWarp, y.ForWeft = true, true
		}
	}
	b.out.Given = make(map[string]schema.Origin, len(b.last))
	for key, s := range b.last {
		b.out.Given[key] = s.origin
	}
	b.out.last, b.out.Units = b.last, b.units()
	return b.out, nil
}

// weighedAlone returns an error for each stock that is a weight without a grist:
// its length is unknown.
func (b *builder) weighedAlone() (wrong Errors) {
	for _, y := range b.out.Yarns {
		if y.Stock.Grams == 0 || y.Grist.Known() {
			continue
		}
		head := headOf("yarn", y.Name)
		s := b.last[head+".stock"]
		wrong = append(wrong, Error{Path: s.origin.Path, Line: s.origin.Line, Column: s.valueColumn, Section: head, Key: "stock", DraftSetting: s.draftSetting,
			Message: fmt.Sprintf("[%s] stock: the length of %s is unknown without the yarn's size; state its grist, like 8/2 cotton or 6773 m/kg, or state the stock in metres or yards",
				wording.Plain(head, 60), wording.Quote(s.value)),
			Expected: s.key.Type})
	}
	return wrong
}

// warpsWithoutEnds returns an error for each [warp] without a name of its own, or that
// picks no ends.
func (b *builder) warpsWithoutEnds() (wrong Errors) {
	for _, w := range b.out.Warps {
		head := headOf("warp", w.Name)
		message := ""
		switch {
		case w.Name == "":
			message = "[warp] needs a name, like [warp pile]"
		case strings.EqualFold(w.Name, schema.MainWarp):
			message = "all ends that no [warp] picks are the main warp; give this one another name"
		case len(w.Ends)+len(w.Shafts)+len(w.Palette) == 0:
			message = "[" + wording.Plain(head, 60) + "] picks no ends; state its ends, shafts or palette"
		default:
			continue
		}
		for _, word := range sectionNamed("warp").names() {
			if s, ok := b.last[head+"."+word]; ok {
				wrong = append(wrong, Error{Path: s.origin.Path, Line: s.origin.Line, Column: s.keyColumn, Section: head, Key: word,
					Message: message, DraftSetting: s.draftSetting})
				break
			}
		}
	}
	return wrong
}

// chooseReed moves the reed that the project names to the front, otherwise the plain
// one, and its settings to the keys "reed.dents" and "reed.width" of Given.
func (b *builder) chooseReed() Errors {
	reeds := b.out.Reeds
	at, ok := b.reeds[strings.ToLower(b.choice)] // the plain one has no name
	if !ok {
		if b.choice != "" {
			return Errors{b.noSuchReed()}
		}
		at = 0
	}
	if len(reeds) == 0 {
		return nil
	}
	b.out.ReedNamed = ok && b.choice != ""
	used := reeds[at]
	b.out.Reeds = slices.Insert(slices.Delete(reeds, at, at+1), 0, used)
	if used.Name == "" {
		return nil
	}
	for _, word := range sectionNamed("reed").names() {
		delete(b.last, "reed."+word)
		if s, ok := b.last[headOf("reed", used.Name)+"."+word]; ok {
			b.last["reed."+word] = s
		}
	}
	return nil
}

func (b *builder) noSuchReed() Error {
	s := b.last["project.reed"]
	var names []string
	for _, r := range b.out.Reeds {
		if r.Name != "" {
			names = append(names, r.Name)
		}
	}
	message := "[project] reed: there is no reed " + wording.Quote(b.choice)
	if len(names) == 0 {
		message += "; add a section [reed " + wording.Plain(b.choice, 60) + "], or delete this line"
	} else {
		message += "; your reeds are " + wording.Plain(strings.Join(names, ", "), 200)
	}
	return Error{Path: s.origin.Path, Line: s.origin.Line, Column: s.valueColumn, Section: "project", Key: "reed", Message: message,
		Expected: "the name of a reed", DraftSetting: s.draftSetting}
}

// units returns the weaver's own units. Densities follow the first stated of the
// reed, the sett and the picks; lengths follow the first stated of the cloth, the
// loom, the reed and the extras. If only one kind is stated, the other follows it.
// Weights follow the first stock that is a weight.
func (b *builder) units() measure.Units {
	perInch, density := b.inInches("reed.dents", "project.sett", "project.picks", "project.hem picks")
	inches, length := b.inInches("project.finished length", "project.finished width", "loom.weaving width", "reed.width",
		"project.loom waste", "project.hem", "project.fringe", "project.sample", "project.re-tie")
	if !length {
		inches = perInch
	}
	if !density {
		perInch = inches
	}
	units := measure.UnitsOf(inches, perInch)
	for i := range b.out.Yarns {
		if stock := b.out.Yarns[i].Stock; stock.Grams > 0 {
			if stock.InPounds {
				return units.InPounds()
			}
			break
		}
	}
	return units
}

// inInches reports whether the first stated value is in inches, and whether any is
// stated.
func (b *builder) inInches(keys ...string) (inches, stated bool) {
	for _, key := range keys {
		s, ok := b.last[key]
		if _, bare := measure.Number(s.value); ok && bare != nil { // a plain 0 has no unit
			return measure.InInches(s.value), true
		}
	}
	return false, false
}
