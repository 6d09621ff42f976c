package cloth

import (
	"crypto/sha256"
	"iter"
)

// kept is how many bytes of written-out rows are held for picks that come
// again.
const kept = 4 << 20

// Rows yields each pick with one byte for each end from end 1: '1' for warp up, '0'
// for weft up. The bytes are valid until the next step. It expands the whole grid,
// one row at a time, so use it only for printing and drawing.
func (c *Cloth) Rows() iter.Seq2[int, []byte] {
	return func(yield func(int, []byte) bool) {
		w := writer{cloth: c, base: -1, words: make([]uint64, len(c.warp.first)),
			rows: make([][]byte, len(c.weft.first)), row: make([]byte, c.Ends())}
		for i, class := range c.weft.class {
			if !yield(i+1, w.write(class)) {
				return
			}
		}
	}
}

// Identity returns the SHA-256 of the cloth: each pick as the bytes of Rows and a
// line feed. Drafts weave the same cloth exactly if their identities are equal.
func (c *Cloth) Identity() (sum [32]byte) {
	hash := sha256.New()
	for _, row := range c.Rows() {
		hash.Write(row)
		hash.Write([]byte{'\n'})
	}
	hash.Sum(sum[:0])
	return sum
}

// writer writes out rows. It knows the bits of 64 classes of picks at a time
// and keeps rows that come again while there is room.
type writer struct {
	cloth *Cloth
	base  int32 // the first class that words knows; -1 none
	words []uint64
	rows  [][]byte // by class
	held  int      // bytes in rows
	row   []byte
}

func (w *writer) write(class int32) []byte {
	if row := w.rows[class]; row != nil {
		return row
	}
	w.know(class)
	row := w.row
	if w.cloth.weft.count[class] > 1 && w.held+len(row) <= kept {
		w.held += len(row)
		row = make([]byte, len(row))
		w.rows[class] = row
	}
	lane := class - w.base
	for i, end := range w.cloth.warp.class {
		row[i] = '0' + byte(w.words[end]>>lane&1)
	}
	return row
}

// know fetches the bits of a class and its neighbours.
func (w *writer) know(class int32) {
	base := class &^ 63
	if base == w.base {
		return
	}
	w.base = base
	lanes := numbers(min(64, len(w.rows)-int(base)))
	for i := range lanes {
		lanes[i] += base
	}
	w.cloth.up(&w.cloth.weft, lanes, w.words)
}
