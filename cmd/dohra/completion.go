package main

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"
)

// Completion in a shell. The cli library prints what may follow on a line when
// the line ends in its flag for that; to commands and flags we add what answers.go
// knows.

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
		[[ ${line,,} == "${cur,,}"* ]] || continue
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
	compadd -M 'm:{[:lower:][:upper:]}={[:upper:][:lower:]}' -a answers || _files
}
compdef _dohra dohra
`

// fishWords and fishValues are what we add to the library's script: the words
// after the commands named, and the values of a flag of those commands.
const (
	fishAnswers = "(dohra (commandline -opc)[2..-1] --generate-bash-completion 2>/dev/null)"
	fishWords   = "complete -c dohra -f -n '__fish_seen_subcommand_from %s' -a '" + fishAnswers + "'\n"
	fishValues  = "complete -c dohra -x -n '__fish_seen_subcommand_from %s' -l %s -a '" + fishAnswers + "'\n"
)

// fishScript adds to the library's script what we answer.
func fishScript(app *cli.App) (string, error) {
	script, err := app.ToFishCompletion()
	var withWords []string
	withFlag := map[string][]string{}
	for _, c := range app.Commands {
		if c.ArgsUsage != "" || len(c.Subcommands) > 0 {
			withWords = append(withWords, c.Name)
		}
		for _, part := range append([]*cli.Command{c}, c.Subcommands...) {
			for flag, takes := range takesValue(part.Flags) {
				if takes && hasValues(flag) && !slices.Contains(withFlag[flag], c.Name) {
					withFlag[flag] = append(withFlag[flag], c.Name)
				}
			}
		}
	}
	script += fmt.Sprintf(fishWords, strings.Join(withWords, " "))
	for _, flag := range slices.Sorted(maps.Keys(withFlag)) {
		script += fmt.Sprintf(fishValues, strings.Join(withFlag[flag], " "), flag)
	}
	return script, err
}

func completionScript(c *cli.Context) (string, error) {
	shell := strings.Join(c.Args().Slice(), " ")
	switch shell {
	case "bash":
		return bashScript, nil
	case "zsh":
		return zshScript, nil
	case "fish":
		return fishScript(c.App)
	}
	return "", misuse("completion is for bash, zsh or fish, not %q", shell).trying("source <(dohra completion bash)")
}

// complete answers a shell that asks what may follow, and reports whether one
// did. Where a flag lacks its value, values are the answer.
func (d *desk) complete(app *cli.App, args []string) bool {
	ask := "--" + cli.BashCompletionFlag.Names()[0]
	last := len(args) - 1
	if last < 0 || args[last] != ask {
		return false
	}
	args = args[:last]
	line, err := arrange(app, args)
	if err != nil { // the last flag, or one before it, has no value
		last := len(args) - 1
		d.asked, _, _ = flagName(args[last])
		if line, err = arrange(app, args[:last]); err != nil {
			return true
		}
	}
	words := slices.Index(line, "--")
	line = slices.Concat([]string{app.Name}, line[:words], line[words+1:], []string{ask})
	_ = app.Run(line) // a shell has no use for what went wrong
	return true
}
