package corpus

import (
	"slices"
	"strconv"
	"strings"

	"fettle/schema"
)

// spoil adds random faults of real files.
func (w *dialect) spoil() {
	w.truncate()
	for _, spoil := range []func(){
		w.misspellSection, w.misspellKey, w.unknown, w.private, w.repeatKey, w.repeatRow, w.shuffleRows, w.leftOver,
		w.badIndex, w.loseCount, w.highCount, w.fewEntries, w.decimalComma, w.stray, w.comment, w.bracket, w.split, w.mail,
		w.leftOverFields, w.repeatWithComment, w.privateBracket, w.ignores,
	} {
		if w.one(w.dirt) {
			spoil()
		}
	}
	w.begin()
}

// find returns a section by its name; nil if it is missing or misspelt already.
func (w *dialect) find(name string) *sectionText {
	for i := range w.sections {
		if s := &w.sections[i]; s.name == name && s.as == "" {
			return s
		}
	}
	return nil
}

// table returns a random table of whole numbers, nil if the draft lacks it.
func (w *dialect) table() *sectionText {
	return w.find(w.pick("THREADING", "TIEUP", "TREADLING", "LIFTPLAN", "WARP COLORS", "WEFT COLORS"))
}

// is reports whether a line has this key.
func is(line, key string) bool {
	name, _, ok := strings.Cut(line, "=")
	return ok && strings.EqualFold(strings.TrimSpace(name), key)
}

// line returns the index of a key in a section, -1 for none.
func (s *sectionText) line(key string) int {
	return slices.IndexFunc(s.lines, func(l string) bool { return is(l, key) })
}

// insert adds lines to a section at a random place.
func (w *dialect) insert(s *sectionText, lines ...string) {
	s.lines = slices.Insert(s.lines, w.rand.IntN(len(s.lines)+1), lines...)
}

// truncate ends the file in the middle of the table of picks.
func (w *dialect) truncate() {
	name, rows := "TREADLING", &w.draft.Treadling
	if w.draft.LiftPlan.Len() > 0 {
		name, rows = "LIFTPLAN", &w.draft.LiftPlan
	}
	s := w.find(name)
	if !w.one(6) || len(s.lines) < 3 {
		return
	}
	left := 1 + w.rand.IntN(len(s.lines)-1)
	w.cut = strings.TrimSpace(s.lines[left][:strings.IndexByte(s.lines[left], '=')])
	var kept schema.Rows
	for n := 1; n <= rows.Len(); n++ {
		if slices.ContainsFunc(s.lines[:left], func(l string) bool { return is(l, strconv.Itoa(n)) }) {
			kept.Extend(n - 1)
			kept.Append(rows.Row(n)...)
		}
	}
	*rows = kept
	last := *s
	last.lines = last.lines[:left]
	w.sections = slices.DeleteFunc(w.sections, func(s sectionText) bool { return s.name == name })
	w.sections = append(w.sections, last)
	w.broke(schema.FileMissingSection)
}

func (w *dialect) misspellSection() {
	for _, slip := range [][2]string{{"THREADING", "THREDING"}, {"TREADLING", "TRAEDLING"}, {"TIEUP", "TIE-UP"},
		{"COLOR TABLE", "COLOUR TABLE"}, {"WARP COLORS", "WARP COLOURS"}, {"WEAVING", "WAVING"}} {
		if s := w.find(slip[0]); s != nil && w.one(3) {
			s.as = slip[1]
			w.broke(schema.FileUnknownSection)
		}
	}
}

func (w *dialect) misspellKey() {
	for _, slip := range [][3]string{{"WEAVING", "Shafts", "Shaft"}, {"WEAVING", "Rising Shed", "Raising Shed"},
		{"WARP", "Color", "Colour"}, {"WEFT", "Threads", "Treads"}, {"TEXT", "Title", "Titel"}} {
		s := w.find(slip[0])
		if s == nil || !w.one(3) || s.line(slip[1]) < 0 {
			continue
		}
		i := s.line(slip[1])
		_, value, _ := strings.Cut(s.lines[i], "=")
		s.lines[i] = slip[2] + "=" + value
		w.broke(schema.FileUnknownKey)
	}
}

