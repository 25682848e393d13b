// Package schedule decides: how long a piece may rest, at which tempo it is
// played next, and what a day holds. It is pure: the day is an argument, and
// nothing is read, kept or printed.
package schedule

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"dohra/repertoire"
)

// Clarity is how a play sounded. It is SM-2's quality of a repetition, 0 to 5.
type Clarity int

const (
	Lost Clarity = iota
	Broken
	Smudged
	Strained
	Clear
	Effortless
)

var clarities = []string{"lost", "broken", "smudged", "strained", "clear", "effortless"}

// String returns the word for c, which must be within 0 to 5.
func (c Clarity) String() string { return clarities[c] }

// ParseClarity reads a clarity by its word, in any case, or its number.
func ParseClarity(text string) (Clarity, error) {
	for i, word := range clarities {
		if strings.EqualFold(text, word) || text == strconv.Itoa(i) {
			return Clarity(i), nil
		}
	}
	return 0, fmt.Errorf("%q is no clarity; say %s (0 to 5)", text, strings.Join(clarities, ", "))
}

// A Play is one logged repetition. Minutes is 0 where it was not given.
type Play struct {
	ID      int64
	Piece   int64
	Day     repertoire.Day
	Tempo   int // matras/min
	Clarity Clarity
	Minutes int
	Note    string
	Sore    bool // it hurt
	Spoken  bool // and not played
	Line    int  // the only line that was played, from 1; 0 for the whole
	Share   int  // per cent, of an Echo; 0 of a play of the piece itself
}

// MaxMinutes is the longest play that can be logged.
const MaxMinutes = 240

// Check refuses a play out of range: tempo outside 20 to 400 matras/min, or
// minutes, where given, outside 1 to MaxMinutes, or clarity outside 0 to 5.
func (p Play) Check() error {
	if p.Clarity < Lost || p.Clarity > Effortless {
		return fmt.Errorf("clarity %d is outside 0 to 5", int(p.Clarity))
	}
	if p.Minutes < 0 || p.Minutes > MaxMinutes {
		return fmt.Errorf("minutes %d are outside 1 to %d", p.Minutes, MaxMinutes)
	}
	if p.Line < 0 || p.Line > MaxLine {
		return fmt.Errorf("line %d is outside 1 to %d", p.Line, MaxLine)
	}
	return repertoire.CheckTempo("tempo", p.Tempo)
}

// How says in words how it was not played as most are, or "played".
func (p Play) How() string {
	var how []string
	if p.Spoken {
		how = append(how, "spoken")
	}
	if p.Line > 0 {
		how = append(how, fmt.Sprintf("line %d", p.Line))
	}
	if p.Sore {
		how = append(how, "sore")
	}
	if how == nil {
		return "played"
	}
	return strings.Join(how, ", ")
}

// MaxLine is the last line that a play can be of.
const MaxLine = 999

// A Stage is where a piece stands on its way.
type Stage int

const (
	Untouched Stage = iota // never played
	Building               // below goal tempo
	Kept                   // at goal tempo
	Slipped                // was kept, is believed below
	Resting                // set aside by the player; never the stage of a Standing
)

// Stages are the words for the stages, by number.
var Stages = []string{"untouched", "building", "kept", "slipped", "resting"}

// String returns the word for s.
func (s Stage) String() string { return Stages[s] }

// A Standing is what is known of a piece. It follows from the piece's start
// and goal tempo and its plays alone. It begins with New, not with the zero value.
type Standing struct {
	Stage  Stage // as the plays left it; see StageOn for what time does to it
	Belief       // as it was after the last play; see CleanOn for a later day
	SM2    SM2
	LostAt int // days of the interval at the last slip, until it is regained

	Repeated repertoire.Day // the last repetition that counted, or Never
	Due      repertoire.Day // the first day on which to play it again, or Never

	Last        repertoire.Day // the last play, or Never
	LastTempo   int            // matras/min
	LastClarity Clarity

	Spoken repertoire.Day // when it was last spoken clear, or Never
}

// Until returns the day up to which plays have gone into the standing, or Never.
func (s Standing) Until() repertoire.Day { return max(s.Of, s.Spoken) }

