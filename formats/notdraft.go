package formats

import "bytes"

// signs are the first bytes of files that get saved under a draft's name.
var signs = []struct{ start, what string }{
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

// looksLike says what a file is that is certainly no draft, or "", by the
// beginning of its bytes and of the text they decode to.
func looksLike(raw, text []byte) string {
	head := text[:min(len(text), 1024)]
	start := bytes.TrimLeft(head, " \t\r\n\ufeff")
	if len(start) == 0 && len(text) == len(head) {
		return "it is empty"
	}
	for _, s := range signs {
		if bytes.HasPrefix(raw, []byte(s.start)) && (s.start != "BM" || isBinary(head)) {
			return s.what
		}
	}
	if quotedPrintable(head) {
		return "it is a mail in quoted-printable coding, with =3D for each =; save the draft that is attached to it"
	}
	if len(start) == 0 || start[0] != '<' {
		return ""
	}
	lower := bytes.ToLower(start)
	for _, tag := range []string{"<!doctype html", "<html", "<head", "<body", "<meta", "<script"} {
		if bytes.Contains(lower, []byte(tag)) {
			return "it is a web page, saved in place of the draft; download the draft itself again"
		}
	}
	return "it is a file of markup (XML or the like)"
}

// neither says what a file is that is no draft and nothing that is known.
func neither(text []byte) string {
	if isBinary(text[:min(len(text), 1024)]) {
		return "it is a binary file, no text"
	}
	if quoted(text) {
		return "each line begins with >, as a mail program marks what it answers; delete these marks, or get the draft itself"
	}
	return "no section of a weaving draft, such as [WIF] or [THREADING], and no JSON draft is in it"
}

// isBinary says whether a text has many characters that no text has.
func isBinary(head []byte) bool {
	odd := 0
	for _, c := range head {
		if c < 0x20 && c != '\t' && c != '\n' && c != '\r' && c != '\f' && c != 0x1a {
			odd++
		}
	}
	return odd*20 > len(head)
}

// quotedPrintable reports whether a text is in the coding of mails that writes =3D
// for =: each = is followed by two digits of 16, or by the end of its line.
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

// quoted reports whether each line of a text that is not blank begins with the mark
// that mail programs put before what they answer.
func quoted(text []byte) bool {
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
