package main

import (
	"github.com/urfave/cli/v2"

	"dohra/db"
	"dohra/repertoire"
)

func editCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:      "edit",
		Usage:     "change what is known of a piece; new tempos are applied to its old plays too",
		ArgsUsage: "PIECE",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "title", Usage: "a new `TITLE`"},
		}, pieceFlags()...),
		Action: d.with(writes, runEdit),
	}
}

func runEdit(k *call) error {
	before, err := k.piece()
	if err != nil {
		return err
	}
	if k.NumFlags() == 0 {
		return misuse("edit %s: what shall change?", before.Title).trying("dohra edit --help")
	}
	p := before.Piece
	p.Edited = k.edited(p.Edited)
	if k.IsSet("title") {
		if p.Title, err = repertoire.CleanTitle(k.String("title")); err != nil {
			return refuse("%v", err)
		}
	}
	if err := k.applyFlags(&p); err != nil {
		return err
	}
	if err := p.Check(); err != nil {
		return refuse("%v", err)
	}
	if err := k.store.UpdatePiece(p); err != nil {
		return k.titleTaken(p.Title, err)
	}
	after, err := k.store.Piece(p.ID)
	if err != nil {
		return err
	}
	k.say("Changed %s (%d): %s in %s, from %d to %d matras/min.", p.Title, p.ID, p.Kind, p.Tala, p.Start, p.Goal)
	if err := k.sayMusic(p); err != nil {
		return err
	}
	if before.Standing != after.Standing {
		k.say("Its plays, seen again, leave it %s.", standingLine(after, k.today))
	}
	return nil
}

// edited returns the moment at which the player changes what was last changed at
// was, in Unix seconds.
func (k *call) edited(was int64) int64 { return db.EditedAt(k.now().Unix(), was) }
