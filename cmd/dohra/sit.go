package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"github.com/urfave/cli/v2"

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
// the day's plays: a step is done when its part has been played that often.
// So a sitting that was broken off goes on where it was. Nothing that was
// confirmed waits to be kept: a note or a mark goes to a play that is kept already.
type sitting struct {
	*call
	plan    dayPlan
	keys    *keyboard
	minutes int                          // of the day's plays
	seen    map[stand]bool               // steps that were played or skipped
	rested  map[stand]bool               // steps before which there was a rest
	again   bool                         // what was skipped was offered again
	last    *turn                        // as it was logged last in this sitting
	play    schedule.Play                // which was that
	saved   string                       // what was kept last, in words
	screen  string                       // as it was shown last
	before  map[int64]schedule.Candidate // each piece as it stood before its first play of the sitting
	after   []schedule.Candidate         // and after its last one
	apart   []string                     // titles of what was played in parts
}

// A stand is a step by what it asks for, whatever the plan becomes.
type stand struct {
	piece int64
	part  schedule.Part
	time  int
}

func (s *sitting) standOf(step schedule.Step) stand {
	return stand{s.plan.turns[step.Turn].ID, step.Part, step.Time}
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
		seen: map[stand]bool{}, rested: map[stand]bool{}, before: map[int64]schedule.Candidate{},
	}
	keys.redraw = s.redraw
	for _, plays := range p.plays {
		for _, play := range plays {
			s.minutes += play.Minutes
		}
	}
	return s.run()
}

// errChanged says that the plan has become another.
var errChanged = errors.New("the plan has changed")

// run goes from step to step until none is left or the player ends it.
func (s *sitting) run() error {
	for {
		i := s.next()
		var err error
		if i < 0 {
			err = s.finish()
		} else if err = s.rest(i); err == nil {
			step := s.plan.steps[i]
			err = s.turn(step, s.turnOf(step))
		}
		switch {
		case errors.Is(err, errGone):
			s.summary()
			return nil
		case errors.Is(err, errChanged):
			continue
		case err != nil:
			return err
		}
		if i >= 0 {
			s.seen[s.standOf(s.plan.steps[i])] = true
		}
	}
}

// next returns the first step that is neither done nor seen, or -1.
func (s *sitting) next() int {
	return slices.IndexFunc(s.plan.steps, func(step schedule.Step) bool {
		return !step.Rest && !s.plan.done(step) && !s.seen[s.standOf(step)]
	})
}

// finish offers once more what was skipped, and then nothing but the end.
func (s *sitting) finish() error {
	var left []string
	for _, step := range s.plan.steps {
		if title := s.plan.turns[step.Turn].Title; !step.Rest && !s.plan.done(step) && !slices.Contains(left, title) {
			left = append(left, title)
		}
	}
	switch {
	case len(left) > 0 && !s.again:
		s.again, s.seen = true, map[stand]bool{}
		s.show(wrap("Skipped: "+some(left)+".", leastWidth))
		_, err := s.between("Enter: play now", string(enter))
		return err
	case s.last == nil:
		return errGone
	}
	s.show(cmp.Or(s.leftLine(), "All is played."))
	_, err := s.between("Enter: end", string(enter))
	return cmp.Or(err, errGone)
}

// rest offers the rest before a step, once, when there was playing to rest from.
func (s *sitting) rest(i int) error {
	step := s.plan.steps[i]
	if i == 0 || !s.plan.steps[i-1].Rest || s.last == nil || s.rested[s.standOf(step)] {
		return nil
	}
	s.rested[s.standOf(step)] = true
	s.show(fmt.Sprintf("Rest your hands %d minutes.", s.plan.steps[i-1].Minutes))
	_, err := s.between("Enter: go on", string(enter))
	return err
}

// A turn is what is played at once: one of the plan, whole or some lines of it.
type turn struct {
	schedule.Turn
	part    schedule.Part
	minutes int
}

// turnOf returns what a step asks for.
func (s *sitting) turnOf(step schedule.Step) turn {
	return s.partOf(step, step.Part, step.Minutes)
}

// partOf returns some lines of a step's piece, slower than the whole.
func (s *sitting) partOf(step schedule.Step, part schedule.Part, minutes int) turn {
	t := turn{s.plan.turns[step.Turn], part, minutes}
	if (part != schedule.Part{}) {
		tempo := t.TempoOf(part)
		if part == step.Part {
			tempo = step.Tempo
		}
		t.Turn = t.SlowerBy(tempo)
		t.Matras = matrasOf(t.Piece, part)
	}
	return t
}

func slowed(t turn) turn {
	t.Turn = t.SlowerBy(schedule.Slower(t.Target))
	return t
}

// turn plays a step: from the top as often as the player wants it slower, and
// before it, if wanted, what was logged last.
func (s *sitting) turn(step schedule.Step, t turn) error {
	for {
		s.show(s.turnText(step, t))
		key, err := s.begin(step, t)
		switch {
		case err != nil || key == skip:
			return err
		case key == slower:
			if err := s.turn(step, slowed(*s.last)); err != nil || s.plan.done(step) {
				return err
			}
			continue
		case key == lines:
			part, err := s.pick(step)
			if err == nil && part != (schedule.Part{}) {
				err = s.turn(step, s.partOf(step, part, pickedMinutes))
			}
			if err != nil || s.plan.done(step) {
				return err
			}
			continue
		}
		play, key, err := s.playTurn(t)
		if err != nil || key == skip {
			return err
		}
		if key != slower {
			return s.log(t, play)
		}
		t = slowed(t)
	}
}
