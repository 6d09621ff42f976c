package formats

import (
	"bytes"
	"encoding/binary"
	"math/bits"
)

// loneCR names the line endings of old Macintosh files.
const loneCR = "lines that end in a lone CR"

// LineBreaks describes line endings that may cause problems; "" if all are CRLF or all
// are LF.
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

// countCRLF counts CR followed by LF, eight places at a time. A byte of unlike is zero
// if its place has CR and the next has LF; only then the high bit of the sum is clear.
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

// EndLinesAlike returns a text with all lines ended by CRLF or all by LF, whichever is
// more frequent; LF at a tie.
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