// New returns the standing of an untouched piece with that start tempo.
func New(start int) Standing {
	return Standing{
		Belief:   firstBelief(start),
		Repeated: repertoire.Never, Last: repertoire.Never, Due: repertoire.Never, Spoken: repertoire.Never,
	}
}

// Valid reports whether the standing is one that New and Add can give; what was
// read from a damaged file may not be.
func (s Standing) Valid() bool {
	return s.Stage >= Untouched && s.Stage < Resting && s.LastClarity >= Lost && s.LastClarity <= Effortless &&
		s.SM2.Interval >= 0 && s.Belief.valid()
}

// Replay returns the standing of a piece with that start and goal tempo after
// plays, which are ordered by day and, within a day, as they were logged.
func Replay(start, goal int, plays []Play) Standing {
	s := New(start)
	for _, p := range plays {
		s = s.Add(goal, p)
	}
	return s
}

// Add returns the standing after one more play, on the day of the last play or
// a later one, of a piece with that goal tempo in matras/min. The play is one
// that Check lets pass.
//
// Every play moves the belief. A repetition counts for the interval only at
// goal tempo, and once a day. Only a clear play at goal tempo makes a piece
// kept. A kept piece that fails, below clarity 3, at its goal tempo or slower
// has slipped: it keeps its ease, remembers its interval, and comes back the
// next day. One that fails faster than that was only tried too fast.
func (s Standing) Add(goal int, p Play) Standing {
	switch {
	case p.Line > 0:
		return s // the piece is clean only when played whole
	case p.Share > 0:
		return s.echo(p)
	case p.Spoken:
		return s.recite(p)
	}
	if s.Stage == Untouched && float64(p.Tempo) > math.Exp(s.Edge) {
		s.Belief = firstBelief(p.Tempo)
	}
	s.Belief = s.after(p, 1)
	counted := s.Repeated == p.Day
	atGoal := p.Tempo >= goal
	switch {
	case s.Stage != Kept && atGoal && p.Clarity >= Clear:
		s.Stage = Kept
		if !counted {
			s = s.repeat(p)
		}
	case s.Stage == Untouched:
		s.Stage = Building
	case s.Stage == Kept && p.Clarity < passing && p.Tempo <= goal && !counted:
		s = s.slip(goal, p)
	case s.Stage == Kept && p.Clarity >= passing && atGoal && !counted:
		s = s.repeat(p)
	}

	s.Last, s.LastTempo, s.LastClarity = p.Day, p.Tempo, p.Clarity
	if s.Stage == Kept {
		s.Due = s.Repeated + repertoire.Day(s.SM2.Interval)
	} else {
		s.Due = p.Day + 1
	}
	return s
}

// repeat counts a passing repetition at goal tempo.
func (s Standing) repeat(p Play) Standing {
	s.SM2 = s.SM2.Repeat(p.Clarity, int(p.Day-s.Repeated), s.LostAt)
	if s.SM2.Interval >= s.LostAt {
		s.LostAt = 0
	}
	s.Repeated = p.Day
	return s
}

// slip takes in a failed play of a kept piece. The interval begins again only
// when it failed at goal tempo.
func (s Standing) slip(goal int, p Play) Standing {
	s.Stage = Slipped
	if p.Tempo == goal {
		s.LostAt = max(s.LostAt, s.SM2.Interval)
		s.SM2 = s.SM2.Next(p.Clarity)
		s.Repeated = p.Day
	}
	return s
}

// CleanOn returns the clean tempo that is believed on that day, and how far it
// may be off either way two times in three, both in matras/min; 0 of a piece
// that was never played. A play at the clean tempo comes out clear 85 times in
// a hundred.
func (s Standing) CleanOn(day repertoire.Day) (clean, doubt int) {
	if s.Stage == Untouched {
		return 0, 0
	}
	edge, sd := s.on(day)
	clean = tempoAt(edge - s.Room)
	return clean, int(math.Round(float64(clean) * sd))
}

// StageOn returns the stage on that day: a kept piece that is believed to have
// faded below its goal has slipped.
func (s Standing) StageOn(day repertoire.Day, goal int) Stage {
	return stageOn(s.Stage, s.Belief, day, goal)
}

func stageOn(left Stage, b Belief, day repertoire.Day, goal int) Stage {
	if left == Kept && day > b.heldUntil(goal) {
		return Slipped
	}
	return left
}

