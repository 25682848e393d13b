package main

import (
	"fmt"
	"slices"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// concertAndPiece returns what the words of put and take mean: a concert's whole
// name, or else the first word, is the concert, and the others are the piece,
// which find finds.
func (k *call) concertAndPiece(find func(schedule.Concert, string) (schedule.Candidate, error)) (c schedule.Concert, p schedule.Candidate, err error) {
	args := k.Args().Slice()
	if len(args) < 2 {
		return c, p, misuse("name the concert, then the piece").trying(`%s "Spring recital" PIECE`, k.Command.HelpName)
	}
	concerts, err := k.store.Concerts()
	if err != nil {
		return c, p, err
	}
	name := 1
	for n := range len(args) {
		whole := repertoire.Fold(strings.Join(args[:n], " "))
		if slices.ContainsFunc(concerts, func(one schedule.Concert) bool { return repertoire.Fold(one.Name) == whole }) {
			name = n
		}
	}
	if c, err = k.concert(strings.Join(args[:name], " ")); err != nil {
		return c, p, err
	}
	p, err = find(c, strings.Join(args[name:], " "))
	return c, p, err
}

func putPiece(k *call) error {
	c, piece, err := k.concertAndPiece(func(_ schedule.Concert, text string) (schedule.Candidate, error) { return k.find(text) })
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
		now.Set, now.Edited = slices.Insert(now.Set, min(at, len(now.Set)), place), k.edited(now.Edited)
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
	items := c.Running(pieces)
	line := fmt.Sprintf("%s is number %d of %s, at %d matras/min.", piece.Title, c.At(piece.ID)+1, c.Name, place.Tempo)
	if seconds, _ := schedule.Length(items); seconds > 0 {
		line += fmt.Sprintf(" The set takes %s.", lengthLine(c, items))
	}
	k.say("%s", line)
	for _, line := range k.concerns(c, items) {
		k.say("%s", line)
	}
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
	c, piece, err := k.concertAndPiece(k.findIn)
	if err != nil {
		return err
	}
	err = k.store.ChangeConcert(c.Name, func(now *schedule.Concert) error {
		at := now.At(piece.ID)
		if at < 0 {
			return refuse("%s does not stand in %s", piece.Title, c.Name).trying("dohra concert show %q", c.Name)
		}
		now.Set, now.Edited = slices.Delete(now.Set, at, at+1), k.edited(now.Edited)
		return nil
	})
	if err == nil {
		k.say("%s is out of %s.", piece.Title, c.Name)
	}
	return err
}

// concerns warn of a set that is longer than its slot, of pieces of no known
// length, of those that rest, and of a concert at hand whose pieces were never
// played.
func (k *call) concerns(c schedule.Concert, items []schedule.Item) (lines []string) {
	seconds, _ := schedule.Length(items)
	if over := seconds - 60*c.Minutes; over > 0 {
		lines = append(lines, fmt.Sprintf("The set is longer than its slot by %s (min:s).", clock(over)))
	}
	var unknown, resting, fresh []string
	for _, i := range items {
		if i.Seconds == 0 {
			unknown = append(unknown, i.Of.Title)
		}
		if i.Of.Rests(k.day) {
			resting = append(resting, i.Of.Title)
		}
		if i.Of.Stage == schedule.Untouched {
			fresh = append(fresh, i.Of.Title)
		}
	}
	if len(unknown) > 0 {
		lines = append(lines, fmt.Sprintf("How long it takes is not known of %s: give bols, or put it in with --minutes.", some(unknown)))
	}
	if len(resting) > 0 {
		lines = append(lines, fmt.Sprintf("Set aside, so that no day plans it: %s. To have it back: dohra wake PIECE", some(resting)))
	}
	if near := c.Day - k.day; len(fresh) > 0 && near >= 0 && near <= 1 {
		lines = append(lines, fmt.Sprintf("%s is %s, and you have never played %s.", c.Name, when(int(near)), some(fresh)))
	}
	return lines
}

// some lists titles in a line: not all of them where they are many.
func some(titles []string) string {
	if more := len(titles) - mostNamed; more > 0 {
		return fmt.Sprintf("%s and %d more", strings.Join(titles[:mostNamed], ", "), more)
	}
	return strings.Join(titles, ", ")
}

// awayLine warns of a concert within a planned absence, "" of another.
func (k *call) awayLine(c schedule.Concert) (string, error) {
	calendar, _, err := k.store.Calendar(k.settings.Minutes)
	a, away := calendar.Away(c.Day)
	if err != nil || !away {
		return "", err
	}
	return fmt.Sprintf("%s, on %s, is within an absence, from %s to %s: no practice is planned on these days.",
		c.Name, c.Day.Short(), a.From.Short(), a.To.Short()), nil
}