func (w *dialect) unknown() {
	w.add(sectionText{name: "SPINDLES", lines: []string{"1=ash"}})
	w.broke(schema.FileUnknownSection)
	if s := w.find("WEAVING"); s != nil {
		w.insert(s, w.key("Looms", "2"))
		w.broke(schema.FileUnknownKey)
	}
}

func (w *dialect) private() {
	w.add(sectionText{name: "PRIVATE loom room", lines: []string{"a=b,", "loose words", "c=1, ; and more"}})
	w.kept = append(w.kept, "a=b,", "loose words", "c=1, ; and more")
}

// add inserts a section, but not last, because a truncated section must stay last.
func (w *dialect) add(s sectionText) {
	w.sections = slices.Insert(w.sections, w.rand.IntN(len(w.sections)), s)
}

// repeatKey repeats the number of shafts; the first wins.
func (w *dialect) repeatKey() {
	if s := w.find("WEAVING"); s != nil && s.line("Shafts") >= 0 {
		s.lines = append(s.lines, w.key("Shafts", "99"))
		w.broke(schema.FileDuplicateKey)
	}
}

// repeatRow repeats rows; the first wins.
func (w *dialect) repeatRow() {
	s := w.table()
	if s == nil {
		return
	}
	for _, l := range s.lines[:1+w.rand.IntN(len(s.lines))] {
		name, _, _ := strings.Cut(l, "=")
		s.lines = append(s.lines, name+"=1")
	}
	w.broke(schema.FileDuplicateKey)
}

// shuffleRows shuffles the rows of a table without duplicates.
func (w *dialect) shuffleRows() {
	if s := w.table(); s != nil && !slices.Contains(w.rules, schema.FileDuplicateKey) {
		w.rand.Shuffle(len(s.lines), func(i, j int) { s.lines[i], s.lines[j] = s.lines[j], s.lines[i] })
	}
}

func (w *dialect) badIndex() {
	if s := w.table(); s != nil {
		w.insert(s, w.pick("0", "00", "999999999", "98765432109876543210")+"=1")
		w.broke(schema.FileIndex)
	}
}

// loseCount deletes the number of ends, if the rows show it too.
func (w *dialect) loseCount() {
	s := w.find("WARP")
	if s == nil || s.line("Threads") < 0 || w.draft.Threading.Len() < w.draft.Warp.Threads {
		return
	}
	i := s.line("Threads")
	s.lines = slices.Delete(s.lines, i, i+1)
	w.draft.Warp.Threads = 0
}

func (w *dialect) highCount() {
	s := w.find("WEAVING")
	if s == nil || s.line("Treadles") < 0 {
		return
	}
	s.lines[s.line("Treadles")] = w.key("Treadles", "2000000000")
	w.draft.Treadles = 0
	w.broke(schema.FileIndex)
}

func (w *dialect) fewEntries() {
	s, colors := w.find("COLOR PALETTE"), len(w.draft.Palette)
	if s == nil || colors < 2 {
		return
	}
	s.lines[s.line("Entries")] = w.key("Entries", strconv.Itoa(colors-1))
	w.broke(schema.FileIndex)
}

// leftOver adds a comma or a comment after numbers.
func (w *dialect) leftOver() {
	s := w.table()
	if s == nil {
		return
	}
	for i := range s.lines {
		if i == 0 || w.one(4) {
			s.lines[i] += w.remark()
		}
	}
	w.broke(schema.FileStrayLine)
}

// remark returns a comma, a comment or both to add after a value.
func (w *dialect) remark() string {
	comment := "; remark " + strconv.Itoa(len(w.kept)+1)
	text := w.pick(",", ",,", " ,\t", " "+comment, comment, ", "+comment, ",,"+comment+",")
	if strings.Contains(text, ";") {
		w.kept = append(w.kept, comment)
	}
	return text
}

// leftOverFields adds commas and comments after single values and decimals.
func (w *dialect) leftOverFields() {
	for i := range w.sections {
		s := &w.sections[i]
		if !slices.Contains([]string{"WEAVING", "WARP", "WEFT", "COLOR PALETTE", "COLOR TABLE", "WARP SPACING", "WEFT SPACING"}, s.name) {
			continue
		}
		for j := range s.lines {
			if strings.Contains(s.lines[j], "=") && w.one(3) {
				s.lines[j] += w.remark()
				w.broke(schema.FileStrayLine)
			}
		}
	}
}

