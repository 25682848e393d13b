package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"dohra/db"
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
		if !step.Rest && !s.plan.done(step) {
			left = append(left, s.plan.turns[step.Turn].Title)
		}
	}
	switch {
	case len(left) > 0 && !s.again:
		s.again, s.seen = true, map[stand]bool{}
		s.show("Skipped: " + strings.Join(slices.Compact(left), ", ") + ".")
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

// The keys of a sitting, besides Enter and the clarities.
const (
	enter  = '\n'
	skip   = 's'
	slower = 'a'
	jot    = 'n'
	hurts  = 'h'
	lines  = 'l'
	end    = 'e'
)

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
