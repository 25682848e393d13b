package main

import (
	"github.com/urfave/cli/v2"

	"dohra/repertoire"
)

func restCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:      "rest",
		Usage:     "set a piece aside: no plan asks for it until it is woken",
		ArgsUsage: "PIECE",
		Action: d.with(writes, func(k *call) error {
			c, err := k.piece()
			if err != nil {
				return err
			}
			if c.Rests(k.day) {
				k.say("%s is resting already.", c.Title)
				return nil
			}
			c.Resting, c.Edited = k.day, k.edited(c.Edited)
			if err := k.store.UpdatePiece(c.Piece); err != nil {
				return err
			}
			k.say("%s rests. To have it in plans again: dohra wake %d", c.Title, c.ID)
			return nil
		}),
	}
}

func wakeCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:      "wake",
		Usage:     "take a resting piece back into the plans",
		ArgsUsage: "PIECE",
		Action: d.with(writes, func(k *call) error {
			c, err := k.piece()
			if err != nil {
				return err
			}
			if !c.Rests(k.day) {
				k.say("%s is not resting.", c.Title)
				return nil
			}
			c.Resting, c.Edited = repertoire.Never, k.edited(c.Edited)
			if err := k.store.UpdatePiece(c.Piece); err != nil {
				return err
			}
			k.say("%s is awake: %s.", c.Title, standingLine(c, k.day))
			return nil
		}),
	}
}
