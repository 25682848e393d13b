// Command dohra plans a tabla player's practice.
package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"runtime/debug"
	"strings"
	"time"

	"github.com/urfave/cli/v2"
)

const version = "0.1.0"

func main() {
	// A command lives for milliseconds: most are done before the collector,
	// left to its defaults, would have finished its third round.
	debug.SetGCPercent(400)
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr, time.Now))
}

// run is the whole program: it returns the exit status.
func run(args []string, in io.Reader, out, errs io.Writer, now func() time.Time) int {
	d := &desk{in: in, out: out, errs: errs, now: now}
	app := newApp(d)
	app.Setup()
	if d.complete(app, args) {
		return 0
	}
	if c := asksHelp(app, args); c != nil {
		cli.HelpPrinter(out, commandHelp, c)
		return 0
	}
	args, err := arrange(app, args)
	if err == nil {
		err = app.Run(append([]string{"dohra"}, args...))
	}
	if err != nil {
		return report(errs, err)
	}
	return 0
}

// A desk is what a command works at: the streams and the clock.
type desk struct {
	in        io.Reader
	out, errs io.Writer
	now       func() time.Time
	asked     string // the flag whose values a shell asks for, or ""
}

func newApp(d *desk) *cli.App {
	cli.HelpPrinter = printHelp
	app := &cli.App{
		Name:                      "dohra",
		Usage:                     "plans a tabla player's practice: what to play today, how fast, for how long",
		UsageText:                 "dohra [global flags] COMMAND [flags] [words]",
		Version:                   version,
		HideHelpCommand:           true,
		EnableBashCompletion:      true,
		DisableSliceFlagSeparator: true,
		Writer:                    d.out,
		ErrWriter:                 d.errs,
		CustomAppHelpTemplate:     appHelp,
		ExitErrHandler:            func(*cli.Context, error) {},
		OnUsageError:              badUsage,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "file", Usage: "the repertoire's `PATH` (or $DOHRA_FILE)"},
			&cli.StringFlag{Name: "on", Usage: "answer as if it were that `DAY`, YYYY-MM-DD"},
			&cli.StringFlag{Name: "format", Usage: "write as `FORMAT`: table, markdown, csv, json or html", Value: "table", DefaultText: "table"},
			&cli.BoolFlag{Name: "demo", Usage: "use a throw-away copy of the demonstration repertoire", DisableDefaultText: true},
		},
		Commands: []*cli.Command{
			todayCommand(d), sitCommand(d), playedCommand(d), undoCommand(d),
			addCommand(d), editCommand(d), listCommand(d), showCommand(d),
			restCommand(d), wakeCommand(d), removeCommand(d),
			progressCommand(d), fadingCommand(d), outlookCommand(d), talaCommand(d), tihaiCommand(d),
			weekCommand(d), awayCommand(d), concertCommand(d), settingsCommand(d),
			importCommand(d), exportCommand(d), backupCommand(d), restoreCommand(d), checkCommand(d),
			completionCommand(), manualCommand(),
		},
		Action: func(c *cli.Context) error {
			if word := c.Args().First(); word != "" && word != "help" {
				return misuse("there is no command %q", word).trying("%s", nearestCommand(c.App, word))
			}
			k := &call{Context: c, desk: d}
			if path, err := k.filePath(); err == nil && !c.Bool("demo") && c.Args().First() == "" {
				if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
					k.path = path
					k.remind()
					k.say("Your repertoire will be kept in one file: %s", path)
					k.say(firstWords)
					return nil
				}
			}
			return cli.ShowAppHelp(c)
		},
	}
	word(app.Commands)
	d.answers(app)
	return app
}

// word gives commands our words for errors and help.
func word(commands []*cli.Command) {
	for _, c := range commands {
		c.OnUsageError = badUsage
		c.HideHelpCommand = true
		word(c.Subcommands)
	}
}

// badUsage turns the cli library's words about a flag into ours.
func badUsage(c *cli.Context, err error, _ bool) error {
	text := err.Error()
	try := "dohra --help"
	if c.Command != nil && c.Command.HelpName != "" && c.Command.Name != "dohra" {
		try = c.Command.HelpName + " --help"
	}
	if flag, ok := strings.CutPrefix(text, "flag provided but not defined: -"); ok {
		return misuse("there is no flag --%s here", strings.TrimLeft(flag, "-")).trying("%s", try)
	}
	if value, ok := strings.CutPrefix(text, "invalid boolean value "); ok {
		value, rest, _ := strings.Cut(value, " for -")
		flag, _, _ := strings.Cut(rest, ":")
		return misuse("--%s takes no value such as %s", flag, value).trying("%s", try)
	}
	return misuse("%s", text).trying("%s", try)
}

// firstWords are what a player without a repertoire reads first.
const firstWords = `Begin with:
  ` + firstStep + `
  dohra today
  dohra played PIECE --tempo 60 --clarity clear
To look around first: dohra --demo today. All commands: dohra --help`

const firstStep = "dohra add TITLE --kind kaida --tala teental --goal 120"