// privateBracket adds a remark to the heading of a private section.
func (w *dialect) privateBracket() {
	w.add(sectionText{name: "PRIVATE tea room", head: w.pick("[PRIVATE tea room] ; our own", "[PRIVATE tea room] our own"), lines: []string{"d=e"}})
	w.kept = append(w.kept, "our own")
	w.broke(schema.FileStrayLine)
}

// ignores adds an ignore after a value, or without a semicolon.
func (w *dialect) ignores() {
	const ask = "fettle: ignore cloth/long-float - as the pattern wants it"
	s := w.find(w.pick("WEAVING", "THREADING", "TIEUP"))
	if s == nil {
		return
	}
	w.kept = append(w.kept, ask)
	w.broke(schema.FileStrayLine)
	if i := w.rand.IntN(len(s.lines)); w.one(2) && strings.Contains(s.lines[i], "=") && !strings.Contains(s.lines[i], ";") {
		s.lines[i] += " ; " + ask
	} else {
		w.insert(s, ask)
	}
}

// repeatWithComment repeats the number of ends with a remark.
func (w *dialect) repeatWithComment() {
	if s := w.find("WARP"); s != nil && s.line("Threads") >= 0 {
		s.lines = append(s.lines, w.key("Threads", "3")+w.remark())
		w.broke(schema.FileDuplicateKey)
	}
}

func (w *dialect) decimalComma() {
	for i := range w.sections {
		s := &w.sections[i]
		if !slices.Contains([]string{"WARP", "WEFT", "WARP SPACING", "WEFT SPACING"}, s.name) {
			continue
		}
		for j, l := range s.lines {
			if strings.Contains(l, ".") {
				s.lines[j] = strings.Replace(l, ".", ",", 1)
				w.broke(schema.FileDecimalComma)
			}
		}
	}
}

func (w *dialect) stray() {
	if s := w.find(w.pick("WARP", "TEXT", "THREADING", "COLOR TABLE")); s != nil {
		w.insert(s, "read from the right", "and from below")
		w.kept = append(w.kept, "read from the right", "and from below")
		w.broke(schema.FileStrayLine)
	}
}

func (w *dialect) comment() {
	for i := range w.sections {
		if w.one(2) {
			note := "; note " + strconv.Itoa(len(w.kept)+1)
			w.kept = append(w.kept, note)
			w.insert(&w.sections[i], w.pick(note, "  "+note+" [x] = 3,"), w.pick("", ";"))
		}
	}
}

// bracket leaves the bracket of a heading open, or adds text after it.
func (w *dialect) bracket() {
	if s := w.find(w.pick("WARP", "TEXT", "THREADING", "TIEUP")); s != nil {
		s.head = "[" + w.names(s.name) + w.pick("", "] ; as it was", "] as it was", "];; as it was")
		if strings.Contains(s.head, "]") {
			w.kept = append(w.kept, "as it was")
		}
		w.broke(schema.FileStrayLine)
	}
}

// split splits a table into two sections with the same name.
func (w *dialect) split() {
	s := w.table()
	if s == nil || len(s.lines) < 2 || w.cut != "" {
		return
	}
	at := 1 + w.rand.IntN(len(s.lines)-1)
	second := sectionText{name: s.name, lines: slices.Clone(s.lines[at:])}
	if w.one(2) {
		second.head = "[" + w.names(s.name) + "] ; the rest of it"
		w.kept = append(w.kept, "; the rest of it")
		w.broke(schema.FileStrayLine)
	}
	s.lines = s.lines[:at:at]
	w.sections = append(w.sections, second)
	w.broke(schema.FileDuplicateSection)
}

func (w *dialect) mail() {
	w.kept = append(w.kept, "From: the guild", "Subject: a draft = for the fair", "; as sent")
	w.before = "From: the guild\n\nSubject: a draft = for the fair\n; as sent\n"
	w.broke(schema.FileStrayLine)
}
