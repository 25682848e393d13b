package main

// The texts of --help, in the cli library's templates.

const appHelp = `dohra plans a tabla player's practice: what to play today, how fast, for how long.

usage: dohra [global flags] COMMAND [flags] [words]

commands:
{{range .VisibleCommands}}  {{printf "%-10s" .Name}}{{.Usage}}
{{end}}
global flags, which may stand anywhere:
{{range .VisibleFlags}}  {{.}}
{{end}}
PIECE is an id, or any part of a title that no other has. Begin with:
  ` + firstStep + `
  dohra today
  dohra played PIECE --tempo 60 --clarity clear
`

const commandHelp = `dohra {{.Name}}: {{.Usage}}

usage: dohra {{.Name}}{{if .VisibleFlags}} [flags]{{end}}{{if .ArgsUsage}} {{.ArgsUsage}}{{end}}
{{if .VisibleFlags}}
flags:
{{range .VisibleFlags}}  {{.}}
{{end}}{{end}}
Global flags: dohra --help
`
