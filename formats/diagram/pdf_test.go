package diagram_test

import (
	"bytes"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettle/formats/diagram"
	"fettle/schema"
	"fettle/schema/cloth"
)

// TestPDFText extracts the text of a page with poppler, in every script of the fonts.
func TestPDFText(t *testing.T) {
	for _, title := range []string{"Żółta łączka – près d'Århus", "Полотно «Ёлочка»", "Ύφασμα", "Huck & lace <1>"} {
		t.Run(title, func(t *testing.T) {
			d := twill()
			d.Texts.Title = title
			got := output(t, "pdftotext", pdfOf(t, d, diagram.Options{}), "-")
			if !strings.Contains(got, title) {
				t.Errorf("the title %q is not in %q", title, got)
			}
			if !strings.Contains(got, "8 ends, 4 picks") {
				t.Errorf("the facts are not in %q", got)
			}
		})
	}
}

func TestFontsAreEmbedded(t *testing.T) {
	got := strings.Split(strings.TrimSpace(output(t, "pdffonts", pdfOf(t, twill(), diagram.Options{}))), "\n")[2:]
	if len(got) != 2 {
		t.Fatalf("%d fonts: %q", len(got), got)
	}
	for _, line := range got {
		if f := strings.Fields(line); f[len(f)-5] != "yes" {
			t.Errorf("not embedded: %s", line)
		}
	}
}

// TestPDFPages counts the pages of every fourth draft of the corpus; with -long, of all.
func TestPDFPages(t *testing.T) {
	list := corpus(t)
	for i, name := range slices.Sorted(maps.Keys(list)) {
		if i%10 != 0 && !*long || testing.Short() && i%20 != 0 {
			continue
		}
		t.Run(name, func(t *testing.T) {
			want, err := diagram.SheetsOf(list[name], diagram.Options{})
			if err != nil {
				t.Fatal(err)
			}
			got := output(t, "pdfinfo", pdfOf(t, list[name], diagram.Options{}))
			if !strings.Contains(got, "Pages:           "+strconv.Itoa(want)+"\n") {
				t.Errorf("%d sheets make %s", want, got)
			}
		})
	}
}

// TestPages draws on a single page.
func TestPages(t *testing.T) {
	for _, row := range []struct {
		name string
		o    diagram.Options
		want string
	}{
		{"one repeat fits", diagram.Options{Repeat: true}, "Pages:           1\n"},
		{"a page of the drawing's size", diagram.Options{Page: diagram.OnePage}, "Pages:           1\n"},
		{"sideways paper", diagram.Options{Repeat: true, Cell: 10}, "Pages:           1\n"},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := output(t, "pdfinfo", pdfOf(t, guild(t, "goose-eye-towel"), row.o)); !strings.Contains(got, row.want) {
				t.Errorf("%s", got)
			}
		})
	}
}

// TestAnyTitle draws titles of any characters.
func TestAnyTitle(t *testing.T) {
	titles := 20
	if *long {
		titles = 1000
	}
	for i := range titles {
		d := twill()
		d.Texts.Title = rapid.String().Example(i)
		if err := diagram.PDF(io.Discard, d, diagram.Options{}); err != nil {
			t.Fatalf("%q: %v", d.Texts.Title, err)
		}
		if err := diagram.PNG(io.Discard, d, diagram.Options{DPI: 30}); err != nil {
			t.Fatalf("%q: %v", d.Texts.Title, err)
		}
	}
}

// TestClothInText compares the printed cloth with the identity of the cloth.
func TestClothInText(t *testing.T) {
	for name, d := range corpus(t) {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			if err := diagram.Cloth(&b, d); err != nil {
				t.Fatal(err)
			}
			got := strings.NewReplacer("#", "1", ".", "0").Replace(b.String())
			var want strings.Builder
			for _, row := range cloth.Of(d).Rows() {
				want.Write(row)
				want.WriteByte('\n')
			}
			if got != want.String() {
				t.Error("the printed cloth differs")
			}
		})
	}
}

func TestLegible(t *testing.T) {
	for in, want := range map[string]string{"a\tb": "a b", "yarn \U0001F9F6": "yarn \U0001F9F6", "cafe\u0301": "caf\u00e9",
		"\u263A\uFE0F": "\u263A", "abcdef": "abcd…", "\u202Ex": "\uFFFDx"} {
		if got := diagram.Legible(in, map[bool]int{true: 4, false: 40}[in == "abcdef"]); got != want {
			t.Errorf("%q is %q, want %q", in, got, want)
		}
	}
}

// TestUnset lists the characters that the fonts lack, and replaces them.
func TestUnset(t *testing.T) {
	for _, row := range []struct{ text, unset, set string }{
		{"Ferry scarf, déjà vu × 2…", "", "Ferry scarf, déjà vu × 2…"},
		{"Полотенце Πετσέτα", "", "Полотенце Πετσέτα"},
		{"שלום, שלום", "שלום", "����, ����"},
		{"منشفة", "منشفة", "�����"},
		{"布", "布", "�"},
		{"wool \U0001F411", "\U0001F411", "wool �"},
		{"x\u0304", "\u0304", "x�"},
	} {
		if got := string(diagram.Unset(row.text)); got != row.unset {
			t.Errorf("%q: %q, want %q", row.text, got, row.unset)
		}
		if got := diagram.Settable(row.text); got != row.set {
			t.Errorf("%q is set as %q, want %q", row.text, got, row.set)
		}
	}
	if got, want := diagram.ListUnset([]rune("שלום布綿")), "'ש' (U+05E9), 'ל' (U+05DC), 'ו' (U+05D5), 'ם' (U+05DD), '布' (U+5E03) and 1 more"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// failing is a writer that always fails.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

func TestWriteErrors(t *testing.T) {
	d := twill()
	for name, err := range map[string]error{
		"svg": diagram.SVG(failing{}, d, diagram.Options{}, ""), "png": diagram.PNG(failing{}, d, diagram.Options{}),
		"pdf": diagram.PDF(failing{}, d, diagram.Options{}), "txt": diagram.Text(failing{}, d, diagram.Options{}),
		"cloth": diagram.Cloth(failing{}, d),
	} {
		if err == nil || !strings.Contains(err.Error(), "can't write") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestLargeDraft draws 4,000 ends by 8,000 picks, a large dobby draft, without keeping the
// grid.
func TestLargeDraft(t *testing.T) {
	d := &schema.Draft{Shafts: 16}
	for i := range int32(4000) {
		d.Threading.Append(i%16 + 1)
	}
	for i := range int32(8000) {
		d.LiftPlan.Append(i%16+1, (i+1)%16+1, (i+2)%16+1)
	}
	var n counter
	if err := diagram.SVG(&n, d, diagram.Options{}, ""); err != nil {
		t.Fatal(err)
	}
	if n > 2_000_000 {
		t.Errorf("a twill of 16 picks takes %d bytes", n)
	}
}

type counter int

func (c *counter) Write(b []byte) (int, error) { *c += counter(len(b)); return len(b), nil }
