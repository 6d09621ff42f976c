package formats

import (
	"bytes"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// The code pages of texts from western, northern and central Europe.
var (
	western    = []string{"windows-1252", "cp850", "cp437", "mac-roman"}
	western850 = []string{"windows-1252", "cp850", "mac-roman"}
	nordic     = []string{"windows-1252", "cp850", "cp865", "mac-roman"}
	central    = []string{"windows-1250", "cp852"}
)

// titles holds names of drafts in many languages.
var titles = []struct {
	language  string
	codePages []string
	list      []string
}{
	{"Swedish", western, []string{"Rosengång på 4 skaft", "Kråkdräll i blått och grönt", "Spetskypert på åtta skaft", "Handduk i gåsögon", "Löpare med röda ränder", "Vävd år för år"}},
	{"Finnish", western, []string{"Räsymatto äidille", "Pöytäliina, väri sininen", "Nelivartinen kynsisidos, pyyhe täkänä", "Käsipyyhe", "Pyöreä pöytä"}},
	{"Norwegian", nordic, []string{"Grønt åkle på fire skaft", "Løper i rosebragd, blå", "Håndkle i gåseøye", "Kjøkkenhåndkle", "Rød duk til påske"}},
	{"Danish", nordic, []string{"Viskestykke i gåseøjne", "Blåt tæppe på fire skafter", "Rød løber med ærter", "Dræjl til håndklæder", "Kørner og rødt bånd"}},
	{"German", western, []string{"Gänseaugen, acht Schäfte", "Grüner Schal für Großmutter", "Köper über vier Schäfte", "Tischläufer mit Börtchen", "Spitzköper, weiße Fäden"}},
	{"Dutch", western, []string{"Geïnspireerd op één oude sjaal", "Tweezijdige deken met coördinaten, één kleur", "Vier schachten, drieëntwintig draden"}},
	{"French", western, []string{"Écharpe légère à carreaux", "Serviette en nid d'abeilles, très épaisse", "Chaîne écrue, trame bleu foncé", "Sergé à quatre lames", "Rideau de la fenêtre d'été"}},
	{"Spanish", western, []string{"Mantel de algodón para mañana", "Pañuelo pequeño con líneas", "Sarga de otoño, última versión", "Cañamazo común", "Tapiz número dos"}},
	{"Portuguese", western850, []string{"Toalha de algodão, três ligações", "Tecido em lã e linho, padrão número dois", "Manta de verão com riscas e flores à mão"}},
	{"Italian", western, []string{"Più semplice di così, però è bello", "Città e libertà, è una coperta", "Perché no: unità di lana"}},
	{"Icelandic", []string{"windows-1252", "cp850"}, []string{"Íslenskt teppi með rósum", "Vaðmál, fjögur sköft", "Blátt og rautt áklæði, þræðir"}},
	{"Estonian", []string{"windows-1252"}, []string{"Käterätik, neli niit, põhjamaa", "Õhuke sõba, lõngad ja vöö", "Ümar vöökiri, õie värv"}},
	{"Polish", central, []string{"Ręcznik w jodełkę, żółty", "Pasiak łowicki, wąska krajka", "Dwanaście nicieńnic, płótno", "Chodnik ze ścinków, cztery ścieżki"}},
	{"Czech", central, []string{"Červený ručník, plátno", "Kepr na čtyřech listech, žlutý", "Ubrus s růžemi, první část", "Přehoz přes křeslo"}},
	{"Slovak", central, []string{"Obrus s ružami, štyri listy", "Keper, žltý a červený uterák", "Ľanové plátno, široký pás"}},
	{"Hungarian", central, []string{"Kék törölköző, négy nyüst", "Fűzöld terítő húsvétra", "Őszi kendő gyapjúból, sávolykötés"}},
	{"Croatian", central, []string{"Ručnik s četiri lista, žuti", "Šareni tepih, pređa od vune i čičak", "Keper, šal za đaka, ćilim"}},
	{"Romanian", central, []string{"Ştergar cu patru iţe, încălţat", "Faţă de masă ţesută în casă", "Pătură groasă, lână ţigaie şi fâşii"}},
	{"English", western, []string{"Café curtain, naïve colours", "Façade with fiancé’s stripes"}},
}

// readings counts the results of guesses.
type readings struct{ right, unclear, wrong int }

func (r *readings) sum() int { return r.right + r.unclear + r.wrong }

// guessed guesses the code page of a title. It returns false if the page lacks one of
// its letters.
func (r *readings) guess(t *testing.T, page, title string) {
	t.Helper()
	raw, ok := inPage(page, "Title="+title+"\r\n")
	if !ok {
		return
	}
	e := encodingOf(raw, "")
	switch {
	case len(e.unclear) > 0:
		r.unclear++
	case string(e.decode(raw)) == "Title="+title+"\r\n":
		r.right++
	default:
		r.wrong++
		t.Logf("%s in %s is taken for %s in %s", title, page, strings.TrimSpace(string(e.decode(raw)[6:])), e.name)
	}
}

func inPage(name, text string) ([]byte, bool) {
	i := slices.IndexFunc(codePages(), func(p codePage) bool { return p.name == name })
	raw := make([]byte, 0, len(text))
	for _, r := range text {
		c, ok := codePages()[i].table.EncodeRune(r)
		if !ok {
			return nil, false
		}
		raw = append(raw, c)
	}
	return raw, true
}

// TestTitles reads titles in each code page of their language. None may be clearly
// wrong; few may be unclear.
func TestTitles(t *testing.T) {
	var all readings
	for _, l := range titles {
		var of readings
		for _, title := range l.list {
			for _, page := range l.codePages {
				of.guess(t, page, title)
			}
		}
		t.Logf("%s: %+v", l.language, of)
		if of.wrong > 0 || of.sum() < len(l.list) {
			t.Errorf("%s: %+v", l.language, of)
		}
		all.right, all.unclear = all.right+of.right, all.unclear+of.unclear
	}
	t.Logf("all: %+v", all)
	if all.right*10 < all.sum()*9 {
		t.Errorf("only %d of %d titles are clear", all.right, all.sum())
	}
}

// TestWordLists reads pairs of words from dictionaries, in each code page of their
// language. They are in the Debian packages wswedish, wngerman and wpolish.
func TestWordLists(t *testing.T) {
	for _, list := range []struct {
		path  string
		table *charmap.Charmap // of the list; nil for UTF-8
		pages []string
		clear int // the percentage that must be right and clear
	}{
		{"/usr/share/dict/swedish", charmap.ISO8859_1, western, 90},
		{"/usr/share/dict/ngerman", nil, western, 90},
		{"/usr/share/dict/polish", nil, central, 85},
	} {
		t.Run(list.path, func(t *testing.T) {
			raw, err := os.ReadFile(list.path)
			if os.IsNotExist(err) && os.Getenv("CI") != "true" {
				t.Skip("no such word list here")
			} else if err != nil {
				t.Fatal(err)
			}
			words := accentedWords(raw, list.table)
			for _, page := range list.pages {
				var of readings
				for i := 0; i+1 < len(words); i += 2 {
					of.guess(t, page, words[i]+" "+words[i+1])
				}
				t.Logf("%s: %+v", page, of)
				if of.wrong*1000 > of.sum() {
					t.Errorf("%s: %d of %d pairs of words are clearly wrong", page, of.wrong, of.sum())
				}
				if page != "mac-roman" && of.right*100 < list.clear*of.sum() {
					t.Errorf("%s: only %d of %d pairs of words are clear", page, of.right, of.sum())
				}
			}
		})
	}
}

// accentedWords picks 4000 words with characters beyond ASCII from a word list.
func accentedWords(raw []byte, table *charmap.Charmap) []string {
	var words []string
	const enough = 50_000 // lines to choose from, spread over the list
	every, n := max(1, bytes.Count(raw, []byte{'\n'})/enough), 0
	for line := range bytes.Lines(raw) {
		if n++; n%every != 0 {
			continue
		}
		word := string(bytes.TrimSpace(line))
		if table != nil {
			word = string(convert([]byte(word), table.NewDecoder().Bytes))
		}
		odd := strings.ContainsFunc(word, func(r rune) bool { return !unicode.IsLetter(r) })
		if !odd && len(word) > utf8.RuneCountInString(word) {
			words = append(words, word)
		}
	}
	random := rand.New(rand.NewPCG(1, 2))
	random.Shuffle(len(words), func(i, j int) { words[i], words[j] = words[j], words[i] })
	return words[:min(len(words), 4000)]
}

// TestRankingIsBounded ranks pages for many bytes above 127, which may take no longer
// than reading them.
func TestRankingIsBounded(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	raw := make([]byte, 16<<20)
	for i := range raw {
		raw[i] = byte(0x80 + random.IntN(0x80))
	}
	start := time.Now()
	rankPages(raw)
	if took := time.Since(start); took > 2*time.Minute {
		t.Errorf("16 MiB took %s", took)
	}
}
