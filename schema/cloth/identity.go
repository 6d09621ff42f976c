package cloth

import (
	"crypto/sha256"
	"iter"
)

// kept is how many bytes of written-out rows are held for picks that come
// again.
const kept = 4 << 20

// Rows goes through the picks in order: the pick, and a byte an end from end
// 1, '1' for warp up and '0' for weft up. The bytes are good until the next
// step. This does write out the whole grid, a row at a time: it is for
// printing and drawing.
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

// Identity is the SHA-256 of the cloth: each pick in order as a byte an end
// from end 1, '1' for warp up and '0' for weft up, and a line feed. Drafts
// weave the same cloth just when their identities are the same.
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
