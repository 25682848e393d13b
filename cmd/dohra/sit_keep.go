package main

import (
	"errors"
	"fmt"
	"slices"

	"dohra/db"
	"dohra/repertoire"
	"dohra/schedule"
)

// What a sitting keeps, at once, of what the player says.

// log keeps a play at once.
func (s *sitting) log(t turn, p schedule.Play) error {
	before, after, err := s.store.Log(p)
	if err != nil {
		return err
	}
	s.plan.plays[p.Piece] = append(s.plan.plays[p.Piece], p)
	s.minutes += p.Minutes
	t.Target, s.last, s.play = p.Tempo, &t, p
	switch {
	case p.Part() != schedule.Part{} && !slices.Contains(s.apart, after.Title):
		s.apart = append(s.apart, after.Title)
	case p.Part() == schedule.Part{} && !p.Spoken:
		s.remember(before, after)
	}
	s.confirm("Saved")
	if p.Sore {
		return s.spareHands()
	}
	return nil
}

// remember keeps what a play of a whole piece did to it.
func (s *sitting) remember(before, after schedule.Candidate) {
	if _, again := s.before[after.ID]; !again {
		s.before[after.ID] = before
	}
	s.after = slices.DeleteFunc(s.after, func(c schedule.Candidate) bool { return c.ID == after.ID })
	s.after = append(s.after, after)
}

// takeNote reads a note and keeps it with what was logged last.
func (s *sitting) takeNote() error {
	for told := ""; ; told = "Not a note that can be kept. " {
		line, err := s.keys.line(told + "Note: ")
		if err != nil || line == "" {
			s.redraw()
			return err
		}
		if s.play.Note != "" {
			line = s.play.Note + "; " + line
		}
		if note, err := repertoire.CleanNote(line); err == nil {
			now := s.play
			now.Note = note
			return s.mark("Noted", now)
		}
	}
}

// mark keeps what is new of the play that was logged last.
func (s *sitting) mark(verb string, now schedule.Play) error {
	err := s.store.Mark(s.play, now)
	if errors.Is(err, db.ErrNothing) {
		s.saved = "Not kept: what was logged last was taken back."
		s.redraw()
		return nil
	}
	if err != nil {
		return err
	}
	plays := s.plan.plays[now.Piece]
	for i, p := range slices.Backward(plays) {
		if p.ID = s.play.ID; p == s.play { // a plan that was made anew knows its id
			plays[i] = now
			break
		}
	}
	s.play = now
	s.confirm(verb)
	s.redraw()
	return nil
}

// confirm tells what was kept.
func (s *sitting) confirm(verb string) {
	p := s.play
	s.saved = fmt.Sprintf("%s: %s, %d %s%s, %s.", verb, s.last.Title, p.Tempo, p.Clarity, unusual(p), plural(p.Minutes, "minute"))
	if s.keys.lines != nil || verb == "Saved" {
		s.say("%s", s.saved) // otherwise the screen is drawn anew, and says so
	}
}

// spareHands makes the plan anew after a play that hurt.
func (s *sitting) spareHands() error {
	s.show(wrap(soreLine, leastWidth))
	if _, err := s.ask("Enter: go on with what spares them  e: end", string(enter)); err != nil {
		return err
	}
	p, err := planToday(s.call)
	if err != nil {
		return err
	}
	s.plan = p
	return errChanged
}
