package main

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fettle/corpus"
	"fettle/formats/wif"
)

// worst is a file that a reader or a rule could take long over. Its text grows
// with n in proportion.
type worst struct {
	name string
	text func(n int) []byte
}

// worstFiles are what a search for such files came to. Each is linted with all
// rules, for a loom, reed, heddles and yarn.
func worstFiles() []worst {
	repeated := func(head, line string) func(int) []byte {
		return func(n int) []byte { return append([]byte(head), bytes.Repeat([]byte(line), n/len(line))...) }
	}
	numbered := func(head, format string) func(int) []byte {
		return func(n int) []byte {
			text := []byte(head)
			for i := 1; len(text) < n; i++ {
				text = fmt.Appendf(text, format, i)
			}
			return text
		}
	}
	const tied = "[WIF]\n[WEAVING]\nShafts=4\n[TIEUP]\n1=1,2\n2=3,4\n[THREADING]\n1=1\n2=2\n3=3\n4=4\n[TREADLING]\n"
	return []worst{
		{"as it should be", func(n int) []byte {
			text, _ := wif.Write(corpus.Generate(1, corpus.GenOptions{Ends: n / 29, Picks: n / 29, Shafts: 8}), wif.Options{})
			return text
		}},
		{"many sections", numbered("[WIF]\n", "[SECTION %d]\n")},
		{"a section again and again", repeated("[WIF]\n[TEXT]\n", "[TEXT]\n")},
		{"sections by turns", repeated("[WIF]\n", "[THREADING]\n1=1\n[TREADLING]\n1=1\n")},
		{"many unknown keys", numbered("[WIF]\n[WEAVING]\n", "Key %d=1\n")},
		{"a key again and again", repeated("[WIF]\n[WEAVING]\n", "Shafts=4\n")},
		{"a row again and again", repeated("[WIF]\n[THREADING]\n", "1=1\n")},
		{"rows backwards", func(n int) []byte {
			text := []byte("[WIF]\n[THREADING]\n")
			for i := n / 10; i > 0; i-- {
				text = fmt.Appendf(text, "%d=%d\n", i, i%8+1)
			}
			return text
		}},
		{"rows far apart", numbered("[WIF]\n[THREADING]\n", "%d0=1\n")},
		{"many lines of contents", numbered("[WIF]\n[CONTENTS]\n", "PRIVATE %d=true\n")},
		{"a line without an end", repeated("[WIF]\n[NOTES]\n1=", "é ")},
		{"a row without an end", func(n int) []byte {
			text := []byte("[WIF]\n[TIEUP]\n1=1")
			for i := 2; len(text) < n; i++ {
				text = fmt.Appendf(text, ",%d", i)
			}
			return append(text, "\n[THREADING]\n1=1\n[TREADLING]\n1=1\n"...)
		}},
		{"stray lines and rows by turns", repeated("[WIF]\n[THREADING]\n", "x\n1=1\n")},
		{"values that cannot be read", numbered("[WIF]\n[WARP SPACING]\n", "%d=x\n")},
		{"decimal commas", numbered("[WIF]\n[WARP]\nThreads=1000000\n[WARP SPACING]\n", "%d=0,25\n")},
		{"colors beyond the palette", numbered(tied+"1=1\n[WEFT]\nThreads=900000\n[WEFT COLORS]\n", "%d=9\n")},
		{"comments that ask to ignore", repeated("[WIF]\n", "; fettle: ignore cloth/layers - so\n")},
		{"every line ended otherwise", repeated("[WIF]\n[NOTES]\n", "1=a\r\n2=b\n3=c\r")},
		{"every end on every shaft", func(n int) []byte {
			const shafts = 64
			var all strings.Builder
			for s := 1; s <= shafts; s++ {
				fmt.Fprintf(&all, ",%d", s)
			}
			row := all.String()[1:]
			text := []byte("[WIF]\n[WEAVING]\nShafts=64\n[THREADING]\n")
			for i := 1; len(text) < n/2; i++ {
				text = fmt.Appendf(text, "%d=%s\n", i, row)
			}
			text = append(text, "[LIFTPLAN]\n"...)
			for i := 1; len(text) < n; i++ {
				text = fmt.Appendf(text, "%d=%s\n", i, row)
			}
			return text
		}},
		{"every lift another", func(n int) []byte {
			r := rand.New(rand.NewPCG(1, 2))
			text := []byte("[WIF]\n[WEAVING]\nShafts=32\n[THREADING]\n")
			for i := 1; len(text) < n/4; i++ {
				text = fmt.Appendf(text, "%d=%d\n", i, i%32+1)
			}
			text = append(text, "[LIFTPLAN]\n"...)
			for i := 1; len(text) < n; i++ {
				text = fmt.Appendf(text, "%d=", i)
				for s := 1; s <= 31; s++ {
					if r.IntN(2) == 0 {
						text = fmt.Appendf(text, "%d,", s)
					}
				}
				text = append(text, "32\n"...)
			}
			return text
		}},
		{"every end on a shaft of its own, every lift another", func(n int) []byte {
			text := []byte("[WIF]\n[THREADING]\n")
			for i := 1; len(text) < n/2; i++ {
				text = fmt.Appendf(text, "%[1]d=%[1]d\n", i)
			}
			text = append(text, "[LIFTPLAN]\n"...)
			for i := 1; len(text) < n; i++ {
				text = fmt.Appendf(text, "%[1]d=%[1]d\n", i)
			}
			return text
		}},
		{"every treadle untied", numbered("[WIF]\n[TIEUP]\n1=1\n[THREADING]\n1=1\n[TREADLING]\n", "%[1]d=%[1]d\n")},
		{"uneven spacing", numbered(tied+"1=1\n[WARP]\nUnits=Centimeters\nThreads=1000000\n[WARP SPACING]\n", "%[1]d=0.1%[1]d\n")},
		{"deep JSON", func(n int) []byte {
			return []byte(`{"fettle":1,"threading":` + strings.Repeat("[", n/2) + strings.Repeat("]", n/2) + "}")
		}},
		{"wide JSON", func(n int) []byte {
			return []byte(`{"fettle":1,"threading":[` + strings.Repeat("1,", n/2) + `1]}`)
		}},
		{"JSON with unknown keys", func(n int) []byte {
			text := []byte(`{"fettle":1`)
			for i := 0; len(text) < n; i++ {
				text = fmt.Appendf(text, `,"k%d":[]`, i)
			}
			return append(text, '}')
		}},
		{"JSON with words for numbers", func(n int) []byte {
			return []byte(`{"fettle":1,"threading":[` + strings.Repeat(`"x",`, n/4) + `1]}`)
		}},
	}
}

