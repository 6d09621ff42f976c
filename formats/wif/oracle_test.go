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

// line3 is a key of a section and its value, as text.
type line3 struct{ Section, Key, Value string }

// lexed is a text as the draft reader's lexer sees it.
func lexed(text []byte) (list []line3) {
	section := ""
	for at := 0; at < len(text); {
		l := lex(text, at)
		cut := func(s schema.Span) string { return string(text[s.Start:s.End]) }
		switch l.sort {
		case sortSection:
			section = cut(l.name)
		case sortKey:
			list = append(list, line3{section, cut(l.name), cut(l.value)})
		}
		at = l.next
	}
	return list
}

// cleanTexts are the drafts that general readers of INI files can be asked about:
// those of the corpus in which the reader finds nothing, and generated ones.
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

// verbatimINI has ini.v1 keep values as they stand.
func verbatimINI() ini.LoadOptions {
	return ini.LoadOptions{
		IgnoreInlineComment: true, IgnoreContinuation: true,
		PreserveSurroundedQuote: true, KeyValueDelimiters: "=", AllowNonUniqueSections: true,
	}
}

// TestGoOracle compares with gopkg.in/ini.v1, which keeps the order.
func TestGoOracle(t *testing.T) {
	for name, text := range cleanTexts(t) {
		file, err := ini.LoadSources(verbatimINI(), text)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		var want []line3
		for _, s := range file.Sections() {
			for _, k := range s.Keys() {
				want = append(want, line3{s.Name(), k.Name(), k.Value()})
			}
		}
		if diff := cmp.Diff(want, lexed(text)); diff != "" {
			t.Errorf("%s: another reader (-), ours (+)\n%s", name, diff)
		}
	}
}

// nodeScript reads texts from standard input, as a JSON object by name, and
// writes each as a list of [section, key, value].
const nodeScript = `
const ini = require('ini')
const texts = JSON.parse(require('fs').readFileSync(0, 'utf8'))
const flat = (section, o) => Object.entries(o).flatMap(([key, v]) =>
  typeof v === 'object' ? flat(section ? section + '.' + key : key, v) : [[section, key, String(v)]])
const out = {}
for (const [name, text] of Object.entries(texts)) out[name] = flat('', ini.parse(text))
process.stdout.write(JSON.stringify(out))`

// TestNodeOracle compares with the package ini of the npm registry, in the folder
// that FETTLE_NODE_MODULES names. It has ways of its own, taken into account so:
//
//   - it has no order of keys, so both lists are sorted;
//   - a value ends at a semicolon or a number sign, so ours is cut there;
//   - a dot in a section's name makes a section within a section, which the
//     script joins with a dot again;
//   - the values true, false and null lose their type there, and the script
//     writes them as words again;
//   - quotes around a value, a backslash and a key that ends in [] mean
//     something to it and nothing to us: no clean draft of the corpus has them,
//     and the test says so should one come.
func TestNodeOracle(t *testing.T) {
	folder := os.Getenv("FETTLE_NODE_MODULES")
	if folder == "" {
		if os.Getenv("CI") == "true" {
			t.Fatal("set FETTLE_NODE_MODULES to the folder that the npm package ini is in")
		}
		t.Skip("FETTLE_NODE_MODULES names no folder with the npm package ini")
	}
	texts := cleanTexts(t)
	theirs := byNode(t, folder, texts)
	for name, text := range texts {
		ours := lexed(text)
		for i := range ours {
			ours[i].Value = asNode(t, ours[i])
		}
		if diff := cmp.Diff(sorted(theirs[name]), sorted(ours)); diff != "" {
			t.Errorf("%s: another reader (-), ours (+)\n%s", name, diff)
		}
	}
}

func byNode(t *testing.T, folder string, texts map[string][]byte) map[string][]line3 {
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
	var complaint bytes.Buffer
	node.Stderr = &complaint
	out, err := node.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, &complaint)
	}
	var lists map[string][][3]string
	if err := json.Unmarshal(out, &lists); err != nil {
		t.Fatal(err)
	}
	theirs := map[string][]line3{}
	for name, list := range lists {
		for _, l := range list {
			theirs[name] = append(theirs[name], line3{l[0], l[1], l[2]})
		}
	}
	return theirs
}

// asNode is a value as the npm package sees it.
func asNode(t *testing.T, l line3) string {
	t.Helper()
	if strings.Contains(l.Value, `\`) || strings.Trim(l.Value, `"'`) != l.Value || strings.HasSuffix(l.Key, "[]") {
		t.Errorf("%s=%s: the package has a way of its own with this; leave it out here", l.Key, l.Value)
	}
	if i := strings.IndexAny(l.Value, ";#"); i >= 0 {
		return strings.TrimSpace(l.Value[:i])
	}
	return l.Value
}

func sorted(list []line3) []line3 {
	return slices.SortedFunc(slices.Values(list), func(a, b line3) int {
		return strings.Compare(a.Section+"\x00"+a.Key, b.Section+"\x00"+b.Key)
	})
}
