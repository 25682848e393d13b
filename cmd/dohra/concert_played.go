package main

import (
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// concertPlayed logs the set in one go: all of it clear at its tempos, but for
// the exceptions.
func concertPlayed(k *call) error {
	c, err := k.namedConcert()
	if err != nil {
		return err
	}
	switch {
	case c.Day > k.today:
		return refuse("%s is still to come, on %s", c.Name, c.Day.Short())
	case len(c.Set) == 0:
		return refuse("nothing is in the set of %s", c.Name)
	}
	but, err := k.exceptions(c)
	if err != nil {
		return err
	}
	note, err := repertoire.CleanNote(k.String("note"))
	if err != nil {
		return refuse("%v", err)
	}
	mark := "at " + c.Name
	earlier, err := k.store.PlaysOn(c.Day)
	if err != nil {
		return err
	}
	for _, p := range earlier {
		if p.Note == mark {
			return refuse("%s is logged already", c.Name)
		}
	}
	var plays []schedule.Play
	clear := 0
	for _, p := range c.Set {
		play := schedule.Play{Piece: p.Piece, Day: c.Day, Tempo: p.Tempo, Clarity: schedule.Clear, Note: mark}
		if clarity, excepted := but[p.Piece]; excepted {
			play.Clarity = clarity
		}
		if play.Clarity >= schedule.Clear {
			clear++
		}
		plays = append(plays, play)
	}
	if err := k.store.LogAll(plays); err != nil {
		return err
	}
	if note != "" {
		err = k.store.ChangeConcert(c.Name, func(now *schedule.Concert) error {
			now.Note = note
			return nil
		})
	}
	k.say("%s: %d of %d clear. dohra undo takes one of them back at a time.", c.Name, clear, len(plays))
	return err
}

// exceptions reads what did not come out clear: PIECE=CLARITY.
func (k *call) exceptions(c schedule.Concert) (map[int64]schedule.Clarity, error) {
	but := map[int64]schedule.Clarity{}
	for _, text := range k.StringSlice("but") {
		title, clarity, err := exception(text)
		if err != nil {
			return nil, err
		}
		piece, err := k.find(title)
		if err != nil {
			return nil, err
		}
		if c.At(piece.ID) < 0 {
			return nil, refuse("%s does not stand in %s", piece.Title, c.Name)
		}
		but[piece.ID] = clarity
	}
	return but, nil
}

// exception reads one PIECE=CLARITY; the title may hold a sign of its own.
func exception(text string) (title string, clarity schedule.Clarity, err error) {
	at := strings.LastIndex(text, "=")
	if at < 0 {
		return "", 0, misuse("--but takes PIECE=CLARITY, not %q", text).trying(`--but "lantern kaida=strained"`)
	}
	if clarity, err = schedule.ParseClarity(text[at+1:]); err != nil {
		return "", 0, refuse("%v", err)
	}
	return text[:at], clarity, nil
}
