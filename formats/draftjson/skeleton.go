package draftjson

import (
	"slices"
	"strconv"
	"strings"
)

// skeleton is a draft without the values of its lists that the table finds
// right, and without all but the first of those it finds wrong. It is what the
// published schema is checked against: the validator takes some hundred times
// the time and memory of what it looks at, and a draft is nearly all rows of
// numbers.
type skeleton struct {
	out  []byte
	left map[string][]int // by the path of a list in the draft: which of its elements are here, from 0
	more int              // wrong values that are not here
}

// mostLeft is how many wrong values of one list or object stay: one more than
// are told.
const mostLeft = mostComplaints + 1

// mark is a state of the skeleton to go back to.
type mark struct{ length, more int }

func (s *skeleton) write(text []byte)  { s.out = append(s.out, text...) }
func (s *skeleton) open(bracket byte)  { s.out = append(s.out, bracket) }
func (s *skeleton) close(bracket byte) { s.out = append(s.out, bracket) }

// element begins an element.
func (s *skeleton) element(comma bool) mark {
	m := mark{len(s.out), s.more}
	if comma {
		s.out = append(s.out, ',')
	}
	return m
}

// property begins a property.
func (s *skeleton) property(key []byte, comma bool) mark {
	m := s.element(comma)
	s.out = append(append(s.out, key...), ':')
	return m
}

// forget takes back what has been written since a mark, because it is right.
func (s *skeleton) forget(m mark) { s.out = s.out[:m.length] }

// drop takes back what has been written since a mark, and counts it as one wrong
// value.
func (s *skeleton) drop(m mark) {
	s.out = s.out[:m.length]
	s.more = m.more + 1
}

// keep notes which elements of the list at a path of the draft are here.
func (s *skeleton) keep(path []string, elements []int) {
	if len(elements) == 0 {
		return
	}
	if s.left == nil {
		s.left = map[string][]int{}
	}
	s.left[joined(path)] = elements
}

// whole gives the path in the draft of a path in the skeleton.
func (s *skeleton) whole(path []string) []string {
	whole := slices.Clone(path)
	for n := range path {
		if left, ok := s.left[joined(whole[:n])]; ok {
			if i, err := strconv.Atoi(path[n]); err == nil && i < len(left) {
				whole[n] = strconv.Itoa(left[i])
			}
		}
	}
	return whole
}

func joined(path []string) string { return strings.Join(path, "\x00") }
