package formats

import (
	"bytes"
	"errors"
	"fmt"

	"golang.org/x/text/encoding/charmap"
	utf16 "golang.org/x/text/encoding/unicode"

	"fettle/schema"
)

// Encode writes a text as the file that raw holds is written: in its encoding,
// and with its byte order mark where it has one. It is an error where that
// encoding lacks one of the text's characters, where the file has bytes that are
// no character in it, and where what it gives would be read as another text.
func Encode(text, raw []byte) ([]byte, error) {
	was, name := decode(raw)
	if !keepsAll(&schema.Source{Text: was, Raw: raw, Encoding: name}) {
		return nil, fmt.Errorf("the file has bytes that are no character in %s, and they would be lost", name)
	}
	coded, err := encode(text, raw, name)
	if err != nil {
		return nil, err
	}
	if again, _ := decode(coded); !bytes.Equal(again, text) {
		return nil, fmt.Errorf("written in %s the file would be read as another text", orUTF8(name))
	}
	return coded, nil
}

func orUTF8(name string) string {
	if name == "" {
		return "UTF-8"
	}
	return name
}

func encode(text, raw []byte, name string) ([]byte, error) {
	switch name {
	case "":
		return text, nil
	case cutOff: // what stands for the broken character is the broken character again
		return append(bytes.TrimSuffix(bytes.Clone(text), []byte("\ufffd")), raw[wholeLength(raw):]...), nil
	case marked:
		return append([]byte("\xef\xbb\xbf"), text...), nil
	case littleEndian:
		return wide(text, raw, "\xff\xfe", utf16.LittleEndian)
	case bigEndian:
		return wide(text, raw, "\xfe\xff", utf16.BigEndian)
	case macintosh:
		return narrow(text, name, charmap.Macintosh)
	}
	return narrow(text, name, charmap.Windows1252)
}

// wide is a text in UTF-16, behind the mark where the file has that.
func wide(text, raw []byte, mark string, order utf16.Endianness) ([]byte, error) {
	coded, err := utf16.UTF16(order, utf16.IgnoreBOM).NewEncoder().Bytes(text)
	if err != nil {
		return nil, errors.New("the text cannot be written in UTF-16")
	}
	if bytes.HasPrefix(raw, []byte(mark)) {
		return append([]byte(mark), coded...), nil
	}
	return coded, nil
}

// narrow is a text in a code page of one byte a character.
func narrow(text []byte, name string, table *charmap.Charmap) ([]byte, error) {
	coded := make([]byte, 0, len(text))
	for _, r := range string(text) {
		c, ok := table.EncodeRune(r)
		if !ok {
			return nil, fmt.Errorf("%s has no character %s", name, schema.Quote(string(r)))
		}
		coded = append(coded, c)
	}
	return coded, nil
}

// keepsAll says whether decoding lost nothing: whether the bytes of the file can
// be had back from its text.
func keepsAll(src *schema.Source) bool {
	again, err := encode(src.Text, src.Raw, src.Encoding)
	return err == nil && bytes.Equal(again, src.Raw)
}
