package schedule

import (
	"math"

	"dohra/repertoire"
)

// A standing on a day after its last play.

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
	reserve := b.Edge - lnOf(goal) + within
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
