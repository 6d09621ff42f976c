package corpus

import (
	"slices"
	"strconv"
	"strings"

	"golang.org/x/text/encoding/charmap"

	"fettle/schema"
)

// The sections of the weave: all of them, those whose rows are lists, and those whose
// rows usually have one number.
var (
	weaveTables  = []string{"TIEUP", "THREADING", "TREADLING", "LIFTPLAN"}
	listTables   = []string{"TIEUP", "LIFTPLAN"}
	singleTables = []string{"THREADING", "TREADLING"}
)

// rewrite returns a row in a wrong form, "" if the row can't have that mistake.
type rewrite func(s *spoiler, name, value string) string

// rows returns the rows of a random table that can have a mistake, and their wrong forms.
func (s *spoiler) rows(tables []string, write rewrite) (at []int, texts []string) {
	table := s.any(tables...)
	if table == "" {
		return nil, nil
	}
	from, to := s.body(table)
	for i := from; i < to; i++ {
		name, value := s.row(i)
		if text := write(s, name, value); text != "" {
			at, texts = append(at, i), append(texts, text)
		}
	}
	return at, texts
}

// everyRow spoils all rows of a table that can have the mistake.
func everyRow(tables []string, write rewrite) func(*spoiler) bool {
	return func(s *spoiler) bool {
		at, texts := s.rows(tables, write)
		for n, i := range at {
			s.change(i, texts[n])
		}
		return len(at) > 0
	}
}

// oneRow spoils one row of a table.
func oneRow(tables []string, write rewrite) func(*spoiler) bool {
	return func(s *spoiler) bool {
		at, texts := s.rows(tables, write)
		if len(at) == 0 {
			return false
		}
		n := s.rand.IntN(len(at))
		_, s.words = s.row(at[n])
		s.change(at[n], texts[n])
		return true
	}
}

// unproposed marks a mistake for which no finding can suggest the right value.
func unproposed(spoil func(*spoiler) bool) func(*spoiler) bool {
	return func(s *spoiler) bool {
		ok := spoil(s)
		s.words = ""
		return ok
	}
}

// marked returns a rewrite with another separator between numbers.
func marked(mark string) rewrite {
	return func(_ *spoiler, name, value string) string {
		if !strings.Contains(value, ",") {
			return ""
		}
		return name + "=" + strings.ReplaceAll(value, ",", mark)
	}
}

// equal returns a rewrite with another character instead of =.
func equal(sign string) rewrite {
	return func(_ *spoiler, name, value string) string { return name + sign + value }
}

// valued returns a rewrite of a row's value.
func valued(change func(s *spoiler, value string) string) rewrite {
	return func(s *spoiler, name, value string) string {
		if v := change(s, value); v != "" && v != value {
			return name + "=" + v
		}
		return ""
	}
}

// replaced replaces the first of some characters that a text contains; it returns "" if
// there is none.
func replaced(text string, oldNew ...string) string {
	for i := 0; i < len(oldNew); i += 2 {
		if strings.Contains(text, oldNew[i]) {
			return strings.Replace(text, oldNew[i], oldNew[i+1], 1)
		}
	}
	return ""
}

// lettered replaces a digit by a similar letter.
func lettered(s *spoiler, text string) string {
	return replaced(text, "0", s.pick("O", "o"), "1", s.pick("l", "I"), "5", "S", "8", "B")
}

// keyOf spoils the value of one of several keys, written SECTION/KEY.
func keyOf(change func(s *spoiler, value string) string, places ...string) func(*spoiler) bool {
	return func(s *spoiler) bool {
		section, key, _ := strings.Cut(s.pick(places...), "/")
		i := s.key(section, key)
		if i < 0 {
			return false
		}
		name, value := s.row(i)
		text := change(s, value)
		if text != "" {
			s.change(i, name+"="+text)
		}
		return text != ""
	}
}

// line spoils a line that a function chooses.
func line(choose func(s *spoiler) int, change func(s *spoiler, text string) string) func(*spoiler) bool {
	return func(s *spoiler) bool {
		i := choose(s)
		if i < 0 {
			return false
		}
		text := change(s, s.lines[i].text)
		if text == "" || text == s.lines[i].text {
			return false
		}
		s.change(i, text)
		return true
	}
}

// headerOf chooses the heading of one of several sections.
func headerOf(sections ...string) func(*spoiler) int {
	return func(s *spoiler) int { return s.header(s.any(sections...)) }
}

// everyLine changes each line of the file.
func everyLine(change func(text string) string) func(*spoiler) bool {
	return func(s *spoiler) bool {
		for i := range s.lines {
			s.lines[i].text = change(s.lines[i].text)
		}
		return true
	}
}

// inCodePage writes the file in a code page, if the page has all its letters and some are
// beyond ASCII.
func inCodePage(table *charmap.Charmap) func(*spoiler) bool {
	return func(s *spoiler) bool {
		beyond := 0
		for _, r := range s.text() {
			if _, ok := table.EncodeRune(r); !ok {
				return false
			}
			if r > 127 {
				beyond++
			}
		}
		s.encode = func(text string) []byte { return inTable(table, text) }
		return beyond > 0
	}
}

// renumbered numbers the rows of some tables, or the numbers in rows of others, from 0.
func renumbered(rows, numbers []string) func(*spoiler) bool {
	return func(s *spoiler) bool {
		for _, table := range rows {
			if from, to := s.body(table); to > 0 {
				for i := from; i < to; i++ {
					name, value := s.row(i)
					s.change(i, lowered(name)+"="+value)
				}
			}
		}
		for _, table := range numbers {
			if from, to := s.body(table); to > 0 {
				s.lines[from-1].spoiled = true
				for i := from; i < to; i++ {
					name, value := s.row(i)
					s.change(i, name+"="+lowered(value))
				}
			}
		}
		return len(s.spoiled()) > 0
	}
}

// lowered returns a list of numbers with 1 subtracted from each.
func lowered(value string) string {
	words := strings.Split(value, ",")
	for i, w := range words {
		n, _ := strconv.Atoi(w)
		words[i] = strconv.Itoa(n - 1)
	}
	return strings.Join(words, ",")
}

// cutAt truncates the file after n bytes of its text.
func (s *spoiler) cutAt(n int) {
	s.encode = func(text string) []byte { return []byte(text[:n]) }
}

// Rules that report a mistake.
var (
	badValue  = []string{schema.FileBadValue}
	badRow    = []string{schema.FileBadValue, schema.FileUnknownKey, schema.FileStrayLine}
	strayLine = []string{schema.FileStrayLine}
	shortRows = []string{"draft/thread-count", "draft/unthreaded-end", "draft/empty-pick", schema.FileMissingSection}
	nothing   []string
)

// spoilings returns all kinds of mistakes.
func spoilings() []spoiling {
	return slices.Concat(spoiledLists(), spoiledSigns(), spoiledNumbers(), spoiledCounts(), spoiledMeasures(), spoiledSections(), spoiledFiles(), spoiledNothing())
}
