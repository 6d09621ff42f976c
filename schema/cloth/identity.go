package cloth

import (
	"crypto/sha256"
	"encoding/binary"
	"iter"
	"strings"

	"fettle/schema"
)

// View is a way to look at a cloth. Views can be added: Mirrored + Reversed is the cloth
// turned by half a turn on the table; Mirrored + TurnedOver exchanges face and back in
// place. The zero value is as drawn.
type View uint8

// The views.
const (
	Mirrored   View = 1 << iota // the ends in the opposite order
	Reversed                    // the picks in the opposite order
	TurnedOver                  // turned over sideways: crossings inverted, the ends in the opposite order
)

// String returns the view's name: "as drawn", "mirrored, picks reversed".
func (v View) String() string {
	if v == 0 {
		return "as drawn"
	}
	var words []string
	switch v & (Mirrored | TurnedOver) {
	case Mirrored:
		words = append(words, "mirrored")
	case TurnedOver:
		words = append(words, "turned over")
	case Mirrored | TurnedOver:
		words = append(words, "face and back exchanged")
	}
	if v&Reversed != 0 {
		words = append(words, "picks reversed")
	}
	return strings.Join(words, ", ")
}

// Key is a fingerprint of a cloth in one view.
type Key [32]byte

// Keys returns the fingerprints of the cloth, by View. Two drafts have the same
// first key if they weave the same cloth, however they are threaded and lifted. A
// cloth's first key equals another's key under v if it is that cloth in view v. Keys
// are the same in every run, but differ from Identity.
//
// A key is the SHA-256 of the class of each end and each pick, and of a 64-bit hash
// of the ends that each class of picks lifts. Classes are numbered in the order in
// which the view reaches them. Different cloths can share a key only by a collision
// of hashes.
func (c *Cloth) Keys() (keys [8]Key) {
	var order [2][]int32
	var picks [2][32]byte
	for backward := range 2 {
		order[backward], picks[backward] = c.weft.classOrder(backward == 1)
	}
	for half := range 2 { // the ends in order, then in the opposite order
		seen, ends := c.warp.classOrder(half == 1)
		face, back := c.rowHashes(seen)
		for backward := range 2 {
			view := View(backward) * Reversed
			keys[view|View(half)*Mirrored] = keyOf(ends, picks[backward], order[backward], face)
			keys[view|TurnedOver|View(1-half)*Mirrored] = keyOf(ends, picks[backward], order[backward], back)
		}
	}
	return keys
}

// Same reports whether two drafts weave the same cloth. It is faster than comparing
// identities, which takes time by ends × picks, and skips the cloth if the drafts
// are equal.
func Same(a, b *schema.Draft) bool {
	if a.Ends() != b.Ends() || a.Picks() != b.Picks() {
		return false
	}
	if (a.Shed == schema.Sinking) == (b.Shed == schema.Sinking) && a.Threading.Equal(b.Threading) && a.Tieup.Equal(b.Tieup) &&
		a.Treadling.Equal(b.Treadling) && a.LiftPlan.Equal(b.LiftPlan) {
		return true
	}
	return Of(a).Keys()[0] == Of(b).Keys()[0]
}

// classOrder returns the classes in the order of their first threads, forward or
// backward, and a digest of all threads' classes in that numbering.
func (s *strands) classOrder(backward bool) (order []int32, digest [32]byte) {
	order = make([]int32, 0, len(s.first))
	number := make([]int32, len(s.first)) // position in order, + 1
	var text [2048]byte
	hash := sha256.New()
	at, step := 0, 1
	if backward {
		at, step = len(s.class)-1, -1
	}
	used := 0
	for range s.class {
		class := s.class[at]
		at += step
		if number[class] == 0 {
			order = append(order, class)
			number[class] = int32(len(order))
		}
		if n := number[class]; n < 0x80 { // nearly always one byte
			text[used] = byte(n)
			used++
		} else {
			used += binary.PutUvarint(text[used:], uint64(n))
		}
		if used > len(text)-binary.MaxVarintLen32 {
			hash.Write(text[:used])
			used = 0
		}
	}
	hash.Write(text[:used])
	hash.Sum(digest[:0])
	return order, digest
}

// rowHashes returns for each class of picks a hash of the classes of ends over it, in the
// given order, and a hash of those under it.
func (c *Cloth) rowHashes(order []int32) (over, under []uint64) {
	n := len(c.weft.first)
	words, over, under := make([]uint64, n), make([]uint64, n), make([]uint64, n)
	for base := 0; base < len(order); base += 64 {
		lanes := order[base:min(base+64, len(order))]
		valid := lowBits(len(lanes))
		c.up(&c.warp, lanes, words)
		for i, word := range words {
			over[i] = hashWord(over[i], word)
			under[i] = hashWord(under[i], word^valid)
		}
	}
	return over, under
}

// hashWord adds a word to a hash. Different words give different results for the same
// hash.
func hashWord(hash, word uint64) uint64 {
	hash = (hash ^ word) * 0x9e3779b97f4a7c15
	hash = (hash ^ hash>>29) * 0xd6e8feb86659fd93
	return hash ^ hash>>32
}

func keyOf(ends, picks [32]byte, order []int32, rows []uint64) Key {
	text := make([]byte, 0, 64+8*len(order))
	text = append(append(text, ends[:]...), picks[:]...)
	for _, class := range order {
		text = binary.LittleEndian.AppendUint64(text, rows[class])
	}
	return sha256.Sum256(text)
}

// maxKept is how many bytes of rows are kept for picks that recur.
const maxKept = 4 << 20

// Rows yields each pick with one byte for each end from end 1: '1' for warp up, '0'
// for weft up. The bytes are valid until the next step. It expands the whole grid,
// one row at a time, so use it only for printing and drawing.
func (c *Cloth) Rows() iter.Seq2[int, []byte] {
	return func(yield func(int, []byte) bool) {
		w := rowWriter{cloth: c, base: -1, words: make([]uint64, len(c.warp.first)),
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

// rowWriter expands rows. It computes 64 classes of picks at a time, and keeps rows that
// recur while there is room.
type rowWriter struct {
	cloth     *Cloth
	base      int32 // the first class in words; -1 for none
	words     []uint64
	rows      [][]byte // by class
	keptBytes int      // bytes in rows
	row       []byte
}

func (w *rowWriter) write(class int32) []byte {
	if row := w.rows[class]; row != nil {
		return row
	}
	w.load(class)
	row := w.row
	if w.cloth.weft.count[class] > 1 && w.keptBytes+len(row) <= maxKept {
		w.keptBytes += len(row)
		row = make([]byte, len(row))
		w.rows[class] = row
	}
	lane := class - w.base
	for i, end := range w.cloth.warp.class {
		row[i] = '0' + byte(w.words[end]>>lane&1)
	}
	return row
}

// load computes the bits of a class and its neighbours.
func (w *rowWriter) load(class int32) {
	base := class &^ 63
	if base == w.base {
		return
	}
	w.base = base
	lanes := countTo(min(64, len(w.rows)-int(base)))
	for i := range lanes {
		lanes[i] += base
	}
	w.cloth.up(&w.cloth.weft, lanes, w.words)
}
