package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fettle/schema/wording"
)

// damage lists what is wrong in the faulty example: each text of the sound draft, and
// what a bad download has instead.
var damage = [][2]string{
	{"Treadles=4", "Treadles=6"},
	{"Spacing=0.025", "Spacing=0,025"},
	{"Spacing=0.04", "Spacing=0,04"},
	{"4=1,4\n", "4=1,4,\n"},
	{"\n15=3\n16=4\n", "\n15=1\n16=4\n"}, // in the threading, which is the first such place
}

// examples returns the two examples as JSON: a sound draft of the guild, and a draft of
// theirs as a bad download. The folder is that of the module.
func examples(module string) (string, error) {
	guild := filepath.Join(module, "corpus", "guild")
	sound, err := os.ReadFile(filepath.Join(guild, "goose-eye-towel.wif"))
	if err != nil {
		return "", err
	}
	text, err := os.ReadFile(filepath.Join(guild, "fete-ribbon.wif"))
	if err != nil {
		return "", err
	}
	faulty := string(text)
	for _, d := range damage {
		if !strings.Contains(faulty, d[0]) {
			return "", fmt.Errorf("the faulty example has no %s to damage", wording.Quote(d[0]))
		}
		faulty = strings.Replace(faulty, d[0], d[1], 1)
	}
	list, err := wording.JSON(map[string]map[string]string{
		"sound":  {"goose-eye-towel.wif": string(sound)},
		"faulty": {"fete-ribbon-download.wif": faulty},
	}, "", "")
	return strings.ReplaceAll(string(list), "<", `\u003c`), err
}
