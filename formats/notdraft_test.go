package formats

import (
	"strings"
	"testing"
)

func TestNotDrafts(t *testing.T) {
	const draft = "[WIF]\nVersion=1.1\n"
	for _, row := range []struct{ name, raw, says string }{
		{"empty", "", "it is empty"}, {"white space", " \r\n\t", "it is empty"}, {"only a mark", "\xef\xbb\xbf", "it is empty"},
		{"PNG", "\x89PNG\r\n\x1a\n" + draft, "PNG"}, {"JPEG", "\xff\xd8\xff\xe0" + draft, "JPEG"}, {"GIF", "GIF89a" + draft, "GIF"},
		{"BMP", "BM\x36\x00\x00\x00\x00\x00\x00\x00", "BMP"}, {"TIFF", "II*\x00\x08\x00\x00\x00", "TIFF"}, {"PDF", "%PDF-1.4\n" + draft, "PDF"},
		{"ZIP", "PK\x03\x04" + draft, "ZIP"}, {"gzip", "\x1f\x8b\x08" + draft, "gzip"},
		{"a word processor document", "{\\rtf1 " + draft, "word processor"},
		{"a web page", "<!DOCTYPE html>\n" + draft, "web page"}, {"a web page in capitals", "\n <HTML>" + draft, "web page"},
		{"a web page after XML", "<?xml version='1.0'?><html>" + draft, "web page"}, {"XML", "<draft>" + draft, "markup"},
		{"binary", "\x7fELF\x02\x01\x01\x00\x00\x00\x00" + draft, "binary"},
		{"an e-mail in quoted-printable", strings.ReplaceAll(draft+"[WARP]\nThreads=4\nColor=1\n", "=", "=3D"), "quoted-printable"},
		{"a draft quoted in an e-mail", "> [WIF]\r\n> Version=1.1\r\n>\r\n> [WARP]\r\n", "begins with >"},
		{"a letter", "Dear guild,\n", "no section"}, {"another INI file", "[loom]\nshafts = 8\n", "no section"},
	} {
		t.Run(row.name, func(t *testing.T) {
			doc := Read("x", []byte(row.raw))
			if doc.Draft != nil || len(doc.Findings) != 1 || !strings.Contains(doc.Findings[0].Message, row.says) {
				t.Errorf("%v %+v", doc.Draft != nil, doc.Findings)
			}
			if Holds([]byte(row.raw)) {
				t.Error("Holds takes it for a draft")
			}
		})
	}
}

func TestUnusualDrafts(t *testing.T) {
	for _, row := range []struct{ name, raw string }{
		{"letters as in a picture", "BM is my name\n[WIF]\n"}, {"a form feed", "\f[WIF]\nVersion=1.1\n"},
		{"an e-mail", "From: x\n\n[WIF]\n"}, {"one misspelt section among others", "[WIFF]\n[THREADING]\n"},
		{"3D in a title", "[WIF]\n[TEXT]\nTitle=3D weave\nAuthor=3D\n[WARP]\nThreads=3\n"}, {"one quoted line", "> [WIF]\n[WARP]\nThreads=4\n"},
		{"a tag in a note", "[NOTES]\n1=<html>\n"},
	} {
		if doc := Read("x", []byte(row.raw)); doc.Draft == nil || !Holds([]byte(row.raw)) {
			t.Errorf("%s: %s", row.name, doc.Findings[0].Message)
		}
	}
}

func TestTooLarge(t *testing.T) {
	doc := TooLarge("x.wif", DefaultLimit+1, DefaultLimit)
	if doc.Draft != nil || len(doc.Findings) != 1 || doc.Findings[0].Rule != "file/unreadable" ||
		!strings.Contains(doc.Findings[0].Message, "67108865") || !strings.Contains(doc.Findings[0].Message, "67108864") {
		t.Errorf("%+v", doc.Findings)
	}
	if got := TooLarge("-", 0, DefaultLimit).Findings[0].Message; !strings.Contains(got, "more than 67108864 bytes") {
		t.Error(got)
	}
}
