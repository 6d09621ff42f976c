package formats

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"

	"golang.org/x/text/encoding/charmap"
	utf16 "golang.org/x/text/encoding/unicode"

	"fettle/schema"
	"fettle/schema/wording"
)

// Encode writes a text as the file of src is written: in its encoding, and with
// its byte order mark where it has one. It returns an error where that encoding
// lacks one of the text's characters, where the file has bytes that are no
// character in it, and where the result would be read as another text.
func Encode(text []byte, src *schema.Source) ([]byte, error) {
	e := encodingOf(src.Raw, src.Stated)
	if !e.keepsAll(src) {
		return nil, fmt.Errorf("the file has bytes that are no character in %s, and they would be lost", e.name)
	}
	coded, err := e.encode(text, src.Raw)
	if err != nil {
		return nil, err
	}
	as := encodingOf(coded, src.Stated)
	if !bytes.Equal(as.decode(coded), text) {
		return nil, fmt.Errorf("written in %s the file would be read as another text", cmp.Or(e.name, inUTF8))
	}
	return coded, nil
}

// encode writes a text in the encoding that raw is in.
func (e *encoding) encode(text, raw []byte) ([]byte, error) {
	switch {
	case e.page != nil:
		return narrow(text, e.name, e.page)
	case e.name == inUTF16:
		coded, err := utf16.UTF16(e.order(), utf16.IgnoreBOM).NewEncoder().Bytes(text)
		if err != nil {
			return nil, errors.New("the text cannot be written in utf-16")
		}
		return append([]byte(e.mark), coded...), nil
	case e.cut: // what stands for the broken character is the broken character again
		return append(bytes.TrimSuffix(bytes.Clone(text), []byte(replacement)), raw[wholeLength(raw):]...), nil
	case e.mark != "":
		return append([]byte(e.mark), text...), nil
	}
	return text, nil
}

// narrow is a text in a code page of one byte a character.
func narrow(text []byte, name string, page *charmap.Charmap) ([]byte, error) {
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

// keepsAll reports whether decoding lost nothing: whether the bytes of the file
// can be had back from its text.
func (e *encoding) keepsAll(src *schema.Source) bool {
	again, err := e.encode(src.Text, src.Raw)
	return err == nil && bytes.Equal(again, src.Raw)
}
