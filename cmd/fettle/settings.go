package main

import (
	"fmt"
	"os"
	"strings"
	"unicode/utf8"

	"github.com/urfave/cli/v2"

	"fettle/lint/collection"
	"fettle/schema"
	"fettle/schema/settings"
	"fettle/schema/wording"
)

func (p *program) settings() *cli.Command {
	return &cli.Command{
		Name:      "settings",
		Usage:     "list the settings that hold for a draft or a folder, and where each comes from",
		ArgsUsage: "[PATH]",
		UsageText: "fettle settings towel.wif\nfettle settings drafts --loom looms/table16.ini --format json\n\nWithout a path fettle lists the settings of this folder. The path of a draft need not exist.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "format", Usage: "print `FORM`: text or json", Value: "text"},
			loomFlag(), encodingFlag(), maxSizeFlag(),
		},
		Action: p.runSettings,
	}
}

func (p *program) runSettings(c *cli.Context) error {
	if err := choices(c, map[string][]string{"format": {"text", "json"}}); err != nil {
		return err
	}
	path := "."
	switch c.NArg() {
	case 0:
	case 1:
		path = c.Args().First()
	default:
		return failed("name one draft or folder")
	}
	list, err := p.settingsOf(c, path)
	if err != nil {
		return err
	}
	if c.String("format") == "json" {
		return writeJSON(p.out, documentOf(path, list))
	}
	return p.print("%s", settingsText(path, list))
}

// settingsOf returns the settings that hold for a draft, or for the drafts in a folder.
func (p *program) settingsOf(c *cli.Context, path string) ([]settings.Stated, error) {
	finder := finder(c)
	p.finders = append(p.finders, finder)
	at, err := os.Stat(path)
	if err == nil && at.IsDir() {
		found, err := finder.ForFolder(path)
		p.sayMisnamed(c, finder, []collection.Input{{Path: path}})
		if err != nil {
			return nil, failed("%s", err)
		}
		return found.Stated(path), nil
	}
	var own []schema.Setting
	if err == nil || path == "-" {
		reader, err := p.reader(c)
		if err != nil {
			return nil, err
		}
		doc, err := readDraft(reader, collection.Input{Path: path})
		if err != nil {
			return nil, err
		}
		own = doc.Draft.Settings
	}
	found, err := finder.For(path, own)
	p.sayMisnamed(c, finder, []collection.Input{{Path: path}})
	p.sayForeign(c, finder)
	if err != nil {
		return nil, failed("%s", err)
	}
	return found.Stated(path), nil
}

// settingsDocument is the JSON of 'fettle settings'.
type settingsDocument struct {
	Fettle   int              `json:"fettle"`
	Path     string           `json:"path"`
	Settings []settingInPlace `json:"settings"`
}

// settingInPlace is a setting and where it is written. One in a JSON draft has no line.
type settingInPlace struct {
	Section string `json:"section"`
	Key     string `json:"key"`
	Value   string `json:"value"`
	File    string `json:"file"`
	Line    *int   `json:"line"`
}

func documentOf(path string, list []settings.Stated) settingsDocument {
	d := settingsDocument{Fettle: 1, Path: shown(path), Settings: []settingInPlace{}}
	for _, s := range list {
		x := settingInPlace{Section: s.Section, Key: s.Key, Value: s.Value, File: shown(s.Origin.Path)}
		if s.Origin.Line > 0 {
			x.Line = &s.Origin.Line
		}
		d.Settings = append(d.Settings, x)
	}
	return d
}

// settingsText lists settings like a settings file, with the place of each beside it.
func settingsText(path string, list []settings.Stated) string {
	if len(list) == 0 {
		return fmt.Sprintf("no settings hold for %s; 'fettle init' creates a %s\n", shown(path), settings.FileName)
	}
	widest := 0
	for _, s := range list {
		widest = max(widest, utf8.RuneCountInString(settingLine(s)))
	}
	var b strings.Builder
	for i, s := range list {
		if i == 0 || s.Section != list[i-1].Section {
			if i > 0 {
				b.WriteString("\n")
			}
			fmt.Fprintf(&b, "[%s]\n", wording.Plain(s.Section, mostOfValue))
		}
		line := settingLine(s)
		fmt.Fprintf(&b, "%s%s  ; %s\n", line, strings.Repeat(" ", min(widest, mostAligned)-min(utf8.RuneCountInString(line), widest, mostAligned)), placeOf(s.Origin))
	}
	return b.String()
}

const (
	mostOfValue = 500 // characters of a key or a value
	mostAligned = 50  // characters of a line that is lined up with the others
)

func settingLine(s settings.Stated) string {
	return wording.Plain(s.Key, mostOfValue) + " = " + wording.Plain(s.Value, mostOfValue)
}

func placeOf(at schema.Origin) string {
	if at.Line == 0 {
		return shown(at.Path)
	}
	return fmt.Sprintf("%s:%d", shown(at.Path), at.Line)
}
