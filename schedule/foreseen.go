package schedule

import (
	"iter"
	"slices"

	"dohra/repertoire"
)

// Foreseen plans each day from one to another, both included, as it comes if
// every turn is played clear at its target; pieces are given as they stand when
// the first day begins.
func Foreseen(from, to repertoire.Day, c Calendar, concerts []Concert, pieces []Candidate) iter.Seq2[repertoire.Day, Plan] {
	return func(yield func(repertoire.Day, Plan) bool) {
		pieces := slices.Clone(pieces)
		at := make(map[int64]int, len(pieces))
		for i, p := range pieces {
			at[p.ID] = i
		}
		for day := from; day <= to; day++ {
			r := Rehearse(day, c, concerts)
			plan := r.PlanDay(r.Minutes(c.Minutes(day)), pieces)
			if !yield(day, plan) {
				return
			}
			for _, t := range plan.Turns {
				p := &pieces[at[t.ID]]
				p.Standing = p.Add(p.Goal, Play{Piece: t.ID, Day: day, Tempo: t.Target, Clarity: Clear})
			}
		}
	}
}
