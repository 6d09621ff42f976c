package formats

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	utf16 "golang.org/x/text/encoding/unicode"

	"fettle/schema"
	"fettle/schema/wording"
)

// The encodings that aren't code pages, as findings and --encoding name them.
const (
	inUTF8  = "utf-8"
	inUTF16 = "utf-16"
)

// Encodings returns the names of the encodings that ReadAs takes.
func Encodings() []string {
	names := []string{inUTF8, inUTF16}
	for _, p := range codePages() {
		names = append(names, p.name)
	}
	slices.Sort(names[2:])
	return names
}

// encoding describes how a file encodes its text. The zero value is plain UTF-8.
type encoding struct {
	name      string // "" for plain UTF-8
	mark      string // the byte order mark the file begins with
	big       bool   // UTF-16 with the high byte first
	truncated bool   // UTF-8 whose last character is incomplete
	page      *charmap.Charmap
	unclear   []guess // the code pages the file may be in, the most likely first
	conflict  string  // why the file isn't in the stated encoding
}

// encodingOf returns the encoding of a file. The stated name decides, unless the bytes
// contradict it: by a byte order mark, by the zero bytes of UTF-16, or by being valid
// UTF-8 beyond ASCII. So a file saved as UTF-8 is never read as anything else.
func encodingOf(raw []byte, stated string) encoding {
	e := detectEncoding(raw, stated)
	if stated != "" && stated != cmp.Or(e.name, inUTF8) && (e.name != "" || stated == inUTF16 || !ascii(raw)) {
		switch {
		case e.mark != "":
			e.conflict = "the file begins with a byte order mark"
		case e.name == inUTF16:
			e.conflict = "every other byte of the file is zero"
		case stated == inUTF16:
			e.conflict = "the file has no zero bytes"
		default:
			e.conflict = "the file is valid UTF-8"
		}
	}
	return e
}

func detectEncoding(raw []byte, stated string) encoding {
	for _, e := range []encoding{{name: inUTF8, mark: "\xef\xbb\xbf"}, {name: inUTF16, mark: "\xff\xfe"}, {name: inUTF16, mark: "\xfe\xff", big: true}} {
		if bytes.HasPrefix(raw, []byte(e.mark)) {
			return e
		}
	}
	little, big := zeroBytes(raw)
	switch {
	case little, big:
		return encoding{name: inUTF16, big: big}
	case stated == inUTF16 && bytes.IndexByte(raw, 0) >= 0:
		return encoding{name: inUTF16, big: bytes.IndexByte(raw, 0)%2 == 0}
	case utf8.Valid(raw):
		return encoding{}
	case stated == inUTF8:
		return encoding{name: inUTF8}
	}
	for _, p := range codePages() {
		if p.name == stated {
			return encoding{name: p.name, page: p.table}
		}
	}
	switch {
	case mostlyUTF8(raw):
		return encoding{name: inUTF8}
	case utf8.Valid(raw[:completeLength(raw)]) && !endsInWord(raw):
		return encoding{name: inUTF8, truncated: true}
	}
	list, sure := rankPages(raw)
	e := encoding{name: list[0].name, page: list[0].table}
	if !sure {
		e.unclear = list
	}
	return e
}

