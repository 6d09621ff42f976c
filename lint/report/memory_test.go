package report

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"fettle/schema"
)

// heap returns the bytes in use after garbage collection, and the bytes ever allocated.
func heap() (live, ever uint64) {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc, m.TotalAlloc
}

// TestMemoryDoesNotGrow writes many files, and many findings in a file. The memory in use
// stays the same.
func TestMemoryDoesNotGrow(t *testing.T) {
	const files, most = 5_000, 1 << 20
	src := &schema.Source{Text: []byte("[WIF]\nx\n")}
	for _, name := range Names() {
		t.Run(name, func(t *testing.T) {
			scratch := func() (*os.File, error) { return os.Create(filepath.Join(t.TempDir(), "scratch")) }
			w, err := New(name, io.Discard, Options{Scratch: scratch, FailOn: schema.Error})
			if err != nil {
				t.Fatal(err)
			}
			before, _ := heap()
			for i := range files {
				f := File{Path: fmt.Sprintf("%d.wif", i), Source: src, Prints: func() []string { return []string{"a:1", "b:1"} },
					Findings: []schema.Finding{{Rule: "file/stray-line", Position: schema.Position{Line: 1, Column: 1, EndLine: 1, EndColumn: 1}, Severity: schema.Error, Message: "a"},
						{Rule: "file/stray-line", Position: schema.Position{Line: 1, Column: 1, EndLine: 1, EndColumn: 1}, Severity: schema.Note, Message: "b"}}}
				if err := w.File(f); err != nil {
					t.Fatal(err)
				}
			}
			if after, _ := heap(); after > before+most {
				t.Errorf("%d files hold %d bytes", files, after-before)
			}
			if err := w.Close(Summary{}); err != nil {
				t.Error(err)
			}
		})
	}
}

// TestManyEdits writes a finding with an edit for each of many lines, without copying them.
func TestManyEdits(t *testing.T) {
	const edits, each = 50_000, 40 // bytes for an edit
	src := &schema.Source{Text: bytes.Repeat([]byte("x\n"), edits)}
	found := schema.Finding{Rule: "file/stray-line", Position: schema.Position{Line: 1, Column: 1, EndLine: 1, EndColumn: 1}, Fixes: []schema.Fix{{Title: "comment them out"}}}
	for i := range edits {
		found.Fixes[0].Edits = append(found.Fixes[0].Edits, schema.Edit{Span: schema.Span{Start: 2 * i, End: 2 * i}, New: "; "})
	}
	src.Position(schema.Span{Start: edits, End: edits})
	for _, name := range Names() {
		var out byteCount
		w, err := New(name, &out, Options{Scratch: func() (*os.File, error) { return os.Create(filepath.Join(t.TempDir(), "scratch")) }})
		if err != nil {
			t.Fatal(err)
		}
		_, before := heap()
		err = w.File(File{Path: "a.wif", Source: src, Prints: func() []string { return []string{"a:1"} }, Findings: []schema.Finding{found}})
		_, after := heap()
		if err != nil || after-before > edits*each {
			t.Errorf("%s: %d edits take %d bytes, %v", name, edits, after-before, err)
		}
		if err := w.Close(Summary{}); err != nil {
			t.Error(err)
		}
		if (name == "json" || name == "sarif") && int(out) < edits*100 {
			t.Errorf("%s: %d bytes are too few for %d edits", name, out, edits)
		}
	}
}

// byteCount counts the bytes written to it.
type byteCount int

func (c *byteCount) Write(text []byte) (int, error) {
	*c += byteCount(len(text))
	return len(text), nil
}

// TestScratch checks that results from a temporary file come back complete and in order.
func TestScratch(t *testing.T) {
	write := func(scratch func() (*os.File, error)) string {
		var out bytes.Buffer
		w, err := New("sarif", &out, Options{Scratch: scratch})
		if err != nil {
			t.Fatal(err)
		}
		src := &schema.Source{Text: []byte("[WIF]\n")}
		for i := range 2_000 {
			f := File{Path: fmt.Sprintf("%d.wif", i), Source: src, Prints: func() []string { return []string{"a:1"} },
				Findings: []schema.Finding{{Rule: "file/stray-line", Position: schema.Position{Line: 1, Column: 1, EndLine: 1, EndColumn: 1}, Severity: schema.Error - schema.Severity(i%2), Message: fmt.Sprint(i)}}}
			if err := w.File(f); err != nil {
				t.Fatal(err)
			}
		}
		if err := w.Close(Summary{}); err != nil {
			t.Fatal(err)
		}
		return out.String()
	}
	made := 0
	spooled := write(func() (*os.File, error) {
		made++
		return os.Create(filepath.Join(t.TempDir(), fmt.Sprint(made)))
	})
	if whole := write(nil); spooled != whole || made == 0 {
		t.Errorf("%d files; %d bytes through them, %d without", made, len(spooled), len(whole))
	}
	w, err := New("sarif", io.Discard, Options{Scratch: func() (*os.File, error) { return nil, os.ErrPermission }})
	if err != nil {
		t.Fatal(err)
	}
	message := string(bytes.Repeat([]byte("x"), mostInMemory))
	err = w.File(File{Source: &schema.Source{Text: nil}, Prints: func() []string { return []string{"a:1"} }, Findings: []schema.Finding{{Severity: schema.Error, Message: message}}})
	if err == nil {
		t.Error("no error where no temporary file can be made")
	}
}