const worstRoom = "[loom]\nshafts = 8\ntreadles = 10\nweaving width = 60 cm\n[heddles]\neach = 20\n[reed]\ndents = 10/in\n" +
	"[project]\nsett = 20/in\nfinished length = 2 m\n[yarn a]\ngrist = 8/2 cotton\nstock = 100 m\n"

// BenchmarkWorst lints each file in two sizes and tells by which power of the
// size the time grows: 1 where it is in proportion.
func BenchmarkWorst(b *testing.B) {
	const small, large = 250_000, 4_000_000
	for _, w := range worstFiles() {
		b.Run(w.name, func(b *testing.B) {
			folder := b.TempDir()
			writeFile(b, filepath.Join(folder, "fettle.ini"), []byte(worstRoom))
			took := func(name string, n int) (time.Duration, int) {
				path := filepath.Join(folder, name)
				text := w.text(n)
				writeFile(b, path, text)
				from := time.Now()
				lintQuietly(b, path)
				return time.Since(from), len(text)
			}
			var quick, slow time.Duration
			var short, long int
			least := func(t, than time.Duration) time.Duration {
				if than == 0 {
					return t
				}
				return min(t, than)
			}
			for b.Loop() {
				t, n := took("small.wif", small)
				quick, short = least(t, quick), n
				t, n = took("large.wif", large)
				slow, long = least(t, slow), n
			}
			growth := math.Log(float64(slow)/float64(quick)) / math.Log(float64(long)/float64(short))
			b.ReportMetric(growth, "exponent")
			b.ReportMetric(float64(long)/1e6/slow.Seconds(), "MB/s")
			b.ReportMetric(0, "ns/op") // of writing the files, which says nothing
		})
	}
}
