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
	{"Spacing=36", "Spacing=36,0"},
}

// examples returns the two examples as JSON: a sound draft of the guild, and a draft of
// theirs as a bad download. The folder is that of the module.
func examples(module string) (string, error) {
	guild := filepath.Join(module, "corpus", "guild")
	sound, err := os.ReadFile(filepath.Join(guild, "goose-eye-towel.wif"))
	if err != nil {
		return "", err
	}
	text, err := os.ReadFile(filepath.Join(guild, "harbour-tea-towel.wif"))
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
		"faulty": {"harbour-tea-towel.wif": faulty},
	}, "", "")
	return strings.ReplaceAll(string(list), "<", `\u003c`), err
}
