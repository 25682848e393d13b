package main

import (
	"slices"
	"strings"

	"github.com/urfave/cli/v2"
)

// arrange puts a command line into the order that the cli library reads: global
// flags, the command, its flags, then "--" and the words. A player may write
// flags before or after words, and global flags anywhere. args holds no program
// name. A flag that lacks its value is refused.
func arrange(app *cli.App, args []string) ([]string, error) {
	global := map[string]bool{} // flag name: takes a value
	others := map[string]bool{}
	addFlags(global, app.Flags)
	addCommandFlags(others, app.Commands)

	var globals, path, flags, words []string
	commands := app.Commands
	for len(args) > 0 {
		arg := args[0]
		args = args[1:]
		name, _, joined := strings.Cut(strings.TrimLeft(arg, "-"), "=")
		switch {
		case arg == "--":
			words = append(words, args...)
			args = nil
		case !strings.HasPrefix(arg, "-") || arg == "-":
			i := slices.IndexFunc(commands, func(c *cli.Command) bool { return c.HasName(arg) })
			if i < 0 || len(words) > 0 {
				words = append(words, arg)
				continue
			}
			path = append(path, arg)
			commands = commands[i].Subcommands
		default:
			to, takesValue := &flags, others[name]
			if value, isGlobal := global[name]; isGlobal {
				to, takesValue = &globals, value
			}
			*to = append(*to, arg)
			if !takesValue || joined {
				continue
			}
			if len(args) == 0 {
				return nil, misuse("%s needs a value", arg)
			}
			*to = append(*to, args[0])
			args = args[1:]
		}
	}
	return slices.Concat(globals, path, flags, []string{"--"}, words), nil
}

func addFlags(takesValue map[string]bool, flags []cli.Flag) {
	for _, f := range flags {
		_, isBool := f.(*cli.BoolFlag)
		for _, name := range f.Names() {
			takesValue[name] = !isBool
		}
	}
}

func addCommandFlags(takesValue map[string]bool, commands []*cli.Command) {
	for _, c := range commands {
		addFlags(takesValue, c.Flags)
		addCommandFlags(takesValue, c.Subcommands)
	}
}
