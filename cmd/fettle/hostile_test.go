package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"
	"unicode"
)

// hostileDraft is a draft with many findings. Each text in it begins with a command for
// CI services.
func hostileDraft(mark string) string {
	return "[WIF]\nVersion=1.1\nDeveloper=x\n" + mark + "stray\n[CONTENTS]\nTHREADING=true\n[TEXT]\nTitle=" + mark + "title\nAuthor=" + mark + "author\n" +
		"[NOTES]\n1=" + mark + "note\n[" + mark + "section]\n" + mark + "key=" + mark + "value\n[WEAVING]\nShafts=" + mark + "4\nProfile=" + mark + "maybe\n" +
		"[THREADING]\n1=1\n2=2\n3=1\n4=" + mark + "x\n[LIFTPLAN]\n1=1\n2=2\n[PRIVATE " + mark + "x]\na=b\n"
}

// runsInLog reports whether a CI service would run a line of a log. Like them, it skips
// leading blanks and finds some marks anywhere in the line.
func runsInLog(log string) string {
	mark := regexp.MustCompile(`##[A-Za-z]*\[`)
	for _, line := range strings.FieldsFunc(log, func(r rune) bool { return strings.ContainsRune("\n\r\v\f\u0085\u2028\u2029", r) }) {
		if strings.HasPrefix(strings.TrimLeftFunc(line, unicode.IsSpace), "::") || mark.MatchString(line) {
			return line
		}
	}
	return ""
}

// TestNoCommandInLogs runs every command on files whose names and texts are commands for
// CI services. No printed line may be one.
func TestNoCommandInLogs(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no file can have such a name here")
	}
	for _, mark := range []string{"::error::boom ", "##vso[task.fail]boom ", "##[error]boom ", "##teamcity[boom] ", "\u00a0::warning::boom ", "\u2028::boom ", "\r::boom "} {
		t.Run(mark, func(t *testing.T) {
			t.Chdir(t.TempDir())
			draft, bad, folder := mark+"a.wif", mark+"bad.wif", mark+"folder"
			writeFile(t, draft, []byte(hostileDraft(mark)))
			writeFile(t, mark+"x.txt", nil)
			writeFile(t, bad, []byte(mark+"no draft"))
			writeFile(t, "loom.ini", []byte("["+mark+"x]\n"+mark+"key = 1\n[loom]\nshafts = "+mark+"\n"))
			if err := os.MkdirAll(filepath.Join(folder, mark+"deep"), 0o755); err != nil {
				t.Fatal(err)
			}
			writeFile(t, filepath.Join(folder, "fettle.ini"), []byte("[loom]\nshafts = "+mark+"\n[rules]\n"+mark+" = off\n"))
			writeFile(t, filepath.Join(folder, mark+"deep", "b.wif"), []byte(hostileDraft(mark)))
			for _, args := range [][]string{
				{"lint", draft}, {"lint", draft, "--color", "always"}, {"lint", bad}, {"lint", "."}, {"lint", folder}, {"lint", mark}, {"lint", draft, "--stats"},
				{"lint", draft, "--config", "loom.ini"}, {"lint", draft, "--only", mark}, {"lint", draft, "--fail-on", mark}, {"lint", draft, "--report", mark},
				{"lint", draft, "--baseline", mark}, {"lint", draft, "--output", mark + "/x"}, {"lint", draft, "--format", "annotations", "--quiet"},
				{"lint", draft, "--format", "json"}, {"lint", ".", "--format", "sarif"}, {"lint", ".", "--format", "quality"},
				{"clean", draft, "--output", "cleaned"}, {"clean", draft, "--diff"}, {"clean", ".", "--check"}, {"clean", folder, "--check"}, {"clean", bad},
				{"clean", draft, "--risky", "--output", "risky"}, {"clean", draft, "--canonical", "--output", "canonical"}, {"clean", draft, "--skip", mark},
				{"convert", draft, "--to", "txt"}, {"convert", draft, "--to", "json", "--strict"}, {"convert", draft, "--to", "json"}, {"convert", draft, "--to", mark},
				{"convert", draft, "--to", "json", "--format", "json", "--output", "c.json"}, {"convert", bad, "--to", "json"}, {"convert", draft, "--output", "loom.ini"},
				{"convert", draft, "--output", mark + "x.txt"}, {"convert", ".", "--to", "json", "--out-dir", mark + "out"},
				{"info", draft}, {"info", "."}, {"info", draft, "--format", "json"}, {"info", mark}, {"info", draft, "--format", mark},
				{"plan", draft}, {"plan", draft, "--format", "json"}, {"plan", bad}, {"plan", mark}, {"plan", draft, "--sett", mark}, {"plan", draft, "--config", "loom.ini"},
				{"rules", mark}, {"rules"}, {"rules", "--format", "json"}, {"rules", "--format", mark}, {"schema", mark}, {"completion", mark}, {"man"}, {"man", mark},
				{"init", mark}, {"init", "--output", mark + "/x.ini"}, {"init", "--output", mark + "x.ini"}, {mark}, {"--" + mark}, {"lint", "--" + mark}, {"help", mark},
			} {
				if at := len(args) - 1; strings.HasPrefix(args[at], "--") && len(args) == 1 {
					args[at] = strings.TrimSpace(args[at])
				}
				checkLog(t, args)
			}
		})
	}
}

