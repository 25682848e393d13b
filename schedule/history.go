package schedule

import (
	"iter"

	"dohra/repertoire"
)

// What plays tell when they are looked back on. A piece is seen with the tempos
// that it has now.

// A Passage is a play, and how its piece stood before and after it.
type Passage struct {
	Play
	Before, After Standing
}

// Passages replays the plays of a piece with that start and goal tempo, which
// are ordered by day and, within a day, as they were logged.
func Passages(start, goal int, plays []Play) iter.Seq[Passage] {
	return func(yield func(Passage) bool) {
		s := New(start)
		for _, p := range plays {
			before := s
			s = s.Add(goal, p)
			if !yield(Passage{p, before, s}) {
				return
			}
		}
	}
}

// Won reports whether the piece became kept.
func (p Passage) Won() bool { return p.Before.Stage != Kept && p.After.Stage == Kept }

// Slipped reports whether the piece was kept until then.
func (p Passage) Slipped() bool { return p.Before.Stage == Kept && p.After.Stage == Slipped }

// SetBack reports whether the piece slipped, or is believed clean at a slower
// tempo than before.
func (p Passage) SetBack() bool {
	before, after := p.Clean()
	return p.Slipped() || after < before
}

// Clean returns the clean tempo that was believed on the day of the play, before
// and after it, in matras/min.
func (p Passage) Clean() (before, after int) {
	before, _ = p.Before.CleanOn(p.Day)
	after, _ = p.After.CleanOn(p.Day)
	return before, after
}

// Without returns how many days had gone by since the piece was last played; ok
// is false on its first play.
func (p Passage) Without() (days int, ok bool) {
	if p.Before.Last == repertoire.Never {
		return 0, false
	}
	return int(p.Day - p.Before.Last), true
}
