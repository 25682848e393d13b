package main

import (
	"slices"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// concertAndPiece returns what the words of put and take mean: the first is the
// concert, the others the piece.
func (k *call) concertAndPiece() (c schedule.Concert, p schedule.Candidate, err error) {
	args := k.Args().Slice()
	if len(args) < 2 {
		return c, p, misuse("name the concert, then the piece").trying(`%s "Spring recital" PIECE`, k.Command.HelpName)
	}
	if c, err = k.concert(args[0]); err != nil {
		return c, p, err
	}
	p, err = k.find(strings.Join(args[1:], " "))
	return c, p, err
}

func putPiece(k *call) error {
	c, piece, err := k.concertAndPiece()
	if err != nil {
		return err
	}
	place, at, err := k.placeFlags(c, piece)
	if err != nil {
		return err
	}
	err = k.store.ChangeConcert(c.Name, func(now *schedule.Concert) error {
		if now.At(piece.ID) >= 0 {
			return refuse("%s stands in %s already", piece.Title, c.Name).trying("dohra concert take %q %d", c.Name, piece.ID)
		}
		now.Set = slices.Insert(now.Set, min(at, len(now.Set)), place)
		c = *now
		return nil
	})
	if err != nil {
		return err
	}
	pieces, err := k.piecesByID()
	if err != nil {
		return err
	}
	seconds, _ := schedule.Length(c.Running(pieces))
	k.say("%s is number %d of %s, at %s matras/min. The set takes %s of %d minutes.",
		piece.Title, c.At(piece.ID)+1, c.Name, matras(place.Tempo), clock(seconds), c.Minutes)
	k.sayConcerns(c, pieces)
	return nil
}

// placeFlags reads the place that the flags describe, and where it is.
func (k *call) placeFlags(c schedule.Concert, piece schedule.Candidate) (p schedule.Place, at int, err error) {
	switch {
	case c.Day < k.day:
		return p, 0, refuse("%s is over since %s", c.Name, c.Day.Short())
	case piece.Rests(k.day):
		return p, 0, refuse("%s is resting; wake it first", piece.Title).trying("dohra wake %d", piece.ID)
	}
	p = schedule.Place{Piece: piece.ID, Tempo: piece.Goal}
	at = len(c.Set) + 1
	for flag, n := range map[string]*int{"tempo": &p.Tempo, "rounds": &p.Rounds, "minutes": &p.Minutes, "place": &at} {
		if !k.IsSet(flag) {
			continue
		}
		if *n, err = number(k.Context, flag); err != nil {
			return p, 0, err
		}
		if *n < 1 {
			return p, 0, refuse("--%s is at least 1, not %d", flag, *n)
		}
	}
	if err := p.Check(); err != nil {
		return p, 0, refuse("%v", err)
	}
	return p, at - 1, nil
}

func takePiece(k *call) error {
	c, piece, err := k.concertAndPiece()
	if err != nil {
		return err
	}
	err = k.store.ChangeConcert(c.Name, func(now *schedule.Concert) error {
		at := now.At(piece.ID)
		if at < 0 {
			return refuse("%s does not stand in %s", piece.Title, c.Name).trying("dohra concert show %q", c.Name)
		}
		now.Set = slices.Delete(now.Set, at, at+1)
		return nil
	})
	if err == nil {
		k.say("%s is out of %s.", piece.Title, c.Name)
	}
	return err
}

// sayConcerns warns of a set that is longer than its slot, of pieces of no known
// length, and of a concert at hand whose pieces were never played.
func (k *call) sayConcerns(c schedule.Concert, pieces map[int64]schedule.Candidate) {
	items := c.Running(pieces)
	seconds, unknown := schedule.Length(items)
	if over := seconds - 60*c.Minutes; over > 0 {
		k.say("The set is longer than its slot by %s, min:s.", clock(over))
	}
	if unknown > 0 {
		k.say("How long it takes is not known of %s: give bols, or --minutes.", plural(unknown, "piece"))
	}
	var fresh []string
	for _, i := range items {
		if i.Of.Stage == schedule.Untouched {
			fresh = append(fresh, i.Of.Title)
		}
	}
	if near := c.Day - k.day; len(fresh) > 0 && near >= 0 && near <= 1 {
		k.say("%s is %s, and you have never played %s.", c.Name, map[repertoire.Day]string{0: "today", 1: "tomorrow"}[near], strings.Join(fresh, ", "))
	}
}
