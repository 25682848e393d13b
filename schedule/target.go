package schedule

import (
	"dohra/repertoire"
)

// The tempos of a turn.

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
	if s.Stage != Untouched && edge >= lnOf(goal) {
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

// findBy is how many marks below its target the turn of a new piece begins, to
// find the strokes (our choice).
const findBy = 2

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