// heldUntil returns the last day on which the piece, left alone, is rather
// believed to be within reach of its goal than not: at least the day it speaks of.
func (b Belief) heldUntil(goal int) repertoire.Day {
	reserve := b.Edge - math.Log(float64(goal)) + within
	if reserve <= 0 {
		return b.Of
	}
	return b.Of + repertoire.Day(min(lasts(reserve, math.Exp(b.Hold)), 10*longest))
}

// DueOn returns the first day on which a piece of that goal tempo is to be
// played again: when its interval ends, or sooner when it is believed to have
// slipped before. Never of an untouched piece.
func (s Standing) DueOn(goal int) repertoire.Day {
	if s.Stage == Kept {
		return min(s.Due, s.heldUntil(goal)+1)
	}
	return s.Due
}

// doubtful is from what chance to have fallen below its goal a kept piece is
// played before its day when there is time (our choice).
const doubtful = 0.05

// Wants returns the first day on which Choose may give a piece of that goal
// tempo a turn other than to frame the day.
func (s Standing) Wants(goal int) repertoire.Day {
	if s.Stage != Kept {
		return s.Due
	}
	sound, faded := s.Of-1, s.DueOn(goal)
	for faded-sound > 1 {
		if middle := (sound + faded) / 2; s.missing(middle, goal) >= doubtful {
			faded = middle
		} else {
			sound = middle
		}
	}
	return faded
}

// Target returns the tempo to reach on that day, in matras/min, never above
// goal: the mark of the ladder nearest to the clean tempo, and the goal itself
// as soon as that is an even chance. A piece that was kept is asked for halfway
// between its clean tempo and its edge, for it is to come back and not to be
// built (our choice; the trial bears it out). The tempo is raised only while every stroke
// stays clear (common practice, no source): after a strained play it is no
// faster than that was, after a worse one a mark slower for each grade.
func (s Standing) Target(day repertoire.Day, goal int) int {
	edge, _ := s.on(day)
	room := s.Room
	if s.Stage >= Kept {
		room /= 2
	}
	target := nearestMark(edge-room, goal)
	if s.Stage != Untouched && edge >= math.Log(float64(goal)) {
		target = goal
	}
	switch {
	case s.Stage == Untouched || s.LastClarity >= Clear:
		return target
	case s.LastClarity < Strained:
		return min(target, slower(s.LastTempo, int(Strained-s.LastClarity)))
	case target > s.LastTempo:
		return marks[markBelow(s.LastTempo)]
	}
	return target
}

// warmBy is how many marks below its target a turn begins: about a seventh
// slower (common practice, no source).
const warmBy = 4

// Begin returns the tempo at which a turn begins, in matras/min: some marks
// below the target, or the target itself when the piece is untouched.
func (s Standing) Begin(day repertoire.Day, goal int) int {
	target := s.Target(day, goal)
	if s.Stage == Untouched {
		return target
	}
	return slower(target, warmBy)
}

// Steps returns how many marks of the ladder lie between the clean tempo and
// the goal; from the target while the piece is untouched.
func (s Standing) Steps(day repertoire.Day, goal int) int {
	clean, _ := s.CleanOn(day)
	if clean == 0 {
		clean = s.Target(day, goal)
	}
	return stepsBetween(clean, goal)
}

// Carries reports whether a piece of that goal tempo is, on that day, firm
// enough for what must come after it: clean at 80 per cent of its goal (common
// practice, no source).
func (s Standing) Carries(day repertoire.Day, goal int) bool {
	clean, _ := s.CleanOn(day)
	return clean >= CarriesFrom(goal)
}

// CarriesFrom returns the lowest clean tempo at which a piece of that goal
// tempo carries what comes after it, in matras/min.
func CarriesFrom(goal int) int { return (80*goal + 99) / 100 }

// StartFor returns the start tempo of a piece for which none was chosen: the
// mark nearest below half its goal, but not under 40 unless the goal is
// (work begins at 60-80 toward 120, harder material at 40-60: common practice,
// no source).
func StartFor(goal int) int {
	if goal < repertoire.MinTempo || goal > repertoire.MaxTempo {
		return goal
	}
	return min(goal, max(40, marks[markBelow(max(goal/2, repertoire.MinTempo))]))
}
