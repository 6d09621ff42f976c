package draftjson

import (
	"slices"
	"strconv"
	"strings"
)

// skeleton is the part of a draft that is checked against the schema. It leaves out
// the list elements that the table accepts, and all but the first that it rejects. The
// validator takes several hundred times as long as the reader, and most of a draft is
// rows of numbers.
type skeleton struct {
	out     []byte
	kept    map[string][]int // for the path of each list: the indexes of its elements in the skeleton
	dropped int              // rejected values that aren't in the skeleton
}

// maxKept is how many rejected values of one list or object stay.
const maxKept = maxReported + 1

// mark is a state of the skeleton.
type mark struct{ length, dropped int }

func (s *skeleton) write(text []byte)  { s.out = append(s.out, text...) }
func (s *skeleton) open(bracket byte)  { s.out = append(s.out, bracket) }
func (s *skeleton) close(bracket byte) { s.out = append(s.out, bracket) }

func (s *skeleton) element(comma bool) mark {
	m := mark{len(s.out), s.dropped}
	if comma {
		s.out = append(s.out, ',')
	}
	return m
}

func (s *skeleton) property(key []byte, comma bool) mark {
	m := s.element(comma)
	s.out = append(append(s.out, key...), ':')
	return m
}

// undo drops everything since a mark.
func (s *skeleton) undo(m mark) { s.out = s.out[:m.length] }

// dropWrong drops everything since a mark and counts it as one rejected value.
func (s *skeleton) dropWrong(m mark) {
	s.out = s.out[:m.length]
	s.dropped = m.dropped + 1
}

// keepElements records which elements of the list at a path are in the skeleton.
func (s *skeleton) keepElements(path []string, elements []int) {
	if len(elements) == 0 {
		return
	}
	if s.kept == nil {
		s.kept = map[string][]int{}
	}
	s.kept[joinPath(path)] = elements
}

// draftPath returns the path in the draft for a path in the skeleton.
func (s *skeleton) draftPath(path []string) []string {
	whole := slices.Clone(path)
	for n := range path {
		if left, ok := s.kept[joinPath(whole[:n])]; ok {
			if i, err := strconv.Atoi(path[n]); err == nil && i < len(left) {
				whole[n] = strconv.Itoa(left[i])
			}
		}
	}
	return whole
}

func joinPath(path []string) string { return strings.Join(path, "\x00") }
