// Package schedule decides: how long a piece may rest, at which tempo it is
// played next, and what a day holds. It is pure: the day is an argument, and
// nothing is read, kept or printed.
package schedule

import (
	"math"

	"dohra/repertoire"
)

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
