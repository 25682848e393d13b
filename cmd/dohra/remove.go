package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"
)

func removeCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:      "remove",
		Usage:     "remove a piece and its plays for good; asks first",
		ArgsUsage: "PIECE",
		Flags:     []cli.Flag{&cli.BoolFlag{Name: "yes", Usage: "do not ask", DisableDefaultText: true}},
		Action:    d.with(writes, runRemove),
	}
}

func runRemove(k *call) error {
	c, err := k.piece()
	if err != nil {
		return err
	}
	plays, err := k.store.Plays(c.ID)
	if err != nil {
		return err
	}
	followers, err := k.store.Followers(c.ID)
	if err != nil {
		return err
	}
	goes := fmt.Sprintf("%s (%d)", c.Title, c.ID)
	if len(plays) > 0 {
		goes += ", with its " + plural(len(plays), "play")
	}
	if len(followers) > 0 {
		goes += fmt.Sprintf("; %s will wait for it no longer", strings.Replace(named(followers), " or ", " and ", 1))
	}
	if !k.agreed("Remove " + goes + "? This cannot be undone.") {
		return refuse("nothing was removed")
	}
	if err := k.store.RemovePiece(c.ID); err != nil {
		return err
	}
	k.say("%s", wrap("Removed "+goes+".", k.page.width))
	return nil
}
