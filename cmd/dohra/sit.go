package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"dohra/repertoire"
	"dohra/schedule"
)

func sitCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:   "sit",
		Usage:  "walk through today's turns at the instrument, a key at a time, and log them",
		Flags:  dayFlags(),
		Action: d.with(writes, runSit),
	}
}

// A sitting is one walk through the steps of a day. Where it is follows from
// the day's plays: a round is done when the piece has been played that often.
// So a sitting that was broken off goes on where it was.
type sitting struct {
	*call
	plan    dayPlan
	keys    *keyboard
	minutes int                          // of the day's plays
	last    *turn                        // as it was logged last in this sitting
	note    string                       // for the play that is logged next
	saved   string                       // what was logged last, in words
	before  map[int64]schedule.Candidate // each piece as it stood before its first play of the sitting
	after   []schedule.Candidate         // and after its last one
}

func runSit(k *call) error {
	if k.page.format != "table" {
		return misuse("sit speaks to a player, and has no --format").trying("dohra today --format %s", k.page.format)
	}
	if k.day > k.today {
		return refuse("%s is still to come; it cannot be played yet", k.day)
	}
	p, err := planToday(k)
	if err != nil {
		return err
	}
	if len(p.turns) == 0 {
		k.say("%s", p.nothing())
		return nil
	}
	keys, err := newKeyboard(k.in, k.out)
	if err != nil {
		return err
	}
	defer keys.close()
	if keys.lines == nil {
		k.out = rawWriter{k.out}
	}
	s := &sitting{
		call: k, plan: p, keys: keys,
		before: map[int64]schedule.Candidate{},
	}
	for _, plays := range p.plays {
		for _, play := range plays {
			s.minutes += play.Minutes
		}
	}
	return s.run()
}

// run goes from step to step until none is left or the player ends it.
func (s *sitting) run() error {
	for i, step := range s.plan.steps {
		if step.Rest || s.plan.done(step) {
			continue
		}
		s.note = "" // it was for a turn that was skipped
		err := s.rest(i)
		if err == nil {
			err = s.turn(i, turn{Turn: s.plan.turns[step.Turn]})
		}
		if errors.Is(err, errGone) {
			break
		}
		if err != nil {
			return err
		}
	}
	s.summary()
	return nil
}

// rest offers the rest before a step, when there was playing to rest from.
func (s *sitting) rest(i int) error {
	if i == 0 || !s.plan.steps[i-1].Rest || s.last == nil {
		return nil
	}
	s.clear()
	_, err := s.ask(fmt.Sprintf("Rest your hands %d minutes. Enter: go on  e: end", s.plan.steps[i-1].Minutes), "\n")
	return err
}

// The keys of a sitting, besides Enter and the clarities.
const (
	enter  = '\n'
	skip   = 's'
	slower = 'a'
	jot    = 'n'
	line   = 'l'
	end    = 'e'
)

// A turn is one of the plan, whole or one line of it.
type turn struct {
	schedule.Turn
	line int // from 1, or 0 for the whole
}

// turn plays a step: from the top as often as the player wants it slower, and
// before it, if wanted, what was logged last.
func (s *sitting) turn(i int, t turn) error {
	for {
		s.show(i, t)
		key, err := s.begin(t)
		switch {
		case err != nil || key == skip:
			return err
		case key == line:
			if err := s.line(i, t); err != nil {
				return err
			}
			continue
		case key == slower:
			if err := s.turn(i, slowed(*s.last)); err != nil || s.plan.done(s.plan.steps[i]) {
				return err
			}
			continue
		}
		play, key, err := s.play(t)
		if err != nil || key == skip {
			return err
		}
		if key != slower {
			return s.log(t, play)
		}
		t = slowed(t)
	}
}

func slowed(t turn) turn {
	t.Turn = t.SlowerBy(schedule.Slower(t.Target))
	return t
}

// begin waits for a turn to begin.
func (s *sitting) begin(t turn) (rune, error) {
	prompt, keys := "Enter: begin  s: skip  n: note  e: end", []rune{enter, skip}
	if t.line == 0 && linesOf(t.Piece) > 1 {
		prompt, keys = prompt+"  l: a line", append(keys, line)
	}
	if s.last != nil {
		prompt, keys = prompt+fmt.Sprintf("  a: last at %d", slowed(*s.last).Target), append(keys, slower)
	}
	return s.ask(prompt, string(keys))
}

// line plays one line of a turn's piece alone, two steps slower.
func (s *sitting) line(i int, t turn) error {
	text, err := s.keys.line(fmt.Sprintf("Line, 1 to %d: ", linesOf(t.Piece)))
	n, bad := strconv.Atoi(text)
	if err != nil || bad != nil || checkLine(t.Piece, n) != nil {
		return err
	}
	t.Piece, t.line = onlyLine(t.Piece, n), n
	return s.turn(i, slowed(t))
}

// play waits for the end of a turn and asks how it was. The key tells whether
// the player wants something else instead.
func (s *sitting) play(t turn) (p schedule.Play, key rune, err error) {
	began := s.now()
	instead := string([]rune{skip, slower})
	key, err = s.ask("Playing. Enter: ends  a: again slower  s: skip  n: note  e: end", string(enter)+instead)
	if err != nil || key != enter {
		return p, key, err
	}
	took := s.now().Sub(began).Round(time.Minute)
	key, err = s.ask("0 lost 1 broken 2 smudged 3 strained 4 clear 5 effortless (a s n e)", "012345"+instead)
	if err != nil || strings.ContainsRune(instead, key) {
		return p, key, err
	}
	p = schedule.Play{Piece: t.ID, Day: s.day, Clarity: schedule.Clarity(key - '0'), Spoken: t.Spoken, Line: t.line}
	p.Minutes = min(max(1, int(took.Minutes())), schedule.MaxMinutes)
	p.Tempo, err = s.tempo(t.Target)
	return p, key, err
}

// ask waits for one of those keys. A note is taken, and the end is errGone.
func (s *sitting) ask(prompt, keys string) (rune, error) {
	told := ""
	for {
		key, err := s.keys.key(told + prompt)
		told = ""
		switch {
		case err != nil || key == end:
			return 0, errGone
		case key == jot:
			if told, err = s.takeNote(); err != nil {
				return 0, err
			}
		case strings.ContainsRune(keys, key):
			return key, nil
		default:
			told = "Which key? "
		}
	}
}

// takeNote reads the note for the play that is logged next.
func (s *sitting) takeNote() (told string, err error) {
	line, err := s.keys.line("Note: ")
	if err != nil {
		return "", err
	}
	note, err := repertoire.CleanNote(line)
	if err != nil {
		return "Not a note. ", nil
	}
	s.note = note
	return "", nil
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

// log keeps a play at once.
func (s *sitting) log(t turn, p schedule.Play) error {
	p.Note, s.note = s.note, ""
	before, after, err := s.store.Log(p)
	if err != nil {
		return err
	}
	s.plan.plays[p.Piece] = append(s.plan.plays[p.Piece], p)
	s.minutes += p.Minutes
	t.Target, s.last = p.Tempo, &t
	if p.Line == 0 {
		s.remember(before, after)
	}
	s.saved = fmt.Sprintf("Saved: %s, %d %s%s, %s.", after.Title, p.Tempo, p.Clarity, unusual(p), plural(p.Minutes, "minute"))
	s.say("%s", s.saved)
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
