package main

import (
	"errors"

	"github.com/urfave/cli/v2"

	"dohra/db"
)

func undoCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:   "undo",
		Usage:  "take back the play that was logged last",
		Action: d.with(writes, runUndo),
	}
}

func runUndo(k *call) error {
	play, now, err := k.store.Undo()
	if errors.Is(err, db.ErrNothing) {
		return refuse("%v", err)
	}
	if err != nil {
		return err
	}
	k.say("Taken back: %s, %d %s on %s%s.", now.Title, play.Tempo, play.Clarity, play.Day.Short(), unusual(play))
	k.say("It is %s.", standingLine(now, k.today))
	return nil
}