func ascii(raw []byte) bool {
	for _, c := range raw {
		if c >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// mostlyUTF8 reports whether a file that isn't valid UTF-8 is mostly so. Other
// encodings hardly ever have several such sequences.
func mostlyUTF8(raw []byte) bool {
	whole, broken := 0, 0
	for i := 0; i < len(raw); i++ {
		if raw[i] < utf8.RuneSelf {
			continue
		}
		if _, size := utf8.DecodeRune(raw[i:]); size > 1 {
			whole++
			i += size - 1
		} else {
			broken++
		}
	}
	return whole > 1 && whole > broken
}

// decode returns the text in UTF-8 without a byte order mark. Unreadable bytes become
// the replacement character.
func (e *encoding) decode(raw []byte) []byte {
	switch body := raw[len(e.mark):]; {
	case e.page != nil:
		return convert(body, e.page.NewDecoder().Bytes)
	case e.name == inUTF16:
		return convert(body, utf16.UTF16(e.order(), utf16.IgnoreBOM).NewDecoder().Bytes)
	default:
		return toUTF8(body)
	}
}

func (e *encoding) order() utf16.Endianness {
	if e.big {
		return utf16.BigEndian
	}
	return utf16.LittleEndian
}

// completeLength returns the length of a text without an incomplete last character.
func completeLength(raw []byte) int {
	for n := 1; n <= min(3, len(raw)); n++ {
		if b := raw[len(raw)-n:]; utf8.RuneStart(b[0]) {
			if !utf8.FullRune(b) {
				return len(raw) - n
			}
			break
		}
	}
	return len(raw)
}

// endsInWord reports whether a text whose last byte is its only one beyond ASCII ends,
// read as Windows-1252, in a small letter after a letter. Then it isn't truncated.
func endsInWord(raw []byte) bool {
	last := len(raw) - 1
	if bytes.IndexFunc(raw[:last], func(r rune) bool { return r >= utf8.RuneSelf }) >= 0 {
		return false
	}
	return last > 0 && unicode.IsLetter(rune(raw[last-1])) && unicode.IsLower(charmap.Windows1252.DecodeByte(raw[last]))
}

// toUTF8 replaces bytes that aren't UTF-8.
func toUTF8(raw []byte) []byte {
	if utf8.Valid(raw) {
		return raw
	}
	return bytes.ToValidUTF8(raw, []byte(replacement))
}

// replacement stands for unreadable bytes in a text.
const replacement = string(utf8.RuneError)

// convert decodes a text. These decoders never fail: unreadable bytes become the
// replacement character.
func convert(raw []byte, decode func([]byte) ([]byte, error)) []byte {
	text, err := decode(raw)
	if err != nil {
		return toUTF8(raw)
	}
	return text
}

// zeroBytes detects UTF-16 without a byte order mark. Drafts are nearly all ASCII, so
// every other byte is zero.
func zeroBytes(raw []byte) (little, big bool) {
	head := raw[:min(len(raw), 512)&^1]
	var even, odd int
	for i := 0; i < len(head); i += 2 {
		if head[i] == 0 {
			even++
		}
		if head[i+1] == 0 {
			odd++
		}
	}
	half := len(head) / 2
	return half > 1 && odd*10 >= half*9 && even == 0, half > 1 && even*10 >= half*9 && odd == 0
}

// findings reports a file that isn't plain UTF-8, or isn't in the stated encoding.
func (e *encoding) findings(src *schema.Source) []schema.Finding {
	if e.name == "" && e.conflict == "" {
		return nil
	}
	f := e.finding(src)
	if e.conflict != "" {
		f.Message = strings.TrimSuffix(fmt.Sprintf("%s, so fettle reads it as %s, not as %s; %s", e.conflict, cmp.Or(e.name, inUTF8), src.Stated, f.Message), "; ")
	}
	f.Rule = schema.FileEncoding
	f.Data = append(schema.Data{{Key: "encoding", Value: cmp.Or(e.name, inUTF8)}}, f.Data...)
	return []schema.Finding{f}
}

func (e *encoding) finding(src *schema.Source) schema.Finding {
	save := []schema.Fix{{Title: "save it as UTF-8", Rewrite: schema.InUTF8, Risky: len(e.unclear) > 0}}
	switch {
	case e.name == "":
		return schema.Finding{}
	case e.truncated:
		return schema.Finding{Message: "the file ends in the middle of a character; get a complete copy, or check its end",
			Span: schema.Span{Start: len(src.Text), End: len(src.Text)}}
	case !e.lossless(src):
		save[0].Risky = true
		return e.badBytes(src, save)
	case e.page != nil:
		return e.codePageFinding(src, save)
	case e.name == inUTF16:
		return schema.Finding{Message: "the file is in utf-16, which other programs may not read; save it as UTF-8", Fixes: save}
	}
	return schema.Finding{Message: "the file begins with a byte order mark, which some programs can't read; save it as UTF-8 without one", Fixes: save}
}

// badBytes reports bytes that aren't a character in the encoding.
func (e *encoding) badBytes(src *schema.Source, save []schema.Fix) schema.Finding {
	what := "half a character is missing"
	if e.name != inUTF16 {
		if at := e.firstBad(src.Raw); at >= 0 {
			what = fmt.Sprintf("byte 0x%02X isn't a character", src.Raw[at])
		}
	}
	at := max(bytes.Index(src.Text, []byte(replacement)), 0)
	return schema.Finding{Message: what + " in " + e.name + "; the file may be damaged, or in another encoding",
		Span: schema.Span{Start: at, End: at + len(replacement)}, Fixes: save}
}

// firstBad returns the offset of the first byte that isn't a character, -1 for none.
func (e *encoding) firstBad(raw []byte) int {
	for i := len(e.mark); i < len(raw); i++ {
		switch {
		case raw[i] < utf8.RuneSelf:
		case e.page != nil:
			if e.page.DecodeByte(raw[i]) == utf8.RuneError {
				return i
			}
		default:
			_, size := utf8.DecodeRune(raw[i:])
			if size == 1 {
				return i
			}
			i += size - 1
		}
	}
	return -1
}

// maxReadings is how many readings a message shows.
const maxReadings = 3

// codePageFinding reports a file in a code page, and shows the first word that isn't
// ASCII. If the page is unclear, it shows and locates the first word that differs
// between the two most likely pages.
func (e *encoding) codePageFinding(src *schema.Source, save []schema.Fix) schema.Finding {
	others := e.unclear
	at, offset := 0, 0
	for _, c := range src.Raw {
		if c >= utf8.RuneSelf && (len(others) == 0 || others[1].table.DecodeByte(c) != e.page.DecodeByte(c)) {
			break
		}
		at++
		offset += utf8.RuneLen(e.page.DecodeByte(c))
	}
	start, end := wordAround(src.Raw, at)
	word := src.Raw[start:end]
	if len(others) == 0 {
		return schema.Finding{Fixes: save, Message: fmt.Sprintf("the file is in %s, so other programs may not show %s correctly; save it as UTF-8",
			e.name, quotedWord(e.page, word))}
	}
	var readings, names []string
	for i, g := range others {
		if i < 2 || g.cost-others[0].cost < clearBy && len(readings) < maxReadings {
			readings = append(readings, quotedWord(g.table, word)+" in "+g.name)
			names = append(names, g.name)
		}
	}
	offset -= len(e.decode(src.Raw[start:at]))
	return schema.Finding{Fixes: save,
		Span:    schema.Span{Start: offset, End: offset + len(e.decode(word))},
		Data:    schema.Data{{Key: "alternatives", Value: strings.Join(names[1:], ", ")}},
		Message: "the encoding of the file is unclear: " + wording.Either(readings) + "; state the right one with --encoding before you save it as UTF-8"}
}

func quotedWord(page *charmap.Charmap, word []byte) string {
	var b strings.Builder
	for _, c := range word {
		b.WriteRune(page.DecodeByte(c))
	}
	return wording.Quote(b.String())
}

// wordAround returns the range of letters and bytes above 127 around a byte.
func wordAround(raw []byte, at int) (start, end int) {
	in := func(i int) bool {
		return i >= 0 && i < len(raw) && i-at <= reach && at-i <= reach && (raw[i] >= utf8.RuneSelf || unicode.IsLetter(rune(raw[i])))
	}
	start, end = at, at
	for in(start - 1) {
		start--
	}
	for in(end) {
		end++
	}
	return start, end
}

// Encode returns a text in the encoding of the file of src, with its byte order mark if
// it has one. It returns an error if the encoding lacks a character of the text, if the
// file has bytes that aren't characters, or if the result would be read as another text.
func Encode(text []byte, src *schema.Source) ([]byte, error) {
	e := encodingOf(src.Raw, src.Stated)
	if !e.lossless(src) {
		return nil, fmt.Errorf("the file has bytes that aren't characters in %s, which would be lost", e.name)
	}
	coded, err := e.encode(text, src.Raw)
	if err != nil {
		return nil, err
	}
	as := encodingOf(coded, src.Stated)
	if !bytes.Equal(as.decode(coded), text) {
		return nil, fmt.Errorf("in %s, the file would be read as another text", cmp.Or(e.name, inUTF8))
	}
	return coded, nil
}

func (e *encoding) encode(text, raw []byte) ([]byte, error) {
	switch {
	case e.page != nil:
		return encodePage(text, e.name, e.page)
	case e.name == inUTF16:
		coded, err := utf16.UTF16(e.order(), utf16.IgnoreBOM).NewEncoder().Bytes(text)
		if err != nil {
			return nil, errors.New("the text can't be written in utf-16")
		}
		return append([]byte(e.mark), coded...), nil
	case e.truncated: // turn the replacement character back into the incomplete one
		return append(bytes.TrimSuffix(bytes.Clone(text), []byte(replacement)), raw[completeLength(raw):]...), nil
	case e.mark != "":
		return append([]byte(e.mark), text...), nil
	}
	return text, nil
}

// encodePage returns a text in a code page.
func encodePage(text []byte, name string, page *charmap.Charmap) ([]byte, error) {
	coded := make([]byte, 0, len(text))
	for _, r := range string(text) {
		c, ok := page.EncodeRune(r)
		if !ok {
			return nil, fmt.Errorf("%s has no character %s", name, wording.Quote(string(r)))
		}
		coded = append(coded, c)
	}
	return coded, nil
}

// lossless reports whether the text can be turned back into the bytes of the file.
func (e *encoding) lossless(src *schema.Source) bool {
	again, err := e.encode(src.Text, src.Raw)
	return err == nil && bytes.Equal(again, src.Raw)
}