func checkLog(t *testing.T, args []string) {
	t.Helper()
	var out, told bytes.Buffer
	p := &program{in: strings.NewReader(""), out: &out, err: &told}
	p.run(append([]string{"fettle"}, args...))
	if out.Len()+told.Len() == 0 {
		t.Errorf("%q says nothing", args)
	}
	text := out.String()
	if strings.Contains(strings.Join(args, " "), "annotations") { // annotations are meant to be commands
		for line := range strings.Lines(text) {
			if !regexp.MustCompile(`^::(error|warning|notice) file=[^:,]*,line=\d+,(col=\d+,)?endLine=\d+,(endColumn=\d+,)?title=[^:,]*::`).MatchString(line) {
				t.Errorf("%q prints %q", args, line)
			}
		}
		text = regexp.MustCompile("(?m)^::").ReplaceAllString(text, "")
	}
	for name, log := range map[string]string{"standard output": text, "standard error": told.String()} {
		if line := runsInLog(log); line != "" {
			t.Errorf("%q prints %q on %s", args, line, name)
		}
	}
}

// TestMachineFormsAreExact checks that formats for programs have the same bytes on
// standard output as in files.
func TestMachineFormsAreExact(t *testing.T) {
	t.Chdir(t.TempDir())
	writeFile(t, "a.wif", []byte(hostileDraft("##[error]::x ")))
	for _, args := range [][]string{
		{"lint", "--format", "json"}, {"lint", "--format", "sarif"}, {"lint", "--format", "junit"}, {"lint", "--format", "annotations"},
		{"lint", "--format", "quality"}, {"lint", "--format", "html"},
		{"convert", "--to", "wif"}, {"convert", "--to", "json"}, {"convert", "--to", "svg"}, {"convert", "--to", "png"}, {"convert", "--to", "pdf"},
		{"plan", "--format", "html"}, {"plan", "--format", "pdf"}, {"plan", "--format", "json"}, {"clean", "--skip", "draft"},
	} {
		var out, told bytes.Buffer
		p := &program{in: strings.NewReader(""), out: &out, err: &told}
		p.run(append([]string{"fettle", "a.wif"}, args...))
		out.Reset() // the PDF library writes the first PDF of a process differently
		p.run(append([]string{"fettle", "a.wif"}, args...))
		to := filepath.Join(t.TempDir(), "out")
		p.run(append([]string{"fettle", "a.wif", "--output", to}, args...))
		want, err := os.ReadFile(to)
		if err != nil || len(want) == 0 || !bytes.Equal(out.Bytes(), want) {
			t.Errorf("%q prints %d bytes, and writes %d (%v): %s", args, out.Len(), len(want), err, told.String())
		}
	}
}
