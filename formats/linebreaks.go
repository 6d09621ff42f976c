package formats

import (
	"bytes"
	"encoding/binary"
	"math/bits"
)

// loneCR is how the old Macintosh ended lines.
const loneCR = "lines that end in a lone CR"

// LineBreaks returns what is odd about how lines end, in words; "" for CRLF
// throughout and for LF throughout.
func LineBreaks(text []byte) string {
	cr := bytes.Count(text, []byte{'\r'})
	if cr == 0 {
		return ""
	}
	lf, both := bytes.Count(text, []byte{'\n'}), countCRLF(text)
	switch {
	case lf == both && cr == both:
		return ""
	case lf == 0:
		return loneCR
	}
	return "mixed line endings"
}

// countCRLF counts how often CR and LF stand together. It takes eight places at
// once: those where a byte is CR and the next is LF are nought in unlike, and of
// all bytes just these keep their highest bit clear in the sum.
func countCRLF(text []byte) int {
	const every, high = 0x0101010101010101, 0x8080808080808080
	count := 0
	for len(text) > 8 {
		unlike := binary.LittleEndian.Uint64(text) ^ '\r'*every | binary.LittleEndian.Uint64(text[1:]) ^ '\n'*every
		count += bits.OnesCount64(^(unlike&^high + ^uint64(high) | unlike) & high)
		text = text[8:]
	}
	for i := 1; i < len(text); i++ {
		if text[i-1] == '\r' && text[i] == '\n' {
			count++
		}
	}
	return count
}

// EndLinesAlike is a text with every line ended in the same way: CRLF or LF,
// whichever more of its lines end in, LF at a tie.
func EndLinesAlike(text []byte) []byte {
	both := bytes.Count(text, []byte("\r\n"))
	end := "\n"
	if both > bytes.Count(text, []byte{'\n'})-both {
		end = "\r\n"
	}
	alike := make([]byte, 0, len(text)+bytes.Count(text, []byte{'\r'}))
	for i := 0; i < len(text); i++ {
		switch {
		case text[i] == '\r' && i+1 < len(text) && text[i+1] == '\n':
			i++
			alike = append(alike, end...)
		case text[i] == '\r', text[i] == '\n':
			alike = append(alike, end...)
		default:
			alike = append(alike, text[i])
		}
	}
	return alike
}
