package main

import (
	"slices"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// concertPlayed logs the set in one go: all of it clear at its tempos, but for
// the exceptions. Of a concert that is logged already it keeps a new note.
func concertPlayed(k *call) error {
	c, err := k.namedConcert()
	if err != nil {
		return err
	}
	switch {
	case c.Day > min(k.day, k.today):
		return refuse("%s is still to come, on %s", c.Name, c.Day.Short())
	case len(c.Set) == 0:
		return refuse("nothing is in the set of %s", c.Name)
	}
	h, err := k.happened(c)
	if err != nil {
		return err
	}
	but, err := k.exceptions(h)
	if err != nil {
		return err
	}
	note, err := repertoire.CleanNote(k.String("note"))
	if err != nil {
		return refuse("%v", err)
	}
	logged := !slices.ContainsFunc(c.Set, func(p schedule.Place) bool { return !h.has(p.Piece) })
	if logged && note == "" {
		return refuse("%s is logged already", c.Name).trying("dohra concert show %q", c.Name)
	}
	if note != "" { // first, so that what breaks off here can be done again
		err := k.store.ChangeConcert(c.Name, func(now *schedule.Concert) error {
			now.Note, now.Edited = note, k.edited(now.Edited)
			return nil
		})
		if err != nil {
			return err
		}
	}
	if logged {
		k.say("%s is logged already; the note is kept.", c.Name)
		return nil
	}
	var plays []schedule.Play
	clear := 0
	for _, p := range c.Set {
		if h.has(p.Piece) {
			continue
		}
		play := schedule.Play{Piece: p.Piece, Day: c.Day, Tempo: p.Tempo, Clarity: schedule.Clear, Note: mark(c)}
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
	k.say("%s: %d of %d clear. dohra undo takes one of them back at a time.", c.Name, clear, len(plays))
	return nil
}

// exceptions reads what did not come out clear, of what is not logged yet:
// PIECE=CLARITY.
func (k *call) exceptions(h happening) (map[int64]schedule.Clarity, error) {
	but := map[int64]schedule.Clarity{}
	for _, text := range k.StringSlice("but") {
		title, clarity, err := exception(text)
		if err != nil {
			return nil, err
		}
		piece, err := k.findIn(h.concert, title)
		if err != nil {
			return nil, err
		}
		if h.has(piece.ID) {
			return nil, refuse("%s is logged already", piece.Title).trying("dohra concert show %q", h.concert.Name)
		}
		if _, twice := but[piece.ID]; twice {
			return nil, refuse("--but names %s twice", piece.Title)
		}
		but[piece.ID] = clarity
	}
	return but, nil
}

// exception reads one PIECE=CLARITY; the title may hold a sign of its own.
func exception(text string) (title string, clarity schedule.Clarity, err error) {
	at := strings.LastIndex(text, "=")
	if title = strings.TrimSpace(text[:max(0, at)]); title == "" {
		return "", 0, misuse("--but takes PIECE=CLARITY, not %q", text).trying(`--but "lantern kaida=strained"`)
	}
	if clarity, err = schedule.ParseClarity(strings.TrimSpace(text[at+1:])); err != nil {
		return "", 0, refuse("--but %q: %v", text, err)
	}
	return title, clarity, nil
}

// findIn returns the piece of a set that text means, where a part of its title
// need only be one that no other of the set has.
func (k *call) findIn(c schedule.Concert, text string) (piece schedule.Candidate, err error) {
	found, err := k.store.Find(text)
	if err != nil {
		return piece, err
	}
	in := found[:0:0]
	for _, f := range found {
		if c.At(f.ID) >= 0 {
			in = append(in, f)
		}
	}
	switch {
	case len(in) == 1:
		return k.store.Piece(in[0].ID)
	case len(in) > 1:
		return piece, refuse("%q may be %s", text, named(in)).trying("its id, or more of the title")
	}
	if piece, err = k.find(text); err == nil {
		err = refuse("%s does not stand in %s", piece.Title, c.Name).trying("dohra concert show %q", c.Name)
	}
	return piece, err
}
