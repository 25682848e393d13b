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
	global := takesValue(app.Flags)
	path, found := command(app.Commands, args, global)
	own := map[string]bool{}
	if found != nil {
		own = takesValue(found.Flags)
	}
	var globals, flags, words []string
	rest := path
	for len(args) > 0 {
		arg := args[0]
		args = args[1:]
		name, isFlag, joined := flagName(arg)
		switch {
		case arg == "--":
			words = append(words, args...)
			args = nil
			continue
		case !isFlag && len(rest) > 0 && arg == rest[0]:
			rest = rest[1:]
			continue
		case !isFlag:
			words = append(words, arg)
			continue
		}
		to, value := &flags, own[name]
		takes, isGlobal := global[name]
		if isGlobal {
			to, value = &globals, takes
		}
		*to = append(*to, arg)
		if !value || joined {
			continue
		}
		isCommand := !isGlobal && len(rest) > 0 && len(args) > 0 && args[0] == rest[0]
		if len(args) == 0 || args[0] == "--" || isCommand || isKnown(args[0], global, own) {
			return nil, misuse("%s needs a value", arg)
		}
		*to = append(*to, args[0])
		args = args[1:]
	}
	return slices.Concat(globals, path, flags, []string{"--"}, words), nil
}

// command returns the words that name the command, which are the first that
// can, and the command, or nil.
func command(commands []*cli.Command, args []string, global map[string]bool) (path []string, found *cli.Command) {
	for i := 0; i < len(args) && args[i] != "--"; i++ {
		name, isFlag, joined := flagName(args[i])
		if isFlag {
			if global[name] && !joined {
				i++
			}
			continue
		}
		at := slices.IndexFunc(commands, func(c *cli.Command) bool { return c.HasName(args[i]) })
		if at < 0 {
			if len(path) > 0 {
				break // a word of the command that was found
			}
			continue
		}
		path, found = append(path, args[i]), commands[at]
		if commands = found.Subcommands; len(commands) == 0 {
			break
		}
	}
	return path, found
}

// asksHelp returns the command whose help is asked for, or nil.
func asksHelp(app *cli.App, args []string) *cli.Command {
	for _, arg := range args {
		if arg == "--" {
			return nil
		}
		if arg == "--help" || arg == "-h" {
			path, found := command(app.Commands, args, takesValue(app.Flags))
			if found != nil {
				found.HelpName = app.Name + " " + strings.Join(path, " ")
			}
			return found
		}
	}
	return nil
}

// isKnown reports whether an argument is a flag of the program or the command,
// and so no value.
func isKnown(arg string, global, own map[string]bool) bool {
	name, isFlag, _ := flagName(arg)
	_, isGlobal := global[name]
	_, isOwn := own[name]
	return isFlag && (isGlobal || isOwn)
}

// flagName returns the name of a flag as written, and whether its value is
// joined to it. A dash alone is a word, and so is a number below zero.
func flagName(arg string) (name string, isFlag, joined bool) {
	name, _, joined = strings.Cut(strings.TrimLeft(arg, "-"), "=")
	isFlag = strings.HasPrefix(arg, "-") && arg != "-" && (name == "" || name[0] < '0' || name[0] > '9')
	return name, isFlag, joined && isFlag
}

// takesValue tells of each flag, by all its names, whether a value follows it.
func takesValue(flags []cli.Flag) map[string]bool {
	takes := map[string]bool{}
	for _, f := range flags {
		_, isBool := f.(*cli.BoolFlag)
		for _, name := range f.Names() {
			takes[name] = !isBool
		}
	}
	return takes
}
