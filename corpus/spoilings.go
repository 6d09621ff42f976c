package corpus

import (
	"slices"
	"strconv"
	"strings"

	"golang.org/x/text/encoding/charmap"

	"fettle/schema"
)

// Sections that hold the weave: all of them, those whose rows are lists, and
// those whose rows mostly name one number.
var (
	weaveTables  = []string{"TIEUP", "THREADING", "TREADLING", "LIFTPLAN"}
	listTables   = []string{"TIEUP", "LIFTPLAN"}
	singleTables = []string{"THREADING", "TREADLING"}
)

// rewrite gives a row another form, or "" where it has none.
type rewrite func(s *spoiler, name, value string) string

// rows is the rows of one of the tables that a rewrite applies to.
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

// everyRow spoils all rows of a table that can be spoiled so.
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

// unproposed spoils in a way in which nothing certain can be proposed.
func unproposed(spoil func(*spoiler) bool) func(*spoiler) bool {
	return func(s *spoiler) bool {
		ok := spoil(s)
		s.words = ""
		return ok
	}
}

// marked is a row whose numbers have another mark between them.
func marked(mark string) rewrite {
	return func(_ *spoiler, name, value string) string {
		if !strings.Contains(value, ",") {
			return ""
		}
		return name + "=" + strings.ReplaceAll(value, ",", mark)
	}
}

// equal is a row with something else for its =.
func equal(sign string) rewrite {
	return func(_ *spoiler, name, value string) string { return name + sign + value }
}

// valued is a row with another value, "" where there is none.
func valued(change func(s *spoiler, value string) string) rewrite {
	return func(s *spoiler, name, value string) string {
		if v := change(s, value); v != "" && v != value {
			return name + "=" + v
		}
		return ""
	}
}

// replaced is the first of some characters replaced, "" where there is none.
func replaced(text string, oldNew ...string) string {
	for i := 0; i < len(oldNew); i += 2 {
		if strings.Contains(text, oldNew[i]) {
			return strings.Replace(text, oldNew[i], oldNew[i+1], 1)
		}
	}
	return ""
}

// lettered has a letter for one of its digits.
func lettered(s *spoiler, text string) string {
	return replaced(text, "0", s.pick("O", "o"), "1", s.pick("l", "I"), "5", "S", "8", "B")
}

// keyOf spoils the value of a key in one of several sections.
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

// headerOf chooses the header of one of several sections.
func headerOf(sections ...string) func(*spoiler) int {
	return func(s *spoiler) int { return s.header(s.any(sections...)) }
}

// everyLine spoils each line of the file.
func everyLine(change func(text string) string) func(*spoiler) bool {
	return func(s *spoiler) bool {
		for i := range s.lines {
			s.lines[i].text = change(s.lines[i].text)
		}
		return true
	}
}

// coded writes the file in a code page, where it has all letters and some of
// them beyond ASCII.
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

// renumbered counts the rows, or the numbers in them, of tables from 0.
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

// lowered is a list of numbers, each less by 1.
func lowered(value string) string {
	words := strings.Split(value, ",")
	for i, w := range words {
		n, _ := strconv.Atoi(w)
		words[i] = strconv.Itoa(n - 1)
	}
	return strings.Join(words, ",")
}

// cutAt ends the file after so many bytes of its text.
func (s *spoiler) cutAt(n int) {
	s.encode = func(text string) []byte { return []byte(text[:n]) }
}

// Rules that name what is spoiled.
var (
	badValue  = []string{schema.FileBadValue}
	badRow    = []string{schema.FileBadValue, schema.FileUnknownKey, schema.FileStrayLine}
	strayLine = []string{schema.FileStrayLine}
	shortRows = []string{"draft/thread-count", "draft/unthreaded-end", "draft/empty-pick", schema.FileMissingSection}
	nothing   []string
)

// spoilings are all the ways of spoiling a draft.
func spoilings() []spoiling {
	return slices.Concat(spoiledLists(), spoiledSigns(), spoiledNumbers(), spoiledCounts(), spoiledMeasures(), spoiledSections(), spoiledFiles(), spoiledNothing())
}
