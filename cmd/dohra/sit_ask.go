package main

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"dohra/repertoire"
	"dohra/schedule"
)

// What a sitting asks the player, a key at a time.

// The keys, besides Enter and the clarities.
const (
	enter  = '\n'
	skip   = 's'
	slower = 'a'
	jot    = 'n'
	hurts  = 'h'
	lines  = 'l'
	end    = 'e'
)

// begin waits for a turn to begin.
func (s *sitting) begin(step schedule.Step, t turn) (rune, error) {
	prompt, keys := "Enter: begin  s: skip", []rune{enter, skip}
	if linesOf(t.Piece) > 1 && !t.Spoken && t.ID == s.plan.turns[step.Turn].ID {
		prompt, keys = prompt+"  l: lines", append(keys, lines)
	}
	if s.last != nil && !s.play.Sore {
		prompt, keys = prompt+fmt.Sprintf("  a: last at %d", slowed(*s.last).Target), append(keys, slower)
	}
	return s.between(prompt, string(keys))
}

// pickedMinutes is how long lines that the player picks are played (our choice).
const pickedMinutes = 2

// pick asks for lines of a step's piece to play alone; of no line when the player
// would rather not.
func (s *sitting) pick(step schedule.Step) (schedule.Part, error) {
	piece := s.plan.turns[step.Turn].Piece
	prompt := fmt.Sprintf("Lines of 1 to %d, such as 1 or 1-2: ", linesOf(piece))
	for told := ""; ; told = "Not there. " {
		text, err := s.keys.line(told + prompt)
		if err != nil || text == "" {
			return schedule.Part{}, err
		}
		if part, err := partOf(piece, text); err == nil {
			return part, nil
		}
	}
}

// playTurn waits for the end of a turn and asks how it was. The key tells whether
// the player wants something else instead.
func (s *sitting) playTurn(t turn) (p schedule.Play, key rune, err error) {
	began, doing := s.now(), "Playing"
	if t.Spoken {
		doing = "Speaking"
	}
	instead := string([]rune{skip, slower})
	key, err = s.ask(doing+". Enter: ends  a: again slower  s: skip  h: it hurts  e: end", string([]rune{enter, hurts})+instead)
	if err != nil || strings.ContainsRune(instead, key) {
		return p, key, err
	}
	took := s.now().Sub(began).Round(time.Minute)
	if key != hurts {
		key, err = s.ask("0 lost 1 broken 2 smudged 3 strained 4 clear 5 effortless (a s h e)", "012345"+string(hurts)+instead)
	}
	sore := key == hurts
	if sore && err == nil {
		key, err = s.ask("It hurt. How was it, 0 lost to 5 effortless?  e: end", "012345")
	}
	if err != nil || strings.ContainsRune(instead, key) {
		return p, key, err
	}
	p = schedule.Play{Piece: t.ID, Day: s.day, Clarity: schedule.Clarity(key - '0'), Spoken: t.Spoken, Sore: sore}.Of(t.part)
	p.Minutes = min(max(1, int(took.Minutes())), schedule.MaxMinutes)
	p.Tempo, err = s.tempo(t.Target)
	return p, key, err
}

// ask waits for one of those keys. The end is errGone.
func (s *sitting) ask(prompt, keys string) (rune, error) {
	for told := ""; ; told = "Which key? " {
		key, err := s.keys.key(told + prompt)
		switch {
		case err != nil || key == end:
			return 0, errGone
		case strings.ContainsRune(keys, key):
			return key, nil
		}
		s.redraw()
	}
}

// between asks between two turns, where a note or a mark goes to what was logged
// last.
func (s *sitting) between(prompt, keys string) (rune, error) {
	if s.last != nil {
		prompt, keys = prompt+"  n: note", keys+string(jot)
	}
	if s.last != nil && !s.play.Sore {
		prompt, keys = prompt+"  h: it hurt", keys+string(hurts)
	}
	for {
		key, err := s.ask(prompt+"  e: end", keys)
		switch {
		case err == nil && key == jot:
			err = s.takeNote()
		case err == nil && key == hurts:
			now := s.play
			now.Sore = true
			if err = s.mark("Marked", now); err == nil {
				err = s.spareHands()
			}
		default:
			return key, err
		}
		if err != nil {
			return 0, err
		}
	}
}

// tempo asks for the tempo that was played, which is target when nothing else is
// said.
func (s *sitting) tempo(target int) (int, error) {
	prompt := fmt.Sprintf("Tempo, matras/min. Enter: %d, or another: ", target)
	for told := ""; ; {
		line, err := s.keys.line(told + prompt)
		if err != nil {
			return 0, err
		}
		if line == "" {
			return target, nil
		}
		tempo, err := strconv.Atoi(line)
		if err == nil {
			err = repertoire.CheckTempo("tempo", tempo)
		}
		if err == nil {
			return tempo, nil
		}
		told = fmt.Sprintf("A number from %d to %d. ", repertoire.MinTempo, repertoire.MaxTempo)
	}
}
