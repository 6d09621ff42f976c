package formats

import "bytes"

// signatures are the first bytes of files that people save under a draft's name.
var signatures = []struct{ start, what string }{
	{"\x89PNG", "it is a PNG picture"},
	{"\xff\xd8\xff", "it is a JPEG picture"},
	{"GIF8", "it is a GIF picture"},
	{"BM", "it is a BMP picture"},
	{"II*\x00", "it is a TIFF picture"},
	{"MM\x00*", "it is a TIFF picture"},
	{"%PDF", "it is a PDF document"},
	{"PK\x03\x04", "it is a ZIP archive; take the draft out of it first"},
	{"\x1f\x8b", "it is a gzip archive; unpack it first"},
	{"Rar!", "it is a RAR archive; take the draft out of it first"},
	{"7z\xbc\xaf", "it is a 7z archive; take the draft out of it first"},
	{"\xd0\xcf\x11\xe0", "it is an old office document"},
	{"{\\rtf", "it is a word processor's document; save it as plain text"},
}

// knownReason says what a file is, by the start of its bytes and of its text, if that
// can't be a draft; "" otherwise.
func knownReason(raw, text []byte) string {
	head := text[:min(len(text), 1024)]
	start := bytes.TrimLeft(head, " \t\r\n\ufeff")
	if len(start) == 0 && len(text) == len(head) {
		return "it is empty"
	}
	for _, s := range signatures {
		if bytes.HasPrefix(raw, []byte(s.start)) && (s.start != "BM" || isBinary(head)) {
			return s.what
		}
	}
	if quotedPrintable(head) {
		return "it is an e-mail in quoted-printable encoding, with =3D for each =; save the attached draft"
	}
	if len(start) == 0 || start[0] != '<' {
		return ""
	}
	lower := bytes.ToLower(start)
	for _, tag := range []string{"<!doctype html", "<html", "<head", "<body", "<meta", "<script"} {
		if bytes.Contains(lower, []byte(tag)) {
			return "it is a web page; download the draft itself"
		}
	}
	return "it is a markup file, such as XML"
}

// unknownReason says why any other file isn't a draft.
func unknownReason(text []byte) string {
	if isBinary(text[:min(len(text), 1024)]) {
		return "it is a binary file, not text"
	}
	if quotedReply(text) {
		return "each line begins with >, like a quoted e-mail; delete these marks, or get the draft itself"
	}
	return "it has no section of a weaving draft, such as [WIF] or [THREADING], and isn't a JSON draft"
}

// isBinary reports whether a text has many characters that no text has.
func isBinary(head []byte) bool {
	odd := 0
	for _, c := range head {
		if c < 0x20 && c != '\t' && c != '\n' && c != '\r' && c != '\f' && c != 0x1a {
			odd++
		}
	}
	return odd*20 > len(head)
}

// quotedPrintable reports whether a text is in the e-mail encoding that writes =3D for
// =. There, each = comes before two hexadecimal digits or the end of its line.
func quotedPrintable(head []byte) bool {
	coded := 0
	for at := bytes.IndexByte(head, '='); at >= 0; {
		rest := head[at+1:]
		switch {
		case bytes.HasPrefix(rest, []byte("3D")):
			coded++
		case len(rest) > 1 && rest[0] != '\n' && rest[0] != '\r' && !(isHex(rest[0]) && isHex(rest[1])):
			return false
		}
		next := bytes.IndexByte(rest, '=')
		if next < 0 {
			break
		}
		at += 1 + next
	}
	return coded > 2
}

func isHex(c byte) bool { return '0' <= c && c <= '9' || 'A' <= c && c <= 'F' }

// quotedReply reports whether each line that isn't blank begins with >, as e-mail
// programs quote a text.
func quotedReply(text []byte) bool {
	lines := 0
	for line := range bytes.Lines(bytes.ReplaceAll(text[:min(len(text), 1024)], []byte{'\r'}, []byte{'\n'})) {
		if line = bytes.TrimSpace(line); len(line) == 0 {
			continue
		}
		if line[0] != '>' {
			return false
		}
		lines++
	}
	return lines > 2
}
