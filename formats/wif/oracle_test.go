package wif

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gopkg.in/ini.v1"

	"fettle/corpus"
	"fettle/schema"
)

type iniKey struct{ Section, Key, Value string }

// lexed returns the keys that our lexer finds.
func lexed(text []byte) (list []iniKey) {
	section := ""
	for at := 0; at < len(text); {
		l := lex(text, at)
		cut := func(s schema.Span) string { return string(text[s.Start:s.End]) }
		switch l.sort {
		case sortSection:
			section = cut(l.name)
		case sortKey:
			list = append(list, iniKey{section, cut(l.name), cut(l.value)})
		}
		at = l.next
	}
	return list
}

// cleanTexts returns drafts that general INI readers can read: those of the corpus
// without reader findings, and generated ones.
func cleanTexts(t *testing.T) map[string][]byte {
	t.Helper()
	texts := map[string][]byte{}
	for _, folder := range []string{"guild", "faulty"} {
		paths, err := filepath.Glob("../../corpus/" + folder + "/*.wif")
		if err != nil || len(paths) < 20 {
			t.Fatalf("%d drafts in %s: %v", len(paths), folder, err)
		}
		for _, path := range paths {
			if texts[path], err = os.ReadFile(path); err != nil {
				t.Fatal(err)
			}
		}
	}
	for seed := range uint64(20) {
		text, _ := Write(corpus.Generate(seed, corpus.GenOptions{LiftPlan: seed%2 == 0}), Options{LF: seed%3 == 0})
		texts[fmt.Sprint("generated ", seed)] = text
	}
	return texts
}

// verbatimINI makes ini.v1 keep values unchanged.
func verbatimINI() ini.LoadOptions {
	return ini.LoadOptions{
		IgnoreInlineComment: true, IgnoreContinuation: true,
		PreserveSurroundedQuote: true, KeyValueDelimiters: "=", AllowNonUniqueSections: true,
	}
}

// TestGoOracle compares our lexer with gopkg.in/ini.v1, which keeps the order.
func TestGoOracle(t *testing.T) {
	for name, text := range cleanTexts(t) {
		file, err := ini.LoadSources(verbatimINI(), text)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		var want []iniKey
		for _, s := range file.Sections() {
			for _, k := range s.Keys() {
				want = append(want, iniKey{s.Name(), k.Name(), k.Value()})
			}
		}
		if diff := cmp.Diff(want, lexed(text)); diff != "" {
			t.Errorf("%s: the other reader (-), ours (+)\n%s", name, diff)
		}
	}
}

// nodeScript reads a JSON object of texts by name and writes each text as a list of
// [section, key, value].
const nodeScript = `
const ini = require('ini')
const texts = JSON.parse(require('fs').readFileSync(0, 'utf8'))
const flat = (section, o) => Object.entries(o).flatMap(([key, v]) =>
  typeof v === 'object' ? flat(section ? section + '.' + key : key, v) : [[section, key, String(v)]])
const out = {}
for (const [name, text] of Object.entries(texts)) out[name] = flat('', ini.parse(text))
process.stdout.write(JSON.stringify(out))`

// TestNodeOracle compares our lexer with the npm package ini, in the folder that
// FETTLE_NODE_MODULES names. The package differs in some ways:
//
//   - it doesn't keep the order of keys, so the test sorts both lists;
//   - it ends a value at a semicolon or a number sign, so the test cuts ours there;
//   - it makes a nested section for a dot in a section's name, which the script
//     undoes;
//   - it gives the values true, false and null a type, which the script undoes;
//   - it gives a meaning to quotes around a value, to backslashes and to keys that
//     end in []. No clean draft of the corpus has them; the test checks that.
func TestNodeOracle(t *testing.T) {
	folder := os.Getenv("FETTLE_NODE_MODULES")
	if folder == "" {
		if os.Getenv("CI") == "true" {
			t.Fatal("set FETTLE_NODE_MODULES to the folder with the npm package ini")
		}
		t.Skip("FETTLE_NODE_MODULES is not set")
	}
	texts := cleanTexts(t)
	theirs := byNode(t, folder, texts)
	for name, text := range texts {
		ours := lexed(text)
		for i := range ours {
			ours[i].Value = asNode(t, ours[i])
		}
		if diff := cmp.Diff(sorted(theirs[name]), sorted(ours)); diff != "" {
			t.Errorf("%s: the other reader (-), ours (+)\n%s", name, diff)
		}
	}
}

func byNode(t *testing.T, folder string, texts map[string][]byte) map[string][]iniKey {
	t.Helper()
	words := map[string]string{}
	for name, text := range texts {
		words[name] = string(text)
	}
	in, err := json.Marshal(words)
	if err != nil {
		t.Fatal(err)
	}
	node := exec.Command("node", "-e", nodeScript)
	node.Env = append(os.Environ(), "NODE_PATH="+folder)
	node.Stdin = bytes.NewReader(in)
	var stderr bytes.Buffer
	node.Stderr = &stderr
	out, err := node.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, &stderr)
	}
	var lists map[string][][3]string
	if err := json.Unmarshal(out, &lists); err != nil {
		t.Fatal(err)
	}
	theirs := map[string][]iniKey{}
	for name, list := range lists {
		for _, l := range list {
			theirs[name] = append(theirs[name], iniKey{l[0], l[1], l[2]})
		}
	}
	return theirs
}

// asNode returns a value as the npm package reads it.
func asNode(t *testing.T, l iniKey) string {
	t.Helper()
	if strings.Contains(l.Value, `\`) || strings.Trim(l.Value, `"'`) != l.Value || strings.HasSuffix(l.Key, "[]") {
		t.Errorf("%s=%s: the npm package reads this differently; leave the draft out here", l.Key, l.Value)
	}
	if i := strings.IndexAny(l.Value, ";#"); i >= 0 {
		return strings.TrimSpace(l.Value[:i])
	}
	return l.Value
}

func sorted(list []iniKey) []iniKey {
	return slices.SortedFunc(slices.Values(list), func(a, b iniKey) int {
		return strings.Compare(a.Section+"\x00"+a.Key, b.Section+"\x00"+b.Key)
	})
}
