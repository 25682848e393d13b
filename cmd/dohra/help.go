package main

import (
	"io"
	"strings"

	"github.com/urfave/cli/v2"
)

// The texts of --help, in the cli library's templates.

const appHelp = `dohra plans a tabla player's practice: what to play today, how fast, how long.

usage: dohra [global flags] COMMAND [flags] [words]

commands:
{{range .VisibleCommands}}{{entry .Name .Usage}}
{{end}}
global flags, which may stand anywhere:
{{range .VisibleFlags}}{{flag .}}
{{end}}
PIECE is an id, or any part of a title that no other has. Begin with:
  ` + firstStep + `
  dohra today
  dohra played PIECE --tempo 60 --clarity clear
`

const commandHelp = `{{title .HelpName .Usage}}

usage: {{.HelpName}}{{if .VisibleFlags}} [flags]{{end}}{{if .ArgsUsage}} {{.ArgsUsage}}{{end}}
{{if .VisibleCommands}}
commands:
{{range .VisibleCommands}}{{entry .Name .Usage}}
{{end}}{{end}}{{if .VisibleFlags}}
flags:
{{range .VisibleFlags}}{{flag .}}
{{end}}{{end}}
Global flags: dohra --help
`

// printHelp fills in a template of ours.
func printHelp(w io.Writer, template string, data any) {
	cli.HelpPrinterCustom(w, template, data, map[string]any{
		"entry": helpEntry,
		"title": func(name, usage string) string { return wrap(name+": "+usage, leastWidth) },
		"flag":  helpFlag,
	})
}

// helpFlag writes a flag and what it is for.
func helpFlag(f cli.Flag) string {
	name, usage, _ := strings.Cut(f.String(), "\t")
	return helpEntry(name, usage)
}

// helpEntry writes a name and, beside it, what it is for.
func helpEntry(name, usage string) string {
	const indent = 22
	usage = wrap(strings.ReplaceAll(usage, "\t", " "), leastWidth-indent)
	usage = strings.ReplaceAll(usage, "\n", "\n"+strings.Repeat(" ", indent))
	if len(name) > indent-4 {
		return "  " + name + "\n" + strings.Repeat(" ", indent) + usage
	}
	return "  " + name + strings.Repeat(" ", indent-2-len(name)) + usage
}
