package main

import (
	"errors"
	"strings"

	"github.com/urfave/cli/v2"

	"dohra/db"
	"dohra/repertoire"
	"dohra/schedule"
)

func addCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:      "add",
		Usage:     "take a new piece into the repertoire",
		ArgsUsage: "TITLE",
		Flags:     pieceFlags(),
		Action:    d.with(begins, runAdd),
	}
}

func runAdd(k *call) error {
	p, err := newPiece(k)
	if err != nil {
		return err
	}
	if p.ID, err = k.store.AddPiece(p); err != nil {
		return k.titleTaken(p.Title, err)
	}
	k.say("Added %s (%d): %s in %s, from %d to %d matras/min.", p.Title, p.ID, p.Kind, p.Tala, p.Start, p.Goal)
	if err := k.sayMusic(p); err != nil || p.After == 0 {
		return err
	}
	first, err := k.store.Piece(p.After)
	if err == nil && !first.Carries(k.day, first.Goal) {
		k.say("It waits until %s is clean at %d matras/min.", first.Title, schedule.CarriesFrom(first.Goal))
	}
	return err
}

// newPiece reads the piece that the words and flags describe.
func newPiece(k *call) (p repertoire.Piece, err error) {
	title := strings.Join(k.Args().Slice(), " ")
	if strings.TrimSpace(title) == "" {
		return p, misuse("a piece needs a title").trying("%s", firstStep)
	}
	for _, flag := range []string{"kind", "tala", "goal"} {
		if !k.IsSet(flag) {
			return p, misuse("a piece needs --%s", flag).trying("%s", firstStep)
		}
	}
	p = repertoire.Piece{Added: k.day, Resting: repertoire.Never, Edited: k.edited(0)}
	if k.day > k.today {
		return p, refuse("%s is still to come", k.day)
	}
	if p.Title, err = repertoire.CleanTitle(title); err != nil {
		return p, refuse("%v", err)
	}
	if err := k.applyFlags(&p); err != nil {
		return p, err
	}
	if !k.IsSet("start") {
		p.Start = schedule.StartFor(p.Goal)
	}
	if err := p.Check(); err != nil {
		return p, refuse("%v", err)
	}
	return p, nil
}

// titleTaken words the errors of keeping a piece.
func (k *call) titleTaken(title string, err error) error {
	switch {
	case errors.Is(err, db.ErrTaken):
		other, findErr := k.find(title)
		if findErr != nil {
			return err
		}
		return refuse("there is a piece of that title already: %s (%d)", other.Title, other.ID)
	case errors.Is(err, db.ErrCircle):
		return refuse("%s would have to come before itself", title)
	}
	return err
}
