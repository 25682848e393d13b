package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"dohra/repertoire"
)

// Completion in a shell. The cli library prints what may follow on a line when
// the line ends in its flag for that; to commands and flags we add the titles of
// pieces, folded, so that they are typed without capitals and diacritics.

func completionCommand() *cli.Command {
	return &cli.Command{
		Name:      "completion",
		Usage:     "print the script that completes commands, flags and titles in a shell: bash, zsh or fish",
		ArgsUsage: "SHELL",
		Action:    prints(completionScript),
	}
}

// A title may be any text, so the scripts never let a shell evaluate what they
// read, and quote what they insert; within quotes that were typed, a title that
// would mean something to the shell is not offered.

const bashScript = `# Completion for bash: source <(dohra completion bash)
_dohra() {
	local cur=${COMP_WORDS[COMP_CWORD]} quoted= line
	local words=("${COMP_WORDS[@]:0:COMP_CWORD}")
	[[ $cur == [\"\']* ]] && quoted=yes
	cur=${cur#[\"\']}
	cur=${cur//\\/}
	[[ $cur == -* ]] && words+=("$cur")
	COMPREPLY=()
	while IFS= read -r line; do
		[[ $line == "${cur,,}"* ]] || continue
		if [[ ! $quoted ]]; then
			COMPREPLY+=("$(printf %q "$line")")
		elif [[ $line != *[^[:alnum:]\ ._-]* ]]; then
			COMPREPLY+=("$line")
		fi
	done < <("${words[@]}" --generate-bash-completion 2>/dev/null)
}
complete -o default -F _dohra dohra
`

const zshScript = `#compdef dohra
# Completion for zsh: source <(dohra completion zsh)
_dohra() {
	local -a line answers
	line=("${(@Q)words[1,CURRENT-1]}")
	[[ $words[CURRENT] == -* ]] && line+=("$words[CURRENT]")
	answers=(${(f)"$("${line[@]}" --generate-bash-completion 2>/dev/null)"})
	compadd -M 'm:{[:upper:]}={[:lower:]}' -a answers || _files
}
compdef _dohra dohra
`

// fishTitles is what we add to the library's script for the commands
// named.
const fishTitles = `complete -c dohra -f -n '__fish_seen_subcommand_from %s' -a '(dohra (commandline -opc)[2..-1] --generate-bash-completion 2>/dev/null)'
`

func completionScript(c *cli.Context) (string, error) {
	shell := strings.Join(c.Args().Slice(), " ")
	switch shell {
	case "bash":
		return bashScript, nil
	case "zsh":
		return zshScript, nil
	case "fish":
		var names []string
		for _, c := range c.App.Commands {
			if takesPiece(c) {
				names = append(names, c.Name)
			}
		}
		script, err := c.App.ToFishCompletion()
		return script + fmt.Sprintf(fishTitles, strings.Join(names, " ")), err
	}
	return "", misuse("completion is for bash, zsh or fish, not %q", shell).trying("source <(dohra completion bash)")
}

// takesPiece reports whether the words of the command are a piece.
func takesPiece(c *cli.Command) bool { return strings.Contains(c.ArgsUsage, "PIECE") }

// complete answers a shell that asks what may follow, and reports whether one
// did. To a flag that lacks its value it has no answer: the shell offers files.
func complete(app *cli.App, args []string) bool {
	ask := "--" + cli.BashCompletionFlag.Names()[0]
	last := len(args) - 1
	if last < 0 || args[last] != ask {
		return false
	}
	line, err := arrange(app, args[:last])
	if err != nil {
		return true
	}
	words := slices.Index(line, "--")
	line = slices.Concat([]string{app.Name}, line[:words], line[words+1:], []string{ask})
	_ = app.Run(line) // a shell has no use for what went wrong
	return true
}

// completePieces makes the command answer a shell with titles too.
func (d *desk) completePieces(c *cli.Command) {
	flags := cli.DefaultCompleteWithFlags(c)
	titles := d.with(reads, printTitles)
	c.BashComplete = func(ctx *cli.Context) {
		flags(ctx)
		_ = titles(ctx) // nor for what went wrong here
	}
}

// printTitles prints what may follow the words on the line: the rest of each
// title that begins with them.
func printTitles(k *call) error {
	typed := repertoire.Fold(strings.Join(k.Args().Slice(), " "))
	if typed != "" {
		typed += " "
	}
	all, err := k.store.Titles()
	if err != nil {
		return err
	}
	for _, t := range all {
		if rest, ok := strings.CutPrefix(repertoire.Fold(t.Title), typed); ok && rest != "" {
			k.say("%s", rest)
		}
	}
	return nil
}
