package main

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"fettle/lint/report"
	"fettle/lint/rules"
	"fettle/schema/jsonschema"
	"fettle/schema/wording"
)

// completing is the flag that completion scripts pass to ask what can come next.
const completing = "--generate-bash-completion"

func (p *program) completion() *cli.Command {
	return &cli.Command{
		Name:      "completion",
		Usage:     "print a shell completion script for commands, flags and rules",
		ArgsUsage: "SHELL",
		UsageText: "fettle completion bash > ~/.local/share/bash-completion/completions/fettle\nfettle completion zsh > ~/.zfunc/_fettle     with ~/.zfunc in fpath\nfettle completion fish > ~/.config/fish/completions/fettle.fish",
		Action: func(c *cli.Context) error {
			if c.NArg() != 1 {
				return failed("name one shell: bash, zsh or fish")
			}
			switch shell := c.Args().First(); shell {
			case "bash":
				return p.print("%s", bashScript)
			case "zsh":
				return p.print("%s", zshScript)
			case "fish":
				return p.print("%s", fishScript)
			default:
				return failed("completion works for bash, zsh and fish, not %s; name one of them", wording.Quote(shell))
			}
		},
	}
}

// The scripts ask the program itself, so they are never out of date. If it has no
// answer they complete paths. In a list with commas they complete the last word.
const (
	// Bash splits words at =, so --flag=value comes as three.
	bashScript = `# Completion of fettle for bash.
_fettle() {
    local word=${COMP_WORDS[COMP_CWORD]}
    local before=("${COMP_WORDS[@]:1:COMP_CWORD-1}")
    local n=${#before[@]} dash=() line head=
    if [[ $word == "=" ]] && (( n > 0 )) && [[ ${before[n-1]} == -* ]]; then
        word=
    elif (( n > 1 )) && [[ ${before[n-1]} == "=" && ${before[n-2]} == -* ]]; then
        unset "before[n-1]"
    elif [[ $word == -*=* ]]; then
        before+=("${word%%=*}")
        head=${word%%=*}=
        word=${word#*=}
    fi
    [[ $word == -* ]] && dash=("$word")
    [[ $word == *,* ]] && head=$head${word%,*}, && word=${word##*,}
    COMPREPLY=()
    while IFS= read -r line; do
        [[ $line == "$word"* ]] && COMPREPLY+=("$head$line")
    done < <("${COMP_WORDS[0]}" "${before[@]}" "${dash[@]}" ` + completing + ` 2>/dev/null)
}
complete -o bashdefault -o default -F _fettle fettle
`
	zshScript = `#compdef fettle
# Completion of fettle for zsh.
_fettle() {
    local word=${words[CURRENT]} head=
    local -a before dash answers
    before=("${(@)words[2,CURRENT-1]}")
    if [[ $word == -*=* ]]; then
        before+=("${word%%=*}")
        head=${word%%=*}=
        word=${word#*=}
    fi
    [[ $word == -* ]] && dash=("$word")
    [[ $word == *,* ]] && head=$head${word%,*},
    answers=("${(@f)$(${words[1]} $before $dash ` + completing + ` 2>/dev/null)}")
    answers=($head${^answers:#})
    if (( ${#answers} )); then
        _describe fettle answers
    else
        _files
    fi
}
if [[ $funcstack[1] == _fettle ]]; then
    _fettle "$@"
else
    compdef _fettle fettle
fi
`
	fishScript = `# Completion of fettle for fish.
function __fettle_answers
    set -l before (commandline -opc)
    set -l word (commandline -ct)
    set -l head ''
    if string match -q -- '-*=*' $word
        set head (string replace -r '=.*$' '=' -- $word)
        set -a before (string replace -r '=.*$' '' -- $word)
        set word (string replace -r '^[^=]*=' '' -- $word)
    end
    set -l dash (string match -- '-*' $word)
    set head $head(string replace -r '[^,]*$' '' -- $word)
    for answer in ($before $dash ` + completing + ` 2>/dev/null)
        echo $head$answer
    end
end
complete -c fettle -n '__fettle_answers | string length -q' -f -a '(__fettle_answers)'
`
)

// completions sets what each command completes: its flags, and the words that some
// flags and commands take. The shell completes paths.
func completions(commands []*cli.Command) []*cli.Command {
	words := map[string]func() []string{
		"rules":      func() []string { return ruleNames(false) },
		"schema":     jsonschema.Names,
		"completion": func() []string { return []string{"bash", "zsh", "fish"} },
	}
	for _, command := range commands {
		command.BashComplete = func(c *cli.Context) {
			word := lastWord()
			switch known := flagWords(slices.Concat(command.Flags, c.App.Flags), word); {
			case known != nil:
				printLines(c, known)
			case begun(word, command.Flags):
				cli.DefaultCompleteWithFlags(command)(c)
			case words[command.Name] != nil:
				printLines(c, words[command.Name]())
			}
		}
	}
	return commands
}

// completeProgram completes the words before the command.
func completeProgram(c *cli.Context) {
	word := lastWord()
	switch known := flagWords(c.App.Flags, word); {
	case known != nil:
		printLines(c, known)
	case begun(word, c.App.Flags):
		cli.DefaultAppComplete(c)
	case word != "--config":
		for _, command := range c.App.VisibleCommands() {
			fmt.Fprintln(c.App.Writer, command.Name)
		}
	}
}

// begun reports whether a word is the beginning of a flag.
func begun(word string, flags []cli.Flag) bool {
	return strings.HasPrefix(word, "-") && flagNamed(flags, strings.TrimLeft(word, "-")) == nil
}

func printLines(c *cli.Context, words []string) {
	fmt.Fprintln(c.App.Writer, strings.Join(words, "\n"))
}

// lastWord returns the last word from the shell: the beginning of a flag, or the word
// before the one to complete.
func lastWord() string {
	if n := len(os.Args); n > 2 {
		return os.Args[n-2]
	}
	return ""
}

// flagWords returns the values to offer after a flag, nil for none.
func flagWords(flags []cli.Flag, word string) []string {
	name, isFlag := strings.CutPrefix(word, "--")
	switch f := flagNamed(flags, name); {
	case !isFlag || f == nil:
		return nil
	case name == "only", name == "skip":
		return ruleNames(true)
	case name == "report":
		var words []string
		for _, form := range report.Names() {
			words = append(words, form+"=")
		}
		return words
	default:
		return listed(f)
	}
}

// listed returns the values that the help of a flag lists after a colon, as in
// "`FORM`: text or json"; nil for none. A semicolon ends the list.
func listed(f cli.Flag) []string {
	documented, ok := f.(cli.DocGenerationFlag)
	if !ok {
		return nil
	}
	_, list, ok := strings.Cut(documented.GetUsage(), "`: ")
	list, _, _ = strings.Cut(list, ";")
	words := strings.Split(strings.Replace(list, " or ", ", ", 1), ", ")
	if !ok || slices.ContainsFunc(words, func(w string) bool { return strings.Contains(w, " ") }) {
		return nil
	}
	return words
}

// ruleNames returns the ids of all rules, and the families if asked for.
func ruleNames(families bool) []string {
	var names []string
	for _, r := range rules.All() {
		if families {
			names = append(names, r.Family())
		}
		names = append(names, r.ID)
	}
	slices.Sort(names)
	return slices.Compact(names)
}
